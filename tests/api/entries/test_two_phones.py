"""Two phones without a signal, lost answers, batches sent again: nothing is lost or doubled."""

from __future__ import annotations

import random
import uuid
from typing import Any

import pytest
from django.test import Client

from api.models import Entry
from inventory.audit import audit
from inventory.models import Posting, Studio
from inventory.shelves import left_at
from tests.api.entries.larder import NOW, send

pytestmark = pytest.mark.usefixtures("yard")

LOT, THERE_MG = "NE-0620", 400_000  # the dried nettle of the notebook
AT_ONCE = 8


def _queue(chance: random.Random, phone: int) -> list[dict[str, Any]]:
    """A morning's draws of one phone, more than there is together with those of the other."""
    return [
        {
            "id": str(uuid.UUID(int=chance.getrandbits(128), version=4)),
            "verb": "draw",
            "occurred_at": f"2026-11-23T08:{chance.randrange(60):02}:{phone:02}+00:00",
            "takes": [{"lot": LOT, "amount": f"{chance.randrange(5, 60)} g"}],
        }
        for _ in range(8)
    ]


def _sent(client: Client, chance: random.Random, queue: list[dict[str, Any]]) -> dict[str, Any]:
    """A queue sent in pieces, some of whose answers got lost; the last answer to each."""
    waiting, answers = list(queue), dict[str, Any]()
    while waiting:
        chance.shuffle(waiting)
        piece = waiting[: chance.randrange(1, AT_ONCE)]
        heard = send(client, *piece).json()["answers"]
        if chance.random() < 0.4:
            continue  # the signal was gone before the answer came
        for row in heard:
            known = answers.setdefault(row["id"], row["entry"])
            assert known == row["entry"], "an answer changed"
        waiting = [entry for entry in waiting if entry["id"] not in answers]
    return answers


@pytest.mark.parametrize("seed", range(4))
def test_of_all_that_two_phones_recorded_nothing_is_lost_and_nothing_counts_twice(
    client: Client, seed: int
) -> None:
    chance = random.Random(seed)
    queues = [_queue(chance, phone) for phone in (1, 2)]
    studio = Studio.objects.get()
    before = Posting.objects.of(studio).filter(kind="draw").count()

    answers = {}
    for queue in queues:
        answers |= _sent(client, chance, queue)

    every = {entry["id"]: entry for queue in queues for entry in queue}
    assert set(answers) == set(every)
    recorded = {key for key, row in answers.items() if row["state"] == "recorded"}
    drawn_mg = sum(_mg(every[key]) for key in recorded)
    left_mg = left_at(studio, LOT, at=NOW).amount
    assert left_mg == THERE_MG - drawn_mg >= 0
    for key in set(every) - recorded:
        assert answers[key]["state"] == "needs a look"
        assert answers[key]["problem"]["code"] == "not_enough"
        assert _mg(every[key]) > left_mg
    assert Posting.objects.of(studio).filter(kind="draw").count() == before + len(recorded)
    assert Entry.objects.of(studio).count() == len(every)
    assert audit(studio) == []


def _mg(entry: dict[str, Any]) -> int:
    return int(entry["takes"][0]["amount"].split()[0]) * 1000
