"""The words that an entry is written in: what is taken, what is made, and what a new lot is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Weighed:
    """An amount in mg or µL with the words as entered; gross and tare where weighed in one."""

    amount: int
    words: str = ""
    container: str = ""
    gross: int | None = None
    tare: int | None = None


Amount = int | Weighed


@dataclass(frozen=True, slots=True)
class Take:
    """So much of a lot; None: all that is left. `metal_mg_per_l`: the strength shown when dosed."""

    lot: str
    amount: Amount | None
    metal_mg_per_l: int | None = None


Takes = Iterable[Take | tuple[str, Amount | None]]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a lot is kept."""

    kind: str  # bench, fridge, freezer, dry store, tray
    code: str = ""
    temperature_c: float | None = None


@dataclass(frozen=True, slots=True)
class NewLot:
    """What a new lot is; its amount comes with the entry."""

    code: str
    what: str
    kind: str = "dyestuff"  # dyestuff, supply, jar, bath, fibre
    state: str = ""  # fresh, frozen, dried, damp; dyestuff needs one
    place: Place | None = None
    since: datetime | None = None  # of that state and place; None: the moment of the entry
    site: str = ""
    source: str = ""
    gathered_on: date | None = None
    permission: str = ""
    foraged: bool = False
    nest_checked: bool | None = None
    labelled: bool = True
    set_aside: str = ""
    arrives_at: datetime | None = None
    weighed: bool = True


@dataclass(frozen=True, slots=True)
class Fibre:
    """What has been done to fibre."""

    scoured: bool = False
    mordant: str = ""
    mordant_percent: Decimal = Decimal(0)
    damp: bool = False
    iron_percent: Decimal = Decimal(0)
    shade: str = ""
    since: date | None = None


@dataclass(frozen=True, slots=True)
class Dyed:
    """How dyed fibre came out: how dark, what it is kept as, and what went wrong with it."""

    depth: int = 0  # of the shade, 1 light to 5 dark; 0: nobody said
    quality: str = ""  # second quality, for re-dyeing; empty: as it was meant to be
    came_out: str = ""  # boiled brown, streaky, felted, too pale ...


@dataclass(frozen=True, slots=True)
class Made:
    """A lot of fibre that comes out of a run: from which lot, under which code, how heavy."""

    of: str
    code: str
    amount: Amount
    fibre: Fibre
    dyed: Dyed | None = None


@dataclass(frozen=True, slots=True)
class Lost:
    """What a material lost on the way."""

    material: str
    amount: int
    reason: str = ""
