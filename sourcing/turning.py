"""Fibre scoured and mordanted, lots put by, baths made: past what runs were promised.

As with a draw by hand (`claims.draw`) what is free goes first. What is promised to a run is left
alone unless the work is said to be for that run: then its claim goes along with what it became.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.db import transaction

from inventory import fibre, jars, ledger
from inventory.draft import number_of
from inventory.entries import Amount, Place, Take, Takes
from inventory.hindrance import said_in_words
from inventory.models import FibreState, Lot, Studio
from inventory.posting import Posted
from inventory.said import check_entry, check_said
from sourcing.claims import check_takes, claim_anew, claimed, claims_of, open_run, use_claim
from sourcing.kept import keep_bath_made, keep_way_done
from sourcing.models import ClaimUsed

Work = Callable[[], Posted]


@said_in_words()
def scour(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    weighs: Amount,
    amount: Amount | None = None,
    code: str = "",
    supplies: Takes = (),
    run: str = "",
    **said: Any,
) -> Posted:
    """Fibre scoured, beside what other runs were promised of it.

    A whole lot that had been scoured before may be scoured once more, as long as what is promised
    is left of it: nobody loses anything.

    Parameters
    ----------
    run : that it is scoured for; its own claim is no obstacle and goes along
    said : the other words of `fibre.scour`

    Raises
    ------
    SpokenFor
        If less of the lot is free than is scoured.
    """
    beside = _listed(supplies)

    def work() -> Posted:
        return fibre.scour(studio, entry=entry, at=at, lot=lot, amount=amount, weighs=weighs,
                           code=code, supplies=beside, **said)  # fmt: skip

    with transaction.atomic():
        once_more = not code and amount is None and _is_scoured(studio, lot, at)
        gone = _gone(studio, lot, weighs) if once_more else [Take(lot, amount)]
        return _past_claims(studio, work, entry=entry, at=at, lot=lot, gone=gone, beside=beside,
                            run=run, note=said.get("note", ""))  # fmt: skip


@said_in_words()
def mordant(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    with_what: str,
    percent: Decimal,
    amount: Amount | None = None,
    supplies: Takes = (),
    run: str = "",
    **said: Any,
) -> Posted:
    """Fibre mordanted, beside what other runs were promised of it and of what it takes.

    Parameters
    ----------
    run : that it is mordanted for; its own claim is no obstacle and goes along
    said : the other words of `fibre.mordant`

    Raises
    ------
    SpokenFor
        If less of the lot or of a supply is free.
    """
    beside = _listed(supplies)

    def work() -> Posted:
        return fibre.mordant(studio, entry=entry, at=at, lot=lot, with_what=with_what,
                             percent=percent, amount=amount, supplies=beside, **said)  # fmt: skip

    return _past_claims(studio, work, entry=entry, at=at, lot=lot, gone=[Take(lot, amount)],
                        beside=beside, run=run, note=said.get("note", ""))  # fmt: skip


@said_in_words()
def put_by(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    state: str,
    place: Place,
    amount: Amount | None = None,
    becomes: Amount | None = None,
    code: str = "",
    run: str = "",
    **said: Any,
) -> Posted:
    """A lot or a part of it put by; what other runs were promised stays in the lot.

    A whole lot stays theirs wherever it is put, unless it loses more than is free.

    Parameters
    ----------
    run : that it is put by for; its own claim is no obstacle and goes along with a part
    said : the other words of `ledger.put_by`

    Raises
    ------
    SpokenFor
        If a part is larger than what is free, or less would be left than is promised.
    """

    def work() -> Posted:
        return ledger.put_by(studio, entry=entry, at=at, lot=lot, state=state, place=place,
                             amount=amount, becomes=becomes, code=code, **said)  # fmt: skip

    with transaction.atomic():
        gone = [Take(lot, amount)] if code else _gone(studio, lot, becomes)
        posted = _past_claims(studio, work, entry=entry, at=at, lot=lot, gone=gone, beside=(),
                              run=run, note=said.get("note", ""))  # fmt: skip
        if run and said.get("site") and not posted.again:
            wanted = open_run(studio, run)
            left = set(claims_of(studio, wanted).values_list("lot__code", flat=True))
            keep_way_done(studio, wanted, lot, said["site"], entry=entry, at=at, left=left)
    return posted


@said_in_words()
def make_bath(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    code: str,
    what: str,
    volume: Amount,
    takes: Takes = (),
    run: str = "",
    **said: Any,
) -> Posted:
    """A bath made of what is free; one made for a run uses its claims and is claimed for it.

    Where the run's plan has that bath to be made, it is done with this.

    Parameters
    ----------
    said : the other words of `jars.make_bath`

    Raises
    ------
    SpokenFor
        If it takes what is promised to other runs.
    """
    beside = _listed(takes)
    check_entry(entry, at)
    check_said({"at": at, "run": run, "takes": beside})
    with transaction.atomic():
        check_takes(studio, entry=entry, at=at, takes=beside, run=run, turns=True)
        posted = jars.make_bath(studio, entry=entry, at=at, code=code, what=what, volume=volume,
                                takes=beside, **said)  # fmt: skip
        if run and not posted.again:
            wanted = open_run(studio, run)
            _use_beside(studio, posted, beside, at=at, run=run)
            litres_ul = number_of(volume)
            claim_anew(studio, entry=entry, at=at, run=wanted, amounts={code: litres_ul})
            keep_bath_made(studio, wanted, what, entry=entry, at=at, volume_ul=litres_ul)
    return posted


def _past_claims(
    studio: Studio,
    work: Work,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    gone: Sequence[Take],
    beside: Sequence[Take],
    run: str,
    note: str,
) -> Posted:
    """Do some work on a lot where what it takes is free; a run's claim goes along with it."""
    check_entry(entry, at)
    check_said({"at": at, "run": run, "note": note, "takes": [*gone, *beside]})
    with transaction.atomic():
        check_takes(studio, entry=entry, at=at, takes=[*gone, *beside], run=run, turns=True)
        posted = work()
        if run and not posted.again:
            _use_beside(studio, posted, beside, at=at, run=run)
            _carry_claim(studio, posted, lot, entry=entry, at=at, run=run)
    return posted


