"""Verbs for vessels: what a pot went through decides what may go into it."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from inventory.draft import Draft
from inventory.errors import NoSuchVessel
from inventory.models import Kind, Studio, Vessel, VesselUse
from inventory.posting import Posted, post


def mark_iron(studio: Studio, *, entry: UUID, at: datetime, vessel: str, note: str = "") -> Posted:
    """A vessel had iron in it: no bright shade until a blank swatch has passed."""
    return _went_through(studio, entry, at, vessel, "iron", Kind.IRON, note)


def clear(
    studio: Studio, *, entry: UUID, at: datetime, vessel: str, passed: bool = True, note: str = ""
) -> Posted:
    """A blank swatch simmered in a cleaned vessel: it came out white, or it did not."""
    what = "blank passed" if passed else "blank failed"
    return _went_through(studio, entry, at, vessel, what, Kind.CLEAR, note)


def chip(
    studio: Studio, *, entry: UUID, at: datetime, vessel: str, mended: bool = False, note: str = ""
) -> Posted:
    """A vessel's enamel chipped, or mended again."""
    what = "mended" if mended else "chipped"
    return _went_through(studio, entry, at, vessel, what, Kind.CHIP, note)


def _went_through(
    studio: Studio, entry: UUID, at: datetime, vessel: str, what: str, kind: Kind, note: str
) -> Posted:
    def work(draft: Draft) -> None:
        found = Vessel.objects.of(studio).filter(code=vessel).first()
        if found is None:
            raise NoSuchVessel(vessel)
        draft.detail(VesselUse(vessel=found, at=at, what=what))

    body = {"vessel": vessel, "what": what}
    return post(studio, entry=entry, kind=kind, at=at, body=body, work=work, note=note)
