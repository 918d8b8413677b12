"""What the runs of a week share: hands, nights, line, amounts, and in minutes pots and rings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import TYPE_CHECKING

from sourcing.week.best.amounts import Amount, all_open
from sourcing.week.best.opening import Before, Item, add_openings
from sourcing.week.best.turns import minutes_in_turn
from sourcing.week.board import Holds
from sourcing.week.solving import Sum, Timed, at_most, each_day, held

if TYPE_CHECKING:
    from sourcing.week.best.forms import Part
    from sourcing.week.best.relaxed import Cast, Relaxed
    from sourcing.week.house import House


def add_shared(week: Relaxed) -> None:
    """Bind all runs of a model by what they share."""
    _hands(week)
    _nights(week)
    _line(week)
    _amounts(week)
    _pots_by_day(week)
    _rings_by_day(week)
    if week.minutes:
        _pots(week)
        _rings(week)


def _hands(week: Relaxed) -> None:
    """Minutes of hands by day, of each pool that sites share or have."""
    desk = week.measure.desk
    pools: dict[int, list[str]] = defaultdict(list)
    for site in desk.placers:
        pools[id(desk.board.hands[site])].append(site)
    for sites in pools.values():
        calendar = desk.placers[sites[0]].calendar
        there = [0] * week.count
        for day, left in zip(calendar.open_days, desk.board.hands[sites[0]], strict=True):
            number = calendar.day_number_of(day.day)
            if number < week.count:
                there[number] = max(0, left)
        each_day(
            week.model,
            [(row.days, row.part.hands) for row, _ in week.pairs if row.form.site in sites],
            there,
        )


def _nights(week: Relaxed) -> None:
    """Pots that are held over each night, counted in every set of pots that a step asks for."""
    for pots in _sets_of_pots(week):
        uses = [
            (row, after, wanted) for row, after in week.pairs if (wanted := _wanted(row.part, pots))
        ]
        for night in range(week.count - 1):
            over = [wanted * _over_night(week, row, after, night) for row, after, wanted in uses]
            over = [row for row in over if not _nothing(row)]
            if over:
                week.model.cp.add(sum(over) <= _free_over(week, pots, night))


def _over_night(week: Relaxed, row: Cast, after: Cast | None, night: int) -> Sum:
    """1 where a part holds its pots over a night."""
    if row.part.holds_on and after is not None:
        return row.days.by(night) - after.days.by(night)
    if not row.part.night:
        return 0
    calendar = week.measure.desk.placers[row.form.site].calendar
    first = night
    while (
        first >= 0
        and calendar.night_over(calendar.midnights[first]) > (calendar.midnights[night + 1])
    ):
        first -= 1
    return row.days.by(night) - row.days.by(first)


def _sets_of_pots(week: Relaxed) -> list[frozenset[str]]:
    found = {_pots_of(row.part) for row, _ in week.pairs if row.part.options}
    return sorted(found, key=sorted)


def _pots_of(part: Part) -> frozenset[str]:
    return frozenset(code for option in part.options for code in option.vessels)


def _free_over(week: Relaxed, pots: frozenset[str], night: int) -> int:
    minute, board = week.calendar.midnights[night + 1], week.measure.desk.board
    return sum(_free_at(board.vessels[code], minute) for code in pots)


def _line(week: Relaxed) -> None:
    """Kilos that hang over each midnight."""
    desk = week.measure.desk
    for lines in sorted({placer.lines for placer in desk.placers.values()}):
        holds = [desk.board.rails[code] for code in lines]
        most = max((rail.holds_mg for rail in holds), default=0)
        uses = [row for row, _ in week.pairs if row.part.hangs_mg
                and set(desk.placers[row.form.site].lines) <= set(lines)]  # fmt: skip
        for row in uses:
            if row.part.hangs_mg > most:
                week.model.cp.add(row.days.present == 0)
        for night in range(week.count - 1):
            minute = week.calendar.midnights[night + 1]
            over = [row.part.hangs_mg * _hangs_over(week, row, night) for row in uses]
            over = [row for row in over if not _nothing(row)]
            if over:
                free = sum(max(0, rail.holds_mg - rail.load_at(minute)) for rail in holds)
                week.model.cp.add(sum(over) <= free)


def _hangs_over(week: Relaxed, row: Cast, night: int) -> Sum:
    """1 where a part's cloth hangs at the end of a day."""
    if not row.part.ends_same_day:
        return 0
    calendar = week.measure.desk.placers[row.form.site].calendar
    minute, first = calendar.midnights[night + 1], night
    opens = {calendar.day_number_of(day.day): day.opens for day in calendar.open_days}
    while first >= 0 and opens.get(first, calendar.midnights[first]) + week.drying > minute:
        first -= 1
    return row.days.by(night) - row.days.by(first)


