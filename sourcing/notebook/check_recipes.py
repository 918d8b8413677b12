"""Recipes, their steps and doses against each other, and what is made of what."""

from __future__ import annotations

from collections.abc import Iterator

from inventory.science.catalogue import shipped
from sourcing.notebook.notebook import Notebook, nearest
from sourcing.notebook.page import Row
from sourcing.notebook.problem import Problem
from sourcing.notebook.quantities import DoseOf, write_dose
from sourcing.notebook.saying import say
from sourcing.notebook.yard_pages import BY_NAME
from sourcing.week.second_bath import DYEBATH

Found = Iterator[Problem]


def check_recipes(notebook: Notebook) -> Found:
    """What does not fit in recipes, steps, doses and makings."""
    steps = _grouped(notebook.page("steps"))
    for recipe in notebook.page("recipes"):
        own = steps.get(recipe.text("recipe"), [])
        yield from _recipe(recipe, own)
        yield from _second_bath(recipe, steps)
        yield from _steps(own)
    yield from _doses(notebook, steps)
    yield from _bath_twice(notebook)
    yield from _circles(notebook)


def _grouped(rows: tuple[Row, ...]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row.text("recipe"), []).append(row)
    for own in found.values():
        own.sort(key=lambda row: row.whole("no"))
    return found


def _problem(row: Row, column: str, stands: str, write: str) -> Problem:
    return Problem(BY_NAME[row.page].file, row.line, column, stands, write)


def _recipe(row: Row, steps: list[Row]) -> Found:
    if not steps:
        note = say("It has no steps. Add them to steps.csv.")
        yield _problem(row, "recipe", row.text("recipe"), note)
    low, high = row.number("ph low"), row.number("ph high")
    if low is not None and high is not None and high < low:
        yield _problem(
            row, "ph high", str(high), say("Write a pH no lower than the one in ph low.")
        )


def _second_bath(row: Row, steps: dict[str, list[Row]]) -> Found:
    """A shade dyed in the bath of another: both need a step in which cloth is dyed."""
    first = row.text("second bath of")
    if not first:
        if row.has("strength"):
            note = say("It is a share of another shade. Write that under second bath of, or delete "
                       "it.")  # fmt: skip
            yield _problem(row, "strength", f"{row.number('strength'):f} %", note)
        return
    for code in (row.text("recipe"), first):
        own = steps.get(code, [])
        if own and all(step.text("kind") != "dye" for step in own):
            note = say("{code} has no step of the kind dye. Add it to steps.csv.", code=code)
            yield _problem(row, "second bath of", first, note)


def _steps(steps: list[Row]) -> Found:
    names: dict[str, Row] = {}
    for at, row in enumerate(steps):
        name = row.text("step")
        other = names.setdefault(name.casefold(), row)
        if other is not row:
            note = say(
                "Line {line} is a step of that name too. Write another, such as {name} 2.",
                line=other.line,
                name=name,
            )
            yield _problem(row, "step", name, note)
        vessels = row.words("vessels")
        if "same" in vessels and (at == 0 or len(vessels) > 1):
            note = say(
                "Same means the pot of the step before, and stands alone. Write such as pot."
            )
            yield _problem(row, "vessels", ", ".join(vessels), note)
        if row.several("heats") and not vessels:
            yield _problem(row, "vessels", "", say("A step that is heated needs a pot. Write pot."))
        if row.text("kind") == "wet out" and not vessels:
            yield _problem(
                row, "vessels", "", say("Cloth is wetted out in something. Write bucket, tub.")
            )
        if row.has("begun at") and row.several("heats"):
            note = say("A step that is heated begins at the first warmth of its heats. Delete it.")
            yield _problem(row, "begun at", f"{row.number('begun at'):f} °C", note)
        yield from _snippet(row)
        if row.has("strained at") and not row.yes("strain"):
            yield _problem(row, "strain", "no", say("It says how warm it is strained. Write yes."))


def _snippet(row: Row) -> Found:
    """A snippet is dyed in what is strained and goes on the same day."""
    if row.whole("snippet hands") and not row.whole("snippet"):
        note = say("Write how long the snippet stands, or delete its hands.")
        yield _problem(row, "snippet", "", note)
    if row.whole("snippet") and (
        not row.yes("strain") or row.yes("night") or row.several("stands")
    ):
        note = say(
            "A snippet is dyed in what is strained the same day: write yes under strain, and no "
            "night or standing time."
        )
        yield _problem(row, "snippet", f"{row.whole('snippet')} min", note)


