"""What sources gave and what became of it as JSON: a thank-you for each, and the totals.

Amounts are decimal strings with a unit; together what became of a dyestuff is what was saved.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.asked import shown
from api.contract.answers.thanks import THANKS, TOTALS
from api.contract.shapes import NAME, TEXT
from api.question import Question, question_of
from api.rest.contract import PAGE, QUESTION, Word, said
from api.rest.shelf_values import Json, amount_said, caution_said
from api.thanks_asked import MORE, since_asked
from api.web.sources.page import page_asked
from inventory.science.cautions import cautions_for_lot
from sourcing.errors import NoSuchSource
from sourcing.sources import find_source
from sourcing.thanks import Giver, Thanks, thanks_at
from sourcing.tracing.balance import Balance
from sourcing.tracing.facts import GivenOver
from sourcing.tracing.fibre import Shared

SOURCES_AT_MOST = 50  # in one answer; more with page
TOTALS_AT_MOST = 200
RUNS_AT_MOST = HAND_OVERS_AT_MOST = 100  # of one dyestuff, the latest
LONGEST = 120  # of a name, longer than any that the tables hold
SINCE = Word(
    "since",
    {**TEXT, "pattern": r"^([0-9]{4}-[0-9]{2}(-[0-9]{2})?)?$"},
    "From this day or month on, ten years back at most; a year back, where it is left out.",
    "2026-09",
)
SOURCE = Word("source", NAME, "Only this source.", "Lantern Steps café")


class ThanksView(APIView):
    """GET: what each source gave and what became of it, with hand-overs and runs."""

    @said(
        "thanks",
        summary="What each source gave, and what became of it",
        asks=(*QUESTION, SINCE, SOURCE, PAGE),
        answer=THANKS,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        query = request.query_params
        question = question_of(request, what="The thank-you", more=(*MORE, "source", "page"))
        page, name = page_asked(query), query.get("source")
        thanks = _thanks(request, question, None if name is None else _key(question, name.strip()))
        givers, begin = thanks.givers, (page - 1) * SOURCES_AT_MOST
        rows = givers[begin : begin + SOURCES_AT_MOST]
        said = {"page": page, "rows_at_most": SOURCES_AT_MOST, "in_all": len(givers)}
        return Response(_period(thanks) | said | {"sources": [_giver(row, thanks) for row in rows]})


class TotalsView(APIView):
    """GET: the totals of every source and dyestuff, and of all together."""

    @said(
        "totals",
        summary="The totals of what was given, by source and dyestuff",
        asks=(*QUESTION, SINCE, PAGE),
        answer=TOTALS,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="The totals", more=(*MORE, "page"))
        page = page_asked(request.query_params)
        thanks = _thanks(request, question, None)
        every = [(giver, row) for giver in thanks.givers for row in giver.balances]
        begin = (page - 1) * TOTALS_AT_MOST
        rows = [
            {"source": giver.name, "missed": giver.missed, **_balance(row)}
            for giver, row in every[begin : begin + TOTALS_AT_MOST]
        ]
        said = {"page": page, "rows_at_most": TOTALS_AT_MOST, "in_all": len(every)}
        summed = {"all": _became([row for _, row in every]), "totals": rows}
        return Response(_period(thanks) | said | summed)


def _thanks(request: Request, question: Question, source: int | None) -> Thanks:
    since = since_asked(request.query_params, question)
    return thanks_at(question.studio, at=question.at, since=since, source=source)


def _key(question: Question, name: str) -> int:
    if (
        not 0 < len(name) <= LONGEST or not name.isprintable()
    ):  # no name is so, and a database may choke
        raise NoSuchSource(shown(name))
    return find_source(question.studio, name).pk


def _period(thanks: Thanks) -> Json:
    return {
        "studio": thanks.studio,
        "since": thanks.since.isoformat(),
        "at": thanks.at.isoformat(timespec="seconds"),
    }


def _giver(giver: Giver, thanks: Thanks) -> Json:
    return {
        "source": giver.name,
        "kind": giver.kind or None,
        "place": giver.place or None,
        "made": giver.made,
        "missed": giver.missed,
        "all": _became(giver.balances),
        "gave": [_gave(row, thanks) for row in giver.balances],
    }


def _gave(row: Balance, thanks: Thanks) -> Json:
    own = "; ".join(text for name, text in thanks.hazards if name == row.dyestuff)
    cautions = cautions_for_lot(row.dyestuff, fugitive=row.dyestuff in thanks.fugitive, own=own)
    return {
        **_balance(row),
        "given": [_hand_over(each) for each in row.given[-HAND_OVERS_AT_MOST:]],
        "runs": [_run(share) for share in row.shared[-RUNS_AT_MOST:]],
        "runs_in_all": len(row.shared),
        "cautions": [caution_said(each) for each in cautions],
    }


def _balance(row: Balance) -> Json:
    return {
        "dyestuff": row.dyestuff,
        "hand_overs": len(row.given),
        "pieces": row.pieces or None,
        **_became([row]),
        "tipped_out_to": [{"where": where, "amount": _mass(mg)} for where, mg in row.where_to],
        "fibre": [{"fibre": name, "amount": _mass(mg)} for name, mg in row.fibre],
    }


def _became(rows: Sequence[Balance]) -> Json:
    """What was saved, and where it went; `kept` null where of nothing it is on record."""
    told = [row for row in rows if row.off_record < row.saved]
    return {
        "saved": _sum(row.saved for row in rows),
        "estimated": _sum(row.estimated for row in rows),
        "kept": _sum(row.kept for row in told) if told else None,
        "became": {
            "dyed_with": _sum(row.dyed for row in rows),
            "made_into_baths": _sum(row.bathed for row in rows),
            "taken_by_hand": _sum(row.drawn + row.other for row in rows),
            "waits": _sum(row.there for row in rows),
            "lost_on_drying": _sum(row.lost for row in rows),
            "tipped_out": _sum(row.tipped for row in rows),
            "spoiled": _sum(row.spoiled for row in rows),
            "not_on_record": _sum(row.off_record for row in rows),
        },
        "found_again": _sum(row.found for row in rows),
        "fibre_dyed": _sum(mg for row in rows for _, mg in row.fibre),
    }


def _hand_over(row: GivenOver) -> Json:
    weighed = row.weight_mg is not None
    return {
        "on": row.on.isoformat(),
        "amount": _mass(row.guessed_mg if row.weight_mg is None else row.weight_mg),
        "estimated": not weighed,
        "pieces": row.pieces,
        "note": row.note or None,
    }


def _run(share: Shared) -> Json:
    return {
        "run": share.run,
        "shade": share.shade or None,
        "on": share.at.date().isoformat(),
        "took": _mass(share.mg),
        "share": float(round(share.share, 4)),
        "fibre": [{"fibre": name, "amount": _mass(mg)} for name, mg in share.fibre],
    }


def _sum(masses: Iterable[int | Fraction]) -> Json:
    return _mass(sum(masses, Fraction(0)))


def _mass(mg: int | Fraction) -> Json:
    return amount_said(round(mg), "mg")
