"""Every verb takes its own example in the demo studio, and says what it did."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from django.test import Client

from api.entries.registry import VERBS
from inventory.models import Studio
from sourcing.models import Offer
from tests.api.entries.larder import enter

pytestmark = pytest.mark.usefixtures("yard")


def test_every_example_is_taken_and_found_again_under_its_id(client: Client) -> None:
    label = enter(client, "label", lot="CB-1121", id=VERBS["correct"].example["corrects"])
    assert label.status_code == 201
    faults = []

    for minute, (name, verb) in enumerate(VERBS.items()):
        at = f"2026-11-23T{9 + minute // 60:02}:{minute % 60:02}+00:00"
        answered = enter(client, name, occurred_at=at, **_as_here(verb.example))
        if answered.status_code != 201:
            faults.append((name, answered.json()))
            continue
        said = answered.json()
        kept = client.get(f"/api/v1/entries/{said['id']}/")
        assert kept.json() == said, name
        assert (said["verb"], said["state"]) == (name, "recorded")

    assert faults == []


def _as_here(example: Mapping[str, Any]) -> dict[str, Any]:
    """An example with the keys that offers have in this larder."""
    studio = Studio.objects.get()
    far = Offer.objects.of(studio).get(supplier__name="far mill").pk
    said = dict(example)
    if "offer" in said:
        said["offer"] = far
    if "lines" in said:
        said["lines"] = [{**line, "offer": far} for line in said["lines"]]
    return said
