"""Find stairs that go up: in imports, in names written as text, in keys, in migrations.

`inventory` is the lowest floor, then `sourcing`, then `api`. Each finder takes the folder of the
three floors, so that the tests can show it a house that is wrong.
"""

from __future__ import annotations

import ast
import inspect
import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from django.apps.registry import Apps
from django.db import models
from django.db.migrations import Migration

FLOORS = ("inventory", "sourcing", "api")
# Tests stand beside the house: no floor may lean on them.
ABOVE_ALL = (*FLOORS, "tests")
PURE = {
    "inventory/science": ("inventory.science", "pint"),
    "sourcing/week": (
        "sourcing.week",
        "sourcing.forecast",
        "sourcing.putting_by",
        "sourcing.ordering",
        "inventory.science",
        "ortools",
    ),
    "sourcing/forecast": ("sourcing.forecast", "sourcing.week", "inventory.science", "numpy"),
    "sourcing/putting_by": (
        "sourcing.putting_by",
        "sourcing.week",
        "sourcing.forecast",
        "inventory.science",
    ),
    "sourcing/tracing": ("sourcing.tracing",),
    "sourcing/reminding": (
        "sourcing.reminding",
        "sourcing.ordering",
        "sourcing.week",
        "inventory.science",
    ),
    "sourcing/ordering": ("sourcing.ordering", "inventory.science", "holidays", "ortools"),
}
SIGNALS = ("django.dispatch", "django.db.models.signals", "django.core.signals")
# These two are the framework's word that tables are made; no row, and so no floor, speaks by them.
OF_TABLES = ("pre_migrate", "post_migrate")
# What reads a clock, the environment or chance. Any of them makes an answer that nobody can repeat.
CLOCKS = {"now", "today", "utcnow"}
IMPURE_MODULES = {"os", "time", "random", "secrets", "locale", "socket", "subprocess"}


def imports_up(root: Path) -> list[str]:
    """Imports that lead to a higher floor."""
    return [
        f"{place}: {floor} must not import {name}"
        for floor, path, tree in _sources(root)
        for place, name in _imports(root, path, tree)
        if _is_above(name.split(".")[0], floor)
    ]


def names_up(root: Path) -> list[str]:
    """Texts that name a model or module of a higher floor, as in `ForeignKey("sourcing.Run")`."""
    return [
        f"{place}: {floor} must not name {text}"
        for floor, path, tree in _sources(root)
        for place, text in _texts(root, path, tree)
        if re.fullmatch(r"[a-z]+(\.\w+)*", text) and _is_above(text.split(".")[0], floor)
    ]


def signals(root: Path) -> list[str]:
    """Uses of signals below `api`: a call that goes up without an import."""
    return [
        f"{place}: {floor} must not use {name}"
        for floor, path, tree in _sources(root)
        if floor != "api"
        for place, name in _imports(root, path, tree)
        if any(name == each or name.startswith(f"{each}.") for each in SIGNALS)
        and name.split(".")[-1] not in OF_TABLES
    ]


def keys_up(apps: Apps) -> list[str]:
    """Keys that lead up, and keys that cross a floor and can be walked back."""
    found = []
    for model in apps.get_models(include_auto_created=True):
        floor = model._meta.app_label
        for field in model._meta.get_fields(include_hidden=False):
            if floor not in FLOORS or not field.is_relation or not field.concrete:
                continue
            target = field.related_model._meta.app_label if field.related_model else floor
            if _is_above(target, floor):
                found.append(f"{_place_of(model, field.name)}: {floor} must not point at {target}")
            elif target in FLOORS and target != floor and not field.remote_field.hidden:
                found.append(f'{_place_of(model, field.name)}: write related_name="+"')
    return found


def migrations_up(migrations: Iterable[Migration]) -> list[str]:
    """Migrations that wait for one of a higher floor, or ask to go before one of a lower."""
    found = []
    for migration in migrations:
        floor = migration.app_label
        if floor not in FLOORS:
            continue
        file = inspect.getsourcefile(type(migration)) or "?"
        ups = [label for label, _ in migration.dependencies if _is_above(label, floor)]
        ups += [label for label, _ in migration.run_before if _is_above(floor, label)]
        found += [
            f"{file}:{_line_with(Path(file), label)}: {floor} must not wait for {label}"
            for label in ups
        ]
    return found


def impurities(root: Path) -> list[str]:
    """What the pure folders must not do: import anything else, read a clock or a setting."""
    found = []
    for folder, allowed in PURE.items():
        for path in sorted((root / folder).rglob("*.py")):
            tree = ast.parse(path.read_text(encoding="utf-8"))
            for place, name in _imports(root, path, tree):
                if not _is_pure(name, allowed):
                    found.append(f"{place}: {folder} must not import {name}")
            for node in _clock_readings(tree):
                found.append(f"{_place(root, path, node)}: {folder} must not ask .{node.attr}")
    return found


def _clock_readings(tree: ast.Module) -> Iterator[ast.Attribute]:
    """`x.now()` of anything, `datetime.now` handed on uncalled; a fact named `today` is let be."""
    called = {id(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr in CLOCKS:
            of_a_clock = ast.unparse(node.value).split(".")[-1] in {"datetime", "date"}
            if id(node) in called or of_a_clock:
                yield node


def _is_pure(name: str, allowed: tuple[str, ...]) -> bool:
    top = name.split(".")[0]
    if any(name == each or name.startswith(f"{each}.") for each in allowed):
        return True
    return top in sys.stdlib_module_names and top not in IMPURE_MODULES


def _is_above(other: str, floor: str) -> bool:
    if other not in ABOVE_ALL or floor not in ABOVE_ALL:
        return False
    return ABOVE_ALL.index(other) > ABOVE_ALL.index(floor)


def _sources(root: Path) -> Iterator[tuple[str, Path, ast.Module]]:
    for floor in FLOORS:
        for path in sorted((root / floor).rglob("*.py")):
            yield floor, path, ast.parse(path.read_text(encoding="utf-8"))


def _imports(root: Path, path: Path, tree: ast.Module) -> Iterator[tuple[str, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield _place(root, path, node), alias.name
        elif isinstance(node, ast.ImportFrom):
            package = path.relative_to(root).parent.parts
            start = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join([*start, *([node.module] if node.module else [])])
            for alias in node.names:
                yield _place(root, path, node), f"{module}.{alias.name}"


def _texts(root: Path, path: Path, tree: ast.Module) -> Iterator[tuple[str, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield _place(root, path, node), node.value


def _place(root: Path, path: Path, node: Any) -> str:
    return f"{path.relative_to(root)}:{node.lineno}"


def _place_of(model: type[models.Model], field: str) -> str:
    file = inspect.getsourcefile(model) or "?"
    lines, first = inspect.getsourcelines(model)
    inside = next((n for n, line in enumerate(lines) if re.match(rf"\s+{field}\b", line)), 0)
    return f"{file}:{first + inside}"


def _line_with(file: Path, label: str) -> int:
    lines = file.read_text(encoding="utf-8").splitlines()
    return next((n for n, line in enumerate(lines, 1) if re.search(rf"[\"']{label}", line)), 1)
