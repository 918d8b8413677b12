"""How far each thing goes for a run by itself: materials, pots, line, heat and hands.

Materials go by the same sums as the run itself; room and hands are what one round, one hanging
and the days of the period hold. None of them is a promise: the hours decide too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from inventory.science.catalogue import figure
from inventory.science.heating import heat_kwh
from inventory.science.saying import counted, say
from inventory.science.wording import bare_warmth, warmth
from sourcing.week.how_big.weighed import Weighed
from sourcing.week.moments import minute_of
from sourcing.week.plan import Shortage
from sourcing.week.project import HEAVIEST_RUN_MG
from sourcing.week.stages import Stage
from sourcing.week.words import grams, kilos, listed, litres, rounded

MG_PER_KG = 1_000_000
WEEK_MIN = 7 * 24 * 60


@dataclass(frozen=True, slots=True)
class Reach:
    """One thing: for how much cloth it is enough, and what a weight would want of it."""

    kind: str  # fibre, dyestuff, supply, liquor, bath, pots, line, heat, hands
    what: str
    mg: int | None  # enough for so much cloth, of room in one round; None: no such bound
    text: str  # at the weight asked about
    enough: bool  # for that weight


def reaches(weighed: Weighed, mg: int) -> tuple[Reach, ...]:
    """Every thing that a run of a weight goes by, the tightest first.

    Parameters
    ----------
    mg : weight that is asked about, above 0
    """
    found = [*_materials(weighed, mg), *_pots(weighed, mg), *_line(weighed, mg),
             *_heat(weighed, mg), *_hands(weighed, mg)]  # fmt: skip
    return tuple(sorted(found, key=lambda row: (row.mg is None, row.mg or 0)))


def enough_for(weighed: Weighed) -> int:
    """The largest weight for which there is enough of every material [mg]."""
    return _most(lambda mg: not weighed.short_at(mg))


def _most(holds: Callable[[int], bool]) -> int:
    """The largest weight of which something holds, to the gram; it holds of anything lighter."""
    low, high = 0, HEAVIEST_RUN_MG // 1_000 + 1
    while high - low > 1:
        middle = (low + high) // 2
        if holds(middle * 1_000):
            low = middle
        else:
            high = middle
    return low * 1_000


# -- materials -------------------------------------------------------------------------------


def _materials(weighed: Weighed, mg: int) -> Iterator[Reach]:
    """What the heaviest run would be short of, one row a thing."""
    seen: dict[tuple[str, str], Shortage] = {}
    for row in weighed.short_at(HEAVIEST_RUN_MG):
        seen.setdefault(_thing(row), row)
    for kind, what in seen:
        yield _material(weighed, mg, kind, what)


def _thing(row: Shortage) -> tuple[str, str]:
    """One liquor may be short in one jar or in another: it is one thing."""
    return row.kind, "" if row.kind == "liquor" else row.what


def _material(weighed: Weighed, mg: int, kind: str, what: str) -> Reach:
    def there(weight_mg: int) -> bool:
        return all(_thing(row) != (kind, what) for row in weighed.short_at(weight_mg))

    reach = _most(there)
    name = what or _liquor(weighed)
    short = next((row for row in weighed.short_at(mg) if _thing(row) == (kind, what)), None)
    if short is None:
        text = say("{what}: enough for {weight}", what=name, weight=grams(reach))
        return Reach(kind, name, reach, text, enough=True)
    weeks = _weeks(weighed, mg, what) if kind == "dyestuff" else ""
    text = say("{short}{weeks}; enough for {weight}", short=short.text, weeks=weeks,
               weight=grams(reach))  # fmt: skip
    return Reach(kind, name, reach, text, enough=False)


def _liquor(weighed: Weighed) -> str:
    metal = next((dose.what for dose in weighed.recipe.doses if dose.kind == "liquor"), "")
    return say("{metal} liquor", metal=metal)


def _weeks(weighed: Weighed, mg: int, dyestuff: str) -> str:
    """`, as much as 3.6 weeks of pick-ups likely bring`, of all that a weight wants of it."""
    wanted = sum((dose.per_fibre * mg for dose in weighed.recipe.doses if dose.what == dyestuff),
                 Fraction(0))  # fmt: skip
    a_week = _likely_a_week(weighed, dyestuff)
    if not a_week or not wanted:
        return ""
    weeks = rounded(wanted / a_week, "0.1")
    return say(", as much as {weeks} weeks of pick-ups likely bring", weeks=weeks)


def _likely_a_week(weighed: Weighed, dyestuff: str) -> Fraction:
    """What pick-ups likely bring in a week, over the whole weeks that are looked ahead [mg]."""
    facts = weighed.facts
    now = minute_of(facts.at)
    weeks = (weighed.desk.calendar.end - now) // WEEK_MIN
    likely = sum(
        row.likely_mg
        for row in facts.pick_ups
        if row.dyestuff == dyestuff
        and not row.missed
        and row.in_window
        and now < minute_of(row.at) <= now + weeks * WEEK_MIN
    )
    return Fraction(likely, weeks) if weeks else Fraction(0)


# -- room ------------------------------------------------------------------------------------


def _pots(weighed: Weighed, mg: int) -> Iterator[Reach]:
    """The largest bath, and the step that goes in most rounds where that is another one."""
    held = [stage for stage in weighed.stages_at(mg) if stage.step.vessels and stage.options]
    if not held:
        yield from _no_pot(weighed, mg)
        return
    # Of equal ones the last: what comes before it stands in the same pots.
    largest = max(reversed(held), key=_whole_ml)
    yield _held(weighed, largest)
    tightest = max(reversed(held), key=lambda stage: (_rounds(stage), _whole_ml(stage)))
    if _rounds(tightest) > _rounds(largest):
        yield _held(weighed, tightest)


def _held(weighed: Weighed, stage: Stage) -> Reach:
    """Litres of a step, the pots of one round, and how often the biggest of them is filled."""
    option, rounds, name = stage.options[0], _rounds(stage), stage.step.name
    biggest = max(option.working_ml)
    loads = ceil(_whole_ml(stage) / biggest)
    reach = _most(lambda weight: _one_round(weighed, name, weight))
    pots = listed(option.vessels)
    text = counted(
        "{step}: {litres} in {pots}, one round",
        "{step}: {litres} in {pots}, {count} rounds; one round takes {weight}",
        count=rounds, step=name, litres=litres(_whole_ml(stage)), pots=pots, weight=grams(reach),
    )  # fmt: skip
    if loads > 1 and len(option.vessels) > 1:
        pot = option.vessels[option.working_ml.index(biggest)]
        text = text + say("; in {pot} alone {loads} pot-loads", loads=loads, pot=pot)
    return Reach("pots", pots, reach, text, enough=rounds == 1)


def _whole_ml(stage: Stage) -> Fraction:
    """Liquor of a step for the whole run, where its rounds go their own ways too."""
    return stage.litres_ml * stage.round_of[1]


def _rounds(stage: Stage) -> int:
    return max(stage.options[0].rounds, stage.round_of[1])


def _one_round(weighed: Weighed, name: str, mg: int) -> bool:
    """Whether a step of a weight is held in one round."""
    held = [stage for stage in weighed.stages_at(mg) if stage.step.name == name]
    return bool(held) and all(stage.options and _rounds(stage) == 1 for stage in held)


def _no_pot(weighed: Weighed, mg: int) -> Iterator[Reach]:
    stages = [stage for stage in weighed.stages_at(mg) if stage.step.vessels]
    if stages:
        text = say("no vessel is allowed for {step}", step=stages[0].step.name)
        yield Reach("pots", stages[0].step.name, 0, text, enough=False)


def _line(weighed: Weighed, mg: int) -> Iterator[Reach]:
    """A run's cloth hangs together, a round at a time: how much a line holds at once."""
    lines = weighed.facts.shelf.lines
    if not lines:
        return
    longest = max(lines, key=lambda line: (line.holds_mg, line.code))
    hangings = -(-mg // longest.holds_mg) if longest.holds_mg else 0
    text = counted(
        "the line holds {holds} at once: one hanging for {weight}",
        "the line holds {holds} at once: {weight} would want {count} hangings",
        count=hangings, holds=kilos(longest.holds_mg), weight=kilos(mg),
    )  # fmt: skip
    yield Reach("line", longest.code, longest.holds_mg, text, enough=hangings == 1)


# -- heat and hands ----------------------------------------------------------------------------


def _heat(weighed: Weighed, mg: int) -> Iterator[Reach]:
    """What it takes to heat the dyebath from the tap, and how long one ring would burn for it."""
    desk = weighed.desk
    room = desk.placers[desk.facts.sites[0]].room
    hot = [stage for stage in weighed.stages_at(mg) if stage.step.kind == "dye" and stage.heats]
    if not hot or not room.rings:
        return
    goal = max(goal for _, goal, _ in hot[0].heats)
    if goal <= room.water_c:
        return
    whole_ml = sum(stage.litres_ml for stage in hot)
    heat_kj = Fraction(figure(desk.facts.figures, "water", "heat_kj_per_kg_k", on=desk.today).value)
    taken_up = heat_kwh(Fraction(whole_ml) / 1000, start_c=Fraction(room.water_c),
                        goal_c=Fraction(goal), heat_kj=heat_kj)  # fmt: skip
    kwh = taken_up / desk.house.efficiency
    ring = max(room.rings, key=lambda row: (row.watts, row.code))
    hours = kwh * 1000 / ring.watts
    text = say(
        "{litres} from {cold} to {goal} take {kwh} kWh, {hours} h on {ring} alone",
        litres=litres(Fraction(whole_ml)), cold=bare_warmth(room.water_c), goal=warmth(goal),
        kwh=rounded(kwh, "0.1"), hours=rounded(hours, "0.1"), ring=ring.code,
    )  # fmt: skip
    yield Reach("heat", ring.code, None, text, enough=True)


def _hands(weighed: Weighed, mg: int) -> Iterator[Reach]:
    """Minutes of hands of all its steps beside those still free in the period."""
    free = _free_min(weighed)
    wanted = _hands_min(weighed, mg)
    reach = _most(lambda weight: _hands_min(weighed, weight) <= free)
    text = say(
        "{wanted:,} min of hands, {free:,} free in these days; enough for {weight}",
        wanted=wanted, free=free, weight=grams(reach),
    )  # fmt: skip
    yield Reach("hands", "hands", reach, text, enough=wanted <= free)


def _hands_min(weighed: Weighed, mg: int) -> int:
    return sum(stage.hands_min + stage.snippet_hands for stage in weighed.stages_at(mg))


def _free_min(weighed: Weighed) -> int:
    """Minutes that earlier runs leave from now to the end of the period, at the main site."""
    desk = weighed.desk_at(weighed.run.weight_mg)
    site = desk.facts.sites[0]
    days = desk.placers[site].calendar.open_days
    left = zip(days, desk.board.hands[site], strict=True)
    return sum(max(0, minutes) for day, minutes in left if day.opens < desk.until)
