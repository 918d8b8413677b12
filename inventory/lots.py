"""Verbs that change how a lot stands, not how much of it there is."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from inventory.draft import Draft
from inventory.models import Kind, Studio, Verdict
from inventory.posting import Posted, post
from inventory.turning import restand


def set_aside(
    studio: Studio, *, entry: UUID, at: datetime, lot: str, reason: str, note: str = ""
) -> Posted:
    """A lot kept out of use until it is checked."""
    return _stands(studio, entry, at, lot, Kind.SET_ASIDE, {"set_aside": reason}, note)


def use_again(studio: Studio, *, entry: UUID, at: datetime, lot: str, note: str = "") -> Posted:
    """A lot checked and taken into use again."""
    return _stands(studio, entry, at, lot, Kind.USE_AGAIN, {"set_aside": ""}, note)


def label(
    studio: Studio, *, entry: UUID, at: datetime, lot: str, labelled: bool = True, note: str = ""
) -> Posted:
    """A lot labelled, or found without its label."""
    return _stands(studio, entry, at, lot, Kind.LABEL, {"labelled": labelled}, note)


def arrive(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    arrives_at: datetime | None = None,
    note: str = "",
) -> Posted:
    """A confirmed lot that has come (`arrives_at` None), or that comes at another moment."""
    return _stands(studio, entry, at, lot, Kind.ARRIVE, {"arrives_at": arrives_at}, note)


def check_nest(
    studio: Studio, *, entry: UUID, at: datetime, lot: str, checked: bool = True, note: str = ""
) -> Posted:
    """A hedge looked over for nests before the lot was cut, or not."""
    return _stands(studio, entry, at, lot, Kind.CHECK_NEST, {"nest_checked": checked}, note)


def judge(
    studio: Studio, *, entry: UUID, at: datetime, lot: str, sound: bool, note: str = ""
) -> Posted:
    """What somebody saw of a lot: sound or bad. It beats the sum of days."""

    def work(draft: Draft) -> None:
        tip = draft.lot(lot)
        draft.check_here(tip, coming=True)
        draft.detail(Verdict(lot_id=tip.pk, at=at, sound=sound))

    body = {"lot": lot, "sound": sound}
    return post(studio, entry=entry, kind=Kind.JUDGE, at=at, body=body, work=work, note=note)


def _stands(
    studio: Studio,
    entry: UUID,
    at: datetime,
    lot: str,
    kind: Kind,
    changes: dict[str, Any],
    note: str,
) -> Posted:
    def work(draft: Draft) -> None:
        tip = draft.lot(lot)
        draft.check_here(tip, coming=True)
        restand(draft, tip, **changes)

    body = {"lot": lot, **changes}
    return post(studio, entry=entry, kind=kind, at=at, body=body, work=work, note=note)
