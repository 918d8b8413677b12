"""Baths that runs under way leave and follow in: from when each is free, and who waits for whom."""

from __future__ import annotations

from collections.abc import Iterator

from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.kept import Kept
from sourcing.week.late_baths import late_baths
from sourcing.week.moments import minute_of
from sourcing.week.plan import Placed, Reason
from sourcing.week.pouring import lay_down
from sourcing.week.second_bath import DYEBATH, bath_code, bath_out, dyed_in, ratio_of
from sourcing.week.under_way import Part, UnderWay
from sourcing.week.words import moment_in_words


def lay_baths(found: list[UnderWay], desk: Desk) -> None:
    """What begun runs leave, from when their cloth is out as things stand now."""
    for row in found if desk.followed else ():
        lay_bath(row, desk)


def keep_for_begun(found: list[UnderWay], desk: Desk) -> None:
    """What begun runs are to take of a bath that nobody begun leaves is kept for them."""
    for row in found:
        for code, amount, _ in followed_in(row.kept):
            if code not in desk.larder.poured and still_to_come(code, row.kept, desk):
                desk.larder.left[code] = desk.larder.left.get(code, 0) - amount


def to_be_left(found: list[UnderWay], desk: Desk) -> dict[str, int]:
    """Microlitres that runs which are not begun will leave of baths that begun ones follow in."""
    codes = {code for row in found for code, _, _ in followed_in(row.kept)}
    there: dict[str, int] = {}
    for run in desk.facts.runs:
        code, recipe = bath_code(run.code), desk.recipes.get(run.recipe)
        step = None if recipe is None else dyed_in(recipe)
        wanted = code in codes and run.kept is None and not run.bath
        if wanted and recipe is not None and step is not None:
            there[code] = round(ratio_of(step, recipe) * run.weight_mg)
    return there


def lay_bath(row: UnderWay, desk: Desk) -> None:
    """What one begun run leaves, from when its cloth is out."""
    minute = _free_from(row)
    step = dyed_in(row.recipe)
    if minute is None or step is None:
        return
    # As much dye as its recipe has it, in however much water.
    litres_ml = ratio_of(step, row.recipe) * row.run.weight_mg / 1000
    lay_down(row.run, row.recipe, [code for code, _, _ in followed_in(row.kept)], desk,
             litres_ml=litres_ml, at=desk.calendar.moment(minute),
             site=row.placer.room.site)  # fmt: skip


def followed_in(kept: Kept) -> Iterator[tuple[str, int, str]]:
    """The baths that a begun run takes of by its plan: code, µL, the step that takes it."""
    for take in kept.takes:
        if take.what == DYEBATH:
            yield take.source, take.amount, take.step


def still_to_come(code: str, kept: Kept, desk: Desk) -> bool:
    """Whether a bath of a begun run's plan is not kept yet and is still left by somebody."""
    return code in kept.to_come and _is_left(code, desk)


def _is_left(code: str, desk: Desk) -> bool:
    return any(bath_code(run.code) == code and not run.bath for run in desk.facts.runs)


def providers_first(found: list[UnderWay]) -> list[UnderWay]:
    """Begun runs, each behind those in whose bath it follows."""
    by_code = {bath_code(row.run.code): row for row in found}
    ordered: list[UnderWay] = []

    def add(row: UnderWay, above: tuple[str, ...]) -> None:
        if row in ordered:
            return
        for code, _, _ in followed_in(row.kept):
            before = by_code.get(code)
            if before is not None and before.run.code not in above:
                add(before, (*above, row.run.code))
        ordered.append(row)

    for row in found:
        add(row, (row.run.code,))
    return ordered


def wait_for_used_baths(found: list[UnderWay], desk: Desk) -> None:
    """Let the dyeing of a run move with the run whose bath it follows in, where that is late."""
    by_code = {bath_code(row.run.code): row for row in found}
    for row in providers_first(found):
        for code, _, step in followed_in(row.kept):
            before, index = by_code.get(code), _place_of(step, row)
            if before is None or index is None or not _to_do(row, index):
                continue
            free = _free_from(before)
            soon = free is not None and minute_of(row.parts[index].start) < free
            late = before.moves or bool(late_baths(before, desk))
            if (late or soon) and all(part.stage is not None for part in row.parts):
                row.settled = min(row.settled, index)


def floors_of_baths(row: UnderWay, desk: Desk) -> dict[int, int]:
    """By the number of a part, the minute from which its bath is there."""
    found = {}
    for code, _, step in followed_in(row.kept):
        index, poured = _place_of(step, row), desk.larder.poured.get(code)
        if index is not None and poured is not None:
            found[index] = minute_of(poured.bath.made_at)
    return found


def bath_reasons(row: UnderWay, desk: Desk) -> Iterator[Reason]:
    """From when a run's bath is free, where its dyeing is still to come."""
    for code, _, step in followed_in(row.kept):
        index, poured = _place_of(step, row), desk.larder.poured.get(code)
        if index is None or poured is None or not _to_do(row, index):
            continue
        free = poured.bath.made_at
        if free > desk.facts.at:
            text = say("wants the bath of {run}, free {free}", run=poured.run,
                       free=moment_in_words(free, desk.facts.zone))  # fmt: skip
            yield Reason("bath", code, text, free)


def bath_warnings(row: UnderWay, desk: Desk) -> Iterator[str]:
    """Where a run that is begun has no bath to dye in, or has it too late."""
    claimed = desk.larder.promised_to(row.run.code)
    kept = {bath.code for bath in desk.facts.shelf.baths if bath.what == DYEBATH}
    for code, _, step in followed_in(row.kept):
        index = _place_of(step, row)
        if index is None or not _to_do(row, index) or kept & set(claimed):
            continue
        poured = desk.larder.poured.get(code)
        start = _start_of(index, row, desk)
        if poured is None and not _is_left(code, desk):
            yield say("{code} is not kept: write down that it is, or {step} has no bath",
                      code=code, step=step)  # fmt: skip
        elif poured is None:
            yield say("{code} is to be left by a run that is not begun: begin it first", code=code)
        elif start < minute_of(poured.bath.made_at):
            yield say("{step} is planned before {code} is free: look at it first",
                      step=step, code=code)  # fmt: skip


def _free_from(row: UnderWay) -> int | None:
    """The minute from which a begun run's cloth is out of its bath; None where it has none."""
    step = dyed_in(row.recipe)
    if step is None:
        return None
    if row.placement is not None:
        minute, litres_ml = bath_out(row.placement.fits, step)
        return minute if litres_ml else None
    ends: list[int] = []
    for index, part in enumerate(row.parts):
        if part.rows[0].step == step.name:
            ends += [minute_of(load.held_until) for load in _in_that_bath(row.parts, index)]
    return max(ends, default=None)


def _in_that_bath(parts: list[Part], index: int) -> Iterator[Placed]:
    """The rows of a part and of those after it in the same pots."""
    yield from parts[index].rows
    for part in parts[index + 1 :]:
        if part.stage is None or not part.stage.same:
            return
        yield from part.rows


def _place_of(step: str, row: UnderWay) -> int | None:
    return next((n for n, part in enumerate(row.parts) if part.rows[0].step == step), None)


def _to_do(row: UnderWay, index: int) -> bool:
    """Whether nothing of a part, or of one after it, is said to be done."""
    return not any(part.touched for part in row.parts[index:])


def _start_of(index: int, row: UnderWay, desk: Desk) -> int:
    if row.placement is not None and index >= row.settled:
        return row.placement.fits[index].start
    return minute_of(row.parts[index].start)
