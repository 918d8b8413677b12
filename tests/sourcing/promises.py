"""Claim from and draw by hand from one jar over many connections at once.

python tests/sourcing/promises.py CONNECTIONS TIMES FITS
"""

from __future__ import annotations

import sys
import threading
import uuid
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

AT = datetime(2026, 11, 23, 9, tzinfo=UTC)
ML = 1000


def main(connections: int, times: int, fits: int) -> None:
    """Fill the jar, let everybody at it, say what came of it."""
    import django

    django.setup()
    from inventory.models import Studio
    from sourcing.claims import claimed
    from sourcing.notebook.load import load_files
    from tests.sourcing.notebook.desk import altered

    jar = f"J2,Iron 6,iron,2 water : 1 vinegar,5 %,Wed 30 Sep 2026 09:00,{fits} mL,{fits} mL"
    load_files(
        altered(
            "jars.csv",
            "J2,Iron 6,iron,2 water : 1 vinegar,5 %,Wed 30 Sep 2026 09:00,900 mL,900 mL",
            jar,
        )
    )
    studio = Studio.objects.get()
    came_of_it: Counter[str] = Counter()
    lock, together = threading.Lock(), threading.Barrier(connections)

    def at_it(number: int) -> None:
        together.wait()
        mine = _claim_many(studio, times) if number % 2 else _draw_many(studio, times)
        with lock:
            came_of_it.update(mine)

    crowd = [threading.Thread(target=at_it, args=(n,)) for n in range(connections)]
    for one in crowd:
        one.start()
    for one in crowd:
        one.join()
    found = claimed(studio, ["J2"])["J2"]
    assert set(came_of_it) <= {"claimed", "drawn", "refused"}, came_of_it
    assert found.claimed == came_of_it["claimed"] * ML, came_of_it
    assert found.left == (fits - came_of_it["drawn"]) * ML, came_of_it
    taken = came_of_it["claimed"] + came_of_it["drawn"]
    print(f"{taken} taken, {came_of_it['refused']} refused, {found.spare} spare")


def _claim_many(studio: object, times: int) -> Counter[str]:
    from sourcing.claims import claim

    def once() -> None:
        claim(studio, entry=uuid.uuid4(), at=AT, run="D", lot="J2", amount=ML)  # type: ignore[arg-type]

    return _many(once, times, "claimed")


def _draw_many(studio: object, times: int) -> Counter[str]:
    from sourcing.claims import draw

    def once() -> None:
        draw(studio, entry=uuid.uuid4(), at=AT, takes=[("J2", ML)])  # type: ignore[arg-type]

    return _many(once, times, "drawn")


def _many(once: object, times: int, what: str) -> Counter[str]:
    from django.db import connection

    from inventory.errors import NotEnough
    from sourcing.errors import SpokenFor

    mine: Counter[str] = Counter()
    for _ in range(times):
        try:
            once()  # type: ignore[operator]
            mine[what] += 1
        except (NotEnough, SpokenFor):
            mine["refused"] += 1
        except Exception as trouble:
            mine[repr(trouble)] += 1
    connection.close()
    return mine


if __name__ == "__main__":
    main(*(int(word) for word in sys.argv[1:4]))
