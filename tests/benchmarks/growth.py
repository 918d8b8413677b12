"""Every page and list at 1, 10 and 100 times the data: the same questions, and time per row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sourcing.week.words import listed
from tests.benchmarks.doors import DOORS, Service, at
from tests.benchmarks.grown import times
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, ms
from tests.benchmarks.setting import Setting

QUERIES = 8  # of one page or list
LONGEST_S = 10
COUNTED = (
    "growth, {engine}: lots, fibre, runs, jars, dips and hand-overs of the demo notebook, {sizes} "
    "times. Queries: all that one request sends; it warms up. Time: the request through all its "
    "middleware, no socket, sizes in turn, lower quartile of {rounds} rounds, fewer where they "
    "take longer than {longest_s} s; bare equivalent: the same address at the first size."
)


def growth(setting: Setting) -> Iterator[Row]:
    """Two rows for each address: its questions, then its time."""
    sizes = (1, 2) if setting.quick else (1, 10, 100)
    for size in sizes:
        _load(setting, size)
    service, rounds = Service(), setting.rounds(9, 1)
    counted = COUNTED.format(
        engine=setting.engine, sizes=listed(map(str, sizes)), rounds=rounds, longest_s=LONGEST_S
    )
    for address in DOORS:
        questions, seconds = zip(*_first(setting, service, address, sizes), strict=True)
        if not setting.quick:
            seconds = tuple(_again(setting, service, address, sizes, rounds))
        yield _questions(address, questions, counted)
        yield _time(address, seconds, sizes, counted)


def _load(setting: Setting, size: int) -> None:
    from sourcing.notebook.load import load_files

    if setting.larders.use(f"times {size}"):
        load_files(times(size))


def _first(
    setting: Setting, service: Service, address: str, sizes: Sequence[int]
) -> Iterator[tuple[int, float]]:
    for size in sizes:
        setting.larders.use(f"times {size}")
        yield service.counted(at(address))


def _again(
    setting: Setting, service: Service, address: str, sizes: Sequence[int], rounds: int
) -> list[float]:
    def visit(size: int) -> None:
        setting.larders.use(f"times {size}")
        service.get(at(address))

    visits = (lambda size=size: visit(size) for size in sizes)
    return in_turn(*visits, rounds=rounds, warm=0, least=1, at_most_s=LONGEST_S)


def _questions(address: str, found: Sequence[int], counted: str) -> Row:
    return Row(
        f"{address} queries", ", ".join(map(str, found)), f"{found[0]} at once",
        ratio=found[-1] / max(found[0], 1), budget=f"≤ {QUERIES}, the same",
        met=len(set(found)) == 1 and found[0] <= QUERIES, counted=counted,
    )  # fmt: skip


def _time(address: str, taken: Sequence[float], sizes: Sequence[int], counted: str) -> Row:
    grows, many = taken[-1] / taken[0], sizes[-1] // sizes[0]
    return Row(
        f"{address} time", ", ".join(map(ms, taken)), ms(taken[0]), ratio=grows,
        budget=f"≤ {many}, no more a row", met=grows <= many, counted=counted,
    )  # fmt: skip
