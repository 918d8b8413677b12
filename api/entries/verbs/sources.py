"""Entries about sources: who gives what on which days, by whose leave, and their tubs."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Clock, Day, Note, Said, Whole, Words
from api.entries.verb import Verb
from api.rest.fields import FieldsUnclear
from api.visitor import Right
from inventory.science.saying import say
from sourcing import sources, tubs

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


class OfSource(Said):
    """An entry about one source."""

    source = Words(most=80, help_text="its name")  # type: ignore[assignment]


class Add(OfSource):
    """A new source."""

    kind = Words(most=80, required=False, help_text="café, hedge, household …")
    place = Words(most=80, required=False)
    note = Note()


def add(asked: Asked) -> Kept:
    """A source added."""
    row = sources.add_source(
        asked.studio, name=asked["source"], **asked.given("kind", "place", "note")
    )
    return Kept("sources", row.name)


class Rename(OfSource):
    """A source under another name."""

    name = Words(most=80, help_text="its new name")


def rename(asked: Asked) -> Kept:
    """A source renamed; what it gave stays with it."""
    row = sources.rename_source(asked.studio, source=asked["source"], name=asked["name"])
    return Kept("sources", row.name)


class Agree(OfSource):
    """What a source will give, and when."""

    gives = Words(most=80, help_text="the dyestuff")
    weekdays = serializers.ListField(
        child=serializers.ChoiceField(WEEKDAYS), max_length=7, required=False
    )
    days = serializers.ListField(child=Day(), max_length=60, required=False)
    hour = Clock(help_text="by the studio's clock")
    since = Day(required=False)
    last_on = Day(required=False)
    hands_min = Whole(least=0, most=1440, required=False, help_text="minutes that it takes")
    likely = AmountOf("mass", "count", required=False, help_text="what the source says it brings")
    note = Note()


def agree(asked: Asked) -> Kept:
    """An agreement made, or made anew."""
    days: list[Any] = [WEEKDAYS.index(name) for name in asked.get("weekdays", ())]
    days += asked.get("days", ())
    if not days:
        raise FieldsUnclear([("/weekdays", say("Say on which weekdays or days it gives."))])
    likely = asked.get("likely")
    amount: dict[str, Any] = {}
    if likely is not None:
        counted = likely.kind == "count"
        amount = {"likely_pieces": likely.pieces} if counted else {"likely_mg": likely.mg}
    row = sources.agree(
        asked.studio,
        days=days,
        **amount,
        **asked.given("source", "gives", "hour", "since", "last_on", "hands_min", "note"),
    )
    return Kept("agreements", str(row.pk), values={"gives": row.gives})


class Leave(OfSource):
    """Who said yes."""

    gives = Words(most=80)
    by = Words(most=80, help_text="who said yes")
    given_on = Day()


def leave(asked: Asked) -> Kept:
    """Leave noted."""
    row = sources.note_permission(asked.studio, **asked.given("source", "gives", "by", "given_on"))
    return Kept("agreements", str(row.pk))


class EndLeave(OfSource):
    """Leave withdrawn."""

    gives = Words(most=80)
    ended_on = Day(help_text="the first day without it")


def end_leave(asked: Asked) -> Kept:
    """Leave withdrawn; what came before keeps it."""
    row = sources.withdraw_permission(asked.studio, **asked.given("source", "gives", "ended_on"))
    return Kept("agreements", str(row.pk))


class Carrying(OfSource):
    """Why what it gives may be carried."""

    carrying_note = Words(most=500, allow_blank=True, help_text="empty: takes it back")
    until = Day(required=False, help_text="its last day")


def carrying(asked: Asked) -> Kept:
    """The carrying note of a source."""
    row = sources.note_carrying(
        asked.studio, note=asked["carrying_note"], **asked.given("source", "until")
    )
    return Kept("sources", row.name)


class Stretch(OfSource):
    """Days of a source, both ends included."""

    first = Day()
    last = Day()
    gives = Words(most=80, required=False, help_text="left out: of all that it gives")


def close(asked: Asked) -> Kept:
    """Days on which a source gives nothing."""
    sources.close_days(asked.studio, **asked.given("source", "first", "last", "gives"))
    return Kept("sources", asked["source"])


def reopen(asked: Asked) -> Kept:
    """Days that were closed and are not any more."""
    sources.open_days(asked.studio, **asked.given("source", "first", "last", "gives"))
    return Kept("sources", asked["source"])


class TubsSaid(OfSource):
    """Tubs of a source."""

    tubs = Whole(least=1, most=tubs.TUBS_AT_MOST)
    note = Note()


def _tubs(how: str) -> Any:
    def move(asked: Asked) -> Kept:
        found = tubs.move_tubs(
            asked.studio, how=how, source=asked["source"], tubs=asked["tubs"], **asked.posting
        )
        return Kept("tub-moves", str(asked.entry), values={"standing": found.standing})

    return move


def _verb(
    name: str, least: Right, says: str, fields: type[Said], run: Any, /, **example: Any
) -> Verb:
    return Verb(name, "sources", says, least, fields, run, example)


CAFE = "Lantern Steps café"
VERBS = (
    _verb("add-source", Right.DYER, "A person or place that is to save material.", Add, add,
          source="Quince Row bakery", kind="bakery", place="Ottersill"),
    _verb("rename-source", Right.DYER, "A source under another name.", Rename, rename,
          source="Quince Row bakery", name="Quince Row"),
    _verb("agree", Right.DYER, "What a source will give, on which days.", Agree, agree,
          source="Quince Row", gives="onion skins", weekdays=["tuesday"], hour="16:00",
          likely="400 g"),
    _verb("note-leave", Right.DYER, "Who gave leave to fetch it, and when.", Leave, leave,
          source="Quince Row", gives="onion skins", by="the baker", given_on="2026-11-20"),
    _verb("end-leave", Right.DYER, "Leave withdrawn from a day on.", EndLeave, end_leave,
          source="Quince Row", gives="onion skins", ended_on="2027-01-01"),
    _verb("note-carrying", Right.DYER, "Why what a source gives may be carried.", Carrying,
          carrying, source="Quince Row", carrying_note="by-product note of 20 Nov 2026"),
    _verb("close-days", Right.DYER, "Days on which a source gives nothing.", Stretch, close,
          source=CAFE, first="2026-12-24", last="2026-12-27"),
    _verb("reopen-days", Right.DYER, "Days that were closed and are not any more.", Stretch,
          reopen, source=CAFE, first="2026-12-24", last="2026-12-24"),
    _verb("leave-tubs", Right.HELPER, "Clean tubs left with a source.", TubsSaid, _tubs("left"),
          source=CAFE, tubs=3),
    _verb("fetch-tubs", Right.HELPER, "Tubs that came back, full or empty.", TubsSaid,
          _tubs("fetched"), source=CAFE, tubs=1),
    _verb("lose-tubs", Right.HELPER, "Tubs that will not come back.", TubsSaid, _tubs("lost"),
          source=CAFE, tubs=1),
)  # fmt: skip
