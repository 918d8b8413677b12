"""The week as JSON: its names for good, its values for the worked week."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from api.rest.week import week_as_json
from sourcing.week.flags import flags_of
from sourcing.week.plan import Reason, Week
from sourcing.week.sums import sums_of
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.pellitory_answers import ANSWERS, NETTLE, UNTIL, WEEK, old_rose

DEMO = replace(
    WEEK, flags=flags_of(FACTS, ANSWERS, until=UNTIL), sums=sums_of(FACTS, ANSWERS, until=UNTIL)
)
NAMES: dict[str, list[str]] = {
    "": ["studio", "at", "until", "runs", "flags", "days", "sums"],
    "runs": [
        "code", "shade", "answer", "first_step_at", "dry_at", "begun_at", "steps", "takes",
        "waits_for", "short", "jobs", "enough", "unlocks", "unlocks_all_tried", "top_up_l",
        "warnings",
    ],
    "steps": [
        "step", "load", "vessel", "ring", "from", "to", "hands_on_min", "done_at", "late_since",
        "shared_with",
    ],
    "takes": ["from", "amount", "unit", "length_m", "carried"],
    "waits_for": ["kind", "what", "until", "text"],
    "short": ["what", "amount", "unit", "pieces", "text"],
    "jobs": ["what", "by", "text"],
    "flags": ["kind", "what", "by", "text"],
    "days": ["date", "hands_on_min", "hands_available_min", "line"],
    "line": ["from", "kg"],
}  # fmt: skip


NO_CLOTH = {"length_m": None, "carried": None}


def shown(week: Week = DEMO) -> dict[str, Any]:
    """The week as a program reads it."""
    read: dict[str, Any] = json.loads(json.dumps(week_as_json(week), ensure_ascii=False))
    return read


def run(code: str, week: Week = DEMO) -> dict[str, Any]:
    return next(row for row in shown(week)["runs"] if row["code"] == code)


def test_every_name_is_there_and_no_other() -> None:
    week = shown()
    found: dict[str, list[dict[str, Any]]] = {"": [week]}
    for name in ("runs", "flags", "days"):
        found[name] = week[name]
    for name in ("steps", "takes", "waits_for", "short", "jobs"):
        found[name] = [row for each in week["runs"] for row in each[name]]
    found["line"] = [row for day in week["days"] for row in day["line"]]

    for name, keys in NAMES.items():
        assert found[name], name
        assert all(list(row) == keys for row in found[name]), name


def test_moments_carry_the_studios_offset() -> None:
    text = json.dumps(shown())

    assert (shown()["at"], shown()["until"]) == (
        "2026-11-23T07:30:00+00:00",
        "2026-11-30T00:00:00+00:00",
    )
    assert not re.search(r"T\d\d:\d\d:\d\d(?![+-]\d\d:\d\d)", text)


def test_an_offset_follows_the_studios_clock_and_not_the_servers() -> None:
    at = datetime(2026, 7, 6, 7, 30, tzinfo=ZoneInfo("Europe/London"))
    week = Week("Yard", at, datetime(2026, 7, 12, 23, tzinfo=UTC), ())

    assert shown(week)["at"] == "2026-07-06T07:30:00+01:00"
    assert shown(week)["until"] == "2026-07-13T00:00:00+01:00"


def test_blush_has_its_hours_pots_and_takes() -> None:
    blush = run("A")

    assert blush["first_step_at"] == "2026-11-23T09:00:00+00:00"
    assert blush["dry_at"] == "2026-11-28T10:00:00+00:00"
    assert blush["steps"][0] == {
        "step": "scour",
        "load": 1,
        "vessel": "P1",
        "ring": "R1",
        "from": "2026-11-23T09:00:00+00:00",
        "to": "2026-11-23T10:48:00+00:00",
        "hands_on_min": 30,
        "done_at": None,
        "late_since": None,
        "shared_with": [],
    }
    assert blush["takes"][-1] == {"from": "AV-0911", "amount": "1820", "unit": "g"} | NO_CLOTH
    assert blush["jobs"] == [
        {"what": "freeze AV-1116", "by": "2026-11-23", "text": "freeze AV-1116 today"}
    ]


def test_amounts_are_exact_text_in_the_unit_that_fits() -> None:
    assert run("A")["takes"][0] == {"from": "W-88", "amount": "2105.263", "unit": "g"} | NO_CLOTH
    assert run("D")["takes"][-1] == {"from": "J2", "amount": "200", "unit": "mL"} | NO_CLOTH


def test_a_step_without_pot_or_ring_says_null() -> None:
    rinse = run("A")["steps"][-1]

    assert (rinse["step"], rinse["vessel"], rinse["ring"]) == ("rinse", None, None)


def test_old_rose_is_short_in_grams_and_stones() -> None:
    rose = run("B")

    assert (rose["answer"], rose["first_step_at"], rose["dry_at"]) == ("no", None, None)
    assert rose["short"][0]["amount"] == "2034"
    assert rose["short"][0]["pieces"] == 49
    assert rose["waits_for"][0]["until"] == "2026-11-30T00:00:00+00:00"


def test_a_run_that_fits_only_later_has_its_hours_too() -> None:
    grey = run("E")

    assert grey["answer"] == "not yet"
    assert grey["first_step_at"] == "2026-11-30T13:00:00+00:00"
    assert grey["dry_at"] == "2026-12-03T15:00:00+00:00"


def test_a_bath_made_for_a_run_is_one_of_its_steps() -> None:
    twice = replace(DEMO, answers=tuple(
        replace(row, steps=(*row.steps, NETTLE)) if row.run == "F" else row for row in ANSWERS
    ))  # fmt: skip

    steps = [row["step"] for row in run("F")["steps"]]

    assert steps == ["make nettle bath", "group day"]
    assert run("F", twice) == run("F")


def test_flags_and_days_come_as_dates() -> None:
    week = shown()

    assert week["flags"][0]["by"] == "2026-11-23"
    assert [row["by"] for row in week["flags"] if row["kind"] == "pot"] == [None]
    assert week["days"][3] == {
        "date": "2026-11-26",
        "hands_on_min": 200,
        "hands_available_min": 600,
        "line": [
            {"from": "2026-11-26T00:00:00+00:00", "kg": "0.4"},
            {"from": "2026-11-26T10:00:00+00:00", "kg": "2.4"},
            {"from": "2026-11-26T16:00:00+00:00", "kg": "2"},
        ],
    }


def test_what_bars_a_run_whatever_the_hour_stands_among_what_it_waits_for() -> None:
    card = Reason("shade card", "Old Rose", "shade card for Old Rose on linen is not approved yet")
    loss = Reason("scour", "linen", "3,409 g unscoured", figure="linen, scour_loss_fraction = 0.12")
    reading = old_rose().waits_for[0]
    barred = replace(old_rose(), reasons=(reading, card, loss), barred=(reading, card))

    rows = run("B", replace(WEEK, answers=(barred,)))["waits_for"]

    assert [row["kind"] for row in rows] == ["reading", "shade card"]
    assert rows[1]["until"] is None


def test_the_figures_that_decided_are_named_with_whose_they_are() -> None:
    loss = Reason("scour", "linen", "3,409 g", figure="linen, scour_loss_fraction = 0.12", own=True)
    week = replace(WEEK, answers=(replace(old_rose(), reasons=(loss,)),))

    assert shown(week)["sums"]["decided_by"] == [
        {
            "run": "B",
            "kind": "scour",
            "what": "linen",
            "text": "3,409 g",
            "figure": "linen, scour_loss_fraction = 0.12",
            "own": True,
        }
    ]


def test_sums_stand_beside_the_answers() -> None:
    assert shown()["sums"]["dyestuffs"][0]["after_claims_g"] == "3966"


def test_notes_of_a_run_are_kept_beside_the_stable_names() -> None:
    week = replace(WEEK, answers=(replace(old_rose(), notes=("2 rounds of 1.5 kg",)),))

    assert shown(week)["sums"]["notes"] == [{"run": "B", "text": "2 rounds of 1.5 kg"}]
