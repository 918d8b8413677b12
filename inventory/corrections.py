"""Putting an entry right: the wrong posting stays, a correcting one stands beside it."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from inventory.draft import Draft, Tip
from inventory.errors import (
    AlreadyCorrected,
    NoSuchEntry,
    NotAnAmount,
    NotConserved,
    NotInThatEntry,
    TakenSince,
    in_words,
    on,
)
from inventory.models import Kind, Loss, Movement, Posting, Studio
from inventory.posting import Posted, post
from inventory.said import MOST
from inventory.science.saying import say

NAMED_DRAWS = 10  # named in a refusal, the latest first


def correct(
    studio: Studio,
    *,
    entry: UUID,
    corrects: UUID,
    amounts: Mapping[str, int] | None = None,
    note: str = "",
) -> Posted:
    """Put an entry right: undo it, or say by lot how much it should have been.

    `amounts`: mg or µL per lot, as the corrected entry would have said it: what was received,
    drawn or made, or for a recount what was there. None takes the whole entry back. A correction
    is dated as the entry that it corrects, and can itself be corrected.

    Raises
    ------
    AlreadyCorrected
        If the entry was corrected before; the message names the correction.
    TakenSince
        If it would take away what was since drawn; the message names the draws.
    """
    wrong = Posting.objects.of(studio).filter(entry=corrects).first()
    if wrong is None:
        raise NoSuchEntry(corrects)

    def work(draft: Draft) -> None:
        by = Posting.objects.of(studio).filter(corrects=wrong).first()
        if by is not None:
            raise AlreadyCorrected(entry=corrects, by=by.entry)
        chain = _chain(studio, wrong)
        moved = _moved(studio, chain)
        _check_named(amounts, moved, corrects)
        tips = {tip.code: tip for tip in draft.lock(sorted(moved))}
        for code in sorted(moved):
            _put_right(draft, tips[code], moved[code], amounts, wrong=wrong)
        _put_losses_right(draft, chain, undo=amounts is None)

    body = {"corrects": corrects, "amounts": amounts}
    return post(
        studio,
        entry=entry,
        kind=Kind.CORRECT,
        at=wrong.occurred_at,
        body=body,
        work=work,
        note=note,
        corrects=wrong,
        undoes=amounts is None,
    )


def _chain(studio: Studio, posting: Posting) -> list[Posting]:
    """The posting and what it corrects, back to the first; at most one goes back from each."""
    chain = [posting]
    while chain[-1].corrects_id is not None:
        chain.append(Posting.objects.of(studio).get(pk=chain[-1].corrects_id))
    return chain


def _moved(studio: Studio, chain: list[Posting]) -> dict[str, list[Movement]]:
    """Movements of a chain by lot, those of the posting to be corrected first."""
    order = {posting.pk: place for place, posting in enumerate(chain)}
    rows = Movement.objects.of(studio).filter(posting__in=chain).select_related("lot")
    by_lot: dict[str, list[Movement]] = {}
    for row in sorted(rows, key=lambda row: (order[row.posting_id], row.pk)):
        by_lot.setdefault(row.lot.code, []).append(row)
    return by_lot


def _check_named(
    amounts: Mapping[str, int] | None, moved: Mapping[str, list[Movement]], entry: UUID
) -> None:
    for code, amount in (amounts or {}).items():
        if code not in moved:
            raise NotInThatEntry(lot=code, entry=entry)
        if isinstance(amount, bool) or not isinstance(amount, int) or not 0 <= amount <= MOST:
            raise NotAnAmount(amount, least=0, most=MOST)


def _put_right(
    draft: Draft,
    tip: Tip,
    rows: list[Movement],
    amounts: Mapping[str, int] | None,
    *,
    wrong: Posting,
) -> None:
    root = rows[-1]
    if amounts is None:
        # A correction may have touched fewer lots than what it corrects.
        own = [row for row in rows if row.posting_id == wrong.pk]
        if not own:
            return
        change = -sum(row.amount for row in own)
    elif tip.code not in amounts:
        return
    else:
        change = _wanted(root, amounts[tip.code]) - sum(row.amount for row in rows)
    if tip.left + change < 0:
        raise TakenSince(
            lot=tip.code,
            what=tip.what,
            back=-change,
            left=tip.left,
            unit=tip.unit,
            draws=_draws_since(draft, root, tip.unit),
        )
    draft.move(tip, change, turns=root.turns)


def _wanted(root: Movement, amount: int) -> int:
    """What the first movement should have been, from what should have been said."""
    if root.counted is not None:
        return amount - root.left_before
    return amount if root.amount > 0 else -amount


def _draws_since(draft: Draft, root: Movement, unit: str) -> list[str]:
    rows = (
        Movement.objects.of(draft.studio)
        .filter(lot=root.lot_id, number__gt=root.number, amount__lt=0)
        .select_related("posting")
        .order_by("-number")[:NAMED_DRAWS]
    )
    return [
        say(
            "{amount} on {here}",
            amount=in_words(-row.amount, unit),
            here=on(draft.here(row.posting.occurred_at)),
        )
        + (say(" ({note})", note=row.posting.note or row.posting.kind))
        for row in rows
    ]


def _put_losses_right(draft: Draft, chain: list[Posting], *, undo: bool) -> None:
    """Let each turned material add up again: the loss takes up what the movements changed."""
    changes: dict[str, int] = {}
    for row, tip in draft.moved:
        if row.turns:
            changes[tip.what] = changes.get(tip.what, 0) + row.amount
    lost: dict[str, int] = {}
    for loss in Loss.objects.of(draft.studio).filter(posting__in=chain):
        lost[loss.material] = lost.get(loss.material, 0) + loss.amount
    for material, change in changes.items():
        total = lost.get(material, 0) - change
        if total < 0:
            taken, made = _sums(draft.studio, chain, material, draft)
            raise NotConserved(material=material, taken=taken, made=made, lost=0)
        draft.lose(material, -change, "taken back" if undo else "put right")


def _sums(studio: Studio, chain: list[Posting], material: str, draft: Draft) -> tuple[int, int]:
    """What was taken and made of a material, corrections counted."""
    net: dict[int, int] = {}
    rows = Movement.objects.of(studio).filter(posting__in=chain, turns=True, lot__what=material)
    new = [row for row, tip in draft.moved if row.turns and tip.what == material]
    for row in (*rows, *new):
        net[row.lot_id] = net.get(row.lot_id, 0) + row.amount
    taken = -sum(amount for amount in net.values() if amount < 0)
    return taken, sum(amount for amount in net.values() if amount > 0)
