"""The proof from scratch: what was tampered with is named, the first bad row first."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import StringIO
from uuid import uuid4

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from inventory import guards, ledger
from inventory.audit import audit, tail
from inventory.models import Movement, Posting, Seal, Sealed, Studio
from inventory.seal import seal, seal_all
from tests.inventory.larder import BENCH, DAY, MONDAY_NINE, G, stones
from tests.inventory.raw import execute, key


@pytest.fixture
def unguarded(db: None) -> Iterator[None]:
    """A database whose guards somebody took down; its tables' own rules stand."""
    connection.check_constraints()
    guards.take_down()
    yield
    connection.check_constraints()
    guards.put_up()


def _some_days(studio: Studio) -> None:
    stones(studio)
    for grams in (100, 200, 300):
        ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE + DAY, takes=[("AV-1116", grams * G)])
    ledger.put_by(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        lot="AV-1116",
        state="dried",
        place=BENCH,
        becomes=500 * G,
    )


def _rules(studio: Studio) -> list[str]:
    return [fault.rule for fault in audit(studio) if fault.studio]


def test_an_honest_ledger_has_no_fault(studio: Studio, other: Studio) -> None:
    _some_days(studio)
    stones(other)
    seal_all(studio, batch=2)

    assert audit() == []


def test_the_tail_is_what_no_seal_covers(studio: Studio) -> None:
    _some_days(studio)
    # Two that were written down within one tick of the database's clock stand in either order.
    recorded = [posting.pk for posting in tail(studio)]
    seal(studio, at_most=3)

    assert len(recorded) == 5
    assert [posting.pk for posting in tail(studio)] == recorded[3:]
    assert seal_all(studio) == 2
    assert tail(studio) == []
    assert seal(studio) is None


def test_seals_follow_each_other(studio: Studio) -> None:
    _some_days(studio)
    seal_all(studio, batch=2)

    seals = list(Seal.objects.of(studio))

    assert [one.postings for one in seals] == [2, 2, 1]
    assert [one.digest_before for one in seals[1:]] == [one.digest for one in seals[:-1]]
    assert Sealed.objects.of(studio).count() == 5


def test_a_guard_that_is_down_is_a_fault(studio: Studio, unguarded: None) -> None:
    faults = audit(studio)

    assert {fault.rule for fault in faults} == {"guards_are_up"}
    assert "Run migrate." in faults[0].text


def test_a_changed_note_breaks_its_seal_and_is_named(studio: Studio, unguarded: None) -> None:
    _some_days(studio)
    seal_all(studio, batch=2)
    wrong = Posting.objects.of(studio).filter(kind="draw").order_by("recorded_at")[1]
    execute("UPDATE inventory_posting SET note = 'for me' WHERE id = %s", key(wrong.pk))

    faults = [fault for fault in audit(studio) if fault.studio]

    assert [(fault.rule, fault.row) for fault in faults] == [
        ("sealed_as_it_was_written", f"posting {wrong.pk}")
    ]
    assert re.search(r"not as it was when seal \d was made", faults[0].text)


def test_a_changed_detail_breaks_the_seal(studio: Studio, unguarded: None) -> None:
    _some_days(studio)
    seal_all(studio)
    execute("UPDATE inventory_stay SET state = 'frozen'")

    assert _rules(studio) == ["sealed_as_it_was_written"]


def test_what_was_slipped_in_under_a_seal_shows(studio: Studio, unguarded: None) -> None:
    _some_days(studio)
    seal_all(studio)
    execute("UPDATE inventory_sealed SET place = place + 1 WHERE place = 5")

    assert _rules(studio) == ["sealed_as_it_was_written"]