def _use_beside(
    studio: Studio, posted: Posted, beside: Sequence[Take], *, at: datetime, run: str
) -> None:
    """What was taken beside a lot is off what its run was promised of it."""
    codes = {take.lot for take in beside}
    for moved in posted.moved:
        if moved.lot in codes and moved.amount < 0:
            use_claim(studio, entry=posted.entry, at=at, run=run, lot=moved.lot,
                      amount=-moved.amount)  # fmt: skip


def _carry_claim(
    studio: Studio, posted: Posted, lot: str, *, entry: UUID, at: datetime, run: str
) -> None:
    """A run's claim on a lot is one on what became of it: on the part, or on what is left.

    A run that was meant for that lot of fibre is meant for the part from now on.
    """
    wanted = open_run(studio, run)
    mine = sum(row.amount for row in claims_of(studio, wanted).filter(lot__code=lot))
    out = -sum(row.amount for row in posted.moved if row.lot == lot)
    part = next((row for row in posted.moved if row.lot != lot and row.amount > 0), None)
    if part is not None and wanted.fibre_lot is not None and wanted.fibre_lot.code == lot:
        ClaimUsed.objects.of(studio).create(
            run=wanted, lot=wanted.fibre_lot, entry=entry, amount=0, meant=True
        )
        wanted.fibre_lot = Lot.objects.of(studio).get(code=part.lot)
        wanted.save(update_fields=["fibre_lot"])
    if not mine:
        return
    if part is None:
        left = claimed(studio, [lot])[lot].left
        if mine > left:
            use_claim(studio, entry=entry, at=at, run=run, lot=lot, amount=mine - left)
        return
    used = min(mine, out)
    use_claim(studio, entry=entry, at=at, run=run, lot=lot, amount=used)
    becomes = part.amount * used // out
    claim_anew(studio, entry=entry, at=at, run=wanted, amounts={part.lot: becomes})


def _gone(studio: Studio, lot: str, becomes: Amount | None) -> list[Take]:
    """What goes off a whole lot that weighs less afterwards; nothing where it does not."""
    if becomes is None:
        return []
    lost = claimed(studio, [lot])[lot].left - number_of(becomes, least=1)
    return [Take(lot, lost)] if lost > 0 else []


def _is_scoured(studio: Studio, lot: str, at: datetime) -> bool:
    rows = FibreState.objects.of(studio).filter(lot__code=lot, at__lte=at)
    last = rows.order_by("at", "id").last()
    return last is not None and last.scoured


def _listed(takes: Takes) -> list[Take]:
    return [take if isinstance(take, Take) else Take(*take) for take in takes]
