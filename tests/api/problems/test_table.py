"""Every code that a program may be told has one class and one row, and its `type` is a page."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client
from rest_framework import exceptions

from api.problems.address import address_of
from api.problems.table import problem_called, problems
from tests.api.web.pages import sound, words

ROOT = Path(__file__).resolve().parents[3]
FLOORS = ("api", "sourcing", "inventory")
ANSWERED = {"problem_answer": 1, "problem_body": 1}  # which argument is the code
# What every field of a body is refused with has one code of ours, and the bare class is no refusal.
NOT_SAID = {exceptions.ValidationError.default_code, exceptions.APIException.default_code}


def _nodes() -> Iterator[ast.AST]:
    for floor in FLOORS:
        for path in (ROOT / floor).rglob("*.py"):
            yield from ast.walk(ast.parse(path.read_text(encoding="utf-8")))


def _classes() -> list[tuple[str, str]]:
    """Code and name of each class that has a code."""
    return [
        (line.value.value, node.name)
        for node in _nodes()
        if isinstance(node, ast.ClassDef)
        for line in node.body
        if isinstance(line, ast.Assign)
        and isinstance(line.targets[0], ast.Name)
        and line.targets[0].id == "code"
        and isinstance(line.value, ast.Constant)
        and isinstance(line.value.value, str)
    ]


def _answered() -> set[str]:
    """Codes that are answered without a class of ours."""
    return {
        code.value
        for node in _nodes()
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and (place := ANSWERED.get(node.func.id)) is not None
        and isinstance(code := node.args[place], ast.Constant)
    }


def _of_framework() -> set[str]:
    return {
        str(found.default_code)
        for found in vars(exceptions).values()
        if isinstance(found, type) and issubclass(found, exceptions.APIException)
    } - NOT_SAID


def test_no_two_classes_have_one_code() -> None:
    often = {code for code, count in Counter(code for code, _ in _classes()).items() if count > 1}

    assert sorted(row for row in _classes() if row[0] in often) == []


def test_every_code_has_a_row_that_says_what_it_means() -> None:
    codes = {code for code, _ in _classes()} | _answered() | _of_framework()

    assert len(codes) > 100
    assert sorted(code for code in codes if problem_called(code) is None) == []


def test_every_row_is_of_a_code_that_something_is_answered_with() -> None:
    texts = {
        node.value
        for node in _nodes()
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }

    assert sorted(problems().keys() - texts - _of_framework()) == []


def test_rows_stand_in_the_order_of_the_alphabet_and_speak_in_sentences() -> None:
    rows = list(problems().values())

    assert [row.code for row in rows] == sorted(row.code for row in rows)
    assert [row.code for row in rows if not 400 <= row.status < 600] == []
    assert [row.code for row in rows if row.title.endswith(".")] == []
    said = [(row.code, text) for row in rows for text in (row.means, row.do, row.example)]
    assert [row for row in said if not row[1].endswith(".")] == []


@pytest.mark.parametrize("code", ["not_enough", "fields_unclear"])
def test_the_type_of_a_problem_is_a_page_that_says_what_to_do(client: Client, code: str) -> None:
    problem = problem_called(code)
    assert problem is not None

    page = client.get(address_of(problem))

    assert page.status_code == 200
    assert sound(page) == []
    for said in (problem.title, problem.means, problem.do, problem.example, problem.code):
        assert said in words(page)
    assert f"Status {problem.status.value} {problem.status.phrase}" in words(page)


def test_the_list_leads_to_the_page_of_every_problem(client: Client) -> None:
    page = client.get("/problems/")

    assert sound(page) == []
    for problem in problems().values():
        assert f'href="{address_of(problem)}"' in page.content.decode()
        assert client.get(address_of(problem)).status_code == 200


@pytest.mark.parametrize("slug", ["no-such-problem", "not_enough", "Not-Enough"])
def test_a_problem_that_nobody_described_has_no_page(client: Client, slug: str) -> None:
    assert client.get(f"/problems/{slug}/").status_code == 404


def test_the_pages_ask_nothing_of_a_studio(client: Client) -> None:
    assert client.get("/problems/", {"studio": "Nowhere"}).status_code == 400
    assert client.get("/problems/not-enough/", {"at": "lots"}).status_code == 400
