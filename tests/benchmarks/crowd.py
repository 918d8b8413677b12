"""A hundred connections at one jar that holds half of what they ask for: the code of the test."""

from __future__ import annotations

import os
import re
import time
from collections.abc import Iterator
from urllib.parse import urlsplit

from tests.benchmarks.rows import Row
from tests.benchmarks.setting import Setting
from tests.inventory.scratch import ROOT, in_turn, python

COUNTED = (
    "crowd, {engine}: `tests/inventory/crowd.py`, the same that the test runs, in a process of its "
    "own: {connections} connections, {draws:,} draws of 1 mL, {fits:,} fit. Oversold: accepted "
    "beyond what fits. Ratio: accepted in what fits."
)
SAID = re.compile(r"(\d+) accepted, (\d+) refused, (\d+) left, (\d+) movements, (\d+) faults")


def crowd(setting: Setting) -> Iterator[Row]:
    """One row."""
    connections, draws, fits = (10, 100, 50) if setting.quick else (100, 10_000, 5_000)
    setting.larders.use("crowd")
    words = [str(ROOT / "tests" / "inventory" / "crowd.py"), *map(str, (connections, draws, fits))]
    since = time.perf_counter()
    with in_turn():
        said = SAID.search(python(environment_of(setting), *words, timeout_s=900))
    seconds = time.perf_counter() - since
    assert said is not None
    accepted, refused, left, _, faults = map(int, said.groups())
    oversold = max(accepted - fits, 0)
    yield Row(
        "one jar, many hands",
        f"{accepted:,} accepted, {refused:,} refused, {oversold} oversold, {left} left, "
        f"{faults} faults, {seconds:.0f} s",
        f"{fits:,} fit", ratio=accepted / fits, budget="exactly 1, 0 oversold",
        met=(accepted, oversold, left, faults) == (fits, 0, 0, 0),
        counted=COUNTED.format(
            engine=setting.engine, connections=connections, draws=draws, fits=fits
        ),
    )  # fmt: skip


def environment_of(setting: Setting) -> dict[str, str]:
    """The environment that names the larder in use, for another process."""
    from django.db import connection

    name = str(connection.settings_dict["NAME"])
    url = f"sqlite:///{name}"
    if setting.engine == "postgresql":
        url = urlsplit(os.environ["DATABASE_URL"])._replace(path=f"/{name}").geturl()
    return {**os.environ, "DATABASE_URL": url}
