"""Many write one row at once, each what was read plus one; what comes of it is printed.

python tests/sourcing/notebook/writers.py WRITERS TIMES
"""

from __future__ import annotations

import sys
import threading
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[3]))

AT = datetime(2026, 11, 24, 9, tzinfo=UTC)
STUDIO = b"studio,zone\nWash House,Europe/London\n"


def main(writers: int, times: int) -> None:
    """A ring of 1,000 W, and each writer adding a watt so many times, and one that is made new."""
    import django

    django.setup()
    from inventory.models import Ring, Studio
    from sourcing.notebook.load import load_files

    load_files({"studio.csv": STUDIO, "rings.csv": b"ring,power\nR1,1000 W\n"})
    studio = Studio.objects.get()
    came_of_it: Counter[str] = Counter()
    lock, together = threading.Lock(), threading.Barrier(writers)

    def at_it() -> None:
        together.wait()
        mine = _add(studio, times) + _make(studio)
        with lock:
            came_of_it.update(mine)

    crowd = [threading.Thread(target=at_it) for _ in range(writers)]
    for one in crowd:
        one.start()
    for one in crowd:
        one.join()
    watts = Ring.objects.of(studio).get(code="R1").watts
    assert watts == 1000 + came_of_it["written"], (watts, came_of_it)
    print(
        f"{came_of_it['written']} written, {came_of_it['made']} made, {came_of_it['there']} there"
    )


class _Otherwise(Exception):
    """What stands there is not what was read."""


def _shown(read: str | None) -> Callable[[str | None], None]:
    def look(mark: str | None) -> None:
        if mark != read:
            raise _Otherwise

    return look


def _add(studio: object, times: int) -> Counter[str]:
    """A watt more, read and written anew as long as somebody was quicker."""
    from sourcing.notebook.one_row import Wanted, put_row, row_of
    from sourcing.notebook.yard_pages import BY_NAME

    came: Counter[str] = Counter()
    while came["written"] < times:
        read = row_of(studio, BY_NAME["rings"], "R1", at=AT)  # type: ignore[arg-type]
        watts = read.row.whole("power") + 1
        wanted = Wanted({"power": f"{watts} W"})
        try:
            put_row(studio, BY_NAME["rings"], "R1", wanted, at=AT, look=_shown(read.mark))  # type: ignore[arg-type]
        except _Otherwise:
            came["changed"] += 1
        else:
            came["written"] += 1
    return came


def _make(studio: object) -> Counter[str]:
    from django.db import connection

    from sourcing.notebook.one_row import Wanted, put_row
    from sourcing.notebook.yard_pages import BY_NAME

    wanted = Wanted({"power": "1 kW"})
    try:
        put_row(studio, BY_NAME["rings"], "R2", wanted, at=AT, look=_shown(None))  # type: ignore[arg-type]
    except _Otherwise:
        return Counter(there=1)
    finally:
        connection.close()
    return Counter(made=1)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
