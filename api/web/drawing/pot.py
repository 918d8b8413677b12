"""Pots, tubs and buckets in their sizes, with the line to which each is filled."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.science.facts import VesselFacts

WIDTH, HEIGHT = 120, 98
BASE, MIDDLE = 96.0, WIDTH / 2
SMALLEST = 0.5
# Half width at the brim, half width at the foot, height; of the largest.
SHAPES = {"pot": (42, 42, 62), "tub": (50, 36, 50), "bucket": (40, 28, 62)}


@dataclass(frozen=True, slots=True)
class PotDrawing:
    """The shapes of one vessel, in a box of WIDTH by HEIGHT."""

    body: str
    brim_x: float
    brim_y: float
    brim_rx: float
    brim_ry: float
    handles: tuple[str, ...]
    working: str  # the line to which it is filled
    words_y: float
    chip: str  # broken out of the brim; empty: whole
    iron: bool
    width: int = WIDTH
    height: int = HEIGHT


def draw_pot(vessel: VesselFacts, *, largest_ml: int) -> PotDrawing:
    """The shapes of a vessel beside the largest one of its shelf."""
    part = vessel.brim_ml / largest_ml if largest_ml > 0 else 1.0
    scale = SMALLEST + (1 - SMALLEST) * min(max(part, 0.0), 1.0) ** (1 / 3)
    brim, foot, tall = (each * scale for each in SHAPES.get(vessel.kind, SHAPES["pot"]))
    curve = 7 * scale
    bottom, top = BASE - curve, BASE - curve - tall
    fill = vessel.working_ml / vessel.brim_ml if vessel.brim_ml else 0.0
    return PotDrawing(
        body=_body(brim, foot, top, bottom, curve),
        brim_x=MIDDLE,
        brim_y=_r(top),
        brim_rx=_r(brim),
        brim_ry=_r(curve),
        handles=_handles(vessel.kind, brim, top, scale),
        working=_working(brim, foot, bottom, tall * fill, tall, curve),
        words_y=_r(bottom - 5 * scale),
        chip=_chip(brim, top, curve) if vessel.chipped else "",
        iron=vessel.iron_pot,
    )


def _body(brim: float, foot: float, top: float, bottom: float, curve: float) -> str:
    left, right = _r(MIDDLE - brim), _r(MIDDLE + brim)
    return (
        f"M{left} {_r(top)}L{_r(MIDDLE - foot)} {_r(bottom)}"
        f"A{_r(foot)} {_r(curve)} 0 0 0 {_r(MIDDLE + foot)} {_r(bottom)}L{right} {_r(top)}"
        f"A{_r(brim)} {_r(curve)} 0 0 1 {left} {_r(top)}Z"
    )


def _handles(kind: str, brim: float, top: float, scale: float) -> tuple[str, ...]:
    """Two ears for a pot or tub, a bail for a bucket."""
    if kind == "bucket":
        left, right = MIDDLE - brim, MIDDLE + brim
        return (f"M{_r(left)} {_r(top + 3)}C{_r(left)} {_r(top - 30 * scale)} "
                f"{_r(right)} {_r(top - 30 * scale)} {_r(right)} {_r(top + 3)}",)  # fmt: skip
    ear, y = 9 * scale, top + 12 * scale
    return tuple(
        f"M{_r(MIDDLE + side * brim)} {_r(y)}h{_r(side * ear)}v{_r(8 * scale)}h{_r(-side * ear)}"
        for side in (-1, 1)
    )


def _working(
    brim: float, foot: float, bottom: float, filled: float, tall: float, curve: float
) -> str:
    """The near half of the waterline, at its height on slanting sides."""
    half = foot + (brim - foot) * (filled / tall if tall else 0)
    y = bottom - filled
    return (f"M{_r(MIDDLE - half)} {_r(y)}"
            f"A{_r(half)} {_r(curve)} 0 0 0 {_r(MIDDLE + half)} {_r(y)}")  # fmt: skip


def _chip(brim: float, top: float, curve: float) -> str:
    x, y = MIDDLE + brim * 0.6, top + curve * 0.9
    return f"M{_r(x - 7)} {_r(y + 1)}l4 7 3-4 4 6 3-10z"


def _r(number: float) -> float:
    return round(number, 1)
