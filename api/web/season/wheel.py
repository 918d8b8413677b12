"""The season wheel: a year as a round, January at the top, one ring a dyestuff, words on its arcs.

All in units of the view box, 1000 each way; on A3 one unit is about a quarter of a millimetre.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from api.web.season.days import YEAR, Stretch, number_of, packed, shared
from sourcing.week.words import MONTHS

SIDE, MIDDLE = 1000, 500
RIM, RIM_IN = 494, 466  # of the months
NEST_OUT, NEST_IN = 463, 441
RINGS_OUT, HUB = 436, 78
RING = 25  # height
THIN, THICK = 12.0, 14.0  # the least and most for a ring of others
LETTERS = 13.0  # of words on arcs
SMALL = 0.7  # of others, against the height of their ring
WIDE = 0.53  # of a letter, against its height
DYES = ("rose", "slate", "olive", "gold", "verdigris")


@dataclass(frozen=True, slots=True)
class Told:
    """One stretch of the year to be drawn."""

    name: str
    words: str  # what stands on it where there is room, else the name
    stretch: Stretch
    ring: str  # what shares a ring: the dyestuff
    cut: bool = False  # from hedge or tree: to be looked at for nests
    given: tuple[Stretch, ...] = ()  # when a source gives it
    shut: tuple[Stretch, ...] = ()  # when none does


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline with its class."""

    look: str
    path: str

    @property
    def is_hatched(self) -> bool:
        return self.look == "wheel-nests"


@dataclass(frozen=True, slots=True)
class Words:
    """Words along a path."""

    key: str
    path: str
    text: str
    size: float
    look: str


@dataclass(frozen=True)
class Wheel:
    """Everything that is drawn, in its order."""

    side: int
    shapes: tuple[Shape, ...]
    words: tuple[Words, ...]
    week: str  # outline of the days from today on
    left_out: tuple[str, ...]  # words of those for which there was no ring


def wheel_of(
    own: Sequence[Told], others: Sequence[Told], *, nests: Stretch, nest_words: str, today: int
) -> Wheel:
    """The wheel of a studio.

    Parameters
    ----------
    own : what the studio dyes with, each on a ring of its own
    others : what else can be gathered, closely packed inside
    nests : when birds nest here
    today : day of the year, from 0
    """
    rows, left_out = list(_placed(own, others)), _left_out(own, others)
    shapes = [*_rim(), *_nests(nests)]
    for told, outer, height, look in rows:
        shapes += _arc_shapes(told, outer, height, look, nests)
    words = [*_month_words(), _nest_words(nests, nest_words)]
    words += [_words(n, told, outer, height) for n, (told, outer, height, _) in enumerate(rows)]
    return Wheel(SIDE, tuple(shapes), tuple(words), sector(HUB, RIM, (today, today + 7)), left_out)


Row = tuple[Told, float, float, str]


def _placed(own: Sequence[Told], others: Sequence[Told]) -> Iterator[Row]:
    """Each stretch with the outer edge and height of its ring; those that find room."""
    rings = list(dict.fromkeys(row.ring for row in own))
    for told in own:
        place = rings.index(told.ring)
        outer = float(RINGS_OUT - place * RING)
        if outer - RING >= HUB:
            yield told, outer, RING - 3, f"wheel-{DYES[place % len(DYES)]}"
    inner = RINGS_OUT - len(rings) * RING - 4.0
    others = sorted(others, key=lambda row: (row.stretch[0] - row.stretch[1], row.stretch))
    places = packed([_room(row, inner) for row in others])
    thin = min(max((inner - HUB) / (max(places, default=0) + 1), THIN), THICK)
    for told, place in zip(others, places, strict=True):
        outer = inner - place * thin
        if outer - thin >= HUB - 0.1:
            yield told, outer, thin * 0.88, "wheel-other"


def _left_out(own: Sequence[Told], others: Sequence[Told]) -> tuple[str, ...]:
    drawn = {id(row[0]) for row in _placed(own, others)}
    return tuple(dict.fromkeys(row.words for row in (*own, *others) if id(row) not in drawn))


def _room(told: Told, radius: float) -> Stretch:
    """The days that a stretch takes up, its name at the least."""
    first, after = told.stretch
    days = round(len(told.name) * SMALL * THIN * WIDE / (2 * pi * radius * 0.75) * YEAR) + 4
    return (first, max(after, first + days))


