"""Pellitory Yard behind the pages, and what its pages and its JSON say of the worked Monday."""

from __future__ import annotations

from typing import Any

from django.test import Client
from justhtml import Element

from tests.api.web.pages import as_read, read
from tests.loaded import load_fixture

MONDAY = "2026-11-23T07:30"


def load(name: str = "pellitory-yard") -> None:
    """A studio of the fixtures, loaded from its notebook."""
    load_fixture(name)


def week_json(client: Client, **asked: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get("/api/v1/week/", {"at": MONDAY, **asked}).json()
    return found


def ticket(client: Client, run: str, **asked: str) -> str:
    """What the ticket of a run says, with single spaces."""
    tree = read(client.get("/", {"at": MONDAY, **asked}))
    return said(next(row for row in tree.query("article") if row.attrs["id"] == f"run-{run}"))


def said(node: Element) -> str:
    return as_read(node.to_text())
