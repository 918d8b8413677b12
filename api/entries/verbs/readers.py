"""Entries about readers of reminders: added, changed, readdressed, stopped, begun again."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import Clock, Day, Note, Said, Words
from api.entries.verb import Verb
from api.visitor import Right
from sourcing import reminders
from sourcing.reminding.facts import ALL, KINDS, Quiet


class OfReader(Said):
    """An entry about one reader."""

    reader = Words(most=80, help_text="their name")


class QuietSaid(Said):
    """Hours in which nobody is written to; over midnight where `until` is earlier."""

    since = Clock()
    until = Clock()

    def to_internal_value(self, data: Any) -> Quiet:
        return Quiet(**super().to_internal_value(data))


class Wants(OfReader):
    """What a reader wants."""

    kinds = serializers.ListField(
        child=serializers.ChoiceField(KINDS), min_length=1, max_length=len(KINDS)
    )
    sheet_at = Clock(required=False, help_text="of the morning sheet, by the studio's clock")
    quiet = QuietSaid(required=False)


class Add(Wants):
    """Somebody who is written to."""

    address = Words(most=254, help_text="their e-mail address")
    since = Day(help_text="the first day")
    source = Words(most=80, required=False)  # type: ignore[assignment]
    leave_by = Words(most=80, required=False, help_text="who said a source may be written to")
    leave_on = Day(required=False)
    note = Note()


def add(asked: Asked) -> Kept:
    """A reader added."""
    names = ("address", "kinds", "since", "sheet_at", "quiet", "source", "leave_by", "leave_on")
    row = reminders.add_reader(asked.studio, name=asked["reader"], **asked.given(*names, "note"))
    return Kept("readers", row.name)


def change(asked: Asked) -> Kept:
    """What a reader wants from now on."""
    row = reminders.change_reader(
        asked.studio, **asked.given("reader", "kinds", "sheet_at", "quiet")
    )
    return Kept("readers", row.name)


class Readdress(OfReader):
    """A reader's new address."""

    address = Words(most=254)


def readdress(asked: Asked) -> Kept:
    """A reader written to elsewhere."""
    row = reminders.readdress(asked.studio, **asked.given("reader", "address"))
    return Kept("readers", row.name)


class KindSaid(OfReader):
    """One kind of letter, or all."""

    kind = serializers.ChoiceField((*KINDS, ALL))


def stop(asked: Asked) -> Kept:
    """No more letters of a kind."""
    news = reminders.stop_reminders(asked.studio, at=asked.at, **asked.given("reader", "kind"))
    return Kept("readers", asked["reader"], values={"news": news})


def begin(asked: Asked) -> Kept:
    """Letters of a kind again."""
    news = reminders.begin_reminders(asked.studio, at=asked.at, **asked.given("reader", "kind"))
    return Kept("readers", asked["reader"], values={"news": news})


def _verb(name: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, "readers", says, Right.OWNER, fields, run, example)


VERBS = (
    _verb("add-reader", "Somebody who is written to from a day on.", Add, add,
          reader="weaver", address="weaver@pellitory-yard.example", kinds=["dip"],
          since="2026-11-24", quiet={"since": "20:00", "until": "07:00"}),
    _verb("change-reader", "What a reader wants from now on.", Wants, change,
          reader="weaver", kinds=["dip", "last good day"]),
    _verb("readdress-reader", "A reader's new address.", Readdress, readdress,
          reader="weaver", address="loom@pellitory-yard.example"),
    _verb("stop-letters", "A reader wants no more letters of a kind.", KindSaid, stop,
          reader="weaver", kind="dip"),
    _verb("begin-letters", "A reader takes up again what was stopped.", KindSaid, begin,
          reader="weaver", kind="dip"),
)  # fmt: skip
