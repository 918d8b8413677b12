"""A jar as it stands on the shelf: its size by what it was begun with, filled to its level.

Only shapes come out; colour is a class of the style sheet, and nothing is guessed of a liquor's
colour beyond dark for iron and blue-green for copper.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from inventory.science.facts import JarFacts
from inventory.science.jar_story import JarStory

WIDTH, HEIGHT = 184, 186
BASE = 184.0  # where it stands
MIDDLE = WIDTH / 2
BODY_WIDTH, BODY_HEIGHT = 108.0, 124.0  # of the largest jar
SMALLEST = 0.66  # of the largest, so that its tape can be read
LIQUORS = {"iron": "iron", "copper": "copper"}
LONGEST_ON_TAPE = 14
LETTER = 0.56  # width of a letter against its height
SIZES_KEPT = 64  # of jars: a studio has a few, and jars of one size are drawn alike


@dataclass(frozen=True, slots=True)
class Nail:
    """A piece of scrap metal at the bottom: from one point to another."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Round:
    """A bubble, or the cut end of a copper pipe."""

    x: float
    y: float
    r: float

    @property
    def path(self) -> str:
        """All the way round, beginning at its left.

        >>> Round(10, 20, 2.5).path
        'M7.5 20a2.5 2.5 0 1 0 5.0 0a2.5 2.5 0 1 0 -5.0 0'
        """
        r, wide = self.r, _r(2 * self.r)
        return f"M{_r(self.x - r)} {self.y}a{r} {r} 0 1 0 {wide} 0a{r} {r} 0 1 0 {-wide} 0"


@dataclass(frozen=True, slots=True)
class Mark:
    """A line on the glass at a quarter of what it was begun with."""

    x1: float
    x2: float
    y: float
    under: bool  # the liquor stands behind it

    @property
    def path(self) -> str:
        return f"M{self.x1} {self.y}H{self.x2}"


@dataclass(frozen=True, slots=True)
class Tape:
    """The strip of tape with what is written on it; `bare` where there is no label."""

    x: float
    y: float
    width: float
    height: float
    words: str
    words_y: float
    size: float
    below: str
    below_y: float
    below_size: float
    bare: bool


@dataclass(frozen=True, slots=True)
class JarDrawing:
    """The shapes of one jar, in a box of WIDTH by HEIGHT."""

    liquor: str  # iron, copper, unknown
    glass: str  # outline
    filled: str  # path of the liquor; empty when nothing is in it
    surface_x: float
    surface_y: float
    surface_rx: float
    surface_ry: float
    gleam: str
    lid: str
    lid_turn: str  # transform: a loose lid leans
    marks: tuple[Mark, ...]
    begun_y: float
    begun_x: float
    begun_words: str
    begun_words_y: float
    tape: Tape
    nails: tuple[Nail, ...]
    rings: tuple[Round, ...]
    bubbles: tuple[Round, ...]
    width: int = WIDTH
    height: int = HEIGHT

    # What is drawn alike is one path: a shelf of fifty jars has a thousand shapes less to lay out.

    @property
    def nails_path(self) -> str:
        return "".join(f"M{nail.x1} {nail.y1}L{nail.x2} {nail.y2}" for nail in self.nails)

    @property
    def rings_path(self) -> str:
        return "".join(ring.path for ring in self.rings)

    @property
    def bubbles_path(self) -> str:
        return "".join(bubble.path for bubble in self.bubbles)

    @property
    def marks_path(self) -> str:
        return "".join(mark.path for mark in self.marks if not mark.under)

    @property
    def marks_under_path(self) -> str:
        return "".join(mark.path for mark in self.marks if mark.under)


@dataclass(frozen=True, slots=True)
class _Glass:
    """The measures of one jar."""

    scale: float
    left: float
    right: float
    bottom: float  # of its straight sides
    shoulder: float
    curve: float  # half height of the ellipse at its foot


