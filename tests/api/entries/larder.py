"""Pellitory Yard as a program enters things into it."""

from __future__ import annotations

import uuid
from datetime import UTC, datetime
from typing import Any

from django.http import HttpResponse
from django.test import Client

from api.entries.registry import VERBS
from tests.api.web.yard import load

NOW = datetime(2026, 11, 23, 9, 0, tzinfo=UTC)
THEN = "2026-11-23T08:30+00:00"


def enter(client: Client, verb: str, **said: Any) -> Any:
    """One entry sent by itself, with an id of its own where none is given."""
    body = {"id": str(uuid.uuid4()), "occurred_at": THEN, **said}
    return client.post(f"/api/v1/entries/{verb}/", body, content_type="application/json")


def send(client: Client, *entries: dict[str, Any], **more: Any) -> Any:
    """A batch, each entry with an id and a moment of its own where none is given."""
    bodies = [{"id": str(uuid.uuid4()), "occurred_at": THEN, **entry} for entry in entries]
    body = {"entries": bodies, **more}
    return client.post("/api/v1/entries/", body, content_type="application/json")


def left_of(client: Client, lot: str) -> dict[str, Any]:
    """What is left of a lot, as the last entry about it said."""
    answered: HttpResponse = enter(client, "draw", takes=[{"lot": lot, "amount": "1 g"}])
    moved = answered.json()["moved"][0]
    return moved["left"]


__all__ = ["NOW", "THEN", "VERBS", "enter", "left_of", "load", "send"]
