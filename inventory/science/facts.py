"""What the shelves hold at a moment, as frozen facts: the words that every sum is written in.

Amounts are whole milligrams and microlitres, moments are aware, dates are the studio's own.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction

from inventory.science.cloth import ClothSize


@dataclass(frozen=True, slots=True)
class Stay:
    """One stretch of a lot's life in one state and one place, from `since` to the next stay."""

    since: datetime
    state: str  # fresh, frozen, dried, damp
    place: str  # code of the place
    place_kind: str  # bench, fridge, freezer, dry store, tray
    temperature_c: float | None = None  # the studio's own reading, where it has one


@dataclass(frozen=True, slots=True)
class Verdict:
    """What somebody saw: `sound` or `bad`; it beats the sum of days."""

    at: datetime
    sound: bool


@dataclass(frozen=True, slots=True)
class LotFacts:
    """One lot of dyestuff: what, how much is left, how it was kept."""

    code: str
    dyestuff: str
    stays: tuple[Stay, ...]  # oldest first, at least one
    left_mg: int
    labelled: bool = True
    set_aside: str = ""  # the reason; empty when in use
    verdicts: tuple[Verdict, ...] = ()
    source: str = ""
    gathered_on: date | None = None
    permission: str = ""  # who said yes and when; needed for foraged matter
    foraged: bool = False
    nest_checked: bool | None = None
    site: str = ""
    arrives_at: datetime | None = None  # confirmed but not here yet: counts from this moment
    carried: bool = False  # from another site, so that it is of use as soon as it comes

    @property
    def stay(self) -> Stay:
        return self.stays[-1]


@dataclass(frozen=True, slots=True)
class SupplyFacts:
    """A keeping supply such as alum, soda crystals or tannin."""

    code: str
    what: str
    left_mg: int
    site: str = ""
    arrives_at: datetime | None = None  # on its way from another site


@dataclass(frozen=True, slots=True)
class Dip:
    """One test of a jar: a strip grade 1 to 5, or a test-strip reading in mg/L of metal."""

    at: datetime
    grade: int | None = None
    metal_mg_per_l: float | None = None


@dataclass(frozen=True, slots=True)
class JarEvent:
    """Something that changed a jar's liquid: topped up, drawn, strained, moved to another warmth.

    `kind` is one of `topped up`, `drawn`, `strained`, `kept at`, `evaporated`.
    """

    at: datetime
    kind: str
    volume_ul: int = 0  # added (topped up), taken (drawn) or lost (evaporated)
    vinegar_parts: Fraction = Fraction(0)  # of a topping-up: vinegar as a fraction of its volume
    acid_percent: Decimal = Decimal(0)  # of that vinegar, g per 100 mL
    temperature_c: float | None = None  # of `kept at`


@dataclass(frozen=True, slots=True)
class JarFacts:
    """A home-made metal liquor."""

    code: str
    name: str  # what the tape says: "Iron 7"
    metal: str  # iron, copper
    vinegar_parts: Fraction  # one to two: 1 vinegar
    water_parts: Fraction  # one to two: 2 water
    acid_percent: Decimal  # of the vinegar, g per 100 mL
    begun_at: datetime | None
    begun_volume_ul: int
    left_ul: int
    temperature_c: float | None  # where it stands at first
    metal_put_in_mg: int | None = None  # None: in excess
    dips: tuple[Dip, ...] = ()  # oldest first
    events: tuple[JarEvent, ...] = ()  # oldest first
    labelled: bool = True
    set_aside: str = ""
    site: str = ""
    looks: str = ""  # "orange": for a jar without a label
    arrives_at: datetime | None = None  # poured off and on its way from another site


@dataclass(frozen=True, slots=True)
class BathFacts:
    """A bath kept for use: nettle decoction, alum bath with its times used, dyebath kept."""

    code: str
    what: str  # "nettle bath", "alum bath", "dyebath"
    made_at: datetime
    left_ul: int
    temperature_c: float
    times_used: int = 0
    shade: str = ""  # of a dyebath: the shade that came first
    depth: int = 0  # of that shade, as in the recipe
    metal: str = ""  # metal in it, if any
    alum_left_mg: int = 0
    set_aside: str = ""
    site: str = ""
    arrives_at: datetime | None = None  # poured off and on its way from another site


@dataclass(frozen=True, slots=True)
class FibreFacts:
    """One lot of fibre and what has been done to it."""

    code: str
    fibre: str  # wool, silk, cotton, linen, lyocell
    form: str  # yarn, cloth, fleece
    left_mg: int  # dry; unscoured if not scoured
    scoured: bool
    mordant: str = ""  # alum, copper, iron, tannin ...; empty: none
    mordant_percent: Decimal = Decimal(0)
    damp: bool = False
    since: date | None = None  # of its present state
    set_aside: str = ""
    arrives_at: datetime | None = None  # confirmed, in the post
    clients_own: bool = False
    weighed: bool = True  # client's own fibre: received and weighed here
    labelled: bool = True
    iron_percent: Decimal = Decimal(0)  # already in the fibre, as ferrous sulphate, % of dry weight
    site: str = ""
    shade: str = ""  # dyed; empty: not dyed
    depth: int = 0  # of that shade, 1 light to 5 dark; 0: nobody said
    quality: str = ""  # second quality, for re-dyeing; empty: as it was meant to be
    came_out: str = ""  # what went wrong: boiled brown, streaky, felted, too pale ...
    cloth: ClothSize | None = None  # weight of a square metre and width, where they are known


@dataclass(frozen=True, slots=True)
class VesselFacts:
    """A pot, tub or bucket with what it may be used for."""

    code: str
    kind: str  # pot, tub, bucket
    material: str  # stainless, enamel, aluminium, copper, plastic
    brim_ml: int
    working_ml: int
    iron_pot: bool = False  # kept for iron
    chipped: bool = False
    food: bool = False
    iron_on: date | None = None  # last use with iron
    blank_passed_on: date | None = None  # last clean blank swatch
    site: str = ""


@dataclass(frozen=True, slots=True)
class RingFacts:
    """One heat place on the stove."""

    code: str
    watts: int
    not_for: tuple[str, ...] = ()  # vessel codes that it does not take
    site: str = ""


@dataclass(frozen=True, slots=True)
class LineFacts:
    """Drying room."""

    code: str
    holds_mg: int  # dry weight
    outdoors: bool = False
    site: str = ""


@dataclass(frozen=True, slots=True)
class ColdPlaceFacts:
    """Fridge or freezer; `holds_mg` None: without limit."""

    code: str
    kind: str  # fridge, freezer, tray
    holds_mg: int | None
    temperature_c: float | None = None
    site: str = ""


@dataclass(frozen=True, slots=True)
class Shelf:
    """Everything a studio has at one moment."""

    lots: tuple[LotFacts, ...] = ()
    supplies: tuple[SupplyFacts, ...] = ()
    jars: tuple[JarFacts, ...] = ()
    baths: tuple[BathFacts, ...] = ()
    fibre: tuple[FibreFacts, ...] = ()
    vessels: tuple[VesselFacts, ...] = ()
    rings: tuple[RingFacts, ...] = ()
    lines: tuple[LineFacts, ...] = ()
    cold_places: tuple[ColdPlaceFacts, ...] = ()