# -- shapes ------------------------------------------------------------------------------------


def _arc_shapes(
    told: Told, outer: float, height: float, look: str, nests: Stretch
) -> Iterator[Shape]:
    inner = outer - height
    yield Shape(look, sector(inner, outer, told.stretch))
    if told.cut:
        for part in shared(told.stretch, nests):
            yield Shape("wheel-nests", sector(inner, outer, part))
    for part in told.shut:
        yield Shape("wheel-shut", sector(inner, outer, part))
    for part in told.given:
        yield Shape("wheel-given", arc(inner + 1.5, part))


def _rim() -> Iterator[Shape]:
    for month in range(1, 13):
        after = YEAR if month == 12 else number_of((month + 1, 1))
        look = "wheel-month" if month % 2 else "wheel-month wheel-month-other"
        yield Shape(look, sector(RIM_IN, RIM, (number_of((month, 1)), after)))


def _nests(nests: Stretch) -> Iterator[Shape]:
    yield Shape("wheel-nesting", sector(NEST_IN, NEST_OUT, nests))
    yield Shape("wheel-nests", sector(NEST_IN, NEST_OUT, nests))


def sector(inner: float, outer: float, stretch: Stretch) -> str:
    """The outline of a stretch of the year between two radii."""
    first, after = stretch
    if after - first >= YEAR:
        half = first + YEAR // 2
        return f"{sector(inner, outer, (first, half))}{sector(inner, outer, (half, first + YEAR))}"
    far, large = after - first, int(after - first > YEAR / 2)
    assert far > 0
    return (
        f"M{_at(outer, first)}A{outer:g} {outer:g} 0 {large} 1 {_at(outer, after)}"
        f"L{_at(inner, after)}A{inner:g} {inner:g} 0 {large} 0 {_at(inner, first)}Z"
    )


def arc(radius: float, stretch: Stretch, *, back: bool = False) -> str:
    """The line of a stretch of the year; `back` from its end to its beginning."""
    first, after = stretch
    if after - first >= YEAR:
        after = first + YEAR - 1
    large = int(after - first > YEAR / 2)
    begin, end, sweep = (after, first, 0) if back else (first, after, 1)
    return f"M{_at(radius, begin)}A{radius:g} {radius:g} 0 {large} {sweep} {_at(radius, end)}"


def _at(radius: float, day: float) -> str:
    angle = 2 * pi * day / YEAR
    return f"{MIDDLE + radius * sin(angle):.1f} {MIDDLE - radius * cos(angle):.1f}"


# -- words -------------------------------------------------------------------------------------


def _month_words() -> Iterator[Words]:
    for month, name in enumerate(MONTHS, 1):
        after = YEAR if month == 12 else number_of((month + 1, 1))
        stretch = (number_of((month, 1)), after)
        yield _along(f"wheel-m{month}", name, stretch, RIM_IN, RIM, 17, "wheel-month-name")


def _nest_words(nests: Stretch, text: str) -> Words:
    return _along("wheel-nest-words", text, nests, NEST_IN, NEST_OUT, LETTERS, "wheel-text")


def _words(number: int, told: Told, outer: float, height: float) -> Words:
    size = LETTERS if height > THICK else SMALL * height / 0.88
    radius = outer - height / 2
    length = 2 * pi * radius * (told.stretch[1] - told.stretch[0]) / YEAR
    text = told.words if len(told.words) * size * WIDE <= length - 8 else told.name
    first, after = told.stretch
    needs = round((len(text) * size * WIDE + 8) / (2 * pi * radius) * YEAR)
    stretch = (first, max(after, first + needs))
    look = "wheel-text" if size == LETTERS else "wheel-text wheel-small"
    return _along(f"wheel-t{number}", text, stretch, outer - height, outer, size, look)


def _along(
    key: str, text: str, stretch: Stretch, inner: float, outer: float, size: float, look: str
) -> Words:
    """Words in the middle of an arc, the right way up also in the lower half."""
    middle = sum(stretch) / 2 % YEAR
    low = YEAR / 4 < middle < 3 * YEAR / 4
    radius = (inner + outer) / 2 + (0.36 if low else -0.36) * size
    return Words(key, arc(radius, stretch, back=low), text, size, look)
