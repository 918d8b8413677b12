"""What the week is worked out from: shelves, calendar, recipes and wishes, frozen at a moment.

Nothing here reads a clock, a setting or a table; `sourcing/outlook.py` gathers it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from inventory.science.facts import Shelf
from inventory.science.figures import Figures
from sourcing.forecast.facts import Stream
from sourcing.ordering.facts import Coming, Offer, Supplier
from sourcing.putting_by.facts import PutByWish

if TYPE_CHECKING:
    from sourcing.week.guidance import Floor, Guidance
    from sourcing.week.kept import Kept


@dataclass(frozen=True, slots=True)
class Heat:
    """One heating of a step: from a warmth to a warmth, then held there over the flame.

    `start_c` None: from what the liquor has by then, the cold water's warmth for fresh water, the
    mix's for an extract that has met cold water.
    """

    goal_c: int
    hold_min: int
    start_c: int | None = None


@dataclass(frozen=True, slots=True)
class Dose:
    """What a step takes, by weight of dry fibre."""

    what: str  # dyestuff, supply, metal of a liquor, or bath
    kind: str  # dyestuff, supply, liquor, bath
    step: str  # name of the step that takes it
    per_fibre: Fraction = Fraction(0)  # dyestuff, supply: g per g of dry fibre
    ml_per_100g: Decimal = Decimal(0)  # liquor at strip 4
    l_per_kg: Decimal = Decimal(0)  # bath
    state: str = ""  # dyestuff: fresh, frozen, dried; empty: any


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a recipe, as data."""

    name: str  # the word on the sheet, unique in the recipe
    kind: str  # wet out, scour, mordant, tannin, soak, extract, dye, after-bath, rinse
    vessels: tuple[str, ...] = ()  # pot, iron pot, bucket, tub, or same: as the step before
    l_per_kg: Decimal | None = None  # None: the recipe's ratio
    heats: tuple[Heat, ...] = ()  # none: unheated
    stand_min: int = 0  # in the liquor, without flame, at least; 0: taken out at once
    stand_max: int | None = None  # at most, counted to the last load of the next step
    night: bool = False  # stands in its bath till the night is over
    cool_min: int = 0  # cools before the next step may follow in the same pot
    hands_min: int = 0
    hands_per: str = "load"  # load, run, kg, or dye load: loads of the recipe's dye step
    at_once: bool = False  # follows the step before without a pause
    strain: bool = False  # liquor is strained into the pots before the next step
    strained_c: int | None = None  # warmth of the extract when it is strained
    from_time: time | None = None  # not begun earlier in the day
    one_lot: bool = False  # whole run in one vessel or in rounds of one, then shared out
    aired: bool = False  # only where it is aired
    metal: str = ""  # leaves this metal in the vessel and the cloth
    snippet_min: int = 0  # a snippet of the cloth stands in the strained extract first; 0: none
    snippet_hands_min: int = 0
    begun_c: int | None = None  # warmth of the water of an unheated step, where not the tap's

    @property
    def takes_snippet(self) -> bool:
        """Whether a snippet is dyed before the cloth: only in what is strained and goes on."""
        return bool(self.snippet_min and self.strain and not self.night and not self.stand_min)


@dataclass(frozen=True, slots=True)
class Recipe:
    """How a shade is made on a fibre; every figure of it is data."""

    code: str
    shade: str
    fibres: tuple[str, ...]
    l_per_kg: Decimal
    bright: bool  # spoiled by iron
    steps: tuple[Step, ...]
    doses: tuple[Dose, ...]
    needs_scoured: bool = True
    mordant: str = ""  # mordant that the fibre must have before the dye; steps give it if missing
    mordant_percent: Decimal = Decimal(0)
    match: str = "blend"  # blend: one blend of lots; lot: one lot only
    water: str = ""  # water source it was worked out with; empty: any
    ph_low: Decimal | None = None
    ph_high: Decimal | None = None
    fugitive: bool = False
    depth: int = 3  # 1 light to 5 dark
    may_share: tuple[str, ...] = ()  # kinds of step that it may do in one pot with another run
    second_of: str = ""  # recipe in whose used bath it dyes; empty: in a bath of its own
    strength: Fraction | None = None  # of that recipe's shade; None: what the bath gives


@dataclass(frozen=True, slots=True)
class Making:
    """How a bath is made by the studio itself before it is needed."""

    bath: str  # "nettle bath"
    dyestuff: str
    state: str
    g_per_litre: Decimal
    heats: tuple[Heat, ...]
    hands_min: int
    vessels: tuple[str, ...] = ("pot",)


@dataclass(frozen=True, slots=True)
class ShadeCard:
    """A gate: the shade card, and whether it was approved for this fibre."""

    approved: bool
    exists: bool = True


@dataclass(frozen=True, slots=True)
class FastnessWish:
    """A gate: a reading the client asks for, against the reading so far."""

    what: str  # light, wash, rub
    wanted: Decimal
    reading: Decimal | None
    begun_on: date | None
    days: int  # days the card must hang before a reading counts
    accepted_in_writing: bool = False


