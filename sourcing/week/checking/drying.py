"""Cloth hangs on the quarter hour after its last step, and no line ever carries too much."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import Sheet
from sourcing.week.plan import Week


@dataclass(frozen=True, slots=True)
class Hung:
    """A weight on a line for a stretch."""

    line: str
    since: int
    until: int
    mg: int
    run: str = ""


def hung_by(sheet: Sheet, ground: Ground) -> list[Hung]:
    """What a run hangs: each round's cloth at the quarter hour after its last step.

    The line is the one that the plan names for it, the run's where it names none.
    """
    grid = ground.rules.hanging_grid
    lines = [row.line for row in sorted(sheet.answer.hangs, key=lambda row: minute_of(row.since))]
    hung = []
    for number, (end, mg) in enumerate(sorted(sheet.hung())):
        at = -(-end // grid) * grid
        line = lines[number] if number < len(lines) else sheet.answer.line
        hung.append(Hung(line, at, at + ground.rules.drying, mg, sheet.code))
    return hung


def faults_in_drying(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """A run's hanging and dry moments against its last steps."""
    hung = hung_by(sheet, ground)
    if not hung or sheet.run.group_block:
        return
    answer = sheet.answer
    moments = {part.since for part in hung}
    if answer.hung_at is None or minute_of(answer.hung_at) not in moments:
        yield Fault(
            "hanging",
            sheet.code,
            answer.hung_at,
            f"cloth is ready to hang at {ground.moment(max(moments)):%a %d %H:%M}",
        )
    dry = max(part.until for part in hung)
    if answer.dry_at is None or minute_of(answer.dry_at) != dry:
        yield Fault(
            "dry",
            sheet.code,
            answer.dry_at,
            f"cloth is dry {ground.rules.drying // 60} h after it is hung: "
            f"{ground.moment(dry):%a %d %H:%M}",
        )
    yield from _hangs_said(sheet, hung, ground)
    for part in hung:
        line = ground.lines.get(part.line)
        if line is None:
            yield Fault("line", sheet.code, answer.hung_at, f"hung on {part.line or 'no line'}")
        elif line.outdoors:
            yield from _frost(sheet, part, ground)
        if line is not None and line.site not in ("", sheet.site):
            yield Fault("site", sheet.code, answer.hung_at, f"{line.code} is at {line.site}")


def _hangs_said(sheet: Sheet, hung: list[Hung], ground: Ground) -> Iterator[Fault]:
    """The plan's list of what hangs, where it gives one."""
    said = sorted(
        (minute_of(row.since), minute_of(row.until), row.mg) for row in sheet.answer.hangs
    )
    wanted = sorted((part.since, part.until, part.mg) for part in hung)
    if said and not _alike(said, wanted, within_mg=len(sheet.loads)):
        yield Fault(
            "hanging",
            sheet.code,
            ground.moment(wanted[0][0]),
            f"{len(said)} hangings are listed that are not those of its {len(wanted)} rounds",
        )


Row = tuple[int, int, int]


def _alike(said: list[Row], wanted: list[Row], *, within_mg: int) -> bool:
    """The same moments, the same weights but for the rounding of the loads."""
    return len(said) == len(wanted) and all(
        one[:2] == other[:2] and abs(one[2] - other[2]) <= within_mg
        for one, other in zip(said, wanted, strict=True)
    )


def _frost(sheet: Sheet, part: Hung, ground: Ground) -> Iterator[Fault]:
    if day := _frosty(part, ground):
        yield Fault(
            "frost",
            sheet.code,
            ground.moment(part.since),
            f"{part.line} is outdoors and {day:%a %d} brings frost",
        )


def _frosty(part: Hung, ground: Ground) -> date | None:
    """The first day with frost while cloth hangs."""
    day, last = ground.day_of(part.since), ground.day_of(part.until - 1)
    while day <= last:
        if day in ground.weather and ground.weather[day].frost:
            return day
        day += timedelta(days=1)
    return None


def all_hung(sheets: list[Sheet], ground: Ground) -> list[Hung]:
    """Everything on the lines: cloth that hangs there already, and the runs'."""
    hung = [
        Hung(row.line, minute_of(row.since), minute_of(row.until), row.mg)
        for row in ground.facts.hanging
    ]
    for sheet in sheets:
        if not sheet.run.group_block:
            hung.extend(hung_by(sheet, ground))
    return hung


def _over(code: str, hung: list[Hung], ground: Ground) -> list[tuple[int, int]]:
    """Moments at which a line carries too much, with what it carries."""
    parts = [part for part in hung if part.line == code]
    over = []
    for since in sorted({part.since for part in parts if part.run}):
        there = sum(part.mg for part in parts if part.since <= since < part.until)
        there += _taken_by_blocks(since, ground)[code]
        if there > ground.lines[code].holds_mg + len(parts):
            over.append((since, there))
    return over


def faults_on_lines(sheets: list[Sheet], ground: Ground) -> Iterator[Fault]:
    """Moments at which a line carries more than it takes."""
    hung = all_hung(sheets, ground)
    for code, line in sorted(ground.lines.items()):
        for since, there in _over(code, hung, ground):
            run = next(part.run for part in hung if part.since == since and part.line == code)
            yield Fault(
                "line over",
                run,
                ground.moment(since),
                f"{code} carries {there / 1_000_000:g} kg, it takes "
                f"{line.holds_mg / 1_000_000:g} kg",
            )


def _taken_by_blocks(minute: int, ground: Ground) -> dict[str, int]:
    """What blocks take of each line: their kilos fill the lines in the order of their codes."""
    left = sum(
        block.line_mg
        for block in ground.facts.blocks
        if minute_of(block.since) <= minute < minute_of(block.until)
    )
    taken = {}
    for code, line in sorted(ground.lines.items()):
        taken[code] = min(left, line.holds_mg)
        left -= taken[code]
    return taken


def faults_in_line_rows(sheets: list[Sheet], week: Week, ground: Ground) -> Iterator[Fault]:
    """Day rows whose kilos on the line are not what hangs there."""
    hung = all_hung(sheets, ground)
    for row in week.days:
        for load in row.line:
            minute = minute_of(load.since)
            there = sum(part.mg for part in hung if part.since <= minute < part.until)
            there += sum(_taken_by_blocks(minute, ground).values())
            if abs(there - load.mg) > len(hung):
                yield Fault(
                    "line row",
                    "",
                    load.since,
                    f"{load.mg / 1_000_000:g} kg on the line by the day's row, "
                    f"{there / 1_000_000:g} kg hang there",
                )
