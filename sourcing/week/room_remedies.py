"""What to put by, keep elsewhere or use first so that a room holds on an evening.

What keeps longest waits in the fridge; what ends soonest is frozen or dried; then what lies there
is used, in the order of use first. Nothing is sent where there is no room that evening.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta

from inventory.science.catalogue import find_figure
from inventory.science.days import day_begins
from inventory.science.facts import Stay
from inventory.science.keeping import last_good_day, use_first
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.freezer import keeps_by_freezing
from sourcing.week.plan import Answer
from sourcing.week.rooms import Room, RoomEvening, Rooms, Stretch, rooms_of
from sourcing.week.words import day_in_words, grams

OUTLETS = {
    "freezer": ("fridge", "tray"),
    "fridge": ("freezer", "tray"),
    "tray": ("fridge", "freezer"),
}
WITHOUT_LIMIT_MG = 1 << 60
REMEDIES_AT_MOST = 12  # of one evening


@dataclass(frozen=True, slots=True)
class Remedy:
    """One amount of one lot and where it goes; `no room` where nothing helps."""

    how: str  # fridge, freezer, tray, use first, no room, more
    lot: str  # code; of what only may come: its source
    what: str  # dyestuff; empty for no room
    mg: int
    until: date | None  # last good day there, or the day on which it is dry
    guess: bool
    text: str


@dataclass
class Relief:
    """An evening that is over, relieved step by step."""

    house: Rooms
    rooms: tuple[Room, ...]
    room: Room
    day: date
    likely: bool  # whether what is likely counts
    free: dict[tuple[str, str], int] = field(default_factory=dict)
    taken: dict[int, int] = field(default_factory=dict)  # of each stretch, by its place in `rows`
    found: list[Remedy] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.rows = [row for row in self.room.inside(self.day) if self.likely or not row.guess]
        for room in self.rooms:
            if room.kind != self.room.kind:
                self.free[room.kind, room.site] = self._free(room)

    def _free(self, room: Room) -> int:
        """Room on the evening; on trays until what is spread then is dry."""
        evenings: Iterable[RoomEvening] = (room.on(self.day),)
        if room.kind == "tray":
            evenings = (row for row in room.evenings if row.day >= self.day)
        rows = [row.free_mg(likely=self.likely) for row in evenings]
        return min(WITHOUT_LIMIT_MG if mg is None else mg for mg in rows)

    def relieve(self, over: int) -> tuple[Remedy, ...]:
        for outlet in OUTLETS[self.room.kind]:
            over = self._send(outlet, over) if over > 0 else 0
        over = self._use(over) if over > 0 and self.room.kind != "tray" else over
        if over > 0:
            text = say("no room for {over}: use it that day or ask for less", over=grams(over))
            self.found.append(Remedy("no room", "", "", over, None, guess=False, text=text))
        return _few(list(_merged(self.found)))

    def _send(self, outlet: str, over: int) -> int:
        good = {"fridge": self._in_fridge, "freezer": self._frozen, "tray": self._dried}[outlet]
        longest = outlet == "fridge"
        rows = [(day, n) for n, row in enumerate(self.rows) if (day := good(row)) is not None]
        rows.sort(key=lambda row: ((-1 if longest else 1) * self._rank(outlet, *row),
                                   _name(self.rows[row[1]]), row[1]))  # fmt: skip
        for day, n in rows:
            site = self.house.site_of(self.rows[n].lot, outlet)
            if site is None:
                continue
            room = self.free.get((outlet, site), 0)
            mg = min(over, room, self._left(n))
            if mg > 0:
                over -= mg
                self.free[outlet, site] = room - mg
                self._note(outlet, n, mg, day)
        return over

    def _rank(self, outlet: str, day: date, n: int) -> int:
        """The fridge is for what keeps longest there, any other way for what ends soonest."""
        return (day if outlet == "fridge" else self._good(self.rows[n])).toordinal()

    def _use(self, over: int) -> int:
        """What lies there and nobody has claimed, in the order of use first."""
        here = {n: row for n, row in enumerate(self.rows) if self._lies_unclaimed(row)}
        places = self.house.once("use first", work=lambda: _use_first(self.house))
        for n in sorted(here, key=lambda n: (places[here[n].lot.code], n)):
            mg = min(over, self._left(n))
            if mg > 0:
                over -= mg
                self._note("use first", n, mg, None)
        return over

    def _lies_unclaimed(self, row: Stretch) -> bool:
        lain = row.how == "there" or (not row.guess and row.since < self.day)
        return lain and row.until is None

    def _left(self, n: int) -> int:
        return self.rows[n].mg - self.taken.get(n, 0)

    def _note(self, how: str, n: int, mg: int, until: date | None) -> None:
        row = self.rows[n]
        self.taken[n] = self.taken.get(n, 0) + mg
        self.found.append(Remedy(how, _name(row), row.lot.dyestuff, mg, until, row.guess, ""))

    # -- what may go where, and its last good day there ----------------------------------------

    def _fresh(self, row: Stretch) -> bool:
        """Still fresh: it comes or is put by in the period, or the room is none that keeps."""
        moves = row.how != "there" or self.room.kind != "freezer"
        return moves and row.lot.stay.state == "fresh" and row.lot.stay.place_kind != "freezer"

    def _good(self, row: Stretch) -> date:
        """Its last good day as it comes or is kept now."""
        facts, lot = self.house.facts, row.lot
        return self.house.once(
            "good", id(lot), work=lambda: last_good_day(lot, facts.figures, zone=facts.zone).day
        )

    def _in_fridge(self, row: Stretch) -> date | None:
        """Its last good day if it waits in the fridge, where that is after the evening."""
        if not self._fresh(row):
            return None
        house = self.house
        good = house.once("in the fridge", id(row.lot), row.since,
                          work=lambda: _good_in_fridge(row, house))  # fmt: skip
        return good if good > self.day else None

    def _frozen(self, row: Stretch) -> date | None:
        facts = self.house.facts
        freezes = keeps_by_freezing(facts, row.lot.dyestuff, dried=self.house.dried)
        free_to = row.until is None and self._fresh(row)
        good = free_to and freezes and self._good(row) >= self.day
        return self._good(row) if good else None

    def _dried(self, row: Stretch) -> date | None:
        """The day on which it is dry, where it keeps dried and no recipe wants it otherwise."""
        if row.until is not None or not self._fresh(row) or self._good(row) < self.day:
            return None
        house, what = self.house, row.lot.dyestuff
        keeps = any(
            find_figure(house.facts.figures, what, f"keeps_dried_{unit}", on=house.today)
            for unit in ("days", "months")
        )
        fresh_only = what in wanted_fresh(house)
        days = house.drying_days(what)
        return self.day + timedelta(days) if keeps and not fresh_only and days else None


def remedies(
    house: Rooms, rooms: tuple[Room, ...], room: Room, evening: RoomEvening, *, likely: bool
) -> tuple[Remedy, ...]:
    """What brings a room down to what it holds on an evening; empty where it holds.

    Parameters
    ----------
    rooms : all of the studio, to know where there is room
    likely : count what nobody has told of yet; each step that touches it is a guess
    """
    over = evening.likely_over_mg if likely else evening.over_mg
    if over == 0:
        return ()
    return Relief(house, rooms, room, evening.day, likely).relieve(over)


@dataclass(frozen=True)
class RoomsOfWeek:
    """Every room of a studio over a period, ready to say how each evening is made to hold."""

    house: Rooms
    rooms: tuple[Room, ...]

    def todo(self, room: Room, evening: RoomEvening, *, likely: bool) -> tuple[Remedy, ...]:
        return remedies(self.house, self.rooms, room, evening, likely=likely)


def rooms_of_week(facts: WeekFacts, answers: tuple[Answer, ...], *, until: datetime) -> RoomsOfWeek:
    """The rooms of a period with where each lot lies, goes and leaves."""
    return RoomsOfWeek(Rooms(facts, answers), rooms_of(facts, answers, until=until))


def wanted_fresh(house: Rooms) -> frozenset[str]:
    """Dyestuffs that recipes take fresh or frozen, and never dried."""
    doses = [dose for recipe in house.facts.recipes for dose in recipe.doses]
    wet = {dose.what for dose in doses if dose.state in ("fresh", "frozen")}
    return frozenset(wet - house.dried)


def _good_in_fridge(row: Stretch, house: Rooms) -> date:
    """The last good day of a lot that goes into the fridge on its first evening in the period."""
    stays = row.lot.stays
    if row.lot.stay.place_kind != "fridge":
        evening = max(day_begins(row.since, zone=house.facts.zone), row.lot.stay.since)
        stays = (*stays, Stay(evening, row.lot.stay.state, "fridge", "fridge"))
    lot = replace(row.lot, stays=stays)
    return last_good_day(lot, house.facts.figures, zone=house.facts.zone).day


def _use_first(house: Rooms) -> dict[str, int]:
    """The place of each lot in the order of use first, by its code."""
    facts = house.facts
    order = use_first(facts.shelf.lots, facts.figures, at=facts.at, zone=facts.zone)
    return {lot.code: place for place, lot in enumerate(order)}


def _few(rows: list[Remedy]) -> tuple[Remedy, ...]:
    """A dozen rows at most; the last sums up those that there is no room to tell."""
    if len(rows) <= REMEDIES_AT_MOST:
        return tuple(_worded(row) for row in rows)
    kept, more = rows[: REMEDIES_AT_MOST - 1], rows[REMEDIES_AT_MOST - 1 :]
    mg = sum(row.mg for row in more)
    text = say("and {mg} of {count} more likewise", mg=grams(mg), count=len(more))
    guess = any(row.guess for row in more)
    return (*map(_worded, kept), Remedy("more", "", "", mg, None, guess, text))


def _worded(row: Remedy) -> Remedy:
    return replace(row, text=row.text or WORDS[row.how](row))


def _name(row: Stretch) -> str:
    return row.lot.code or row.source


def _merged(rows: Iterable[Remedy]) -> Iterator[Remedy]:
    """One row for each lot and way, in the order found."""
    kept: dict[tuple[object, ...], Remedy] = {}
    for row in rows:
        key = (row.how, row.lot, row.what, row.until, row.guess)
        before = kept.get(key)
        kept[key] = row if before is None else replace(row, mg=row.mg + before.mg)
    return iter(kept.values())


def _called(row: Remedy) -> str:
    """A lot by its code; what may come by who brings it."""
    return say("the {what} that {lot} brings", what=row.what, lot=row.lot) if row.guess else row.lot


def _fridge_words(row: Remedy) -> str:
    assert row.until is not None
    good = day_in_words(row.until)
    return say(
        "keep {mg} of {called} in the fridge, last good {good}",
        mg=grams(row.mg),
        called=_called(row),
        good=good,
    )


def _tray_words(row: Remedy) -> str:
    assert row.until is not None
    dry = day_in_words(row.until)
    return say(
        "dry {mg} of {called} on the trays, dry by {dry}",
        mg=grams(row.mg),
        called=_called(row),
        dry=dry,
    )


WORDS: dict[str, Callable[[Remedy], str]] = {
    "fridge": _fridge_words,
    "tray": _tray_words,
    "freezer": lambda row: say("freeze {mg} of {called}", mg=grams(row.mg), called=_called(row)),
    "use first": lambda row: say(
        "use {mg} of {called} first", mg=grams(row.mg), called=_called(row)
    ),
}


# -- in words ----------------------------------------------------------------------------------


def over_in_words(room: Room, evening: RoomEvening, *, when: str) -> str:
    """`freezer over by 966 g tonight`, or what it holds; a guess is called one."""
    if evening.over_mg:
        return say(
            "{name} over by {over_mg} {when}",
            name=room.name,
            over_mg=grams(evening.over_mg),
            when=when,
        )
    return say(
        "{name} likely over by {likely_over_mg} {when}, a guess",
        name=room.name,
        likely_over_mg=grams(evening.likely_over_mg),
        when=when,
    )
