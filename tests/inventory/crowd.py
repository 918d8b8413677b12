"""Draw from one jar over many connections at once, in the database that the environment names.

    python tests/inventory/crowd.py CONNECTIONS DRAWS FITS

Each thread has a connection of its own, which stays open to the end. Where the server has fewer
places than that, as many as fit are open at once and the others wait for a place.
"""

from __future__ import annotations

import sys
import threading
import uuid
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

SPARE = 8  # places on the server that are left to others
AT = datetime(2026, 11, 23, 9, tzinfo=UTC)


def main(connections: int, draws: int, fits: int) -> None:
    """Fill the jar, let the crowd at it, say what came of it."""
    import django

    django.setup()
    from inventory import jars
    from inventory.audit import audit
    from inventory.models import Movement, Studio
    from inventory.shelves import left_at

    studio = Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
    jars.begin(
        studio,
        entry=uuid.uuid4(),
        at=AT,
        code="J2",
        name="Iron 6",
        metal="iron",
        volume=fits * 1000,
    )
    came_of_it = _crowd(studio, connections, draws)
    left = left_at(studio, "J2", at=AT).amount
    movements = Movement.objects.of(studio).count()
    assert set(came_of_it) <= {"accepted", "refused"}, came_of_it
    print(
        f"{came_of_it['accepted']} accepted, {came_of_it['refused']} refused, {left} left, "
        f"{movements} movements, {len(audit(studio))} faults"
    )


def _crowd(studio: object, connections: int, draws: int) -> Counter[str]:
    came_of_it: Counter[str] = Counter()
    at_once = min(connections, _places())
    together = threading.Barrier(at_once)
    place, lock = threading.Semaphore(at_once), threading.Lock()

    def draw_on(number: int) -> None:
        with place:
            if number < at_once:
                together.wait()
            mine = _draw_many(studio, draws // connections)
        with lock:
            came_of_it.update(mine)

    crowd = [threading.Thread(target=draw_on, args=(n,)) for n in range(connections)]
    for one in crowd:
        one.start()
    for one in crowd:
        one.join()
    print(f"{connections} connections, {at_once} at once")
    return came_of_it


def _places() -> int:
    """How many connections the server has room for."""
    from django.db import connection

    if connection.vendor == "sqlite":
        return 10_000
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT current_setting('max_connections')::int "
            "- (SELECT count(*) FROM pg_stat_activity WHERE backend_type = 'client backend')"
        )
        return max(2, int(cursor.fetchone()[0]) - SPARE)


def _draw_many(studio: object, times: int) -> Counter[str]:
    from django.db import connection

    from inventory import jars
    from inventory.errors import Busy, NotEnough

    mine: Counter[str] = Counter()
    connection.ensure_connection()
    for _ in range(times):
        entry = uuid.uuid4()
        while True:
            try:
                jars.draw(studio, entry=entry, at=AT, jar="J2", volume=1000)  # type: ignore[arg-type]
                mine["accepted"] += 1
            except NotEnough:
                mine["refused"] += 1
            except Busy:
                # Nothing was recorded; the same entry comes again, as a phone would send it.
                continue
            except Exception as trouble:
                mine[repr(trouble)] += 1
            break
    connection.close()
    return mine


if __name__ == "__main__":
    main(*(int(word) for word in sys.argv[1:4]))
