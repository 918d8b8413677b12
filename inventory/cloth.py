"""Cloth by the metre: measured, weighed from its length, and its size carried over to its parts."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from inventory.draft import Draft, Tip
from inventory.entries import Weighed
from inventory.errors import NoClothSize, NoSuchLot
from inventory.models import ClothMeasured, Kind, Lot, Studio
from inventory.posting import Posted, post
from inventory.science.cloth import ClothSize, mass_mg, thinned


def measure(
    studio: Studio, *, entry: UUID, at: datetime, lot: str, size: ClothSize, note: str = ""
) -> Posted:
    """A lot of cloth measured: what a square metre of it weighs and how wide it lies."""

    def work(draft: Draft) -> None:
        tip = draft.lot(lot, kind="fibre")
        draft.check_here(tip, coming=True)
        draft.detail(size_row(tip, size, at=at))

    body = {"lot": lot, "size": size}
    return post(studio, entry=entry, kind=Kind.JUDGE, at=at, body=body, work=work, note=note)


def by_length(studio: Studio, *, lot: str, length_mm: int, at: datetime, words: str) -> Weighed:
    """A length of a lot as the amount that every verb takes; the words as entered stay with it.

    Raises
    ------
    NoClothSize
        If nobody has measured the cloth.
    """
    found = Lot.objects.of(studio).filter(code=lot, kind="fibre").first()
    if found is None:
        raise NoSuchLot(lot)
    size = size_at(studio, found.pk, at)
    if size is None:
        raise NoClothSize(lot=lot, what=found.what)
    return Weighed(round(mass_mg(length_mm, size)), words)


def size_at(studio: Studio, lot: int, at: datetime) -> ClothSize | None:
    """The size of a lot of cloth as known at a moment."""
    rows = ClothMeasured.objects.of(studio).filter(lot=lot, at__lte=at).order_by("at", "id")
    row = rows.last()
    return None if row is None else ClothSize(row.g_per_m2, row.width_mm)


def size_row(tip: Tip, size: ClothSize, *, at: datetime) -> ClothMeasured:
    """The row that says how large cloth is from a moment on."""
    return ClothMeasured(lot_id=tip.pk, at=at, g_per_m2=size.g_per_m2, width_mm=size.width_mm)


def carry_size(
    draft: Draft, tip: Tip, turned: Tip, *, before_mg: int = 1, after_mg: int = 1
) -> None:
    """Give cloth that was turned the size it has now: as many metres, lighter by what it lost."""
    size = size_at(draft.studio, tip.pk, draft.at)
    if size is None or (turned is tip and before_mg == after_mg):
        return
    lighter = thinned(size, before_mg=before_mg, after_mg=after_mg)
    draft.detail(size_row(turned, lighter, at=draft.at))
