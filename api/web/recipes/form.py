"""The form of a recipe: its cells as a notebook writes them, steps and doses as numbered rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.http import QueryDict

from inventory.science.saying import joined, say
from sourcing.notebook.page import Column, Page
from sourcing.notebook.recipe_cells import Cells, RecipeCells
from sourcing.notebook.yard_pages import BY_NAME

ROWS_AT_MOST = 40  # steps, or doses, of one recipe
BLANK_ROWS = 2
LONGEST = 400
# Steps are told by these; what few of them want is folded away.
OF_MOST_STEPS = ("no", "step", "kind", "vessels", "heats", "night", "hands", "strain")
OF_MOST_RECIPES = ("recipe", "shade", "fibres", "ratio", "mordant", "bright")
LABELS = {
    "recipe": say("short name"),
    "fibres": say("for which fibre"),
    "bright": say("spoiled by iron"),
    "fugitive": say("soon fades"),
    "needs scoured": say("wants scoured fibre"),
    "match": say("how lots may mix"),
    "no": say("place"),
    "night": say("stands overnight"),
    "strain": say("strained afterwards"),
    "vessels": say("in what"),
    "what": say("takes"),
    "leaves": say("leaves metal"),
    "may share": say("may be done in one pot with another run"),
    "second bath of": say("dyed in the second bath of"),
    "strength": say("how much of its shade"),
    **{
        str.__str__(word): word
        for word in (
            *(say("shade"), say("ratio"), say("mordant"), say("water"), say("ph low")),
            *(say("ph high"), say("depth"), say("step"), say("kind"), say("heats")),
            *(say("stands"), say("cools"), say("hands"), say("follows"), say("strained at")),
            *(say("from"), say("one lot"), say("aired"), say("begun at"), say("snippet")),
            *(say("snippet hands"), say("amount"), say("state")),
        )
    },
}


@dataclass(frozen=True, slots=True)
class FieldShown:
    """One cell as a field."""

    name: str  # in the form
    label: str
    kind: str  # text, number, tick, choice, choices
    value: str
    options: tuple[tuple[str, bool], ...]
    hint: str
    required: bool = False


@dataclass(frozen=True, slots=True)
class RowShown:
    """The fields of one row, and those that are folded away."""

    title: str
    fields: tuple[FieldShown, ...]
    more: tuple[FieldShown, ...]


@dataclass(frozen=True, slots=True)
class RecipeForm:
    """The whole form."""

    about: RowShown
    steps: tuple[RowShown, ...]
    doses: tuple[RowShown, ...]
    version: int


def form_of(recipe: RecipeCells) -> RecipeForm:
    """The form of a recipe as it is written, with a few empty rows for more."""
    about = _row("recipes", recipe.cells, "r", OF_MOST_RECIPES, say("The shade"))
    if recipe.version:  # its short name stays
        fields = tuple(field for field in about.fields if field.name != "r-recipe")
        about = RowShown(about.title, fields, about.more)
    return RecipeForm(
        about=about,
        steps=tuple(_rows("steps", recipe.steps, "s", OF_MOST_STEPS)),
        doses=tuple(_rows("doses", recipe.doses, "d", ())),
        version=recipe.version,
    )


def recipe_in(post: QueryDict, *, code: str = "", version: int = 0) -> RecipeCells:
    """The recipe that a form says; rows in which nothing stands are passed over."""
    about = _cells_in(post, BY_NAME["recipes"], "r")
    steps = [row for row in _filled(post, "steps", "s") if row.get("step") or row.get("kind")]
    steps.sort(key=lambda row: _place(row["no"]))
    numbered = tuple({**row, "no": str(number)} for number, row in enumerate(steps, start=1))
    doses = tuple(row for row in _filled(post, "doses", "d") if row.get("what"))
    return RecipeCells({**about, "recipe": code or about["recipe"]}, numbered, doses, version)


def _place(text: str) -> float:
    """Where a step stands: 2.5 comes between the second and the third; without a place, last."""
    plain = text.replace(",", ".")
    whole = plain.replace(".", "", 1)
    return float(plain) if whole.isascii() and whole.isdecimal() else ROWS_AT_MOST


def _rows(
    name: str, rows: Sequence[Cells], sign: str, first: tuple[str, ...]
) -> Iterator[RowShown]:
    one = BY_NAME[name].one
    for number, cells in enumerate(rows, start=1):
        called = cells.get("step" if name == "steps" else "what", "")
        yield _row(
            name,
            cells,
            f"{sign}{number}",
            first,
            say("{one} {number}: {called}", one=one, number=number, called=called)
            if called
            else say("{one} {number}", one=one, number=number),
        )
    for number in range(len(rows) + 1, min(len(rows) + BLANK_ROWS, ROWS_AT_MOST) + 1):
        yield _row(name, {}, f"{sign}{number}", first, say("one more {one}", one=one))


def _row(name: str, cells: Cells, sign: str, first: tuple[str, ...], title: str) -> RowShown:
    page = BY_NAME[name]
    columns = [column for column in page.columns if name == "recipes" or column.name != "recipe"]
    shown = {column.name: _field(column, cells.get(column.name, ""), sign) for column in columns}
    front = [field for name_, field in shown.items() if not first or name_ in first]
    return RowShown(title, tuple(front), tuple(f for f in shown.values() if f not in front))


def _field(column: Column, value: str, sign: str) -> FieldShown:
    kind, options = "text", tuple[tuple[str, bool], ...]()
    if column.kind == "yes or no":
        kind = "tick"
        # What an empty cell means stands in the notebook: scoured unless it says no.
        value = value or ("yes" if column.name == "needs scoured" else "no")
    elif column.kind == "choice":
        kind, options = "choice", tuple((word, word == value) for word in ("", *column.choices))
    elif column.kind == "choices":
        chosen = {word.strip() for word in value.split(",")}
        kind, options = "choices", tuple((word, word in chosen) for word in column.choices)
    label = LABELS.get(column.name, column.name)
    hint = "" if kind in ("tick", "choices") else say("such as {example}", example=column.example)
    return FieldShown(
        _name(sign, column),
        label,
        kind,
        value,
        options,
        hint,
        required=column.required and sign == "r",
    )


def _name(sign: str, column: Column) -> str:
    return f"{sign}-{column.name.replace(' ', '_')}"


def _filled(post: QueryDict, name: str, sign: str) -> Iterable[dict[str, str]]:
    """The rows of a form that say something."""
    for number in range(1, ROWS_AT_MOST + 1):
        row = _cells_in(post, BY_NAME[name], f"{sign}{number}")
        if any(cell not in ("", "no") for column, cell in row.items() if column != "no"):
            yield row


def _cells_in(post: QueryDict, page: Page, sign: str) -> dict[str, str]:
    return {column.name: _cell_in(post, column, _name(sign, column)) for column in page.columns}


def _cell_in(post: QueryDict, column: Column, name: str) -> str:
    if column.kind == "yes or no":
        return "yes" if post.get(name) else "no"
    if column.kind == "choices":
        return joined(", ", post.getlist(name))[:LONGEST]
    return post.get(name, "").strip()[:LONGEST]


def blank() -> RecipeCells:
    """A recipe of which nothing is written yet, with the steps that most of them have."""
    names = (
        ("scour", "scour"),
        ("hot alum", "mordant"),
        ("extract", "extract"),
        ("dye", "dye"),
        ("rinse", "rinse"),
    )
    steps: list[Mapping[str, str]] = [
        {"no": str(number), "step": step, "kind": kind}
        for number, (step, kind) in enumerate(names, start=1)
    ]
    return RecipeCells({"ratio": "30:1", "depth": "3"}, tuple(steps))
