"""Forms about the chores of a day: done, and not done after all."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.web.note.ask import Body, Pick
from api.web.note.form import NOTE, Filling, Form
from api.web.note.hand import Choice, Hand
from inventory.science.saying import say
from sourcing.week.facts import Chore
from sourcing.week.words import day_in_words

BETWEEN = "|"  # a day and its chore


@dataclass(frozen=True, kw_only=True)
class ChoreOfDay(Pick):
    """A chore with its day; one that is typed is today's."""

    def chosen(self, value: str) -> Body:
        day, between, what = value.partition(BETWEEN)
        if between:
            return {"day": day, "what": what}
        return {"what": value} if value else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        if "what" not in body:
            return {}
        return {
            self.name: BETWEEN.join(str(body[part]) for part in ("day", "what") if part in body)
        }

    def in_words(self, body: Mapping[str, Any]) -> str:
        return str(body.get("what", ""))


def _among(*, done: bool) -> Callable[[Hand], Sequence[Choice]]:
    def among(hand: Hand) -> Sequence[Choice]:
        found = [row for row in hand.chores if (row.done_at is not None) == done]
        return [Choice(f"{row.day}{BETWEEN}{row.what}", row.what, _more(row)) for row in found]

    return among


def _more(row: Chore) -> str:
    return say("{day}, {hands_min} min", day=day_in_words(row.day), hands_min=row.hands_min)


def _today(body: Body, filling: Filling) -> str:
    return filling.at.date().isoformat() if "what" in body else ""


def _which(*, done: bool) -> ChoreOfDay:
    return ChoreOfDay(
        name="what",
        words=say("Which chore?"),
        hint=say("its name in the list of chores"),
        among=_among(done=done),
        typed_words=say("One of today by its name"),
    )


FORMS = (
    Form(
        verb="chore-done",
        heading=say("A chore done"),
        button=say("Done"),
        done=say("The chore is done"),
        asks=(_which(done=False),),
        more=(NOTE,),
        fills={"day": _today},
        reminder=say("What became of a lot is written down with its own form."),
        undo="chore-not-done",
        instead=say("Say “not done after all” on the page Today."),
    ),
    Form(
        verb="chore-not-done",
        heading=say("A chore not done after all"),
        button=say("Not done after all"),
        done=say("The chore is to be done again"),
        asks=(_which(done=True),),
        more=(NOTE,),
        fills={"day": _today},
        undo="",
        instead=say("Say on the page Today that the chore is done."),
    ),
)
