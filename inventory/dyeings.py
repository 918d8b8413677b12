"""How dyed fibre came out: noted with its run, seen otherwise later, carried over to its parts."""

from __future__ import annotations

from dataclasses import asdict, replace
from datetime import datetime
from typing import Any
from uuid import UUID

from inventory.draft import Draft, Tip
from inventory.entries import Dyed, Made
from inventory.errors import NoFaultNamed, NotDyed, UnknownQuality
from inventory.models import Dyeing, FibreState, Kind, Quality, Studio
from inventory.posting import Posted, post

KNOWN = tuple(value for value in Quality.values if value)


def judge_dyed(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    quality: str,
    came_out: str = "",
    note: str = "",
) -> Posted:
    """Dyed fibre looked over again: kept as something else from now on; its depth stays.

    Raises
    ------
    UnknownQuality, NoFaultNamed
        If it is kept as nothing known, or as less than it was meant to be without a word why.
    NotDyed
        If no run has dyed it.
    """

    def work(draft: Draft) -> None:
        tip = draft.lot(lot, kind="fibre")
        draft.check_here(tip)
        old = dyed_at(draft, tip)
        if old is None:
            raise NotDyed(lot=tip.code, what=tip.what)
        draft.detail(dyeing_of(tip, replace(old, quality=quality, came_out=came_out), at=at))

    body = {"lot": lot, "quality": quality, "came_out": came_out}
    return post(studio, entry=entry, kind=Kind.JUDGE, at=at, body=body, work=work, note=note)


def dyeing_of(tip: Tip, dyed: Dyed, *, at: datetime) -> Dyeing:
    """The row that says how a lot came out; what is less than meant has to say why."""
    if dyed.quality not in Quality.values:
        raise UnknownQuality(dyed.quality, known=KNOWN)
    if dyed.quality and not dyed.came_out.strip():
        raise NoFaultNamed(lot=tip.code, quality=dyed.quality)
    return Dyeing(
        lot_id=tip.pk, at=at, depth=dyed.depth, quality=dyed.quality, came_out=dyed.came_out
    )


def dyed_at(draft: Draft, tip: Tip) -> Dyed | None:
    """How a lot came out as known at the moment of the draft; None: it is not dyed."""
    rows = Dyeing.objects.of(draft.studio).filter(lot=tip.pk, at__lte=draft.at)
    row = rows.order_by("at", "id").last()
    if row is not None:
        return Dyed(depth=row.depth, quality=row.quality, came_out=row.came_out)
    states = FibreState.objects.of(draft.studio).filter(lot=tip.pk, at__lte=draft.at)
    state = states.order_by("at", "id").last()
    return Dyed() if state is not None and state.shade else None


def carry_dyeing(draft: Draft, tip: Tip, part: Tip) -> None:
    """Give a part what is known of the lot that it comes from."""
    old = dyed_at(draft, tip)
    if old is not None:
        draft.detail(dyeing_of(part, old, at=draft.at))


def said_of(made: Made) -> dict[str, Any]:
    """What an entry said of a made lot; words that came later are named only where they are said.

    So an entry that was sent before they came is still known when it is sent again.
    """
    said = asdict(made)
    return said if made.dyed is not None else {k: v for k, v in said.items() if k != "dyed"}
