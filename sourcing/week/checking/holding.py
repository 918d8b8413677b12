"""No pot and no ring serves two at once, and none is taken before it is cooled and cleaned."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import Load, Sheet, Stage, as_load, dye_loads, stands
from sourcing.week.checking.working import straining
from sourcing.week.plan import Placed


@dataclass(frozen=True, slots=True)
class Hold:
    """A stretch during which one pot or ring is taken."""

    since: int
    until: int
    run: str
    what: str
    done: int = 0  # end of the working part: hold, cooling
    rests_after: bool = False  # a night, a standing or a straining ends it
    at_once: bool = False  # follows the step before at once
    block: bool = False
    group: bool = False  # a group dyes in it, so it is cleaned like after a run
    others: tuple[str, ...] = ()  # runs that share it
    lifted: int = 0  # when what stood may be lifted, so that its pot is filled anew
    stays: bool = False  # in the bath of the step before

    @property
    def runs(self) -> set[str]:
        return {self.run, *self.others}


def faults_in_holds(
    sheets: list[Sheet], jobs: tuple[Placed, ...], ground: Ground
) -> Iterator[Fault]:
    """Pots and rings taken twice, pauses that are too short, flames left without a pot."""
    pots, rings = all_holds(sheets, jobs, ground)
    for code, holds in sorted(pots.items()):
        yield from _twice("pot", code, holds, ground)
        yield from _pauses(code, holds, ground)
    for code, holds in sorted(rings.items()):
        yield from _twice("ring", code, holds, ground)
    for sheet in sheets:
        for chain in sheet.chains() if sheet.run.kept is None else ():
            yield from _held_long_enough(sheet, chain, ground)


def all_holds(
    sheets: list[Sheet], jobs: tuple[Placed, ...], ground: Ground
) -> tuple[dict[str, list[Hold]], dict[str, list[Hold]]]:
    """Who has each pot and each ring, and when."""
    pots: dict[str, list[Hold]] = defaultdict(list)
    rings: dict[str, list[Hold]] = defaultdict(list)
    for sheet in sheets:
        for stage in sheet.stages:
            for load in stage.loads:
                if all(sheet.code < row.run for row in load.others):  # one hold for all in it
                    _hold(pots, rings, load, sheet.code, stage)
    for placed in jobs:
        _hold(pots, rings, as_load(placed), placed.run, None)
    for block in ground.facts.blocks:
        stretch = minute_of(block.since), minute_of(block.until)
        for code in block.vessels:
            pots[code].append(Hold(*stretch, block.code, block.what, block=True, group=block.group))
        for code in block.rings:
            rings[code].append(Hold(*stretch, block.code, block.what, block=True))
    return pots, rings


def _hold(
    pots: dict[str, list[Hold]],
    rings: dict[str, list[Hold]],
    load: Load,
    run: str,
    stage: Stage | None,
) -> None:
    placed = load.placed
    rests = stage is not None and rests_after(stage)
    at_once = stage is not None and stage.step.at_once
    stood = stage.step.stand_min if stage is not None and stands(stage.step) else 0
    stays = stage is not None and "same" in stage.step.vessels
    done = max(load.end, load.lit_until) + (stage.step.cool_min if stage else 0)
    if placed.vessel:
        pots[placed.vessel].append(
            Hold(load.start, load.held_until, run, placed.step, done, rests, at_once,
                 others=tuple(row.run for row in load.others),
                 lifted=load.lit_until + stood if stood else 0, stays=stays)
        )  # fmt: skip
    if placed.ring:
        rings[placed.ring].append(Hold(load.start, load.lit_until, run, placed.step))


def rests_after(stage: Stage) -> bool:
    """Whether a night, a standing or a straining lies between this step and the next."""
    step = stage.step
    return step.night or stands(step) or step.strain


def _twice(kind: str, code: str, holds: list[Hold], ground: Ground) -> Iterator[Fault]:
    """Each overlap of two stretches, found by going through them in order."""
    open_until, by = -1, None
    for hold in sorted(holds, key=lambda hold: (hold.since, hold.until)):
        if by is not None and hold.since < open_until and not (hold.block and by.block):
            yield Fault(
                f"{kind} twice",
                hold.run if not hold.block else by.run,
                ground.moment(hold.since),
                f"{code} is wanted for {hold.what} of {hold.run} while {by.what} of {by.run} has "
                f"it until {ground.moment(open_until):%a %H:%M}",
            )
        if hold.until > open_until:
            open_until, by = hold.until, hold


def _pauses(code: str, holds: list[Hold], ground: Ground) -> Iterator[Fault]:
    """Pauses between runs and between steps of one run in the same pot."""
    order = sorted(holds, key=lambda hold: (hold.since, hold.until))
    for before, after in pairwise(order):
        if _needs_no_pause(before, after) or _both_begun(before, after, ground):
            continue
        if not before.runs & after.runs:
            wanted, kind = ground.rules.between_runs, "pause between runs"
            gap = after.since - before.until
        elif before.lifted and before.until == after.since and not after.stays:
            wanted, kind = ground.rules.between_steps, "pause between steps"
            gap = after.since - before.lifted
        elif before.rests_after or after.at_once:
            continue
        else:
            wanted, kind = ground.rules.between_steps, "pause between steps"
            gap = after.since - before.done
        if gap < wanted:
            yield Fault(
                kind,
                after.run if not after.block else before.run,
                ground.moment(after.since),
                f"{code}: {after.what} begins {gap} min after {before.what} of {before.run}, "
                f"{wanted} min wanted",
            )


def _needs_no_pause(before: Hold, after: Hold) -> bool:
    """Overlaps are told elsewhere; a block that is no group leaves the pot as it was."""
    fixed = (before.block and not before.group) or (after.block and not after.group)
    return fixed or (before.block and after.block) or after.since < before.until


def _both_begun(before: Hold, after: Hold, ground: Ground) -> bool:
    """Whether both are of runs under way: what went otherwise there cannot be planned away."""
    runs = (ground.runs.get(before.run), ground.runs.get(after.run))
    return all(run is not None and run.kept is not None for run in runs)


def _held_long_enough(sheet: Sheet, chain: list[Stage], ground: Ground) -> Iterator[Fault]:
    """A pot is held from filling to emptying: through night, standing, cooling and straining."""
    for number, stage in enumerate(chain):
        after = chain[number + 1] if number + 1 < len(chain) else None
        dyes = sheet.dye_loads if stage in sheet.stages else dye_loads(chain)
        for part in stage.rounds:
            for load in part.loads:
                if not load.placed.vessel:
                    continue
                until = _wanted_until(
                    sheet, stage, part is stage.rounds[-1], after, load, ground, dyes=dyes
                )
                if load.held_until < until:
                    yield Fault(
                        "held",
                        sheet.code,
                        load.placed.held_until,
                        f"{load.placed.vessel} is given up after {stage.step.name} before "
                        f"{ground.moment(until):%a %d %H:%M}",
                    )


def _wanted_until(
    sheet: Sheet,
    stage: Stage,
    last: bool,
    after: Stage | None,
    load: Load,
    ground: Ground,
    *,
    dyes: int,
) -> int:
    step = stage.step
    until = max(load.end, load.lit_until) + step.cool_min
    stays = after is not None and (
        "same" in after.step.vessels or after.step.at_once or not after.step.vessels
    )
    if step.strain:
        until += straining(dyes + load.others_dye_loads, ground)
    if step.night:
        morning = ground.night_over(load.end, sheet.site)
        until = max(until, morning if morning is not None else until)
    if stands(step):
        until = max(until, load.lit_until + step.stand_min)
        if last and after is not None:
            until = max(until, after.last_start)
    if last and after is not None and stays and (step.night or after.step.vessels):
        until = max(until, after.start)
    if last and after is not None and after.step.at_once:
        until = max(until, after.start)
    return until
