"""*Labels*: choose what stands on the shelves, see its label, print."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from django.http import HttpRequest, HttpResponse

from api.asked import shown as quoted
from api.question import question_of
from api.web.drawing.qr import draw_qr
from api.web.found.address import found_address, reaches_no_phone
from api.web.labels.asked import PAPERS, Asked, asked_of
from api.web.labels.bags import label_of_lot
from api.web.labels.label import Label
from api.web.labels.liquors import label_of_bath, label_of_jar
from api.web.labels.skeins import label_of_fibre
from api.web.page import page, shown
from inventory.science.saying import joined, say
from sourcing.shelves import ShelvesFacts, shelves_at

CHOICES_AT_MOST = 40  # of one kind; the rest by its letters


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that a label can be printed for."""

    code: str
    what: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Choices:
    """Things of one kind."""

    heading: str
    rows: tuple[Choice, ...]
    more: int  # not shown


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper to choose."""

    name: str
    words: str
    chosen: bool


@page
def labels_page(request: HttpRequest) -> HttpResponse:
    """Labels of what the address names, and what there is to choose from."""
    question = question_of(request, what=say("The page of labels"), more=("paper",), many=("of",))
    asked = asked_of(request.GET)
    kinds = _kinds(shelves_at(question.studio, at=question.at))
    by_code = {label.code: label for rows in kinds.values() for label in rows}
    labels = [
        replace(by_code[code], qr=draw_qr(found_address(request, question, code=code)))
        for code in asked.codes
        if code in by_code
    ]
    return shown(
        "labels/page.html",
        question,
        here="labels",
        labels=labels,
        paper=asked.paper,
        papers=[Paper(name, words, name == asked.paper) for name, words in PAPERS.items()],
        choices=tuple(_choices(kinds, asked)),
        unknown=[quoted(code) for code in asked.codes if code not in by_code],
        hidden=question.said,
        near=bool(labels) and reaches_no_phone(request),
    )


def _kinds(facts: ShelvesFacts) -> dict[str, list[Label]]:
    """A label for all that stands on the shelves, as the shelves are laid out."""
    shelf = facts.shelf
    return {
        "Jars": [label_of_jar(facts, row) for row in shelf.jars],
        "Baths": [label_of_bath(facts, row) for row in shelf.baths],
        "Lots": [label_of_lot(facts, row) for row in facts.lots],
        "Fibre": [label_of_fibre(facts, row) for row in shelf.fibre],
    }


def _choices(kinds: dict[str, list[Label]], asked: Asked) -> Iterator[Choices]:
    for heading, labels in kinds.items():
        first = labels[:CHOICES_AT_MOST]
        rest = [row for row in labels[CHOICES_AT_MOST:] if row.code in asked.codes]
        rows = [
            Choice(
                row.code, joined(" ", filter(None, (row.name, row.what))), row.code in asked.codes
            )
            for row in (*first, *rest)
        ]
        yield Choices(heading, tuple(rows), len(labels) - len(rows))
