"""Each kind of break is found with its place; what only adds is let through."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest

from api.contract.breaks import breaks
from api.contract.paper import COMMITTED, RELEASED

Change = Callable[[dict[str, Any]], object]
PAPER: dict[str, Any] = {
    "security": [{"token": []}, {"cookie": []}],
    "paths": {
        "/lots/": {
            "get": {
                "operationId": "lots",
                "parameters": [
                    {"name": "state", "in": "query",
                     "schema": {"type": "string", "enum": ["fresh", "dried"]}},
                    {"name": "limit", "in": "query",
                     "schema": {"type": "integer", "minimum": 1, "maximum": 200}},
                ],
                "responses": {
                    "200": {
                        "headers": {"ETag": {}},
                        "content": {"application/json": {"schema": {
                            "type": "object",
                            "required": ["lots"],
                            "properties": {
                                "lots": {"type": "array",
                                         "items": {"$ref": "#/components/schemas/Lot"}},
                                "more": {"type": "integer", "minimum": 0},
                            },
                        }}},
                    },
                    "404": {"$ref": "#/components/responses/Refused"},
                },
            },
        },
        "/lots/{code}/": {
            "post": {
                "operationId": "draw",
                "parameters": [
                    {"name": "code", "in": "path", "required": True,
                     "schema": {"type": "string", "maxLength": 40}},
                ],
                "requestBody": {"required": True, "content": {"application/json": {"schema": {
                    "type": "object",
                    "additionalProperties": False,
                    "required": ["grams"],
                    "properties": {
                        "grams": {"type": ["string", "number"]},
                        "note": {"type": "string", "maxLength": 200},
                        "why": {"enum": ["dye", "spill"]},
                    },
                }}}},
                "responses": {"200": {"description": "drawn"}},
            },
        },
    },
    "components": {
        "schemas": {"Lot": {
            "type": "object",
            "required": ["code", "left", "state"],
            "properties": {
                "code": {"type": "string"},
                "left": {"type": "string", "pattern": "^[0-9]+$"},
                "state": {"type": "string", "enum": ["fresh", "dried"]},
                "of": {"$ref": "#/components/schemas/Lot"},
            },
        }},
        "responses": {"Refused": {"content": {"application/problem+json": {"schema": {}}}}},
        "securitySchemes": {"token": {"type": "http", "scheme": "bearer"}},
    },
}  # fmt: skip


def read(paper: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = paper["paths"]["/lots/"]["get"]
    return found


def write(paper: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = paper["paths"]["/lots/{code}/"]["post"]
    return found


def body(paper: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = write(paper)["requestBody"]["content"]["application/json"]["schema"]
    return found


def answer(paper: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = read(paper)["responses"]["200"]["content"]["application/json"]["schema"]
    return found


def lot(paper: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = paper["components"]["schemas"]["Lot"]
    return found


def word(paper: dict[str, Any], number: int) -> dict[str, Any]:
    found: dict[str, Any] = read(paper)["parameters"][number]["schema"]
    return found


L, D = "GET /lots/", "POST /lots/{}/"
BREAKS: list[tuple[str, Change]] = [
    (f"{L}: is gone", lambda p: p["paths"].pop("/lots/")),
    (f"{D}: is gone", lambda p: p["paths"]["/lots/{code}/"].pop("post")),
    (f"{L}: is not called lots any more", lambda p: read(p).update(operationId="all_lots")),
    (f"{L}: answers 404 no more", lambda p: read(p)["responses"].pop("404")),
    (f"{L}: 200 has no ETag any more", lambda p: read(p)["responses"]["200"].pop("headers")),
    (
        f"{L}: 404 gives no application/problem+json any more",
        lambda p: p["components"]["responses"]["Refused"].update(content={"text/plain": {}}),
    ),
    (f"{L}: 200 /more is gone", lambda p: answer(p)["properties"].pop("more")),
    (f"{L}: 200 /lots: need not be there any more", lambda p: answer(p)["required"].clear()),
    (f"{L}: 200 /lots/*/left: need not be there any more",
     lambda p: lot(p)["required"].remove("left")),
    (f"{L}: 200 /lots/*/state: before, it may not be 'frozen'",
     lambda p: lot(p)["properties"]["state"]["enum"].append("frozen")),
    (f"{L}: 200 /lots/*/state: before, it may only be one of ['fresh', 'dried']",
     lambda p: lot(p)["properties"]["state"].pop("enum")),
    (f"{L}: 200 /lots/*/code: before, it may not be null",
     lambda p: lot(p)["properties"]["code"].update(type=["string", "null"])),
    (f"{L}: 200 /lots/*/code: before, it may not be null",
     lambda p: lot(p)["properties"].update(code={"anyOf": [{"type": "string"},
                                                           {"type": "null"}]})),
    (f"{L}: 200 /lots/*/left: before, it has another pattern",
     lambda p: lot(p)["properties"]["left"].update(pattern="^[0-9.]+$")),
    (f"{L}: 200 /more: before, it has a minimum of 0",
     lambda p: answer(p)["properties"]["more"].pop("minimum")),
    (f"{L}: wants studio in the query",
     lambda p: read(p)["parameters"].append({"name": "studio", "in": "query", "required": True})),
    (f"{L}: wants limit in the query", lambda p: read(p)["parameters"][1].update(required=True)),
    (f"{L}: knows limit in the query no more", lambda p: read(p)["parameters"].pop()),
    (f"{L}: limit in the query: has a maximum of 100", lambda p: word(p, 1).update(maximum=100)),
    (f"{L}: limit in the query: has a minimum of 2", lambda p: word(p, 1).update(minimum=2)),
    (f"{L}: state in the query: may not be 'dried' any more",
     lambda p: word(p, 0)["enum"].remove("dried")),
    (f"{D}: 1 in the path: has another pattern",
     lambda p: write(p)["parameters"][0]["schema"].update(pattern="^[A-Z]")),
    (f"{D}: body /why has to be there", lambda p: body(p)["required"].append("why")),
    (f"{D}: body /note is not known any more", lambda p: body(p)["properties"].pop("note")),
    (f"{D}: body /note has a maxLength of 100",
     lambda p: body(p)["properties"]["note"].update(maxLength=100)),
    (f"{D}: body /note has another format",
     lambda p: body(p)["properties"]["note"].update(format="uri")),
    (f"{D}: body /grams may not be number any more",
     lambda p: body(p)["properties"]["grams"].update(type=["string", "integer"])),
    (f"{D}: body /why may not be 'spill' any more",
     lambda p: body(p)["properties"]["why"]["enum"].remove("spill")),
    (f"{D}: takes no application/json any more",
     lambda p: write(p)["requestBody"].update(content={"text/csv": {"schema": {}}})),
    (f"{D}: takes no body any more", lambda p: write(p).pop("requestBody")),
    (f"{L}: wants a body", lambda p: read(p).update(requestBody={"required": True})),
    (f"{D}: does not let in with cookie any more",
     lambda p: write(p).update(security=[{"token": []}])),
    ("the way in “token” is gone or another one",
     lambda p: p["components"]["securitySchemes"]["token"].update(scheme="basic")),
]  # fmt: skip
ADDED: dict[str, Change] = {
    "nothing": lambda p: None,
    "an address": lambda p: p["paths"].update({"/jars/": read(p) and {"get": read(p)}}),
    "a method": lambda p: p["paths"]["/lots/"].update(delete=copy.deepcopy(write(p))),
    "another name in the address": lambda p: (
        write(p)["parameters"][0].update(name="lot"),
        p["paths"].update({"/lots/{lot}/": p["paths"].pop("/lots/{code}/")}),
    ),
    "a word": lambda p: read(p)["parameters"].append({"name": "site", "in": "query", "schema": {}}),
    "a wider word": lambda p: (
        word(p, 1).update(maximum=500),
        word(p, 0)["enum"].append("frozen"),
    ),
    "a member of an answer": lambda p: (
        lot(p)["properties"].update(site={"type": "string"}),
        lot(p)["required"].append("site"),
    ),
    "a narrower answer": lambda p: (
        lot(p)["properties"]["state"]["enum"].remove("dried"),
        answer(p)["required"].append("more"),
    ),
    "a member that may be sent": lambda p: body(p)["properties"].update(site={"type": "string"}),
    "a wider body": lambda p: (
        body(p)["properties"]["note"].update(maxLength=500, type=["string", "null"]),
        body(p)["properties"]["why"]["enum"].append("gift"),
        body(p)["required"].clear(),
    ),
    "a form moved to where it is shared": lambda p: (
        p["components"]["schemas"].update(Note=body(p)["properties"]["note"]),
        body(p)["properties"].update(note={"$ref": "#/components/schemas/Note"}),
    ),
    "a refusal": lambda p: read(p)["responses"].update({"429": {}}),
    "other words about it": lambda p: read(p).update(summary="Lots", description="All of them."),
    "a way in": lambda p: read(p).update(security=[{"token": []}, {"cookie": []}, {"key": []}]),
    "open to everyone": lambda p: read(p).update(security=[]),
}


@pytest.mark.parametrize(("sentence", "change"), BREAKS, ids=[row[0] for row in BREAKS])
def test_a_break_is_found_and_said(sentence: str, change: Change) -> None:
    now = copy.deepcopy(PAPER)
    change(now)

    assert sentence in breaks(PAPER, now)


@pytest.mark.parametrize("change", ADDED.values(), ids=ADDED.keys())
def test_what_only_adds_is_no_break(change: Change) -> None:
    now = copy.deepcopy(PAPER)
    change(now)

    assert breaks(PAPER, now) == []
    assert change is ADDED["nothing"] or json.dumps(now) != json.dumps(PAPER)


def test_an_operation_that_was_open_may_not_be_shut() -> None:
    was = copy.deepcopy(PAPER)
    read(was).update(security=[])

    assert breaks(was, PAPER) == [f"{L}: was open and wants somebody signed in"]


def test_nothing_that_programs_rely_on_is_broken() -> None:
    released = json.loads(RELEASED.read_text(encoding="utf-8"))
    committed = json.loads(COMMITTED.read_text(encoding="utf-8"))

    assert breaks(released, committed) == [], (
        "Serve what is new beside the old; python3 manage.py contract --release keeps additions."
    )