@dataclass(frozen=True, slots=True)
class RunFacts:
    """One wanted run."""

    code: str
    shade: str
    recipe: str
    fibre: str
    weight_mg: int  # dry, scoured
    fibre_lot: str = ""  # lot it is meant for; empty: any of the fibre
    due: datetime | None = None  # dry by then; None: wanted, undated, placed last
    jar: str = ""  # pencilled jar: a wish
    for_whom: str = ""
    client: bool = True  # for a client: permissions are needed
    shade_card: ShadeCard | None = None
    wishes: tuple[FastnessWish, ...] = ()
    group_block: str = ""  # code of the group day it belongs to
    people: int = 0
    begun: bool = False
    fibre_needed_by: date | None = None
    kept: Kept | None = None  # the plan that it was begun with, and what of it is done
    bath: str = ""  # the bath that was kept of it; empty: none yet


@dataclass(frozen=True, slots=True)
class DayHours:
    """Who is in on a day: when somebody is there, and minutes of hands."""

    day: date
    opens: datetime
    closes: datetime
    hands_min: int  # pooled over those in
    people: int = 1
    site: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """Something that takes the room: group day, teaching, holiday, power cut."""

    code: str
    what: str
    since: datetime
    until: datetime
    rings: tuple[str, ...] = ()
    vessels: tuple[str, ...] = ()
    line_mg: int = 0
    hands_min: int = 0
    no_iron: bool = False  # children or group about: no metal baths meanwhile
    group: bool = False


@dataclass(frozen=True, slots=True)
class Chore:
    """Fixed work with minutes of hands on a day, outside any run."""

    day: date
    what: str
    hands_min: int
    clears: str = ""  # lot that is usable once this is done
    at: datetime | None = None
    done_at: datetime | None = None  # when somebody said that it is done


@dataclass(frozen=True, slots=True)
class PickUpExpected:
    """A hand-over that may come: worst for the answer, likely for the plan."""

    source: str
    dyestuff: str
    at: datetime
    likely_mg: int
    worst_mg: int
    piece_mg: int | None = None  # mass of one piece where it comes by the piece
    hands_min: int = 0
    confirmed_mg: int | None = None  # reported by the source; then it is a lot with `arrives_at`
    missed: bool = False
    in_window: bool = True  # season, closed days and permission allow it
    why_not: str = ""
    note: str = ""  # what its source said with it


@dataclass(frozen=True, slots=True)
class Meeting:
    """A pick-up on an agreed day of which nobody has said anything yet."""

    source: str
    at: datetime
    gives: tuple[str, ...]  # by name


@dataclass(frozen=True, slots=True)
class Water:
    """A water source."""

    name: str
    ph: Decimal | None
    temperature_c: int
    site: str = ""


@dataclass(frozen=True, slots=True)
class Hanging:
    """Cloth that already hangs on a line."""

    line: str
    since: datetime
    until: datetime
    mg: int
    what: str = ""


@dataclass(frozen=True, slots=True)
class Weather:
    """A day on which outdoor work or an outdoor line is barred."""

    day: date
    frost: bool = False
    aired: bool = True  # metal baths can be aired that day


@dataclass(frozen=True, slots=True)
class Promised:
    """An amount of a lot, jar or bath that was claimed for a run and not released."""

    run: str
    code: str
    amount: int  # mg or µL


@dataclass(frozen=True)
class WeekFacts:
    """Everything one answer hangs on."""

    studio: str
    zone: ZoneInfo
    at: datetime
    shelf: Shelf
    figures: Figures
    recipes: tuple[Recipe, ...] = ()
    makings: tuple[Making, ...] = ()
    runs: tuple[RunFacts, ...] = ()
    hours: tuple[DayHours, ...] = ()
    blocks: tuple[Block, ...] = ()
    chores: tuple[Chore, ...] = ()
    pick_ups: tuple[PickUpExpected, ...] = ()
    streams: tuple[Stream, ...] = ()  # agreements with what came of them, for the forecast
    meetings: tuple[Meeting, ...] = ()  # agreed, not struck and not reported; one a source and day
    waters: tuple[Water, ...] = ()
    hanging: tuple[Hanging, ...] = ()
    weather: tuple[Weather, ...] = ()
    promised: tuple[Promised, ...] = ()
    put_by: tuple[PutByWish, ...] = ()  # runs that something is to be put by for
    sites: tuple[str, ...] = ("",)
    fugitive: frozenset[str] = frozenset()  # dyestuffs that soon fade
    hazards: tuple[tuple[str, str], ...] = field(default=())  # dyestuff or plant part, caution
    suppliers: tuple[Supplier, ...] = ()
    offers: tuple[Offer, ...] = ()  # that hold on the day asked for
    coming: tuple[Coming, ...] = ()  # what is still to come of orders, each with its day
    currency: str = ""  # three letters
    guidance: Guidance | None = None  # of a week that was taken; None: the plain one
    stays: tuple[Floor, ...] = ()  # steps that stay at their hour under any guidance