def _amounts(week: Relaxed) -> None:
    """Lots, supplies and fibre: what all take together of what there is."""
    with all_open(week.measure):
        left = dict(week.measure.desk.larder.left)
    forms = [(rows[0].form, rows[0].days.present) for rows in week.cast]
    wanted = [(there, amount) for form, there in (*forms, *week.later)
              for amount in form.amounts if amount.amount > 0]  # fmt: skip
    for codes in sorted({row.codes for _, row in wanted}, key=sorted):
        uses = [row.amount * present for present, row in wanted if row.codes <= codes]
        free = sum(left.get(code, 0) for code in codes)
        if sum(row.amount for _, row in wanted if row.codes <= codes) > free:
            week.model.cp.add(sum(uses) <= free)
    _from_one(week, wanted, left)


def _from_one(week: Relaxed, wanted: list[tuple[Sum, Amount]], left: Mapping[str, int]) -> None:
    """A run that takes all from one jar, or one lot: which, and what is left for others."""
    uses: dict[str, list[Sum]] = defaultdict(list)
    most: dict[str, int] = defaultdict(int)
    for number, (there, amount) in enumerate(wanted):
        chosen = [week.model.yes_or_no(f"{number} from {code}") for code, _ in amount.one_of]
        if chosen:
            week.model.cp.add(sum(chosen) == there)
        for (code, least), row in zip(amount.one_of, chosen, strict=True):
            uses[code].append(least * row)
            most[code] += least
    for code in sorted(uses):
        if most[code] > left.get(code, 0):
            week.model.cp.add(sum(uses[code]) <= left.get(code, 0))


# -- within a day's opening --------------------------------------------------------------------


def _pots_by_day(week: Relaxed) -> None:
    """Pots within the opening of each day."""
    desk = week.measure.desk
    for pots in _sets_of_pots(week):
        items, carried = [], defaultdict(list)
        for row, after in week.pairs:
            wanted = _wanted(row.part, pots)
            if wanted and not _within(row):
                items.append(_held_on_its_day(row, after, pots, desk.house))
            if wanted and row.part.night and not _wanted_again(row, pots):
                for night in range(week.count - 1):
                    over = _over_night(week, row, after, night)
                    if not _nothing(over):
                        carried[night + 1].append((over, wanted))
        holds = [desk.board.vessels[code] for code in sorted(pots)]
        sites = {item.row.form.site for item in items}
        add_openings(week, items, holds, sites,
                     before=Before(carried, desk.house.between_runs))  # fmt: skip
        mine = [item for item in items if _pots_of(item.row.part) == pots]
        week.in_turn.extend(minutes_in_turn(week, mine, len(pots)))


def _within(row: Cast) -> bool:
    """Whether a part is counted with the one before it, in whose pots it is on the same day."""
    number = _number(row)
    return row.part.same and number > 0 and row.form.parts[number - 1].same_day


def _number(row: Cast) -> int:
    return next(number for number, part in enumerate(row.form.parts) if part is row.part)


