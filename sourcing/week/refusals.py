"""The answer no: what is lacking by how much, how the run would sit in pots, from when it could."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.explain import waits_of
from sourcing.week.facts import RunFacts
from sourcing.week.fits import Push
from sourcing.week.plan import Answer, Reason
from sourcing.week.stages import Stage
from sourcing.week.wants import Wants
from sourcing.week.words import (
    amount,
    day_in_words,
    kilos,
    listed,
    litres,
    moment_in_words,
    pieces,
)


def a_no(run: RunFacts, wants: Wants, gates: list[Reason], notes: tuple[str, ...] = ()) -> Answer:
    """The answer no, with all that is lacking and every gate that bars the run."""
    return Answer(
        run.code,
        run.shade,
        "no",
        None,
        None,
        short=tuple(wants.short),
        waits_for=(*(gate for gate in gates if gate.until), *wants.waits),
        reasons=(*gates, *wants.lacking, *wants.reasons),
        barred=(*gates, *wants.lacking),
        notes=(*wants.notes, *notes, *_earliest(wants, gates)),
    )


def nowhere(run: RunFacts, wants: Wants, pushes: Iterable[Push], desk: Desk) -> Answer:
    """Amounts suffice, but the steps fit nowhere within the horizon."""
    waits = waits_of(pushes, desk, run.code)
    hopeless = [row for row in waits if row.until is None]
    wants.lacking.extend(hopeless or [Reason("horizon", run.code, _horizon(desk))])
    wants.waits.extend(row for row in waits if row.until is not None)
    return a_no(run, wants, [])


def loads_note(run: RunFacts, stages: tuple[Stage, ...]) -> tuple[str, ...]:
    """How the run would sit in the pots, where it takes more than one round."""
    for stage in stages:
        if stage.step.kind != "dye" or not stage.options:
            continue
        rounds = max(stage.round_of[1], stage.options[0].rounds)
        if rounds == 1:
            return ()
        weight = kilos(run.weight_mg // rounds)
        whole_l = litres(stage.litres_ml * stage.round_of[1])
        there = litres(sum(stage.options[0].working_ml))
        pots = " + ".join(stage.options[0].vessels)
        return (
            say(
                "{whole_l} against {there} in {pots}: {rounds} rounds of {weight}",
                whole_l=whole_l,
                there=there,
                pots=pots,
                rounds=rounds,
                weight=weight,
            ),
        )
    return ()


def _earliest(wants: Wants, gates: list[Reason]) -> tuple[str, ...]:
    """From when a `no` could be, where time and pick-ups alone may bring what is lacking."""
    bringing = {wait.what: wait for wait in wants.waits if wait.kind == "pick-up"}
    if not all(row.what in bringing for row in wants.short) or any(g.until is None for g in gates):
        return ()
    moments = [wait.until for wait in (*bringing.values(), *gates) if wait.until is not None]
    if not moments:
        return ()
    asked = [
        say("pick-ups bring at least {pieces}", pieces=pieces(row.pieces, row.what))
        if row.pieces is not None
        else say(
            "pick-ups bring at least {amount} of {what}",
            amount=amount(row.amount, row.unit),
            what=row.what,
        )
        for row in wants.short
    ]
    asked += [
        say("the {what} reading is good enough", what=gate.what)
        for gate in gates
        if gate.kind == "reading"
    ]
    return (
        say(
            "earliest {date} if {asked}",
            date=day_in_words(max(moments).date()),
            asked=listed(asked),
        ),
    )


def _horizon(desk: Desk) -> str:
    end = desk.calendar.moment(desk.calendar.end)
    return say("fits nowhere before {end}", end=moment_in_words(end, desk.facts.zone))
