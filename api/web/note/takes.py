"""Amounts taken from lots as forms ask for them: one lot, a supply beside the work, a run's own."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from api.web.note.ask import Amount, Body, Pick, Text
from api.web.note.hand import Choice, Hand
from api.web.note.things import supply_first
from inventory.science.saying import say


def week_runs(hand: Hand) -> Sequence[Choice]:
    """Runs that are not finished, those begun in front."""
    return [
        Choice(run.code, run.shade, say("{code}, {more}", code=run.code, more=run.more))
        for run in hand.week_runs
    ]


RUN = Text(
    name="run", words=say("For which run?"), most=40, needed=False, hint=say("its code, such as C")
)


def one_take(body: Body) -> Body:
    """A lot and an amount as the only one of what is taken."""
    rest = {name: said for name, said in body.items() if name not in ("lot", "amount")}
    take = {name: body[name] for name in ("lot", "amount") if name in body}
    return {"takes": [take], **rest} if take else rest


def said_take(body: Mapping[str, Any]) -> Body:
    """The first of what is taken as a lot and an amount."""
    takes = body.get("takes")
    first = takes[0] if isinstance(takes, list) and takes else {}
    rest = {name: said for name, said in body.items() if name != "takes"}
    return {**rest, **first} if isinstance(first, Mapping) else rest


def supply_asks(name: str, words: str) -> tuple[Amount, Pick]:
    """How much of a supply, and of which: the one of that name unless another is chosen."""
    return (
        Amount(
            name="taken", words=words, needed=False, hint=say("left empty: none was weighed out")
        ),
        Pick(name="taken_of", words=say("Taken of"), among=supply_first(name), needed=False),
    )


def with_supply(member: str) -> Callable[[Body], Body]:
    """A supply that was weighed out, as the list `member` of the body."""

    def into(body: Body) -> Body:
        rest = {name: said for name, said in body.items() if name not in ("taken", "taken_of")}
        if "taken" not in body:
            return rest
        return {**rest, member: [{"lot": body.get("taken_of", ""), "amount": body["taken"]}]}

    return into


def without_supply(member: str) -> Callable[[Mapping[str, Any]], Body]:
    """The first of the list `member` as the questions have it."""

    def out_of(body: Mapping[str, Any]) -> Body:
        rows = body.get(member)
        rest = {name: said for name, said in body.items() if name != member}
        if not isinstance(rows, list) or not rows or not isinstance(rows[0], Mapping):
            return rest
        return {**rest, "taken": rows[0].get("amount", ""), "taken_of": rows[0].get("lot", "")}

    return out_of