def _held_on_its_day(row: Cast, after: Cast | None, pots: frozenset[str], house: House) -> Item:
    """How long a part holds its pots while somebody is in, and the pause after it.

    Before another run's step the pause is the longer one. What rests, stands or is strained needs
    none before a step of its own run; what stays over night is the last in its pots that day.
    """
    part = row.part
    if part.same_day and after is not None:
        lasts = part.minutes + part.gap + (after.part.attended if after.part.same else 0)
    else:
        lasts = part.attended
    if part.night or not _wanted_again(row, pots):
        pause = house.between_runs
    else:
        pause = 0 if part.holds_on or part.same_day or part.gap else house.between_steps
    return Item(row, _number(row), lasts, pause, _wanted(part, pots))


def _wanted_again(row: Cast, pots: frozenset[str]) -> bool:
    """Whether a later part of the same run may be in the same pots, filled anew."""
    return any(
        later.elsewhere or _wanted(later, pots)
        for later in row.form.parts[_number(row) + 1 :]
        if not later.same
    )


def _rings_by_day(week: Relaxed) -> None:
    """Rings within the opening of each day."""
    desk = week.measure.desk
    for rings in sorted({tuple(r.code for r in p.room.rings) for p in desk.placers.values()}):
        here = {site for site, placer in desk.placers.items()
                if {ring.code for ring in placer.room.rings} <= set(rings)}  # fmt: skip
        items = [Item(row, _number(row), row.part.over_flame, 0, row.part.loads)
                 for row, _ in week.pairs
                 if row.part.over_flame and row.form.site in here]  # fmt: skip
        add_openings(week, items, [desk.board.rings[code] for code in rings], here)


# -- in minutes --------------------------------------------------------------------------------


def _pots(week: Relaxed) -> None:
    """Pots at every minute, counted in every set of pots that a step asks for."""
    stretches = [(row, _stretch(week, row, after)) for row, after in week.pairs if row.part.options]
    board = week.measure.desk.board
    for pots in _sets_of_pots(week):
        taken = [
            (since - week.base, until - week.base, 1)
            for code in sorted(pots)
            for since, until in zip(
                board.vessels[code].starts, board.vessels[code].ends, strict=True
            )
        ]
        uses = [(timed, _wanted(row.part, pots)) for row, timed in stretches]
        at_most(week.model, uses, len(pots), taken=_inside(week, taken))


def _stretch(week: Relaxed, row: Cast, after: Cast | None) -> Timed:
    """How long a part holds its pots at the least."""
    assert row.timed is not None
    if row.part.holds_on and after is not None and after.timed is not None:
        return held(week.model, row.timed.name, row.timed, after.timed.start)
    return row.timed


def _rings(week: Relaxed) -> None:
    """Rings at every minute, one for each load."""
    desk = week.measure.desk
    for rings in sorted({tuple(r.code for r in p.room.rings) for p in desk.placers.values()}):
        mine = set(rings)
        uses = []
        for row, _ in week.pairs:
            room = desk.placers[row.form.site].room
            if row.part.over_flame and {ring.code for ring in room.rings} <= mine:
                assert row.timed is not None
                lit = row.timed.start + row.part.over_flame
                uses.append((held(week.model, f"{row.timed.name} lit", row.timed, lit),
                             row.part.loads))  # fmt: skip
        taken = [
            (since - week.base, until - week.base, 1)
            for code in sorted(mine)
            for since, until in zip(
                desk.board.rings[code].starts, desk.board.rings[code].ends, strict=True
            )
        ]
        at_most(week.model, uses, len(mine), taken=_inside(week, taken))


def _inside(week: Relaxed, taken: list[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
    """What is taken within the horizon of the model."""
    cut = [(max(0, a), min(b, week.model.horizon), n) for a, b, n in taken]
    return [(a, b, n) for a, b, n in cut if a < b]


def _wanted(part: Part, pots: frozenset[str]) -> int:
    """How many pots of a set a part takes at the least."""
    return min((len(pots & set(row.vessels)) for row in part.options), default=0)


def _free_at(holds: Holds, minute: int) -> int:
    free, _ = holds.free_from(minute, minute + 1, 0)
    return int(free == minute)


def _nothing(row: Sum) -> bool:
    return isinstance(row, int) and row == 0