def _doses(notebook: Notebook, steps: dict[str, list[Row]]) -> Found:
    forms = {"liquor": ("mL per 100 g", "L per kg"), "bath": ("L per kg", "mL per 100 g")}
    such = {"liquor": "35 mL per 100 g", "bath": "30 L per kg"}
    for row in notebook.page("doses"):
        names = [step.text("step") for step in steps.get(row.text("recipe"), [])]
        if row.text("step") not in names:
            close = nearest(row.text("step"), names)
            note = (
                say("Did you mean {close}?", close=close)
                if close
                else say("Write one of steps.csv.")
            )
            yield _problem(
                row, "step", row.text("step"), say("The recipe has no such step. {note}", note=note)
            )
        dose, kind = row.values["amount"], row.text("kind")
        assert isinstance(dose, DoseOf)
        if dose.form not in forms.get(kind, ("share",)):
            note = say(
                "A {kind} is not dosed so. Write such as {get}.",
                kind=kind,
                get=such.get(kind, "150 %"),
            )
            yield _problem(row, "amount", write_dose(dose), note)
        if row.has("state") and kind != "dyestuff":
            note = say("Only a dyestuff has a state. Delete it.")
            yield _problem(row, "state", row.text("state"), note)


def _bath_twice(notebook: Notebook) -> Found:
    """A shade that follows in a bath takes of it by itself: a dose of it would count twice."""
    follow = {
        row.text("recipe"): row.text("second bath of")
        for row in notebook.page("recipes")
        if row.has("second bath of")
    }
    for row in notebook.page("doses"):
        if row.text("recipe") in follow and row.text("what").casefold() == DYEBATH:
            note = say("The bath of {code} is taken without a dose. Delete this one.",
                       code=follow[row.text("recipe")])  # fmt: skip
            yield _problem(row, "what", row.text("what"), note)


def _circles(notebook: Notebook) -> Found:
    """A recipe or bath that asks for itself, at first hand or through others."""
    names: dict[str, str] = {}
    for row in notebook.page("recipes"):
        for name in (row.text("recipe"), row.text("shade")):
            names[name.casefold()] = row.text("recipe").casefold()
    asks: dict[str, list[tuple[str, Row, str]]] = {}
    plants = _plants(notebook)
    for row in notebook.page("recipes"):
        if first := row.text("second bath of"):
            asks.setdefault(row.text("recipe").casefold(), []).append(
                (first.casefold(), row, "second bath of")
            )
    for row in notebook.page("doses"):
        what = row.text("what").casefold()
        if row.text("kind") == "dyestuff" and what in plants:
            # A shade may be called what its dyestuff is: madder, walnut, marigold.
            continue
        asks.setdefault(row.text("recipe").casefold(), []).append(
            (names.get(what, what), row, "what")
        )
    for row in notebook.page("makings"):
        what = row.text("dyestuff").casefold()
        asks.setdefault(row.text("bath").casefold(), []).append(
            (names.get(what, what), row, "dyestuff")
        )
    for start, wants in asks.items():
        for what, row, column in wants:
            if _leads_to(what, start, asks):
                kind = "bath" if column == "dyestuff" else "recipe"
                note = say(
                    "So the {kind} asks for itself. Write what it is really made with.", kind=kind
                )
                yield _problem(row, column, row.text(column), note)


def _plants(notebook: Notebook) -> set[str]:
    """Dyestuffs that are on a page of the notebook or have shipped figures."""
    names = {row.text("dyestuff") for page in ("dyestuffs", "lots") for row in notebook.page(page)}
    names |= {row.item for row in shipped().rows if row.name.startswith("keeps_")}
    return {name.casefold() for name in names}


def _leads_to(what: str, goal: str, asks: dict[str, list[tuple[str, Row, str]]]) -> bool:
    seen: set[str] = set()
    waiting = [what]
    while waiting:
        name = waiting.pop()
        if name == goal:
            return True
        if name not in seen:
            seen.add(name)
            waiting += [wanted for wanted, _, _ in asks.get(name, [])]
    return False
