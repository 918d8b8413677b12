"""A row of a notebook as JSON and back, with the steps and doses of a recipe within it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from zoneinfo import ZoneInfo

from rest_framework.exceptions import ValidationError

from api.notebook_rows.cells import CellUnreadable, Json, cell_as_json, cell_from_json
from api.notebook_rows.names import member, members_of, members_within, parts_of
from api.rest.fields import Field, FieldsUnclear, pointer_part, unfit
from inventory.science.saying import say
from sourcing.notebook.one_row import KeptRow, Wanted
from sourcing.notebook.page import Column, Page
from sourcing.notebook.problem import NotebookRefused, Problem, printable

Wrong = dict[str, Any]
MOST_PARTS = 400  # steps or doses of one recipe


def row_as_json(kept: KeptRow, zone: ZoneInfo) -> Json:
    """What a row says, a member a column; of a recipe also its steps and doses."""
    said = _members(kept, members_of(kept.page), zone)
    for part in parts_of(kept.page):
        known = members_within(part)
        said[part.name] = [_members(row, known, zone) for row in kept.parts[part.name]]
    return said


def wanted_from_json(page: Page, body: object) -> Wanted:
    """What a body wants to be written in a row.

    Raises
    ------
    ValidationError
        If it is no object, or a member can be no cell.
    FieldsUnclear
        If the page has no column of that name.
    """
    if not isinstance(body, dict):
        raise unfit(say("Send an object with a member for each column."))
    pages = {part.name: part for part in parts_of(page)}
    plain = {name: said for name, said in body.items() if name not in pages}
    wrong: Wrong = {}
    _check_known(page, body)
    cells = _cells(plain, members_of(page), wrong)
    parts = {}
    for name in pages.keys() & body.keys():
        parts[name] = _parts(name, body[name], members_within(pages[name]), wrong)
    if wrong:
        raise ValidationError(wrong)
    return Wanted(cells, {name: parts[name] for name in pages if name in parts})


def refused_fields(page: Page, refused: NotebookRefused) -> FieldsUnclear:
    """What is wrong with a row, each with the place in the body that it is about."""
    return FieldsUnclear([_field(page, problem) for problem in refused.problems])


def _members(kept: KeptRow, known: Mapping[str, Column], zone: ZoneInfo) -> Json:
    return {
        name: cell_as_json(column, kept.row.values.get(column.name), kept.cells[column.name], zone)
        for name, column in known.items()
    }


def _check_known(page: Page, body: Mapping[str, object]) -> None:
    """Refuse members that are no columns; which there are hangs on the page, not on the form."""
    parts = parts_of(page)
    unknown = _unknown("", body, [*members_of(page), *(part.name for part in parts)])
    for part in parts:
        rows = body.get(part.name)
        for number, row in enumerate(rows if isinstance(rows, list) else ()):
            if isinstance(row, dict):
                unknown += _unknown(f"/{part.name}/{number}", row, [*members_within(part)])
    if unknown:
        raise FieldsUnclear(unknown)


def _unknown(where: str, said: Mapping[str, object], known: Sequence[str]) -> list[Field]:
    note = say("There is no such member. There are {join}.", join=", ".join(known))
    return [(f"{where}/{pointer_part(name)}", note) for name in said if name not in known]


def _cells(said: Mapping[str, object], known: Mapping[str, Column], wrong: Wrong) -> dict[str, str]:
    cells = {}
    for name, value in said.items():
        try:
            cells[known[name].name] = cell_from_json(value)
        except CellUnreadable as unreadable:
            wrong[name] = [str(unreadable)]
    return cells


def _parts(
    name: str, said: object, known: Mapping[str, Column], wrong: Wrong
) -> list[dict[str, str]]:
    if not isinstance(said, list) or not all(isinstance(part, dict) for part in said):
        wrong[name] = ["Send a list of objects."]
        return []
    if len(said) > MOST_PARTS:
        wrong[name] = [
            say(
                "There are {count:,}; send at most {most_parts}.",
                count=len(said),
                most_parts=MOST_PARTS,
            )
        ]
        return []
    faults: list[Wrong] = [{} for _ in said]
    cells = [_cells(part, known, fault) for part, fault in zip(said, faults, strict=True)]
    if any(faults):
        wrong[name] = faults
    return cells


def _field(page: Page, problem: Problem) -> Field:
    stands = printable(problem.stands)
    said = (
        say("{stands} stands there. {write}", stands=stands, write=problem.write)
        if stands
        else problem.write
    )
    where = f"/{pointer_part(member(problem.column))}" if problem.column else ""
    if problem.file == page.file:
        return where, said
    for part in parts_of(page):
        if problem.file == part.file and problem.line:
            return f"/{part.name}/{problem.line - 1}{where}", said
    return "", str(problem)
