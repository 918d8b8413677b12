"""The form that puts right how much an entry moved: the wrong one stays beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from api.web.note.ask import Fields
from api.web.note.form import NOTE, Form
from api.web.note.forms.orders import FirstOf
from api.web.note.hand import Choice, Hand
from api.web.note.several import Column, Row, Rows
from inventory.models import Movement
from inventory.science.saying import say
from sourcing.week.words import amount as amount_in_words
from sourcing.week.words import day_in_words, exact, moment_in_words

LOTS_AT_MOST, ENTRIES_AT_MOST = 12, 12
COUNTING = ("weigh again", "recount")  # kinds that say what is there, not what came or went


@dataclass(frozen=True, kw_only=True)
class TheEntry(FirstOf):
    """The entry that is put right; its number says nothing to anybody afterwards."""

    def in_words(self, body: Mapping[str, Any]) -> str:
        return ""


def lately(hand: Hand) -> Sequence[Choice]:
    """What moved something last and is not put right, the newest in front."""
    zone = ZoneInfo(hand.studio.zone)
    found: dict[str, Choice] = {}
    for entry, kind, at, code, amount, unit in hand.lately:
        words = say(
            "{code} {amount_in_words}",
            code=code,
            amount_in_words=amount_in_words(abs(amount), unit),
        )
        before = found.get(str(entry))
        if before is not None:
            found[str(entry)] = Choice(
                before.value,
                say("{words}, {words_too}", words=before.words, words_too=words),
                before.more,
            )
        elif len(found) < ENTRIES_AT_MOST:
            found[str(entry)] = Choice(
                str(entry), words, say("{kind}, {at}", kind=kind, at=_when(at, hand.at, zone))
            )
    return list(found.values())


def _when(at: datetime, now: datetime, zone: ZoneInfo) -> str:
    """A moment on the studio's clock, with its year where that is another than now's."""
    local = at.astimezone(zone)
    if local.year == now.astimezone(zone).year:
        return moment_in_words(at, zone)
    return say("{day} {at:%Y}, {at:%H:%M}", day=day_in_words(local.date()), at=local)


def moved(fields: Fields, hand: Hand) -> Sequence[Row]:
    """What an entry moved of each lot, or counted, as it was written down."""
    try:
        entry = UUID(fields.get("corrects") or next((row.value for row in lately(hand)), ""))
    except ValueError:
        return ()
    rows = Movement.objects.of(hand.studio).filter(posting__entry=entry).order_by("lot__code")
    found = rows.values_list(
        "lot__code", "lot__what", "amount", "counted", "lot__unit", "posting__kind"
    )
    return [_row(*row) for row in found[:LOTS_AT_MOST]]


def _row(code: str, what: str, amount: int, counted: int | None, unit: str, kind: str) -> Row:
    done = say("came")
    if kind in COUNTING:
        done = say("counted")
    elif amount < 0:
        done = say("taken")
    said = abs(amount) if counted is None else counted
    return Row(
        say("{code}, {what}, {done}", code=code, what=what, done=done),
        {"lot": code, "amount": " ".join(exact(said, unit))},
    )


FORMS = (
    Form(
        verb="correct",
        heading=say("An amount put right"),
        button=say("So it was"),
        done=say("It is put right; what was written first stays beside it"),
        asks=(
            TheEntry(name="corrects", words=say("Which entry?"), among=lately),
            Rows(name="amounts", words=say("How much was it really?"), begin=moved, changed=True,
                 hint=say("change only what was wrong"),
                 columns=(Column("lot", "", known=True),
                          Column("amount", say("Amount"), most=80))),
        ),
        more=(NOTE,),
    ),
)  # fmt: skip
