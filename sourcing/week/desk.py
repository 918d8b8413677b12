"""Where one week is worked out: calendar, board and larder of a studio, ready for its runs."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from inventory.science.facts import FibreFacts
from sourcing.week.board import Board, Holds, Rail
from sourcing.week.facts import Block, PickUpExpected, Recipe, RunFacts, WeekFacts
from sourcing.week.fits import Push
from sourcing.week.guidance import PLAIN, Guidance
from sourcing.week.house import House, house_on
from sourcing.week.larder import Larder
from sourcing.week.moments import Calendar, minute_of
from sourcing.week.place import Placer
from sourcing.week.second_bath import followed
from sourcing.week.stages import Room, Stage, stages_for
from sourcing.week.ways import Ways


@dataclass
class Desk:
    """Everything that the runs of one week share."""

    facts: WeekFacts
    days: int
    house: House
    calendar: Calendar
    board: Board
    placers: dict[str, Placer]  # by site
    larder: Larder
    recipes: dict[str, Recipe]
    # What goes into freezer or trays and comes out: kind of room, day number of the plan and mg.
    rooms: list[tuple[str, int, int]] = field(default_factory=list)

    # What stood in the way of each run's steps when it was placed, or as far as it came.
    pushes: dict[str, list[Push]] = field(default_factory=dict)
    guidance: Guidance = PLAIN

    now: int = 0
    today: date = date.min
    followed: frozenset[str] = frozenset()  # shades in whose bath a run is to follow
    _stages: dict[tuple[object, ...], tuple[Stage, ...]] = field(default_factory=dict)
    # Stages with other runs' cloth in their pots, by what makes them; None: they do not fit.
    widened: dict[tuple[object, ...], Stage | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.now = minute_of(self.facts.at)
        self.today = self.calendar.day_of(self.now)
        self.followed = followed(self.facts.recipes, self.facts.runs)

    @property
    def carries(self) -> bool:
        """Whether a run may be brought what its site lacks from another."""
        return _may_carry(self.facts, self.house)

    def stages(
        self,
        run: RunFacts,
        recipe: Recipe,
        fibre: FibreFacts | None,
        placer: Placer,
    ) -> tuple[Stage, ...]:
        """A run's stages at a site; the same for all of one recipe, weight and fibre state."""
        state = fibre and (fibre.scoured, fibre.mordant, fibre.mordant_percent, fibre.damp)
        key = (recipe.code, run.fibre, run.weight_mg, state, placer.room.site)
        known = self._stages.get(key)
        if known is None:
            known = self._stages[key] = stages_for(run, recipe, fibre, placer.room, self.house)
        return known

    def share_stages(self, other: Desk) -> None:
        """Have stages worked out once for this desk and another of the same room."""
        self._stages = other._stages
        self.widened = other.widened

    @property
    def until(self) -> int:
        """The end of the period asked for: so many local days, today the first."""
        return self.calendar.midnights[self.days]


def desk_for(facts: WeekFacts, *, days: int, like: Desk | None = None) -> Desk:
    """A desk with blocks, chores, pick-ups and hanging cloth already on the board.

    Parameters
    ----------
    like : desk of the same studio and moment, from which is taken what cannot differ
    """
    today = facts.at.astimezone(facts.zone).date()
    same = like if like is not None and _same_room(facts, like.facts) else None
    house = same.house if same else house_on(facts.figures, on=today)
    horizon = max(house.horizon_days, days)
    calendars = _calendars(facts, like) or {
        site: Calendar(
            facts.zone,
            since=today,
            days=horizon,
            hours=facts.hours,
            night_ends_min=house.night_ends,
            site=site,
        )
        for site in facts.sites
    }
    main = calendars[facts.sites[0]]
    board = Board(
        {vessel.code: Holds() for vessel in facts.shelf.vessels},
        {ring.code: Holds() for ring in facts.shelf.rings},
        {line.code: Rail(line.holds_mg) for line in facts.shelf.lines},
        _hands(facts, calendars),
    )
    if _may_carry(facts, house):
        board.away, board.watched = _by_pool(board), _by_pool(board)
    larder = Larder(
        facts,
        main,
        known=like.larder.known if like else {},
        like=like.larder if like else None,
        carry_ul_at_most=house.carry_ml_at_most * 1000,
    )
    placers = {
        site: _placer(
            facts, site, calendars[site], board, house, same.placers[site].ways if same else None
        )
        for site in facts.sites
    }
    desk = Desk(facts, days, house, main, board, placers, larder,
                {recipe.code: recipe for recipe in facts.recipes})  # fmt: skip
    if same:
        desk.share_stages(same)
    _begin(desk)
    return desk


