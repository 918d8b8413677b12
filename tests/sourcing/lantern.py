"""An autumn of Lantern Steps café in the ledger: twelve hand-overs of 51 stones, one run of wool.

Invented, and sized by the design papers (12, no. 36): 612 stones = 25.7 kg → 17.1 kg at 150 %.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from uuid import UUID, uuid4

from inventory import fibre, ledger
from inventory.entries import Fibre, Made, NewLot, Place
from inventory.models import Studio
from inventory.posting import Posted
from sourcing.pickups import record_pickup
from tests.loaded import load_fixture
from tests.sourcing.week.pellitory import ZONE

CAFE, GROCER, STONES = "Lantern Steps café", "Three Crates greengrocer", "avocado stones"
FREEZER = Place("freezer", "freezer")
SINCE = date(2026, 9, 1)
FIRST = datetime(2026, 9, 3, 17, tzinfo=ZONE)
AT = datetime(2026, 10, 31, 9, tzinfo=ZONE)
STONES_EACH, TIMES, STONE_MG = 51, 12, 42_000


def yard() -> Studio:
    load_fixture()
    return Studio.objects.get(name="Pellitory Yard")


def bring(
    studio: Studio,
    lot: str,
    *,
    at: datetime = FIRST,
    source: str = CAFE,
    gives: str = STONES,
    pieces: int | None = None,
    weight: int | None = None,
    state: str = "frozen",
    place: Place = FREEZER,
) -> Posted:
    """A hand-over that was made."""
    return record_pickup(
        studio, entry=uuid4(), at=at, source=source, gives=gives, lot=lot, place=place,
        pieces=pieces, weight=weight, state=state,
    )  # fmt: skip


def autumn(studio: Studio) -> list[str]:
    """Twelve hand-overs of 51 stones, each Thursday and Monday, as frozen lots."""
    codes = []
    for n in range(TIMES):
        at = FIRST + timedelta(days=n * 4)
        codes.append(f"LS-{n + 1:02d}")
        bring(studio, codes[-1], at=at, pieces=STONES_EACH)
    return codes


def wool(studio: Studio, mg: int, code: str = "W-1", at: datetime = FIRST) -> None:
    """Scoured wool that is here."""
    lot = NewLot(code, "wool", kind="fibre")
    fibre.receive(
        studio, entry=uuid4(), at=at, lot=lot, amount=mg, form="yarn", fibre=Fibre(scoured=True)
    )


def dye(
    studio: Studio,
    takes: dict[str, int],
    mg: int,
    *,
    at: datetime = AT - timedelta(days=1),
    entry: UUID | None = None,
    wool_lot: str = "W-1",
) -> UUID:
    """A run of so much wool, dyed with what is taken."""
    key = entry or uuid4()
    ledger.dye(
        studio,
        entry=key,
        at=at,
        takes=[*takes.items(), (wool_lot, mg)],
        makes=[Made(wool_lot, f"D-{key.hex[:6]}", mg, Fibre(scoured=True, shade="Blush"))],
    )
    return key
