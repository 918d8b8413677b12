"""A delivery ended by SIGKILL while it is weighed in: on the shelf whole or not at all, once.

Four kills in every build; twenty with DYE_LARDER_LONG=1.
"""

from __future__ import annotations

import random
import time
from collections import Counter
from pathlib import Path
from uuid import uuid4

import pytest

from tests.faults.killing import copied, kill, measured, wait_for_writing
from tests.faults.places import LONG, Larder, larder, printed

KILLS = 20 if LONG else 4
SEED = 31
CONFIRMED = """
import django
django.setup()
from django.core.management import call_command
from inventory.models import Studio
from tests.api.web.market import with_suppliers
with_suppliers(Studio.objects.get())
for words in (
    ("write", "near shop", "4 x wool yarn"),
    ("sent", "2026-001"),
    ("confirmed", "2026-001", "30 Nov 2026"),
):
    call_command("order", *words, at="2026-11-23T08:00")
"""
CAME = "SELECT count(*), sum(net_mg) FROM sourcing_deliveryline"
LOTS = "SELECT count(*) FROM inventory_lot WHERE code = 'W-101'"


@pytest.mark.usefixtures("db")
def test_a_delivery_that_is_killed_comes_in_whole_or_not_at_all_and_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seen: Counter[str] = Counter()
    spread = random.Random(SEED)
    with larder(tmp_path / "yard", loaded=True) as yard:
        _confirmed(yard)
        with copied(yard, tmp_path / "whole") as place:
            writing_s = measured(place.begun(*_came(str(uuid4()))), place).writing_s
        for number in range(KILLS):
            with copied(yard, tmp_path / f"killed-{number}") as place:
                seen[_killed(place, spread.uniform(0, 1.5 * writing_s))] += 1

    with capsys.disabled():
        print(f"\ndelivery, {KILLS} kills: {dict(sorted(seen.items()))}")


def _confirmed(yard: Larder) -> None:
    """An order, sent and confirmed."""
    process = yard.begun("-c", CONFIRMED)
    _, told = process.communicate(timeout=180)
    assert (process.returncode, told) == (0, "")


def _came(entry: str) -> tuple[str, ...]:
    return ("manage.py", "order", "came", "2026-001", "--line", "1", "4", "4,010 g", "W-101",
            "--at", "2026-11-30T09:00", "--entry", entry)  # fmt: skip


def _killed(place: Larder, after_s: float) -> str:
    """How far a delivery had come when it was killed; then the same entry once more."""
    entry = str(uuid4())
    process = place.begun(*_came(entry))
    wait_for_writing(process, place)
    time.sleep(after_s)
    inside, _ = kill(process, place)
    kept = place.rows(CAME)[0][0] == 1
    assert (place.rows(CAME)[0][0], place.value(LOTS)) in ((0, 0), (1, 1))

    said = printed(place.called(*_came(entry)[1:]))

    assert "RECEIVED" in said
    assert [int(cell) for cell in place.rows(CAME)[0]] == [1, 4_010_000]
    assert place.value(LOTS) == 1
    assert place.is_sound()
    if kept:
        return "after its commit"
    return "in its transaction, nothing kept" if inside else "before its transaction"