def draw_jar(story: JarStory, *, largest_ul: int, begun_words: str, day_words: str) -> JarDrawing:
    """The shapes of a jar.

    Parameters
    ----------
    largest_ul : what the largest jar on this shelf was begun with
    begun_words : what it was begun with, in words, for the line on the glass
    day_words : the day on its tape; empty where none is known
    """
    jar = story.jar
    glass = _glass(jar, largest_ul)
    surface = glass.bottom - float(story.level) * (glass.bottom - glass.shoulder)
    half = (glass.right - glass.left) / 2 - 3
    return JarDrawing(
        liquor=LIQUORS.get(jar.metal, "unknown") if jar.labelled else "unknown",
        glass=_outline(glass),
        filled=_filled(glass, surface) if story.level > 0 else "",
        surface_x=MIDDLE,
        surface_y=_r(surface),
        surface_rx=_r(half),
        surface_ry=_r(glass.curve * 0.8),
        gleam=_gleam(glass),
        lid=_lid(glass),
        lid_turn=_lid_turn(glass, loose=jar.metal == "iron"),
        marks=_quarters(glass, surface),
        begun_y=_r(glass.shoulder),
        begun_x=_r(glass.right + 4),
        begun_words=begun_words,
        begun_words_y=_r(glass.shoulder - 4),
        tape=_tape(jar, glass, day_words),
        nails=_nails(jar, glass, story.level),
        rings=_pipes(jar, glass, story.level),
        bubbles=_bubbles(story, glass, surface),
    )


def _glass(jar: JarFacts, largest_ul: int) -> _Glass:
    """Twice the volume is wider and higher by the cube root of two."""
    part = jar.begun_volume_ul / largest_ul if largest_ul > 0 else 1.0
    scale = SMALLEST + (1 - SMALLEST) * (min(max(part, 0.0), 1.0) ** (1 / 3))
    half, curve = BODY_WIDTH * scale / 2, 8 * scale
    bottom = BASE - curve
    return _Glass(
        scale, MIDDLE - half, MIDDLE + half, bottom, bottom - BODY_HEIGHT * scale * 0.94, curve
    )


@lru_cache(maxsize=SIZES_KEPT)
def _outline(glass: _Glass) -> str:
    """Foot, straight sides, round shoulders, neck."""
    s, top = glass.scale, glass.shoulder
    neck_l, neck_r = MIDDLE - 36 * s, MIDDLE + 36 * s
    half = (glass.right - glass.left) / 2
    return (
        f"M{_r(glass.left)} {_r(glass.bottom)}"
        f"A{_r(half)} {_r(glass.curve)} 0 0 0 {_r(glass.right)} {_r(glass.bottom)}"
        f"V{_r(top)}C{_r(glass.right)} {_r(top - 11 * s)} {_r(neck_r)} {_r(top - 8 * s)} "
        f"{_r(neck_r)} {_r(top - 18 * s)}V{_r(top - 28 * s)}H{_r(neck_l)}V{_r(top - 18 * s)}"
        f"C{_r(neck_l)} {_r(top - 8 * s)} {_r(glass.left)} {_r(top - 11 * s)} "
        f"{_r(glass.left)} {_r(top)}Z"
    )


@lru_cache(maxsize=SIZES_KEPT)
def _filled(glass: _Glass, surface: float) -> str:
    left, right = glass.left + 3, glass.right - 3
    half = (right - left) / 2
    return (
        f"M{_r(left)} {_r(surface)}V{_r(glass.bottom - 1)}"
        f"A{_r(half)} {_r(glass.curve)} 0 0 0 {_r(right)} {_r(glass.bottom - 1)}"
        f"V{_r(surface)}Z"
    )


@lru_cache(maxsize=SIZES_KEPT)
def _gleam(glass: _Glass) -> str:
    """The light down its side."""
    x = glass.left + 10 * glass.scale
    return f"M{_r(x)} {_r(glass.shoulder + 6)}V{_r(glass.bottom - 10 * glass.scale)}"


@lru_cache(maxsize=SIZES_KEPT)
def _lid(glass: _Glass) -> str:
    s, y = glass.scale, glass.shoulder - 28 * glass.scale
    left, right = MIDDLE - 41 * s, MIDDLE + 41 * s
    return (
        f"M{_r(left)} {_r(y + 5 * s)}V{_r(y - 6 * s)}Q{_r(left)} {_r(y - 9 * s)} "
        f"{_r(left + 4 * s)} {_r(y - 9 * s)}H{_r(right - 4 * s)}Q{_r(right)} {_r(y - 9 * s)} "
        f"{_r(right)} {_r(y - 6 * s)}V{_r(y + 5 * s)}Z"
    )


def _lid_turn(glass: _Glass, *, loose: bool) -> str:
    """Iron gives off gas: its lid lies loose."""
    if not loose:
        return ""
    return f"rotate(-7 {_r(MIDDLE + 36 * glass.scale)} {_r(glass.shoulder - 24 * glass.scale)})"


