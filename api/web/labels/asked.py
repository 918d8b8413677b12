"""Which labels an address asks for, and on what paper."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import QueryDict

from api.asked import Unreadable
from api.asked import shown as quoted
from inventory.science.saying import say
from sourcing.week.words import listed

LABELS_AT_MOST = 60
# By the word in an address: what it is called, and how many stand on a page.
PAPERS = {
    "a4": say("A4 sheet, eight to cut apart"),
    "100x60": say("label printer, 100 × 60 mm"),
    "80x50": say("label printer, 80 × 50 mm"),
    "60x40": say("label printer, 60 × 40 mm"),
}


class LabelsUnknown(Unreadable):
    """Paper that there is none of, or more labels than are printed at once."""

    code = "labels_unknown"


@dataclass(frozen=True, slots=True)
class Asked:
    """Codes in the order asked for, and the paper."""

    codes: tuple[str, ...]
    paper: str


def asked_of(query: QueryDict) -> Asked:
    """What an address asks for; several codes may stand in one `of`, with commas."""
    paper = query.get("paper", "a4")
    if paper not in PAPERS:
        raise LabelsUnknown(
            "paper",
            paper,
            say(
                "There is no paper {paper}. Ask for {papers}.",
                paper=quoted(paper),
                papers=listed(PAPERS),
            ),
        )
    codes = tuple(dict.fromkeys(code.strip() for code in query.getlist("of") if code.strip()))
    if len(codes) > LABELS_AT_MOST:
        detail = say(
            "{count:,} labels asked for; {labels_at_most} at most are printed at once.",
            count=len(codes),
            labels_at_most=LABELS_AT_MOST,
        )
        raise LabelsUnknown("of", "", detail)
    return Asked(codes, paper)
