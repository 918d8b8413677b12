"""What can go wrong on the shelves: one class each, with its values and what can be done."""

from __future__ import annotations

from inventory.errors.entries import (
    AlreadyCorrected,
    EntryUsed,
    NeedsACode,
    NoSuchEntry,
    NotConserved,
    NotInThatEntry,
    NotTaken,
    TakenSince,
)
from inventory.errors.fibre import (
    NoClothSize,
    NoFaultNamed,
    NotDyed,
    UnknownFibre,
    UnknownQuality,
)
from inventory.errors.jars import (
    NotAStrip,
    NothingLeft,
    NoWhereTo,
)
from inventory.errors.larder import (
    Busy,
    LarderError,
    NoRoom,
    NoTables,
    NotKept,
    NotNow,
    OutOfReach,
)
from inventory.errors.lots import (
    BeforeItBegan,
    CodeTaken,
    IsSetAside,
    NamedTwice,
    NoSuchLot,
    NoSuchSite,
    NoSuchVessel,
    NotAnAmount,
    NotEnough,
    NotHereYet,
    WrongSort,
)
from inventory.errors.studios import (
    NoSuchZone,
    NotMoney,
    NoZone,
    StudioTaken,
)
from inventory.errors.swatches import (
    NoSuchSwatch,
    NotAReading,
    SwatchTaken,
)
from inventory.errors.words import (
    LONGEST_SHOWN,
    in_words,
    on,
    quoted,
)

__all__ = (
    "LONGEST_SHOWN",
    "AlreadyCorrected",
    "BeforeItBegan",
    "Busy",
    "CodeTaken",
    "EntryUsed",
    "IsSetAside",
    "LarderError",
    "NamedTwice",
    "NeedsACode",
    "NoClothSize",
    "NoFaultNamed",
    "NoRoom",
    "NoSuchEntry",
    "NoSuchLot",
    "NoSuchSite",
    "NoSuchSwatch",
    "NoSuchVessel",
    "NoSuchZone",
    "NoTables",
    "NoWhereTo",
    "NoZone",
    "NotAReading",
    "NotAStrip",
    "NotAnAmount",
    "NotConserved",
    "NotDyed",
    "NotEnough",
    "NotHereYet",
    "NotInThatEntry",
    "NotKept",
    "NotMoney",
    "NotNow",
    "NotTaken",
    "NothingLeft",
    "OutOfReach",
    "StudioTaken",
    "SwatchTaken",
    "TakenSince",
    "UnknownFibre",
    "UnknownQuality",
    "WrongSort",
    "in_words",
    "on",
    "quoted",
)
