"""One material in another state: wholes and parts that freeze, dry, scour, and nothing vanishes.

What a posting takes of a material is what it makes of it and what was lost, to the milligram.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import datetime
from typing import Any

from inventory.draft import Draft, Tip, number_of
from inventory.entries import Amount, Fibre, NewLot, Place, Take, Weighed
from inventory.errors import NeedsACode, NotConserved, NothingLeft
from inventory.models import FibreState, Lot, Standing, Stay, Studio


def turn(
    draft: Draft,
    tip: Tip,
    *,
    amount: Amount | None,
    becomes: Amount | None,
    code: str,
    reason: str,
    site: str = "",
) -> Tip:
    """Turn a lot, or a part of it under a new code, into another state; returns the turned lot.

    Parameters
    ----------
    site : where the new lot lies from now on; empty: where the old one does

    Raises
    ------
    NeedsACode
        If only a part turns or it goes to another site and there is no code for it.
    NotConserved
        If it would weigh more afterwards.
    """
    if not tip.left:
        raise NothingLeft(lot=tip.code, what=tip.what, at=draft.here(draft.at))
    taken = tip.left if amount is None else number_of(amount, least=1)
    if not code and (site or taken != tip.left):
        raise NeedsACode(tip.code, site=site)
    after = taken if becomes is None else number_of(becomes, least=1)
    if after > taken:
        raise NotConserved(material=tip.what, taken=taken, made=after, lost=0)
    said = becomes if isinstance(becomes, Weighed) else None
    if code:
        draft.take(tip, Take(tip.code, taken if amount is None else amount), turns=True, held=True)
        new = like(draft.studio, tip, code)
        turned = draft.begin(replace(new, site=site) if site else new, parent=tip)
        draft.move(turned, after, said=said, turns=True)
    else:
        turned = tip
        draft.move(tip, after - taken, said=said, turns=True, counted=after)
    draft.lose(tip.what, taken - after, reason)
    return turned


def like(studio: Studio, tip: Tip, code: str) -> NewLot:
    """A new lot of the same stuff, source and permission as another."""
    old = Lot.objects.of(studio).select_related("site").get(pk=tip.pk)
    return NewLot(
        code=code,
        what=old.what,
        kind=old.kind,
        site=old.site.code if old.site else "",
        source=old.source,
        gathered_on=old.gathered_on,
        permission=old.permission,
        foraged=old.foraged,
    )


def rest(draft: Draft, tip: Tip, *, state: str, place: Place, since: datetime) -> None:
    """Note that a lot is in a state and a place from a moment on."""
    draft.detail(
        Stay(
            lot_id=tip.pk,
            at=since,
            state=state,
            place=place.code or place.kind,
            place_kind=place.kind,
            temperature_c=place.temperature_c,
        )
    )


def carry_stays(draft: Draft, tip: Tip, part: Tip) -> None:
    """Give a part the stays of the lot that it comes from: the life used up goes with it."""
    for stay in Stay.objects.of(draft.studio).filter(lot=tip.pk, at__lte=draft.at):
        draft.detail(
            Stay(
                lot_id=part.pk,
                at=stay.at,
                state=stay.state,
                place=stay.place,
                place_kind=stay.place_kind,
                temperature_c=stay.temperature_c,
            )
        )


def standing_of(draft: Draft, tip: Tip) -> Standing:
    """How a lot stands at the moment of the draft."""
    found = (
        Standing.objects.of(draft.studio)
        .filter(lot=tip.pk, at__lte=draft.at)
        .order_by("at", "id")
        .last()
    )
    assert found is not None, "a lot begins with a standing"
    return found


def restand(draft: Draft, tip: Tip, **changes: Any) -> None:
    """Note that a lot stands otherwise from the moment of the draft on."""
    old = standing_of(draft, tip)
    held: dict[str, Any] = {
        "labelled": old.labelled,
        "set_aside": old.set_aside,
        "arrives_at": old.arrives_at,
        "nest_checked": old.nest_checked,
        "weighed": old.weighed,
    }
    draft.detail(Standing(lot_id=tip.pk, at=draft.at, **(held | changes)))


def fibre_state(tip: Tip, fibre: Fibre, *, at: datetime) -> FibreState:
    """The row that says what has been done to a lot of fibre from a moment on."""
    return FibreState(
        lot_id=tip.pk,
        at=at,
        since=fibre.since,
        scoured=fibre.scoured,
        mordant=fibre.mordant,
        mordant_percent=fibre.mordant_percent,
        damp=fibre.damp,
        iron_percent=fibre.iron_percent,
        shade=fibre.shade,
    )


def conserve(draft: Draft) -> None:
    """Refuse a draft in which a turned material does not add up.

    Raises
    ------
    NotConserved
        If what was taken is not what was made and lost.
    """
    taken: defaultdict[str, int] = defaultdict(int)
    made: defaultdict[str, int] = defaultdict(int)
    for row, tip in draft.moved:
        if row.turns:
            side = made if row.amount > 0 else taken
            side[tip.what] += abs(row.amount)
    lost: defaultdict[str, int] = defaultdict(int)
    for loss in draft.losses:
        lost[loss.material] += loss.amount
    for material in sorted({*taken, *made, *lost}):
        if taken[material] != made[material] + lost[material]:
            raise NotConserved(
                material=material,
                taken=taken[material],
                made=made[material],
                lost=lost[material],
            )
