"""Years of work behind a studio: what one does in a week, posted through the same verbs as ever.

Each week stones are picked up, weighed and frozen, wool is scoured, mordanted and dyed, its cloth
hung and sold, what is left composted, the jar dipped; each quarter alum comes and a jar is begun,
the old one tipped out, a count taken back. So a studio of any age has the same on its shelves, and
only its past differs.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any
from uuid import UUID, uuid5

from django.db import transaction

from inventory import fibre, jars, ledger, lots, vessels
from inventory.audit import audit
from inventory.corrections import correct
from inventory.entries import Dyed, Fibre, Lost, Made, NewLot, Place
from inventory.models import Lot, Posting, Studio, StudioRule
from inventory.posting import Posted
from sourcing.claims import claim
from sourcing.models import Hanging, ShadeCard
from sourcing.notebook.load import load_files
from sourcing.pickups import miss_pickup, record_pickup
from sourcing.runs import ask_run, finish_run
from tests.benchmarks.grown import times

LAST_MONDAY = datetime(2026, 11, 9, 9, tzinfo=UTC)  # the week before the notebook's own
NAMES = UUID("2a7d9c1e-54b0-4c1f-9a65-5b7f0f1d6f10")
CAFE, STONES = "Lantern Steps café", "avocado stones"
FRIDGE, FREEZER = Place("fridge", "fridge", 5.0), Place("freezer", "freezer", -18.0)
G, ML, HOUR = 1_000, 1_000, timedelta(hours=1)
QUARTER = 13  # weeks


@dataclass(frozen=True, slots=True)
class Worked:
    """A studio with its years, and how its books came out."""

    years: int
    postings: int
    lots: int
    faults: int
    audit_s: float


def work(years: int, weeks: int = 52) -> Worked:
    """The demo's studio in the database in use, with so many years behind it."""
    load_files(times(1))
    studio = Studio.objects.get()
    for year in range(years):
        with transaction.atomic():
            for week in range(weeks):
                Week(studio, year * weeks + week).work()
            _own_figure(studio, year)
    since = time.perf_counter()
    faults = len(audit(studio))
    return Worked(years, Posting.objects.of(studio).count(), Lot.objects.of(studio).count(),
                  faults, time.perf_counter() - since)  # fmt: skip


def _own_figure(studio: Studio, year: int) -> None:
    """What the scour took, measured anew each year."""
    since = date(2025 - year, 6, 1)
    StudioRule.objects.of(studio).create(
        item="wool", name="scour_loss_fraction", value=Decimal("0.05"), since=since
    )


