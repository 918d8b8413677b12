"""What the workers promise, and that nobody waits for a broker."""

from __future__ import annotations

import ast
import os
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
from celery import Celery
from django.conf import settings
from kombu.transport import redis
from redis.exceptions import ConnectionError

from api import environment, suite
from api.celery import Line, app

ROOT = Path(__file__).resolve().parent.parent
SENDING = {"delay", "apply_async", "send_task"}


def test_a_job_is_crossed_off_only_when_it_is_done() -> None:
    assert app.conf.task_acks_late is True
    assert app.conf.task_reject_on_worker_lost is True
    assert app.conf.worker_prefetch_multiplier == 1


def test_a_worker_bears_that_a_line_is_closed_and_gives_no_job_back_over_it() -> None:
    """It ended for it when the broker went away; tests/faults/test_workers.py shows the whole."""
    assert redis.QoS.restore_at_shutdown is False
    assert redis.Transport.Channel is Line
    line = Line.__new__(Line)

    for connection in (None, SimpleNamespace(client=None)):
        line.connection = connection
        with pytest.raises(ConnectionError, match="closed") as refused:
            line._connparams()
        assert isinstance(refused.value, redis.Transport.connection_errors)


def test_jobs_travel_as_json_only() -> None:
    assert app.conf.task_serializer == "json"
    assert app.conf.accept_content == ["json"]


def test_no_task_may_take_longer_than_the_longest() -> None:
    ours = [task for name, task in app.tasks.items() if not name.startswith("celery.")]

    assert app.conf.task_time_limit == settings.LONGEST_TASK_S
    assert app.conf.task_soft_time_limit < app.conf.task_time_limit
    for task in ours:
        assert (task.time_limit or 0) <= settings.LONGEST_TASK_S, task.name


def test_without_an_address_no_broker_is_contacted(
    monkeypatch: pytest.MonkeyPatch, socket_disabled: None
) -> None:
    alone = Celery("alone", broker=environment.broker(None))

    with alone.connection_for_write() as connection:
        connection.ensure_connection(max_retries=1)

        assert connection.transport.driver_type == "memory"


@pytest.mark.needs_redis
def test_a_worker_connects_to_redis_with_the_promises_in_force() -> None:
    url = environment.broker(os.environ.get("DYE_LARDER_TEST_REDIS", suite.REDIS))
    grown = Celery("grown", broker=url)
    grown.conf.broker_transport_options = settings.REDIS_OPTIONS

    with grown.connection_for_write() as connection:
        connection.ensure_connection(max_retries=1, timeout=3)
        channel = connection.default_channel

        assert channel.client.ping() is True
        assert channel.visibility_timeout == 2 * settings.LONGEST_TASK_S
        assert channel.unacked_restore_throttle == 1


def _sources() -> Iterator[Path]:
    for floor in ("inventory", "sourcing", "api"):
        yield from sorted((ROOT / floor).rglob("*.py"))


def test_only_what_workers_load_sends_a_job_to_the_broker() -> None:
    """A Redis that takes the connection and says nothing would hold the request for ever.

    That no page loads it is proved in tests/api/reminders/test_round.py.
    """
    sending = [
        f"{path.relative_to(ROOT)}:{node.lineno} calls .{node.func.attr}()"
        for path in _sources()
        if path != ROOT / "api" / "tasks.py"
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in SENDING
    ]

    assert sending == []