def test_a_draw_made_smaller_afterwards_is_named(studio: Studio, unguarded: None) -> None:
    _some_days(studio)
    last = Movement.objects.of(studio).order_by("number").last()
    assert last is not None
    execute(
        "UPDATE inventory_movement SET amount = amount + 5, left_after = left_after + 5, "
        "counted = NULL WHERE id = %s",
        last.pk,
    )

    faults = [fault for fault in audit(studio) if fault.studio]

    assert [fault.rule for fault in faults] == ["posting_holds"]
    assert "avocado stones: 5 more came out than went in" in faults[0].text


def test_a_posting_dated_before_its_lot_is_named(studio: Studio, unguarded: None) -> None:
    _some_days(studio)
    early = MONDAY_NINE - DAY
    moment = early.replace(tzinfo=None) if connection.vendor == "sqlite" else early
    execute("UPDATE inventory_posting SET occurred_at = %s WHERE kind = 'put by'", moment)

    (fault,) = (fault for fault in audit(studio) if fault.studio)

    assert "dated before lot AV-1116 began" in fault.text


@pytest.mark.needs_sqlite
def test_a_broken_sum_names_the_first_bad_row(studio: Studio, unguarded: None) -> None:
    _some_days(studio)
    execute("PRAGMA ignore_check_constraints = ON")
    last = Movement.objects.of(studio).order_by("number").last()
    assert last is not None
    execute("UPDATE inventory_movement SET amount = 7, counted = NULL WHERE id = %s", last.pk)
    execute("PRAGMA ignore_check_constraints = OFF")

    first = next(fault for fault in audit(studio) if fault.studio)

    assert (first.rule, first.row) == ("movements_follow_each_other", f"movement {last.pk}")
    assert "580000 and 7 do not make 500000" in first.text


@pytest.mark.needs_postgres
def test_a_broken_chain_names_the_first_bad_row(studio: Studio, unguarded: None) -> None:
    _some_days(studio)
    execute("SET LOCAL session_replication_role = replica")
    execute("UPDATE inventory_movement SET number = 9, follows = 8 WHERE number = 5")
    execute("UPDATE inventory_movement SET studio_id = studio_id + 1000 WHERE number = 2")
    execute("SET LOCAL session_replication_role = DEFAULT")

    faults = [fault for fault in audit(studio) if fault.studio]

    assert faults[0].rule == "movements_follow_each_other"
    assert "number 3 follows number 1" in faults[0].text
    assert any("number 9 follows number 4" in fault.text for fault in faults)
    execute("SET LOCAL session_replication_role = replica")
    execute("UPDATE inventory_movement SET studio_id = studio_id - 1000 WHERE number = 2")
    execute("SET LOCAL session_replication_role = DEFAULT")


def test_the_command_says_that_all_holds_and_shows_the_tail(studio: Studio) -> None:
    _some_days(studio)
    seal(studio, at_most=3)
    said = StringIO()

    call_command("audit", stdout=said)

    assert said.getvalue().startswith(
        "Pellitory Yard: all holds, 5 entries, 2 not sealed yet, since "
    )


def test_the_command_seals_what_holds(studio: Studio, other: Studio) -> None:
    _some_days(studio)
    stones(other)
    said = StringIO()

    call_command("audit", "--studio", "Pellitory Yard", "--seal", stdout=said)

    assert said.getvalue() == "Pellitory Yard: all holds, 5 entries, 0 not sealed yet.\n"
    assert len(tail(other)) == 1


def test_the_command_fails_with_the_first_bad_row(studio: Studio, unguarded: None) -> None:
    with pytest.raises(CommandError, match="the first bad row is"):
        call_command("audit", stdout=StringIO())


def test_the_command_names_the_studios_there_are(studio: Studio) -> None:
    with pytest.raises(CommandError, match=r"called “Elsewhere”\. There are: Pellitory Yard\.$"):
        call_command("audit", "--studio", "Elsewhere", stdout=StringIO())


@pytest.mark.needs_sqlite
def test_guards_come_back_after_a_table_is_made_anew(studio: Studio) -> None:
    guards.take_down()
    assert len(guards.missing()) > 60

    guards.put_up()

    assert guards.missing() == []
