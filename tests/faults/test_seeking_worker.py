"""A real worker and a real Redis, without mail: a search is done, and again where it was killed."""

from __future__ import annotations

from pathlib import Path

import psycopg
import pytest

from tests.faults.places import Larder, larder, printed
from tests.faults.workers import WORKER, broker, crew, until

pytestmark = [pytest.mark.needs_redis, pytest.mark.needs_postgres, pytest.mark.usefixtures("db")]
STATE = "SELECT state FROM api_seek"
ASK = """
import datetime, uuid
from api.seeking.asked import ask_seek
from inventory.models import Studio
at = datetime.datetime(2026, 11, 23, 7, 30, tzinfo=datetime.UTC)
ask_seek(Studio.objects.get(), entry=uuid.uuid4(), at=at, days=7)
"""
# What a minute does to the hand of a worker that is gone.
LAPSED = "UPDATE api_seek SET hand_until = now() - interval '1 second'"


def test_a_search_whose_worker_was_killed_is_done_by_the_next(tmp_path: Path) -> None:
    with larder(tmp_path / "yard", loaded=True) as loaded, broker(tmp_path) as jobs:
        place = Larder({**loaded.environment, "REDIS_URL": jobs.url})
        printed(place.called("shell", "-v", "0", "-c", ASK))
        with crew(place, tmp_path, *WORKER) as workers:
            workers.start()
            until(lambda: place.value(STATE) == "seeking")
            workers.kill_oldest()
            with psycopg.connect(place.url) as other:
                other.execute(LAPSED)

            workers.start()
            until(lambda: place.value(STATE) == "found")

        assert place.rows("SELECT tries, hand IS NULL FROM api_seek") == [(2, True)]
        assert place.value("SELECT found ->> 'status' FROM api_seek")
