"""A run's loads, and those of a bath made for it, as the plan shows them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.facts import Making
from sourcing.week.fits import Fit, Round
from sourcing.week.plan import Placed
from sourcing.week.stages import Stage

SNIPPET = "snippet"  # the word on the sheet


def placed_steps(fits: list[Fit], run: str, desk: Desk, *, settled: int = 0) -> tuple[Placed, ...]:
    """A run's loads as the plan shows them, without those of its first, settled stages.

    The rounds of a step are numbered through, whichever cloth goes in: no two share a number.
    """
    steps: list[Placed] = []
    before: dict[str, int] = {}
    for index, fit in enumerate(fits):
        load, first = 0, before.get(fit.stage.step.name, 0)
        before[fit.stage.step.name] = first + len(fit.rounds)
        if index < settled:
            continue
        for number, done in enumerate(fit.rounds):
            last = number + 1 == len(fit.rounds)
            held = fit.held_until if last else done.free_at
            taken = fit.stage.snippet_hands if last else 0
            rows = _round_rows(done, fit.stage, run, desk, held, done.hands_min - taken)
            round_number = first + number + 1
            for row in rows:
                load += 1
                steps.append(replace(row, load=load, round=round_number))
            if last and fit.stage.step.takes_snippet:
                steps.append(_snippet(done, fit.stage, run, round_number, desk))
    return tuple(steps)


def _snippet(done: Round, stage: Stage, run: str, number: int, desk: Desk) -> Placed:
    """A snippet of the cloth in a jug of the strained extract, before the cloth goes in."""
    since = done.end + stage.step.cool_min + stage.pause_after - stage.step.snippet_min
    start = desk.calendar.moment(since)
    end = desk.calendar.moment(since + stage.step.snippet_min)
    return Placed(run, SNIPPET, SNIPPET, 1, number, "", "", start, end, end, stage.snippet_hands,
                  attended_until=end)  # fmt: skip


def _round_rows(
    done: Round, stage: Stage, run: str, desk: Desk, held: int, hands_min: int
) -> list[Placed]:
    moment = desk.calendar.moment
    heats = stage.heats
    hold = sum(heat[2] for heat in heats)
    count = max(1, len(done.loads))
    share = Fraction(own_part(stage), stage.weight_mg)
    hands = [hands_min // count + (1 if n < hands_min % count else 0)
             for n in range(count)]  # fmt: skip
    if not done.loads:
        return [
            Placed(run, stage.step.name, stage.step.kind, 1, 1, "", "", moment(done.start),
                   moment(done.end), moment(held), hands_min, weight_mg=own_part(stage),
                   attended_until=moment(done.attended_until), shared_with=stage.shared_with)
        ]  # fmt: skip
    return [
        Placed(
            run,
            stage.step.name,
            stage.step.kind,
            1,
            1,
            load.vessel,
            load.ring,
            moment(done.start),
            moment(load.heat_until if load.ring else done.end),
            moment(held),
            hands[index],
            litres=_decimal_l(load.litres_ml * share),
            weight_mg=round(load.weight_mg * share),
            attended_until=moment(done.attended_until),
            heat_min=load.heat_min,
            hold_min=hold if load.ring else 0,
            start_c=heats[0][0] if heats else None,
            goal_c=heats[-1][1] if heats else None,
            shared_with=stage.shared_with,
        )
        for index, load in enumerate(done.loads)
    ]


def own_part(stage: Stage) -> int:
    """Milligrams of a stage's cloth that are the run's own."""
    return stage.weight_mg if stage.own_mg is None else stage.own_mg


def placed_round(done: Round, run: str, making: Making, desk: Desk) -> list[Placed]:
    """The loads of a bath that is made for a run."""
    moment = desk.calendar.moment
    return [
        Placed(
            run,
            say("make {bath}", bath=making.bath),
            "decoct",
            number + 1,
            1,
            load.vessel,
            load.ring,
            moment(done.start),
            moment(load.heat_until),
            moment(done.free_at),
            done.hands_min if number == 0 else 0,
            litres=_decimal_l(load.litres_ml),
            attended_until=moment(done.attended_until),
            heat_min=load.heat_min,
            hold_min=sum(heat.hold_min for heat in making.heats),
            start_c=_begins_at(making, load.vessel, desk),
            goal_c=making.heats[-1].goal_c,
        )
        for number, load in enumerate(done.loads)
    ]


def _begins_at(making: Making, vessel: str, desk: Desk) -> int:
    """Warmth at which a bath is put on: its own, else that of the water where the pot stands."""
    if making.heats[0].start_c is not None:
        return making.heats[0].start_c
    rooms = [placer.room for placer in desk.placers.values()]
    return next(r.water_c for r in rooms if any(v.code == vessel for v in r.vessels))


def _decimal_l(litres_ml: Fraction) -> Decimal:
    """Litres to the millilitre."""
    return Decimal(round(litres_ml)) / 1000
