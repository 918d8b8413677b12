"""A search is asked for once, in one hand at a time, told, stopped, and ends with a find."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import transaction
from django.utils import timezone

from api import tasks
from api.models.seeks import BROKEN_OFF, FOUND, SEEKING, WAITING, Seek
from api.seeking import work as working
from api.seeking.asked import (
    LEFT,
    TAKEN,
    ask_seek,
    guidance_found,
    settle_seek,
    stop_seek,
    under_way,
)
from api.seeking.work import BROKE, TRIES_AT_MOST, waiting, work
from inventory.models import Studio
from sourcing.errors import NoSuchRun
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at
from sourcing.week.best import STOPPED, Effort, Progress
from sourcing.week.project import project
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import nov

NOW = nov(23, 7, 30)


@pytest.fixture(scope="module")
def loaded(django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    with django_db_blocker.unblock(), transaction.atomic():
        load_files(yard_files())
        yield Studio.objects.get()
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded: Studio, db: None, monkeypatch: pytest.MonkeyPatch) -> Studio:
    whole = working.best

    def short(*facts: Any, **how: Any) -> Any:
        return whole(*facts, **{**how, "effort": Effort(placings=60, solver=0.1)})

    monkeypatch.setattr(working, "best", short)
    return loaded


def ask(studio: Studio, entry: UUID | None = None) -> Seek:
    return ask_seek(studio, entry=entry or uuid4(), at=NOW, days=7)


def again(seek: Seek) -> Seek:
    seek.refresh_from_db()
    return seek


def broken(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    def raises(*facts: Any, **how: Any) -> None:
        raise error

    monkeypatch.setattr(working, "best", raises)


def test_one_search_at_a_time_whoever_asks(studio: Studio) -> None:
    entry = uuid4()
    first = ask(studio, entry)

    assert (ask(studio, entry).pk, ask(studio).pk) == (first.pk, first.pk)
    assert (first.state, waiting()) == (WAITING, [first.pk])


def test_what_was_found_makes_the_week_again(studio: Studio) -> None:
    seek = ask(studio)

    assert work(seek.pk)

    assert again(seek).state == FOUND
    assert seek.ended_at is not None
    assert seek.found["goals"]["on_time"] >= seek.found["plain"]["on_time"] > 0
    assert seek.found["placings"] >= 60
    assert isinstance(guidance_found(seek).order, tuple)
    assert (waiting(), under_way(studio)) == ([], None)
    assert not work(seek.pk), "it is over"


def test_nobody_else_takes_up_what_is_in_hand_till_its_time_is_over(studio: Studio) -> None:
    seek = ask(studio)
    soon = timezone.now() + timedelta(seconds=30)
    Seek.objects.of(studio).update(state=SEEKING, hand=uuid4(), hand_until=soon)

    assert not work(seek.pk)
    assert waiting() == []

    Seek.objects.of(studio).update(hand_until=timezone.now() - timedelta(seconds=1))
    assert waiting() == [seek.pk]
    assert work(seek.pk)
    assert again(seek).state == FOUND


def test_enough_said_keeps_the_best_so_far(studio: Studio) -> None:
    seek = ask(studio)
    stop_seek(studio, seek.entry, at=timezone.now())

    work(seek.pk)

    assert again(seek).found["status"] == STOPPED
    assert seek.found["placings"] < 60


def test_how_far_it_has_come_is_told_as_it_goes_on(
    studio: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    seek, told = ask(studio), list[dict[str, Any]]()
    whole = working.best

    def watched(*facts: Any, stop: Callable[[], bool], **how: Any) -> Any:
        def asked() -> bool:
            answer = stop()
            told.append(again(seek).progress)
            return answer

        return whole(*facts, stop=asked, **how)

    monkeypatch.setattr(working, "best", watched)
    monkeypatch.setattr(working, "TOLD_EVERY_S", 0)
    work(seek.pk)

    assert [row["placings"] for row in told if row]
    assert all(0 <= row["part"] <= 1 for row in told if row)


def test_a_hand_that_lost_it_leaves_nothing(
    studio: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    seek, other = ask(studio), uuid4()
    whole = working.best

    def meanwhile(*facts: Any, **how: Any) -> Any:
        Seek.objects.of(studio).update(hand=other)
        return whole(*facts, **how)

    monkeypatch.setattr(working, "best", meanwhile)
    work(seek.pk)

    assert (again(seek).state, seek.hand, seek.found) == (SEEKING, other, {})


def test_what_breaks_off_says_so_and_another_may_be_asked_for(
    studio: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken(monkeypatch, RuntimeError("a fault of ours"))
    seek = ask(studio)

    work(seek.pk)

    assert (again(seek).state, seek.said) == (BROKEN_OFF, BROKE)
    assert ask(studio).pk != seek.pk


def test_what_ended_three_processes_is_not_taken_up_again(studio: Studio) -> None:
    seek = ask(studio)
    Seek.objects.of(studio).update(tries=TRIES_AT_MOST, state=SEEKING)

    assert waiting() == []
    assert not work(seek.pk)
    assert again(seek).state == BROKEN_OFF


def test_it_is_settled_once(studio: Studio) -> None:
    seek = ask(studio)
    settle_seek(studio, seek.entry, TAKEN, at=NOW)
    assert again(seek).settled == "", "nothing was found yet"
    work(seek.pk)

    settle_seek(studio, seek.entry, LEFT, at=NOW)
    settle_seek(studio, seek.entry, TAKEN, at=NOW)

    assert again(seek).settled == LEFT


def test_workers_look_for_it_at_their_round(studio: Studio) -> None:
    seek = ask(studio)

    tasks.seek_round()

    assert again(seek).state == FOUND


def test_progress_without_a_bound_is_kept_as_none() -> None:
    from sourcing.week.best import Goals

    kept = working.progress_as_json(Progress(Goals(1, 2, 0, 3, 4), None, 5, 0.25))

    assert (kept["bound"], kept["part"], kept["placings"]) == (None, 0.25, 5)


def test_a_run_that_is_to_stay_keeps_its_hours_in_what_is_found(studio: Studio) -> None:
    facts = facts_at(studio, at=NOW, days=7)
    before = {row.run: row for row in project(facts, days=7).answers}
    seek = ask_seek(studio, entry=uuid4(), at=NOW, days=7, stays=["C", "A"])

    work(seek.pk)

    guidance = guidance_found(again(seek))
    after = {row.run: row for row in project(replace(facts, guidance=guidance), days=7).answers}
    assert guidance.order[:2] == ("A", "C")
    for code in ("A", "C"):
        assert after[code].steps == before[code].steps


def test_a_run_that_nobody_wants_cannot_stay(studio: Studio) -> None:
    with pytest.raises(NoSuchRun):
        ask_seek(studio, entry=uuid4(), at=NOW, days=7, stays=["Z"])

    assert not Seek.objects.of(studio).exists()


def test_moving_as_little_as_can_be_counts_the_runs_that_move(studio: Studio) -> None:
    seek = ask_seek(studio, entry=uuid4(), at=NOW, days=7, near=True)

    work(seek.pk)

    assert again(seek).found["goals"]["changed"] == 0
