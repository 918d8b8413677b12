"""Every operation says what it is for, what it takes and answers, and every way it refuses."""

from __future__ import annotations

import contextlib
import io
import re
from collections import Counter
from typing import Any

import pytest
from drf_spectacular.drainage import GENERATOR_STATS

from api.contract.paper import paper
from api.rest.contract import OPEN, WITH_BODY
from tests.api.contract.forms import PROBLEM, Found, contract, faults, operations

FOUND = list(operations())
NAMES = [f"{row.method} {row.path}" for row in FOUND]
each_operation = pytest.mark.parametrize("row", FOUND, ids=NAMES)


def test_writing_the_contract_down_warns_of_nothing() -> None:
    said = io.StringIO()

    with contextlib.redirect_stderr(said):
        paper()

    assert said.getvalue() == ""
    assert not GENERATOR_STATS


def test_no_two_operations_have_one_name() -> None:
    names = Counter(row.name for row in FOUND)

    assert [name for name, times in names.items() if times > 1] == []
    assert [name for name in names if not re.fullmatch(r"[a-z][a-z0-9_]*", name)] == []


@each_operation
def test_an_operation_says_what_it_is_for(row: Found) -> None:
    assert 5 < len(row.said["summary"]) < 120
    assert not row.said["summary"].endswith(".")
    assert row.said["description"]
    assert len(row.said["tags"]) == 1


@each_operation
def test_an_answer_and_a_body_have_an_example_of_their_form(row: Found) -> None:
    media = list(row.answer.get("content", {}).values())
    media += list(row.said.get("requestBody", {}).get("content", {}).values())

    for one in media:
        assert one["examples"], f"{row.name} shows no example"
        for example in one["examples"].values():
            assert faults(example["value"], one["schema"], closed=True) == []


@each_operation
def test_an_operation_says_every_way_in_which_it_is_refused(row: Found) -> None:
    refused = {status: said for status, said in row.said["responses"].items() if status[0] in "45"}
    wanted = {str(status) for status in OPEN}
    if row.said.get("security") != []:
        wanted |= {"401", "403", "404"}
    if "requestBody" in row.said:
        wanted |= {str(status) for status in WITH_BODY}
    if row.said.get("parameters"):
        wanted.add("400")

    assert wanted - set(refused) == set()
    for status, said in refused.items():
        name = said["$ref"].rpartition("/")[2]
        shared = contract()["components"]["responses"][name]
        assert name == f"Refused{status}"
        assert list(shared["content"]) == [PROBLEM]


def test_whoever_has_to_wait_is_told_for_how_long() -> None:
    responses = contract()["components"]["responses"]

    for status in ("429", "503"):
        assert "Retry-After" in responses[f"Refused{status}"]["headers"]
    assert "WWW-Authenticate" in responses["Refused401"]["headers"]


def test_what_is_written_down_once_is_there_wherever_it_is_pointed_at() -> None:
    pointed = set(_pointers(contract()))

    for pointer in pointed:
        place: Any = contract()
        for step in pointer.removeprefix("#/").split("/"):
            assert step in place, pointer
            place = place[step]


def _pointers(value: Any) -> list[str]:
    if isinstance(value, list):
        return [found for row in value for found in _pointers(row)]
    if not isinstance(value, dict):
        return []
    own = [value["$ref"]] if isinstance(value.get("$ref"), str) else []
    return own + [found for row in value.values() for found in _pointers(row)]
