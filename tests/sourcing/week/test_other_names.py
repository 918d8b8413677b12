"""No name of the demo studio means anything to the placer: renamed, it gives the same week."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any
from zoneinfo import ZoneInfo

from inventory.science.facts import Shelf
from inventory.science.figures import Figures
from sourcing.ordering.facts import Stuff
from sourcing.week.facts import Block, WeekFacts
from sourcing.week.plan import Week
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.worked import THE_WEEK, brief, hands, line, told

# Words of the trade that a fact carries as its kind; every other name may change.
OF_THE_TRADE = frozenset(
    {"kind", "metal", "state", "place_kind", "fibre", "fibres", "form", "mordant", "material",
     "step", "vessels", "basis", "name", "set_aside", "looks", "text", "zone"}
)  # fmt: skip


def names_of(facts: WeekFacts) -> dict[str, str]:
    """Old name to new one: codes, shades, dyestuffs, baths; the order of codes stays."""
    shelf = facts.shelf
    rows: list[Any] = [*shelf.lots, *shelf.jars, *shelf.baths, *shelf.fibre, *shelf.vessels]
    rows += [*shelf.rings, *shelf.lines, *facts.runs, *facts.recipes, *facts.blocks]
    old = {row.code for row in rows}
    old |= {lot.dyestuff for lot in shelf.lots} | {bath.what for bath in shelf.baths}
    old |= {run.shade for run in facts.runs} | {facts.studio}
    return {name: f"x{name}y" for name in old if name}


def renamed(thing: Any, names: dict[str, str]) -> Any:
    """The same facts under other names."""
    if isinstance(thing, str):
        return names.get(thing, thing)
    if isinstance(thing, Stuff):  # a fibre and its form, both words of the trade
        return thing
    if isinstance(thing, tuple | frozenset):
        return type(thing)(renamed(part, names) for part in thing)
    if isinstance(thing, ZoneInfo) or not is_dataclass(thing) or isinstance(thing, type):
        return thing
    if isinstance(thing, Figures):
        rows = (replace(row, item=names.get(row.item, row.item)) for row in thing.rows)
        return Figures(tuple(rows))
    new: dict[str, Any] = {}
    for column in fields(thing):
        value = getattr(thing, column.name)
        keeps = column.name in OF_THE_TRADE and not isinstance(thing, Shelf | Block)
        new[column.name] = value if keeps else renamed(value, names)
    return replace(thing, **new)


def other_week() -> Week:
    return project(renamed(FACTS, names_of(FACTS)), days=7)


def test_every_name_was_changed() -> None:
    facts = renamed(FACTS, names_of(FACTS))

    assert [run.code for run in facts.runs] == [f"x{run.code}y" for run in FACTS.runs]
    assert facts.shelf.lots[0].dyestuff == "xavocado stonesy"
    assert facts.recipes[0].doses[1].what == "xavocado stonesy"
    assert facts.makings[0].bath == "xnettle bathy"
    assert facts.shelf.rings[1].not_for == ("xP1y",)


def test_renamed_studio_gets_the_same_answers() -> None:
    names = names_of(FACTS)

    assert brief(other_week()) == {names[run]: text for run, text in THE_WEEK.items()}


def test_renamed_studio_gets_the_same_steps_amounts_and_jobs() -> None:
    names = names_of(FACTS)
    week, as_it_was = other_week(), project(FACTS, days=7)

    for run in THE_WEEK:
        assert _without_names(told(week, names[run]), names) == told(as_it_was, run), run
    assert hands(week) == hands(as_it_was)
    assert line(week) == line(as_it_was)


def _without_names(thing: Any, names: dict[str, str]) -> Any:
    """What was told, with the old names put back."""
    if isinstance(thing, str):
        for old, new in names.items():
            thing = thing.replace(new, old)
        return thing
    if isinstance(thing, tuple):
        return tuple(_without_names(part, names) for part in thing)
    return replace(
        thing,
        **{column.name: _without_names(getattr(thing, column.name), names)
           for column in fields(thing)},
    )  # fmt: skip
