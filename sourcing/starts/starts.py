"""Recipes to begin with, as they are shipped, and the figures of the catalogue behind them.

A studio takes one over into its own recipes and changes it there; what is shipped stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from inventory.science.library import Row, Said, library
from inventory.science.saying import say
from inventory.science.table import Line, lines_of

RECIPE = ("recipe", "shade", "fibres", "ratio", "mordant", "bright", "fugitive", "depth")
STEP = ("recipe", "no", "step", "kind", "vessels", "heats", "night", "hands", "strain")
DOSE = ("recipe", "step", "what", "kind", "amount", "state")
FIGURE = ("recipe", "what", "here", "kind", "thing", "property", "step")
Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class StartFigure:
    """One figure of a start beside all that the catalogue has on it."""

    what: str
    here: str  # as the start has it
    kind: str  # of the thing in the catalogue
    thing: str
    said: Said  # every row, each with its range, basis and source

    @property
    def rows(self) -> tuple[Row, ...]:
        return self.said.rows


@dataclass(frozen=True, slots=True)
class Start:
    """A shade to begin with: rows as a notebook has them, and the figures they rest on."""

    code: str
    shade: str
    fibres: tuple[str, ...]
    cells: Cells
    steps: tuple[Cells, ...]
    doses: tuple[Cells, ...]
    figures: tuple[StartFigure, ...]

    @property
    def dyestuff(self) -> Cells:
        """What gives it its colour."""
        return next(dose for dose in self.doses if dose["kind"] == "dyestuff")

    @property
    def supplies(self) -> tuple[str, ...]:
        """What keeps for years and is wanted beside the dyestuff."""
        names = (dose["what"] for dose in self.doses if dose["kind"] == "supply")
        return tuple(dict.fromkeys(names))


@cache
def starts() -> tuple[Start, ...]:
    """Every shade to begin with, in the order of the table."""
    return tuple(_start(line) for line in _lines("recipes", RECIPE))


def start_called(code: str) -> Start | None:
    """The start of a code; None where it is the studio's own."""
    return next((row for row in starts() if row.code == code), None)


def _start(line: Line) -> Start:
    code = line.must("recipe")
    return Start(
        code=code,
        shade=line.must("shade"),
        fibres=tuple(line.must("fibres").split(", ")),
        cells=dict(line.cells),
        steps=tuple(dict(row.cells) for row in _of(code, "steps", STEP)),
        doses=tuple(dict(row.cells) for row in _of(code, "doses", DOSE)),
        figures=tuple(_figure(row) for row in _of(code, "figures", FIGURE)),
    )


def _figure(line: Line) -> StartFigure:
    thing = library().thing(line.must("kind"), line.must("thing"))
    if thing is None:
        line.fail(say("the catalogue has no such thing."))
    found = [said for said in thing.said() if said.name == line["property"] and _counted(said)]
    if not found:
        line.fail(say("the catalogue has no such figure."))
    return StartFigure(line.must("what"), line.must("here"), thing.kind, thing.name, found[0])


def _counted(said: Said) -> bool:
    """A figure in numbers; the same property may also be told in words."""
    return any(row.numbers for row in said.rows)


def _of(code: str, name: str, columns: tuple[str, ...]) -> Iterator[Line]:
    return (line for line in _lines(name, columns) if line["recipe"] == code)


def _lines(name: str, columns: tuple[str, ...]) -> Iterator[Line]:
    return lines_of(f"{name}.csv", columns, folder=files("sourcing.starts").joinpath("tables"))
