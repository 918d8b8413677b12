"""What an answer is made of: placed steps, what they take, what waits, what is short."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from sourcing.week.facts import Hanging


@dataclass(frozen=True, slots=True)
class Placed:
    """One load of one step in one vessel.

    The vessel is held `[held_from, held_until)`, the ring `[start, heat_until)`.
    """

    run: str
    step: str
    kind: str
    load: int  # 1, 2, ...
    round: int  # 1, 2, ... loads of one round run side by side
    vessel: str  # empty: none needed (rinse)
    ring: str  # empty: unheated
    start: datetime
    end: datetime  # of the active part: end of the hold, standing or rinse
    held_until: datetime  # vessel free again (before any pause)
    hands_min: int  # counted on the local day of `start`
    litres: Decimal = Decimal(0)
    weight_mg: int = 0
    attended_until: datetime | None = None  # somebody is there from start till then
    heat_min: int = 0
    hold_min: int = 0
    start_c: int | None = None
    goal_c: int | None = None
    done_at: datetime | None = None  # of a begun run: when it was said to be done
    late_since: datetime | None = None  # of a begun run: it should have been over by then
    # Runs whose cloth is in the same vessel; weight and litres are this run's own.
    shared_with: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Take:
    """An amount of one lot, jar, bath or supply that a run takes."""

    run: str
    source: str  # code of the lot, jar, bath, supply or fibre lot
    what: str
    amount: int  # mg or µL
    unit: str  # "mg" or "µL"
    at: datetime  # when the step takes it
    left_after: int  # in the claim's order
    step: str = ""
    length_mm: int | None = None  # of measured cloth
    # The sites that it is fetched from and to, and in which round of that step; empty: it is there.
    carried_from: str = ""
    carried_to: str = ""
    carried_round: int = 0


@dataclass(frozen=True, slots=True)
class Reason:
    """One test that decided: kind of constraint, amount, moment, figure it rests on."""

    kind: str  # kind of constraint: "dyestuff", "last good day", "line", ...
    what: str
    text: str
    until: datetime | None = None  # when it passes, where it does by waiting
    figure: str = ""  # "wool, scour_loss_fraction = 0.05 (studio's own)"
    own: bool = False


@dataclass(frozen=True, slots=True)
class Shortage:
    """Amount lacking; `pieces` rounds up."""

    kind: str
    what: str
    amount: int  # mg or µL
    unit: str
    pieces: int | None
    text: str


@dataclass(frozen=True, slots=True)
class Enough:
    """When pick-ups may have brought what a run is short of: a forecast, never part of a yes."""

    what: str
    amount: int  # mg
    by: date  # the last day of the period on which something may come
    chance: float  # 0 to 1, that enough has come by then
    days: tuple[tuple[float, date | None], ...]  # chance, and the first day that reaches it
    text: str


@dataclass(frozen=True, slots=True)
class Job:
    """Something the studio can do itself, with its day."""

    what: str  # "freeze AV-1116"
    by: date
    text: str
    run: str = ""
    hands_min: int = 0
    kind: str = ""  # put by, make bath
    lot: str = ""


@dataclass(frozen=True, slots=True)
class Flag:
    """A morning flag: what to see to."""

    kind: str
    what: str
    by: date | None
    text: str


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that would have to be different for a run, by how much and when."""

    # dyestuff, supply, fibre, liquor, bath, strip, reading, line, hands, ring, pot, claim ...
    kind: str
    what: str  # code or name of the thing
    amount: int  # in its unit; 1 where it is one thing or one yes
    unit: str  # mg, µL, min, day, grade, ring, pot, run, yes
    text: str
    pieces: int | None = None
    since: datetime | None = None  # from when it is wanted
    until: datetime | None = None  # till when, or by when where nothing begins
    run: str = ""  # the other run that it asks something of


@dataclass(frozen=True, slots=True)
class Unlock:
    """The least that turns an answer into a yes: one change, or several that only do together.

    Proved by placing the run with it; with one unit less of any change it is no yes.
    """

    changes: tuple[Change, ...]
    text: str
    first_step_at: datetime | None  # None: a test card has to hang its days first
    dry_at: datetime | None
    loses: tuple[str, ...] = ()  # runs placed later that would be a yes no more

    @property
    def together(self) -> bool:
        return len(self.changes) > 1


@dataclass(frozen=True)
class Answer:
    """The answer for one wanted run."""

    run: str
    shade: str
    answer: str  # yes, not yet, no
    first_step_at: datetime | None
    dry_at: datetime | None
    steps: tuple[Placed, ...] = ()
    takes: tuple[Take, ...] = ()
    waits_for: tuple[Reason, ...] = ()
    short: tuple[Shortage, ...] = ()
    jobs: tuple[Job, ...] = ()
    reasons: tuple[Reason, ...] = ()  # what decided, yes answers too
    notes: tuple[str, ...] = ()
    hung_at: datetime | None = None
    line: str = ""
    late: bool = False
    barred: tuple[Reason, ...] = ()  # of a no: what stands in the way, among its reasons
    hangs: tuple[Hanging, ...] = ()  # each round's cloth on its line
    top_up_ml: int = 0  # water that makes up for what is strained off with the dyestuff
    warnings: tuple[Reason, ...] = ()  # of a placed run: what would harm the cloth, bars nothing
    enough: tuple[Enough, ...] = ()  # of what is short of a dyestuff that sources bring
    unlocks: tuple[Unlock, ...] = ()  # of what is not yes, the least first
    begun_at: datetime | None = None  # of a run under way, whose plan was kept
    sought: bool = False  # whether unlocks were looked for; none may have been found
    sought_all: bool = True  # whether all that could do was tried; else a limit ended the looking


@dataclass(frozen=True)
class Week:
    """The whole answer: runs, jobs' steps, flags, days, sums."""

    studio: str
    at: datetime
    until: datetime
    answers: tuple[Answer, ...]
    job_steps: tuple[Placed, ...] = ()
    flags: tuple[Flag, ...] = ()
    days: tuple[Day, ...] = ()
    sums: dict[str, object] = field(default_factory=dict)
    order: tuple[str, ...] = ()  # in which runs claimed, where it was not that of due dates


@dataclass(frozen=True, slots=True)
class LineLoad:
    """Kilos on the line from a moment on."""

    since: datetime
    mg: int


@dataclass(frozen=True, slots=True)
class Day:
    """One day: hands used and there, and what hangs from when."""

    day: date
    hands_on_min: int
    hands_available_min: int
    line: tuple[LineLoad, ...] = ()
