"""Verbs for swatches: a sample kept of a lot, a snippet dyed before its cloth, readings of both."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from django.db.models import Max

from inventory.draft import Draft
from inventory.errors import NoSuchSwatch, NotAReading, SwatchTaken
from inventory.models import Kind, Reading, Studio, Swatch
from inventory.posting import Posted, post
from inventory.science.saying import say

# Grades run from 1: blue wool references to 8 (ISO 105-B01), grey scales to 5 (ISO 105-A02, A03).
BEST = {"light": Decimal(8), "wash": Decimal(5), "rub": Decimal(5)}


@dataclass(frozen=True, slots=True)
class Lab:
    """A colour as it was measured: lightness 0 to 100, red-green and yellow-blue."""

    l: Decimal  # noqa: E741 - the name of the axis
    a: Decimal
    b: Decimal


def keep_swatch(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    number: int | None = None,
    shade: str = "",
    snippet: bool = False,
    note: str = "",
) -> Posted:
    """A sample kept of a lot, under a number of its own: the next one, where none is given.

    Raises
    ------
    SwatchTaken
        If another swatch has the number.
    """

    def work(draft: Draft) -> None:
        tip = draft.lot(lot, kind="fibre")
        draft.check_here(tip)
        if number is not None and Swatch.objects.of(studio).filter(number=number).exists():
            raise SwatchTaken(number)
        own = _next_number(studio) if number is None else number
        draft.detail(Swatch(lot_id=tip.pk, number=own, shade=shade, at=at, snippet=snippet))

    body = {"lot": lot, "number": number, "shade": shade, "snippet": snippet}
    return post(studio, entry=entry, kind=Kind.SWATCH, at=at, body=body, work=work, note=note)


def swatch_of(studio: Studio, entry: UUID) -> Swatch:
    """The swatch that an entry has kept."""
    return Swatch.objects.of(studio).get(posting__entry=entry)


def read_swatch(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    swatch: int,
    what: str,
    grade: Decimal | None = None,
    lab: Lab | None = None,
    days: int | None = None,
    note: str = "",
) -> Posted:
    """What was read off a swatch: a grade of light, wash or rub, or its colour.

    Parameters
    ----------
    swatch : its number
    grade : 1 to 8 for light, 1 to 5 for wash and rub
    lab : for colour
    days : that it had hung in the window, for light

    Raises
    ------
    NoSuchSwatch, NotAReading
    """
    _check(what, grade, lab)

    def work(draft: Draft) -> None:
        found = Swatch.objects.of(studio).filter(number=swatch).first()
        if found is None:
            raise NoSuchSwatch(swatch)
        draft.detail(
            Reading(
                swatch_id=found.pk,
                at=at,
                what=what,
                value=grade,
                lab_l=lab.l if lab else None,
                lab_a=lab.a if lab else None,
                lab_b=lab.b if lab else None,
                days=days,
            )
        )

    body = {"swatch": swatch, "what": what, "grade": grade, "lab": lab, "days": days}
    return post(studio, entry=entry, kind=Kind.READ, at=at, body=body, work=work, note=note)


def _next_number(studio: Studio) -> int:
    last: int | None = Swatch.objects.of(studio).aggregate(last=Max("number"))["last"]
    return 1 if last is None else last + 1


def _check(what: str, grade: Decimal | None, lab: Lab | None) -> None:
    if what == "colour":
        if lab is None or grade is not None or not 0 <= lab.l <= 100:
            raise NotAReading(what, write="lightness from 0 to 100, a and b, and no grade")
        return
    if what not in BEST:
        raise NotAReading(what[:40], write=say("colour, light, wash or rub"))
    if grade is None or lab is not None or not 1 <= grade <= BEST[what]:
        raise NotAReading(what, write=say("a grade from 1 to {best}", best=BEST[what]))