def _same_room(facts: WeekFacts, others: WeekFacts) -> bool:
    """Whether steps take the same loads and minutes: the very same pots, rings, water and rules."""
    return (
        facts.figures is others.figures
        and facts.recipes is others.recipes
        and facts.waters is others.waters
        and facts.shelf.vessels is others.shelf.vessels
        and facts.shelf.rings is others.shelf.rings
        and facts.sites == others.sites
        and facts.at == others.at
    )


def _calendars(facts: WeekFacts, like: Desk | None) -> dict[str, Calendar]:
    """The calendars of a desk with the very same hours; none where they differ."""
    if like is None or like.facts.hours is not facts.hours or like.facts.sites != facts.sites:
        return {}
    return {site: placer.calendar for site, placer in like.placers.items()}


def _hands(facts: WeekFacts, calendars: dict[str, Calendar]) -> dict[str, list[int]]:
    """Minutes of hands by site; people who belong to no site are one pool for all of them."""
    if not any(row.site for row in facts.hours):
        shared = [day.hands_min for day in calendars[facts.sites[0]].open_days]
        return dict.fromkeys(facts.sites, shared)
    return {site: [day.hands_min for day in calendars[site].open_days] for site in facts.sites}


def _may_carry(facts: WeekFacts, house: House) -> bool:
    return house.carries and len([site for site in facts.sites if site]) > 1


def _by_pool(board: Board) -> dict[str, list[tuple[int, int]]]:
    """No stretches by site yet; one list for sites that share their hands."""
    pools: dict[int, list[tuple[int, int]]] = {}
    return {site: pools.setdefault(id(left), []) for site, left in board.hands.items()}


def _placer(
    facts: WeekFacts,
    site: str,
    calendar: Calendar,
    board: Board,
    house: House,
    ways: Ways | None,
) -> Placer:
    def here(place: str) -> bool:
        return not site or place in ("", site)

    waters = [water for water in facts.waters if here(water.site)]
    waters.sort(key=lambda water: water.site != site)  # its own before one that serves all
    room = Room(
        site,
        tuple(vessel for vessel in facts.shelf.vessels if here(vessel.site)),
        tuple(ring for ring in facts.shelf.rings if here(ring.site)),
        waters[0] if waters else None,
    )
    lines = sorted(
        (line for line in facts.shelf.lines if here(line.site)), key=lambda line: line.code
    )
    return Placer(
        board,
        calendar,
        room,
        house,
        {(row.day - calendar.since).days: row for row in facts.weather},
        tuple(
            (minute_of(block.since), minute_of(block.until))
            for block in facts.blocks
            if block.no_iron
        ),
        frozenset(line.code for line in lines if line.outdoors),
        tuple(line.code for line in lines),
        ways,
    )


def _begin(desk: Desk) -> None:
    """Blocks, cloth that hangs already, chores, pick-ups: there before any run."""
    facts, board = desk.facts, desk.board
    for block in facts.blocks:
        _block(desk, block)
    for hanging in facts.hanging:
        rail = board.rails[hanging.line]
        rail.hung.append((minute_of(hanging.since), minute_of(hanging.until), hanging.mg))
    for chore in facts.chores:
        spend(desk, chore.day, chore.hands_min)
    for pick_up in facts.pick_ups:
        spend(desk, pick_up.at.astimezone(facts.zone).date(), pick_up_hands(pick_up))


def _block(desk: Desk, block: Block) -> None:
    since, until = minute_of(block.since), minute_of(block.until)
    for code in block.rings:
        desk.board.rings[code].add(since, until, block.code)
    for code in block.vessels:
        desk.board.vessels[code].add(since, until, block.code)
    left = block.line_mg
    for code in sorted(desk.board.rails):
        rail = desk.board.rails[code]
        taken = min(left, rail.holds_mg)
        if taken > 0:
            rail.hung.append((since, until, taken))
        left -= taken
    spend(desk, block.since.astimezone(desk.facts.zone).date(), block.hands_min)


def pick_up_hands(pick_up: PickUpExpected) -> int:
    """Minutes of hands of a pick-up: none when it was missed or cannot be."""
    return 0 if pick_up.missed or not pick_up.in_window else pick_up.hands_min


def spend(desk: Desk, day: date, minutes: int, *, site: str | None = None) -> bool:
    """Take minutes of hands from a day; False when nobody is in or too little is left.

    Fixed work counts in full, so it may leave a day with less than nothing for the runs.
    """
    site = desk.facts.sites[0] if site is None else site
    calendar = desk.placers[site].calendar
    index = calendar.index_of_day(day)
    if index is None:
        return minutes == 0
    enough = desk.board.hands[site][index] >= minutes
    desk.board.hands[site][index] -= minutes
    return enough
