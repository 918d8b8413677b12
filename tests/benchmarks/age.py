"""A studio that has worked for twenty years beside one that has worked for one, door by door."""

from __future__ import annotations

from collections.abc import Iterator

from tests.benchmarks.doors import DOORS, Service, at
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, ms, within
from tests.benchmarks.setting import Setting
from tests.benchmarks.years import Worked, work

OLD, BUDGET = 20, 2.0
PARTS = tuple((address, "moved") for address in ("/shelves/", "/api/v1/shelves/"))
COUNTED = (
    "age, {engine}: the demo's shelves with {old} {unit} behind them beside one, every week worked "
    "by the verbs, a transaction a year: {old_postings:,} and {young_postings:,} postings, "
    "{old_lots:,} and {young_lots:,} lots. A database each. The request through all middleware, no "
    "socket, in turn, lower quartile of {rounds} rounds."
)


def age(setting: Setting) -> Iterator[Row]:
    """First that the books of the older one are clean, then a row for each door."""
    weeks = 3 if setting.quick else 52
    young, old = (_worked(setting, years, weeks) for years in (1, 2 if setting.quick else OLD))
    counted = COUNTED.format(
        engine=setting.engine, old=old.years, unit="years" if weeks == 52 else "short years",
        old_postings=old.postings, young_postings=young.postings,
        old_lots=old.lots, young_lots=young.lots, rounds=setting.rounds(9, 1),
    )  # fmt: skip
    yield _books(old, young, counted)
    service = Service()
    for address in DOORS:
        yield _door(setting, service, at(address), (young, old), counted)
    for address, part in PARTS:
        yield _door(setting, service, at(address, part=part), (young, old), counted)


def _worked(setting: Setting, years: int, weeks: int) -> Worked:
    setting.larders.use(f"{years} years")
    return work(years, weeks)


def _books(old: Worked, young: Worked, counted: str) -> Row:
    faults = old.faults + young.faults
    return Row(
        f"audit of {old.years} years", f"{faults} faults, {old.audit_s:.1f} s",
        f"{young.audit_s:.1f} s for one", ratio=old.audit_s / young.audit_s, budget="0 faults",
        met=not faults, counted=counted,
    )  # fmt: skip


def _door(
    setting: Setting, service: Service, address: str, ages: tuple[Worked, Worked], counted: str
) -> Row:
    def visit(worked: Worked) -> None:
        setting.larders.use(f"{worked.years} years")
        service.get(address)

    young, old = in_turn(
        *(lambda worked=worked: visit(worked) for worked in ages),
        rounds=setting.rounds(9, 1), warm=setting.rounds(1, 0), at_most_s=20,
    )  # fmt: skip
    what = address.replace("at=2026-11-23T07:30", "").replace("?&", "?").rstrip("?")
    return Row(what, ms(old), ms(young), counted=counted, **within(old / young, BUDGET))  # type: ignore[arg-type]
