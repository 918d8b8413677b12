"""A week's answer from the database: questions asked, gathering, working out, as a studio grows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

from tests.benchmarks.grown import grown
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, ms
from tests.benchmarks.setting import Setting

AT = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)
QUERIES = 10
COUNTED = (
    "outlook, {engine}: the demo notebook grown. Gathering: `facts_at`, from the tables to frozen "
    "facts; working out: `project` without unlocks. Bare: one query of all lots, all columns, in "
    "the same process. In turn, lower quartile of up to {rounds} rounds. Budget of queries: that "
    "of placing."
)


def outlook(setting: Setting) -> Iterator[Row]:
    """Three rows for each size."""
    sizes = ((9, 7), (20, 14)) if setting.quick else ((9, 7), (500, 200), (5_000, 2_000))
    counted = COUNTED.format(engine=setting.engine, rounds=setting.rounds(7))
    for lots, runs in sizes:
        yield from _rows(setting, lots, runs, counted)


def _rows(setting: Setting, lots: int, runs: int, counted: str) -> Iterator[Row]:
    from inventory.models import Lot
    from sourcing.outlook import facts_at
    from sourcing.week.project import project

    studio = _loaded(setting, lots, runs)
    words = f"{lots:,} lots, {runs:,} runs"
    yield _questions(studio, words, counted)
    facts = facts_at(studio, at=AT, days=7)
    gathered, worked, bare = in_turn(
        lambda: facts_at(studio, at=AT, days=7),
        lambda: project(facts, days=7),
        lambda: list(Lot.objects.of(studio).values_list()),
        rounds=setting.rounds(7, 1), warm=0, least=1, at_most_s=15,
    )  # fmt: skip
    for what, seconds in (("gathering", gathered), ("working out", worked)):
        yield Row(f"{what} {words}", ms(seconds), ms(bare), ratio=seconds / bare, counted=counted)


def _loaded(setting: Setting, lots: int, runs: int) -> Any:
    from inventory.models import Studio
    from sourcing.notebook.load import load_files

    if setting.larders.use(f"outlook {lots}"):
        load_files(grown(lots, runs))
    return Studio.objects.get()


def _questions(studio: Any, words: str, counted: str) -> Row:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    from sourcing.outlook import facts_at

    with CaptureQueriesContext(connection) as asked:
        facts_at(studio, at=AT, days=7)
    return Row(
        f"queries {words}", str(len(asked)), f"{QUERIES} queries", ratio=len(asked) / QUERIES,
        budget=f"≤ {QUERIES}", met=len(asked) <= QUERIES, counted=counted,
    )  # fmt: skip
