"""The text sheet: the worked week whole, then what must hold for any week."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

from api.sheet import COLUMNS, MARKS, sheet
from sourcing.week.flags import flags_of
from sourcing.week.plan import Day, Flag, LineLoad, Reason, Week
from sourcing.week.sums import sums_of
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.pellitory_answers import ANSWERS, NETTLE, UNTIL, WEEK, blush, old_rose

EXPECTED = Path(__file__).with_name("sheet_of_pellitory.txt")
DEMO = replace(
    WEEK, flags=flags_of(FACTS, ANSWERS, until=UNTIL), sums=sums_of(FACTS, ANSWERS, until=UNTIL)
)
EMPTY = Week("Quiet Yard", WEEK.at, WEEK.until, ())

# JOB.md section 8: words of office software, as far as they mean nothing else in this trade.
OFFICE = (
    "sku", "asset", "entity", "object", "record", "warehouse", "bin", "pallet", "ticket",
    "backlog", "sprint", "workflow", "status", "dashboard", "widget", "resource", "capacity",
    "utilisation", "throughput", "fifo", "fefo", "allocate", "vendor", "customer", "purchase",
    "batch", "quarantine", "expire", "expired", "stock", "user", "task", "sync", "null", "none",
)  # fmt: skip


def lines(week: Week) -> list[str]:
    return sheet(week).splitlines()


def test_the_worked_week_comes_out_whole() -> None:
    assert sheet(DEMO) == EXPECTED.read_text(encoding="utf-8")


def test_flags_come_first_then_runs_then_days() -> None:
    heads = [line.split()[0] for line in lines(DEMO) if line and not line.startswith(" ")]

    assert heads == ["Pellitory", "SEE", "RUNS", "DAYS", "AHEAD", "CAUTIONS"]


def test_no_line_is_longer_than_a_hundred_columns() -> None:
    assert max(map(len, lines(DEMO))) <= COLUMNS


def test_every_answer_is_a_mark_and_a_word() -> None:
    text = sheet(DEMO)

    assert len(set(MARKS.values())) == 3
    for answer in ANSWERS:
        start = f"  {MARKS[answer.answer]} {answer.run:<3} {answer.shade}: {answer.answer.upper()}"
        assert start in text


def test_a_yes_says_how_many_jobs_it_asks_for() -> None:
    job = blush().jobs[0]

    def first(count: int) -> str:
        return lines(replace(EMPTY, answers=(replace(blush(), jobs=(job,) * count),)))[3]

    assert [first(count) for count in (0, 1, 2, 11)] == [
        "  ● A   Blush: YES",
        "  ● A   Blush: YES, WITH A JOB",
        "  ● A   Blush: YES, WITH TWO JOBS",
        "  ● A   Blush: YES, WITH 11 JOBS",
    ]


def test_words_of_office_software_do_not_appear() -> None:
    words = set(re.findall(r"[a-z]+", sheet(DEMO).lower()))

    assert words & set(OFFICE) == set()


def test_a_week_without_anything_is_one_line() -> None:
    assert lines(EMPTY) == ["Quiet Yard · Mon 23 Nov 2026, 07:30 · up to Sun 29 Nov"]


def test_hours_are_the_studios_own() -> None:
    auckland = ZoneInfo("Pacific/Auckland")
    at = datetime(2026, 11, 23, 7, 30, tzinfo=auckland)
    week = replace(EMPTY, at=at, until=datetime(2026, 11, 29, 11, tzinfo=UTC))

    assert lines(week) == ["Quiet Yard · Mon 23 Nov 2026, 07:30 · up to Sun 29 Nov"]


def test_a_run_that_comes_too_late_says_so() -> None:
    late = replace(blush(), late=True)

    words = " ".join(sheet(replace(EMPTY, answers=(late,))).split())

    assert "dry Sat 28 Nov 10:00, after its due day freeze AV-1116" in words


def test_a_reason_that_is_said_twice_is_shown_once() -> None:
    reading = old_rose().waits_for[0]
    past = Reason("past", "AV-1109", "AV-1109 is past", figure="avocado stones, keeps 3 days")
    twice = replace(old_rose(), reasons=(reading, past), barred=(reading, past))

    text = sheet(replace(EMPTY, answers=(twice,)))

    assert text.count("light card is on day 21") == 1
    assert "        AV-1109 is past\n" in text


def test_a_job_that_is_a_step_stands_once_in_its_day() -> None:
    rows = [line for line in lines(DEMO) if line.startswith("    ") and "nettle bath " in line]

    assert [row for row in rows if row.strip().startswith("17:15")] == [
        "    17:15–17:58             F   make nettle bath     P1 7.2 L  R1   40 min"
    ]
    assert not [row for row in rows if "by the evening" in row and "make nettle bath" in row]


def test_long_codes_and_words_still_fit() -> None:
    long = "R-" + "9" * 60
    step = replace(NETTLE, run=long, vessel="the big copper pot behind the door", step="s" * 90)
    flag = Flag("pot", long, date(2026, 11, 23), "word " * 60 + "x" * 150)
    day = Day(date(2026, 11, 27), 0, 0, tuple(LineLoad(WEEK.at, n * 1_000_001) for n in range(30)))
    week = replace(EMPTY, studio="Yard " * 40, answers=(replace(blush(), run=long),),
                   job_steps=(step,), flags=(flag,), days=(day,))  # fmt: skip

    assert max(map(len, lines(week))) <= COLUMNS


def test_signs_that_steer_a_terminal_are_not_passed_on() -> None:
    week = replace(EMPTY, studio="Yard\x1b[2J\nNext", flags=(Flag("pot", "P", None, "a\x07b"),))

    assert "\x1b" not in sheet(week)
    assert "\x07" not in sheet(week)
    assert lines(week)[0].startswith("Yard\ufffd[2J Next · Mon")


def test_litres_are_written_without_trailing_noughts() -> None:
    step = replace(NETTLE, litres=Decimal("40.000"))
    day = replace(WEEK.days[4], line=())

    assert "P1 40 L" in sheet(replace(EMPTY, job_steps=(step,), days=(day,)))