@lru_cache(maxsize=SIZES_KEPT)
def _quarters(glass: _Glass, surface: float) -> tuple[Mark, ...]:
    tall, right = glass.bottom - glass.shoulder, glass.right - 5
    heights = [(part, glass.bottom - tall * part / 4) for part in (1, 2, 3)]
    return tuple(
        Mark(_r(right - (12 if part == 2 else 8)), _r(right), _r(y), y > surface)
        for part, y in heights
    )


def _tape(jar: JarFacts, glass: _Glass, day_words: str) -> Tape:
    name = jar.name or jar.code
    if len(name) > LONGEST_ON_TAPE:
        name = f"{name[: LONGEST_ON_TAPE - 1]}…"
    width, height = (glass.right - glass.left) - 14, 34 * glass.scale + 4
    size = min(17 * glass.scale, (width - 8) / (LETTER * len(name)))
    y = glass.shoulder + (glass.bottom - glass.shoulder) * 0.34
    return Tape(
        x=_r(glass.left + 7),
        y=_r(y),
        width=_r(width),
        height=_r(height),
        words=name,
        words_y=_r(y + height * (0.5 if day_words and jar.labelled else 0.64)),
        size=_r(size),
        below=day_words,
        below_y=_r(y + height * 0.86),
        below_size=_r(10.5 * glass.scale),
        bare=not jar.labelled,
    )


# -- what lies and rises in it ---------------------------------------------------------------------


def _has_metal(jar: JarFacts, level: Fraction) -> bool:
    """Scrap lies in a jar until it is strained."""
    return level > 0 and not any(event.kind == "strained" for event in jar.events)


def _nails(jar: JarFacts, glass: _Glass, level: Fraction) -> tuple[Nail, ...]:
    if jar.metal != "iron" or not jar.labelled or not _has_metal(jar, level):
        return ()
    return _nails_in(glass)


@lru_cache(maxsize=SIZES_KEPT)
def _nails_in(glass: _Glass) -> tuple[Nail, ...]:
    s, y = glass.scale, glass.bottom
    places = ((-34, 0, -12, -7), (-20, 3, 6, -3), (2, 1, 28, -9), (-4, -6, 20, 3), (14, 2, 36, -3))
    return tuple(
        Nail(_r(MIDDLE + a * s), _r(y + b * s), _r(MIDDLE + c * s), _r(y + d * s))
        for a, b, c, d in places
    )


def _pipes(jar: JarFacts, glass: _Glass, level: Fraction) -> tuple[Round, ...]:
    if jar.metal != "copper" or not jar.labelled or not _has_metal(jar, level):
        return ()
    return _pipes_in(glass)


@lru_cache(maxsize=SIZES_KEPT)
def _pipes_in(glass: _Glass) -> tuple[Round, ...]:
    s, y = glass.scale, glass.bottom
    places = ((-26, -3, 6), (-10, 1, 5), (6, -2, 6.5), (22, 0, 5), (33, -4, 4.5))
    return tuple(Round(_r(MIDDLE + a * s), _r(y + b * s), _r(r * s)) for a, b, r in places)


def _bubbles(story: JarStory, glass: _Glass, surface: float) -> tuple[Round, ...]:
    return _bubbles_in(glass, surface) if gives_gas(story) else ()


def gives_gas(story: JarStory) -> bool:
    """Gas rises while iron is at work: none once it is strained or has given all it can."""
    liquor = story.liquor
    if story.jar.metal != "iron" or liquor is None or not _has_metal(story.jar, story.level):
        return False
    return liquor.gas_at_most_l - liquor.gas_l >= 0.05 * liquor.gas_at_most_l


@lru_cache(maxsize=SIZES_KEPT)
def _bubbles_in(glass: _Glass, surface: float) -> tuple[Round, ...]:
    tall = glass.bottom - surface
    places = ((-0.30, 0.20, 2.2), (-0.12, 0.52, 1.8), (0.05, 0.30, 2.6), (0.22, 0.66, 2.0),
              (0.33, 0.42, 1.6), (-0.36, 0.78, 1.6), (0.12, 0.88, 2.2))  # fmt: skip
    wide = glass.right - glass.left
    return tuple(
        Round(_r(MIDDLE + across * wide), _r(glass.bottom - 8 - up * (tall - 10)), r)
        for across, up, r in places
        if tall > 24
    )


def _r(number: float) -> float:
    """To the tenth: finer than a screen shows."""
    return round(number, 1)