class Week:
    """One week of the past; `ago` weeks before the last."""

    def __init__(self, studio: Studio, ago: int) -> None:
        self.studio, self.ago = studio, ago
        self.monday = LAST_MONDAY - timedelta(weeks=ago)
        self.quarter = ago // QUARTER
        self._said = 0

    def work(self) -> None:
        """From the pick-up to the cloth sold."""
        if self.ago % QUARTER == 0:
            self._begin_quarter()
        self._gather()
        self._mordant()
        self._dye()
        self._sell()
        self._look_round()

    def _do(self, verb: Callable[..., Posted], hours: float, **said: Any) -> UUID:
        """One entry, so many hours after Monday 09:00."""
        self._said += 1
        entry = uuid5(NAMES, f"{self.ago} {self._said}")
        at = self.monday + timedelta(hours=hours)
        verb(self.studio, entry=entry, at=at, **said)
        return entry

    def _code(self, kind: str) -> str:
        return f"{kind}-{self.ago:04}"

    def _quarterly(self, kind: str) -> str:
        return f"{kind}-Q{self.quarter:03}"

    def _begin_quarter(self) -> None:
        """Alum and a jar for the weeks up to the last of this quarter; both are used up by then."""
        begun = -QUARTER * 7 * 24 + 1.0  # as the weeks are worked backwards
        alum = NewLot(self._quarterly("AL"), "alum", kind="supply")
        self._do(ledger.receive, begun, lot=alum, amount=QUARTER * 48 * G)
        self._do(
            jars.begin, begun, code=self._quarterly("FE"), name=f"Iron of {self.monday:%b %Y}",
            metal="iron", volume=3_000 * ML, vinegar_parts=Fraction(1, 3),
            water_parts=Fraction(2, 3), acid_percent=Decimal(5),
            begun_at=self.monday + timedelta(hours=begun), temperature_c=8.0,
        )  # fmt: skip

    def _gather(self) -> None:
        """A bucket of stones: counted at the door, weighed at home, frozen next day."""
        code = self._code("ST")
        self._do(record_pickup, 0.5, source=CAFE, gives=STONES, lot=code, place=FRIDGE, pieces=60)
        self._do(ledger.weigh_again, 1, lot=code, found=(2_450 + self.ago % 9 * 20) * G)
        self._do(ledger.put_by, 24, lot=code, state="frozen", place=FREEZER)
        if self.ago % 4 == 0:
            at = self.monday + timedelta(hours=80)
            miss_pickup(self.studio, at=at, source=CAFE, gives=STONES)
        if self.ago % QUARTER == 5:
            wrong = self._do(ledger.recount, 25, lot=code, found=2_000 * G)
            self._said += 1
            correct(self.studio, entry=uuid5(NAMES, f"{self.ago} {self._said}"), corrects=wrong)

    def _mordant(self) -> None:
        code = self._code("WL")
        lot = NewLot(code, "wool", kind="fibre")
        self._do(fibre.receive, 2, lot=lot, amount=421 * G, form="yarn", fibre=Fibre())
        self._do(fibre.scour, 3, lot=code, weighs=400 * G)
        self._do(
            fibre.mordant, 5, lot=code, with_what="alum", percent=Decimal(12),
            supplies=[(self._quarterly("AL"), 48 * G)],
        )  # fmt: skip

    def _dye(self) -> None:
        """The run of the week, asked for, promised its wool and dyed."""
        code, wool, run = self._code("BL"), self._code("WL"), self._code("RUN")
        due = self.monday + timedelta(days=6)
        found = ask_run(self.studio, code=run, recipe="blush", fibre="wool",
                        weight_mg=400 * G, due=due, fibre_lot=wool)  # fmt: skip
        ShadeCard.objects.of(self.studio).create(run=found, approved=True)
        self._do(claim, 6, run=run, lot=wool, amount=400 * G)  # type: ignore[arg-type]
        made = Made(wool, code, 396 * G, Fibre(scoured=True, mordant="alum",
                    mordant_percent=Decimal(12)), Dyed(depth=3))  # fmt: skip
        takes = [(wool, 400 * G), (self._code("ST"), 600 * G), (self._quarterly("FE"), 20 * ML)]
        self._do(finish_run, 50, run=run, takes=takes, makes=[made],
                 losses=[Lost("wool", 4 * G, "fluff")])  # fmt: skip

    def _sell(self) -> None:
        """Hung for two days, then sold; the stones that are left go on the heap."""
        since = self.monday + timedelta(hours=54)
        Hanging.objects.of(self.studio).create(
            line="line", since=since, until=since + 48 * HOUR, weight_mg=396 * G, what="Blush"
        )
        self._do(ledger.draw, 120, takes=[(self._code("BL"), 396 * G)], note="sold")
        left = (2_450 + self.ago % 9 * 20 - 600) * G
        self._do(ledger.tip_out, 121, takes=[(self._code("ST"), left)], where_to="the heap")

    def _look_round(self) -> None:
        """The jar dipped, a pot looked after; at the end of a quarter the jar tipped out."""
        jar = self._quarterly("FE")
        self._do(jars.dip, 122, jar=jar, grade=3 + self.ago % 3)
        if self.ago % 4 == 0:
            self._do(vessels.mark_iron, 123, vessel="P3")
            self._do(vessels.clear, 124, vessel="P3")
            self._do(lots.judge, 26, lot=self._code("ST"), sound=True)
        if self.ago % QUARTER == QUARTER - 1:
            # The last to be worked, as the past is written down backwards.
            end = (QUARTER - 1) * 7 * 24 + 130
            left = (3_000 - QUARTER * 20) * ML
            self._do(ledger.tip_out, end, takes=[(jar, left)], where_to="the metal can")
