"""Every sentence that the code and the templates say, with the place where it stands."""

from __future__ import annotations

import ast
import csv
import re
from collections.abc import Iterator
from pathlib import Path

from django.utils.translation.template import templatize

from api.tongue.catalogue.message import Message
from inventory.science.library import library

CARRIERS = ("inventory.science.saying", "sourcing.notebook.saying")
FLOORS = ("inventory", "sourcing", "api")
# Columns of the shipped tables that are said as they stand there.
TABLES = {
    "cautions.csv": ("mark", "sentence"),
    "poisonous_parts.csv": ("mark", "sentence"),
    "figure_words.csv": ("words", "unit"),
    "nesting.csv": ("words",),
    "seasons.csv": ("part",),
    "catalogue/properties.csv": ("words",),
    "catalogue/units.csv": ("words",),
}
# Likewise of tables that lie beside their code.
DOOR_TABLES = {"api/problems/problems.csv": ("title", "means", "do", "example")}
# What the catalogue says in letters that every language writes alike: names, numbers, codes.
SIGNS = ("botanical_name", "cas", "iso_2076_code")
CODES = re.compile(r"(?:(?:H|GHS)\d+ ?)+")
# How many texts lead in a call: one; one and one for more; a context before them.
PLAIN = ("say", "gettext", "gettext_lazy", "gettext_noop")
NUMBERED = ("counted", "ngettext", "ngettext_lazy")
IN_CONTEXT = ("pgettext", "pgettext_lazy")
CALL = re.compile(
    r"\b(?P<name>pgettext|ngettext|npgettext|gettext|_)\((?P<texts>"
    r"(?:\s*u?(?:'(?:[^'\\]|\\.)*'|\"(?:[^\"\\]|\\.)*\")\s*,?)+)"
)


def messages(root: Path) -> dict[Message, list[str]]:
    """Every message, in the order of the files, with the files that say it."""
    found: dict[Message, list[str]] = {}
    for path, message in _all(root):
        places = found.setdefault(message, [])
        if path not in places:
            places.append(path)
    return found


def _all(root: Path) -> Iterator[tuple[str, Message]]:
    for floor in FLOORS:
        for file in sorted((root / floor).rglob("*.py")):
            if "migrations" not in file.parts:
                yield from _named(root, file, in_code(file.read_text(encoding="utf-8")))
    shipped = {f"inventory/science/tables/{name}": said for name, said in TABLES.items()}
    for name, columns in {**shipped, **DOOR_TABLES}.items():
        file = root / name
        yield from _named(root, file, in_table(file.read_text(encoding="utf-8"), columns))
    yield from in_catalogue()
    for file in sorted((root / "api" / "templates").rglob("*")):
        if file.is_file():
            yield from _named(root, file, in_template(file.read_text(encoding="utf-8")))


def _named(root: Path, file: Path, said: Iterator[Message]) -> Iterator[tuple[str, Message]]:
    name = file.relative_to(root).as_posix()
    return ((name, message) for message in said if message.needs_saying)


def in_code(text: str) -> Iterator[Message]:
    """The messages of a file of code, from its top to its end."""
    calls = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.Call)]
    # Elsewhere `say` may be another word for printing.
    ours = any(carrier in text for carrier in CARRIERS)
    for call in sorted(calls, key=lambda node: (node.lineno, node.col_offset)):
        if _name(call.func) in ("say", "counted") and not ours:
            continue
        if (message := _of_call(_name(call.func), list(_texts(call)))) is not None:
            yield message


def _name(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def _texts(call: ast.Call) -> Iterator[str]:
    """The texts that lead a call, up to the first argument that is none."""
    for argument in call.args:
        if not (isinstance(argument, ast.Constant) and isinstance(argument.value, str)):
            return
        yield argument.value


def _of_call(name: str, texts: list[str]) -> Message | None:
    if name in PLAIN and texts:
        return Message(texts[0])
    if name in NUMBERED and len(texts) > 1:
        return Message(texts[0], texts[1])
    if name in IN_CONTEXT and len(texts) > 1:
        return Message(texts[1], context=texts[0])
    return None


def in_table(text: str, columns: tuple[str, ...]) -> Iterator[Message]:
    """The messages of a shipped table, row by row."""
    for row in csv.DictReader(text.splitlines()):
        yield from (Message(row[column]) for column in columns if row[column])


def in_catalogue() -> Iterator[tuple[str, Message]]:
    """What the rows of the shipped catalogue say in words, and for which case a figure holds."""
    for thing in library().things:
        for row in thing.rows:
            place = f"inventory/science/tables/catalogue:{row.kind}"
            alike = row.name in SIGNS or CODES.fullmatch(row.words)
            said = (row.unit, row.case, "" if alike else row.words)
            yield from ((place, Message(text)) for text in said if Message(text).needs_saying)


def in_template(text: str) -> Iterator[Message]:
    """The messages of a template."""
    if "{%" not in text:
        return
    for call in CALL.finditer(templatize(text)):
        texts = list(ast.literal_eval(f"({call['texts'].rstrip().rstrip(',')},)"))
        name = "gettext" if call["name"] == "_" else call["name"]
        if name == "npgettext" and len(texts) > 2:
            yield Message(texts[1], texts[2], context=texts[0])
        elif (message := _of_call(name, texts)) is not None:
            yield message
