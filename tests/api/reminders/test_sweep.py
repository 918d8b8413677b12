"""What falls due goes into the outbox once, however often and by how many it is looked for."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from api.models import Sweep
from api.reminders import outbox
from api.reminders import sweep as looking
from api.reminders.letter import Letter
from api.reminders.sweep import Swept, sweep, to_sweep
from inventory.models import Studio
from tests.api.reminders.postbox import AT, DOMAIN, HOUR, letter

DAY = timedelta(days=1)
MINUTE = timedelta(minutes=1)


class Sheets:
    """A morning sheet each day at seven, of use till noon."""

    def __init__(self) -> None:
        self.asked: list[tuple[datetime, datetime]] = []

    def __call__(self, studio: Studio, *, since: datetime, until: datetime) -> tuple[Letter, ...]:
        self.asked.append((since, until))
        days = [AT + n * DAY for n in range(-30, 30)]
        return tuple(
            letter(f"sheet/{day:%Y-%m-%d}", at=day, until=day + 5 * HOUR, kind="morning sheet")
            for day in days
            if since <= day < until
        )


def looked(studio: Studio, at: datetime, due: Sheets | None = None) -> Swept | None:
    return sweep(studio, at=at, due=due or Sheets(), domain=DOMAIN)


def keys(studio: Studio) -> list[str]:
    return [one.letter.key for one in outbox.listed(studio, most=50)]


def test_the_first_look_sends_nothing_that_was_due_before(studio: Studio) -> None:
    assert looked(studio, AT + HOUR) == Swept()
    assert looked(studio, AT + 2 * HOUR) == Swept()
    assert keys(studio) == []


def test_what_is_due_just_now_is_filed_and_only_once(studio: Studio) -> None:
    looked(studio, AT - MINUTE)

    assert looked(studio, AT) == Swept(filed=1)
    assert looked(studio, AT) is None
    assert looked(studio, AT + MINUTE) == Swept()
    assert keys(studio) == ["sheet/2026-11-23"]


def test_after_days_of_rest_only_what_is_of_use_is_filed(studio: Studio) -> None:
    looked(studio, AT - 3 * DAY - MINUTE)

    assert looked(studio, AT + 4 * HOUR) == Swept(filed=1, passed_over=3)
    assert looked(studio, AT + 6 * HOUR) == Swept()
    assert keys(studio) == ["sheet/2026-11-23"]


def test_a_very_long_rest_is_not_gone_through_day_by_day(studio: Studio) -> None:
    due = Sheets()
    looked(studio, AT - 29 * DAY)

    assert looked(studio, AT, due) == Swept(filed=1, passed_over=7)
    assert due.asked[0][0] == AT - looking.LOOK_BACK


def test_what_was_written_down_late_is_still_told_and_once(studio: Studio) -> None:
    looked(studio, AT - HOUR)
    looked(studio, AT + HOUR)
    late = letter("agreed late", at=AT)

    for at in (AT + 2 * HOUR, AT + 3 * HOUR):
        sweep(studio, at=at, due=lambda *_, **__: (late,), domain=DOMAIN)

    assert keys(studio) == ["agreed late", "sheet/2026-11-23"]


def test_once_an_hour_a_look_goes_a_day_behind_the_mark(studio: Studio) -> None:
    due, tick = Sheets(), timedelta(microseconds=1)
    looked(studio, AT - 2 * DAY)
    for at in (AT - MINUTE, AT - tick, AT, AT + 59 * MINUTE, AT + HOUR):
        looked(studio, at, due)

    assert [since for since, _ in due.asked] == [
        AT - 2 * DAY + tick,  # not behind the first look
        AT - MINUTE + tick,
        AT - DAY,
        AT + tick,
        AT - DAY + 59 * MINUTE + tick,
    ]


def test_who_was_overtaken_while_asking_files_nothing(studio: Studio) -> None:
    looked(studio, AT - MINUTE)

    class Overtaken(Sheets):
        def __call__(
            self, studio: Studio, *, since: datetime, until: datetime
        ) -> tuple[Letter, ...]:
            looked(studio, AT + MINUTE)
            return super().__call__(studio, since=since, until=until)

    assert looked(studio, AT, Overtaken()) is None
    assert keys(studio) == ["sheet/2026-11-23"]


def test_a_look_that_fails_leaves_the_mark_where_it_was(
    studio: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked(studio, AT - MINUTE)
    mark = Sweep.objects.of(studio).get().until

    def fails(*_: object, **__: object) -> int:
        raise RuntimeError

    with monkeypatch.context() as broken:
        broken.setattr(looking, "file_letters", fails)
        with pytest.raises(RuntimeError):
            looked(studio, AT)

    assert Sweep.objects.of(studio).get().until == mark
    assert looked(studio, AT) == Swept(filed=1)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"subject": "two\nlines"}, "Letter “bad”: its subject “two�lines” is not one line."),
        ({"text": "half a \ud83e sign"}, "Text: “half a � sign” holds U+D83E, which cannot be"),
        ({"at": datetime(2026, 11, 23, 7)}, "has no time zone"),  # noqa: DTZ001
    ],
)
def test_a_letter_that_cannot_go_out_does_not_keep_the_others_in(
    studio: Studio, caplog: pytest.LogCaptureFixture, changes: dict[str, Any], sentence: str
) -> None:
    looked(studio, AT - MINUTE)
    both = (letter("bad", **changes), letter("good"))

    swept = sweep(studio, at=AT, due=lambda *_, **__: both, domain=DOMAIN)

    assert swept == Swept(filed=1, unfit=1)
    assert keys(studio) == ["good"]
    assert caplog.text.count("Pellitory Yard: ") == 1
    assert sentence in caplog.text


def test_a_studio_is_looked_at_when_the_clock_strikes(studio: Studio, other: Studio) -> None:
    five = datetime(2026, 11, 23, 7, 5, tzinfo=UTC)
    for one, at in ((studio, AT + 4 * MINUTE), (other, AT + 5 * MINUTE)):
        looked(one, at)

    assert to_sweep(at=five - timedelta(seconds=1)) == []
    assert to_sweep(at=five) == [studio]
    assert to_sweep(at=five + timedelta(minutes=5)) == [studio, other]


def test_a_new_studio_is_looked_at_at_once(studio: Studio) -> None:
    assert to_sweep(at=AT + MINUTE) == [studio]
