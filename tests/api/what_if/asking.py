"""How tests ask a what-if, and what the answer says of one run."""

from __future__ import annotations

import json
from typing import Any

from django.test import Client

WEEK = "/api/v1/week/"
MONDAY = "2026-11-23T07:30"
Json = dict[str, Any]


def asked(*changes: Json, status: int = 200, studio: str = "", **more: Any) -> Json:
    """The answer to a what-if of the Monday, or of another moment."""
    body = json.dumps({"at": MONDAY, "changes": list(changes), **more})
    address = f"{WEEK}?studio={studio}" if studio else WEEK
    answer = Client().post(address, body, content_type="application/json")
    found: Json = answer.json()
    assert answer.status_code == status, found
    return found


def plain(**words: str) -> Json:
    """The week as it is."""
    found: Json = Client().get(WEEK, {"at": MONDAY, **words}).json()
    return found


def moved(answer: Json) -> list[str]:
    """Runs that move, by code."""
    return [row["run"] for row in answer["changed"] if row["moved"]]


def pointers(answer: Json) -> list[str]:
    """Where a refusal points."""
    return [row["pointer"] for row in answer["errors"]]
