"""The verbs that move amounts: each call is one posting, whole or not at all.

Every verb takes the client's `entry`, which makes a retry harmless, and `at`, the moment when it
happened. Amounts are whole mg or µL.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from inventory.cloth import carry_size
from inventory.draft import Draft, Tip, number_of
from inventory.dyeings import dyeing_of, said_of
from inventory.entries import Amount, Lost, Made, NewLot, Place, Takes, Weighed
from inventory.errors import NotTaken, NoWhereTo
from inventory.fibre import carried
from inventory.models import FibreLot, Kind, Movement, PieceWeighing, Studio
from inventory.posting import Posted, post
from inventory.turning import (
    carry_stays,
    conserve,
    fibre_state,
    rest,
    restand,
    standing_of,
    turn,
)

__all__ = [
    "Posted",
    "draw",
    "dye",
    "put_by",
    "receive",
    "receive_count",
    "recount",
    "tip_out",
    "weigh_again",
]


def receive(
    studio: Studio, *, entry: UUID, at: datetime, lot: NewLot, amount: Amount, note: str = ""
) -> Posted:
    """A new lot with its first amount: a pick-up, a delivery, a harvest."""

    def work(draft: Draft) -> None:
        first = number_of(amount, least=1)
        tip = draft.begin(lot)
        said = amount if isinstance(amount, Weighed) else None
        draft.move(tip, first, said=said, counted=first)

    body = {"lot": lot, "amount": amount}
    return post(studio, entry=entry, kind=Kind.RECEIVE, at=at, body=body, work=work, note=note)


def receive_count(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: NewLot,
    pieces: int,
    piece_mg: int,
    words: str = "",
    note: str = "",
) -> Posted:
    """A new lot that was counted: its amount is pieces × the mass of one as known by then."""

    def work(draft: Draft) -> None:
        many, one_mg = number_of(pieces, least=1), number_of(piece_mg, least=1)
        amount = number_of(many * one_mg, least=1)
        tip = draft.begin(lot)
        draft.move(tip, amount, words=words, pieces=many, piece_mg=one_mg)

    body = {"lot": lot, "pieces": pieces, "piece_mg": piece_mg, "words": words}
    return post(studio, entry=entry, kind=Kind.RECEIVE, at=at, body=body, work=work, note=note)


def draw(studio: Studio, *, entry: UUID, at: datetime, takes: Takes, note: str = "") -> Posted:
    """Amounts taken from one or several lots, all or none.

    Raises
    ------
    NotEnough
        If a lot holds less than is asked of it.
    """
    takes = tuple(takes)

    def work(draft: Draft) -> None:
        for tip, take in draft.takes(takes):
            draft.take(tip, take)

    body = {"takes": takes}
    return post(studio, entry=entry, kind=Kind.DRAW, at=at, body=body, work=work, note=note)


def tip_out(
    studio: Studio, *, entry: UUID, at: datetime, takes: Takes, where_to: str, note: str = ""
) -> Posted:
    """Amounts disposed of, with where they went; also of what is set aside."""
    if not where_to.strip():
        raise NoWhereTo
    takes = tuple(takes)

    def work(draft: Draft) -> None:
        for tip, take in draft.takes(takes):
            draft.take(tip, take, held=True)

    body = {"takes": takes}
    return post(
        studio,
        entry=entry,
        kind=Kind.TIP_OUT,
        at=at,
        body=body,
        work=work,
        note=note,
        where_to=where_to,
    )


def recount(
    studio: Studio, *, entry: UUID, at: datetime, lot: str, found: Amount, note: str = ""
) -> Posted:
    """Set what is there to what was found."""

    def work(draft: Draft) -> None:
        tip = draft.lot(lot)
        draft.check_here(tip, coming=True)
        _set(draft, tip, found)

    body = {"lot": lot, "found": found}
    return post(studio, entry=entry, kind=Kind.RECOUNT, at=at, body=body, work=work, note=note)


def weigh_again(
    studio: Studio, *, entry: UUID, at: datetime, lot: str, found: Amount, note: str = ""
) -> Posted:
    """Set what is there to what the scale says; an untouched count teaches its piece mass."""

    def work(draft: Draft) -> None:
        tip = draft.lot(lot)
        draft.check_here(tip, coming=True)
        last = Movement.objects.of(studio).filter(lot=tip.pk, number=tip.number).first()
        weight = number_of(found)
        _set(draft, tip, found)
        if last is not None and last.number == 1 and last.pieces and weight:
            draft.detail(
                PieceWeighing(
                    lot_id=tip.pk, what=tip.what, pieces=last.pieces, weight_mg=weight, at=at
                )
            )
        if not standing_of(draft, tip).weighed:
            restand(draft, tip, weighed=True)

    body = {"lot": lot, "found": found}
    return post(studio, entry=entry, kind=Kind.WEIGH, at=at, body=body, work=work, note=note)


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
    reason: str = "water",
    site: str = "",
    note: str = "",
) -> Posted:
    """Freeze, dry or move a lot or a part of it.

    The whole lot keeps its code and begins another stay. A part (`amount` less than is left)
    begins a lot of its own under `code`, which names its parent and carries its past stays.
    `becomes` is the weight afterwards; what is missing is noted as lost to `reason`. What goes to
    another `site` is a lot of its own there: `amount` is what was weighed where it lay, `becomes`
    what was weighed where it came to.
    """

    def work(draft: Draft) -> None:
        tip = draft.lot(lot)
        draft.check_here(tip)
        turned = turn(
            draft, tip, amount=amount, becomes=becomes, code=code, reason=reason, site=site
        )
        if tip.kind == "fibre" and site:
            carried(draft, lot, turned)
            return
        if turned is not tip:
            carry_stays(draft, tip, turned)
        rest(draft, turned, state=state, place=place, since=at)

    body = {
        "lot": lot,
        "state": state,
        "place": place,
        "amount": amount,
        "becomes": becomes,
        "code": code,
        "reason": reason,
    }
    if site:
        body["site"] = (
            site  # left out where there is none, so that older entries stay what they were
        )
    return post(studio, entry=entry, kind=Kind.PUT_BY, at=at, body=body, work=work, note=note)


def dye(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    takes: Takes,
    makes: Sequence[Made],
    losses: Sequence[Lost] = (),
    note: str = "",
) -> Posted:
    """A run dyed: what it took, the lots of fibre that it made, and what was lost on the way.

    Raises
    ------
    NotConserved
        If of a fibre more or less came out than went in, losses counted.
    """
    takes, makes, losses = tuple(takes), tuple(makes), tuple(losses)

    def work(draft: Draft) -> None:
        taken = draft.takes(takes)
        by_code = {tip.code: tip for tip, _ in taken}
        parents = [_parent(draft, made.of, by_code) for made in makes]
        turned = {tip.what for tip in parents} | {loss.material for loss in losses}
        went_in = {tip.code: draft.take(tip, take, turns=tip.what in turned) for tip, take in taken}
        for made, parent in zip(makes, parents, strict=True):
            _make(draft, made, parent)
        _carry_sizes(draft, makes, by_code, went_in)
        for loss in losses:
            draft.lose(loss.material, number_of(loss.amount, least=1), loss.reason)
        conserve(draft)

    body = {"takes": takes, "makes": [said_of(made) for made in makes], "losses": losses}
    return post(studio, entry=entry, kind=Kind.DYE, at=at, body=body, work=work, note=note)


def _parent(draft: Draft, code: str, taken: dict[str, Tip]) -> Tip:
    """The lot that a made one comes from: one of those taken."""
    if code not in taken:
        raise NotTaken(code)
    return taken[code]


def _make(draft: Draft, made: Made, parent: Tip) -> None:
    new = NewLot(code=made.code, what=parent.what, kind=parent.kind)
    tip = draft.begin(new, parent=parent)
    said = made.amount if isinstance(made.amount, Weighed) else None
    draft.move(tip, number_of(made.amount, least=1), said=said, turns=True)
    form = FibreLot.objects.of(draft.studio).get(lot=parent.pk)
    draft.detail(FibreLot(lot_id=tip.pk, form=form.form, clients_own=form.clients_own))
    draft.detail(fibre_state(tip, made.fibre, at=draft.at))
    if made.dyed is not None:
        draft.detail(dyeing_of(tip, made.dyed, at=draft.at))


def _carry_sizes(
    draft: Draft, makes: Sequence[Made], parents: dict[str, Tip], went_in: dict[str, int]
) -> None:
    """Cloth keeps its metres: what each lot lost in all, it lost on all that was made of it."""
    came_out: dict[str, int] = {}
    for made in makes:
        came_out[made.of] = came_out.get(made.of, 0) + number_of(made.amount)
    for made in makes:
        after = came_out[made.of]
        carry_size(
            draft,
            parents[made.of],
            draft.lot(made.code),
            before_mg=max(went_in[made.of], after),
            after_mg=after,
        )


def _set(draft: Draft, tip: Tip, found: Amount) -> None:
    there = number_of(found)
    said = found if isinstance(found, Weighed) else None
    draft.move(tip, there - tip.left, said=said, counted=there)
