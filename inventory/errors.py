"""What can go wrong on the shelves: one class each, with its values and what can be done."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from inventory.science.saying import joined, measured, say

LONGEST_SHOWN = 40


def in_words(amount: int, unit: str) -> str:
    """An amount of mg or µL as it is said: g or mL.

    Examples
    --------
    >>> in_words(2_436_000, "mg")
    '2,436 g'
    >>> in_words(640_500, "µL")
    '640.5 mL'
    """
    number = (Decimal(amount) / 1000).normalize()
    which = say("mL") if unit == "µL" else say("g")
    return measured(say("{number:,f} {which}", number=number, which=which), amount, unit)


def on(at: datetime) -> str:
    """A moment as it is said.

    Examples
    --------
    >>> on(datetime(2026, 11, 3, 9, 0))
    '3 November 09:00'
    """
    return say("{day} {at:%B %H:%M}", day=at.day, at=at)


def quoted(said: object) -> str:
    """What was said, in quotes, safe to print and not too long.

    Examples
    --------
    >>> quoted("9 kg")
    '“9 kg”'
    """
    text = str(said)
    plain = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)
    return f"“{plain[:LONGEST_SHOWN]}{'…' if len(plain) > LONGEST_SHOWN else ''}”"


class LarderError(Exception):
    """Something that the shelves cannot do; `code` is for programs, the message for people."""

    code = "larder_error"


class NoZone(LarderError):
    """A moment without a time zone."""

    code = "no_zone"

    def __init__(self, at: datetime) -> None:
        self.at = at
        super().__init__(
            say("{at:%d %B %Y %H:%M} has no time zone. Say where it was that time.", at=at)
        )


class StudioTaken(LarderError):
    """A name that another studio has."""

    code = "studio_taken"

    def __init__(self, studio: str) -> None:
        self.studio = studio
        super().__init__(
            say("There is a studio {studio} already. Take another name.", studio=studio)
        )


class NoSuchZone(LarderError):
    """No such time zone."""

    code = "zone_unknown"

    def __init__(self, zone: str) -> None:
        self.zone = zone[:60]
        super().__init__(
            say(
                "There is no time zone {zone}. Write its full name, such as Europe/London.",
                zone=self.zone,
            )
        )


class NotMoney(LarderError):
    """No code of a currency."""

    code = "not_money"

    def __init__(self, currency: str) -> None:
        self.currency = currency[:20]
        super().__init__(
            say(
                "{currency} is no currency. Write three letters, such as GBP.",
                currency=self.currency,
            )
        )


class NotKept(LarderError):
    """Something said that no table could keep."""

    code = "not_kept"

    def __init__(self, what: str, said: object, wrong: str, write: str) -> None:
        self.what, self.said = what, quoted(said)
        super().__init__(
            say(
                "{what}: {said} {wrong}. {write}",
                what=what.capitalize(),
                said=self.said,
                wrong=wrong,
                write=write,
            )
        )


class UnknownFibre(LarderError):
    """A fibre of which nobody knows anything."""

    code = "unknown_fibre"

    def __init__(self, fibre: str, *, known: Sequence[str]) -> None:
        self.fibre, self.known = fibre, tuple(known)
        super().__init__(
            say(
                "Nobody knows how {fibre} takes a dye. Known are {known}: say one of them, or "
                "write its scour loss in the studio's rules first.",
                fibre=quoted(fibre),
                known=joined(", ", known),
            )
        )


class NotAnAmount(LarderError):
    """An amount that is no whole number of mg or µL within bounds."""

    code = "not_an_amount"

    def __init__(self, amount: object, *, least: int, most: int) -> None:
        self.amount, self.least, self.most = amount, least, most
        super().__init__(
            say(
                "{amount!r} is no amount. Give a whole number of mg or µL from {least:,} to "
                "{most:,}.",
                amount=amount,
                least=least,
                most=most,
            )
        )


class NoSuchLot(LarderError):
    """A code that no lot of the studio has."""

    code = "no_such_lot"

    def __init__(self, lot: str) -> None:
        self.lot = lot
        super().__init__(
            say("No lot has the code {lot}. Look at its label, or receive it first.", lot=lot)
        )


class NoSuchVessel(LarderError):
    """A code that no vessel of the studio has."""

    code = "no_such_vessel"

    def __init__(self, vessel: str) -> None:
        self.vessel = vessel
        super().__init__(
            say(
                "No vessel has the code {vessel}. Look at its handle, or add it first.",
                vessel=vessel,
            )
        )


class NoSuchSite(LarderError):
    """A code that no site of the studio has."""

    code = "no_such_site"

    def __init__(self, site: str) -> None:
        self.site = site
        super().__init__(say("No site has the code {site}. Add the site first.", site=site))


class CodeTaken(LarderError):
    """A code that another lot already has."""

    code = "code_taken"

    def __init__(self, lot: str) -> None:
        self.lot = lot
        super().__init__(
            say("There is a lot {lot} already. Give the new one a code of its own.", lot=lot)
        )


class NamedTwice(LarderError):
    """One lot named twice in one entry."""

    code = "named_twice"

    def __init__(self, lot: str) -> None:
        self.lot = lot
        super().__init__(
            say("Lot {lot} is named twice in one entry. Name it once, with the sum.", lot=lot)
        )


class WrongSort(LarderError):
    """A lot of another sort than the entry is for."""

    code = "wrong_sort"

    def __init__(self, lot: str, *, kind: str, wanted: str) -> None:
        self.lot, self.kind, self.wanted = lot, kind, wanted
        super().__init__(
            say(
                "{lot} is a lot of {kind}, and this entry is for a {wanted}.",
                lot=lot,
                kind=kind,
                wanted=wanted,
            )
        )


class NotEnough(LarderError):
    """More asked for than is left."""

    code = "not_enough"

    def __init__(
        self, *, lot: str, what: str, asked: int, left: int, unit: str, at: datetime
    ) -> None:
        self.lot, self.what, self.asked, self.left = lot, what, asked, left
        self.unit, self.at, self.short = unit, at, asked - left
        super().__init__(
            say(
                "Lot {lot}, {what}: {asked} asked for, {left} left on {at}, short by {short}. "
                "Draw less or weigh again.",
                lot=lot,
                what=what,
                asked=in_words(asked, unit),
                left=in_words(left, unit),
                at=on(at),
                short=in_words(self.short, unit),
            )
        )


class IsSetAside(LarderError):
    """A lot that is set aside and asked for."""

    code = "set_aside"

    def __init__(self, *, lot: str, what: str, reason: str) -> None:
        self.lot, self.what, self.reason = lot, what, reason
        super().__init__(
            say(
                "Lot {lot}, {what}, is set aside: {reason}. Check it and take it into use first.",
                lot=lot,
                what=what,
                reason=reason,
            )
        )


class NotHereYet(LarderError):
    """A lot that is confirmed but has not come."""

    code = "not_here_yet"

    def __init__(self, *, lot: str, what: str, arrives_at: datetime) -> None:
        self.lot, self.what, self.arrives_at = lot, what, arrives_at
        super().__init__(
            say(
                "Lot {lot}, {what}, comes on {arrives_at}. Say that it has arrived first.",
                lot=lot,
                what=what,
                arrives_at=on(arrives_at),
            )
        )


class BeforeItBegan(LarderError):
    """Something said to have happened to a lot before there was one."""

    code = "before_it_began"

    def __init__(self, *, lot: str, what: str, began_at: datetime, at: datetime) -> None:
        self.lot, self.what, self.began_at, self.at = lot, what, began_at, at
        super().__init__(
            say(
                "Lot {lot}, {what}, began on {began_at}, after {at}. Look at the date again.",
                lot=lot,
                what=what,
                began_at=on(began_at),
                at=on(at),
            )
        )


class EntryUsed(LarderError):
    """The same entry came twice with different words."""

    code = "entry_used"

    def __init__(self, *, entry: UUID, kind: str, at: datetime) -> None:
        self.entry, self.kind, self.at = entry, kind, at
        super().__init__(
            say(
                "Entry {entry} was already recorded as “{kind}” on {at}, with other amounts or "
                "words. Correct that one, or enter this as a new one.",
                entry=entry,
                kind=kind,
                at=on(at),
            )
        )


class NoSuchEntry(LarderError):
    """An entry that the studio does not have."""

    code = "no_such_entry"

    def __init__(self, entry: UUID) -> None:
        self.entry = entry
        super().__init__(
            say("No entry {entry} was recorded here. Look it up in the lot's history.", entry=entry)
        )


class AlreadyCorrected(LarderError):
    """An entry that was corrected before."""

    code = "already_corrected"

    def __init__(self, *, entry: UUID, by: UUID) -> None:
        self.entry, self.by = entry, by
        super().__init__(
            say(
                "Entry {entry} was already corrected by {by}. Correct that one.", entry=entry, by=by
            )
        )


class NotInThatEntry(LarderError):
    """A correction of a lot that the corrected entry did not touch."""

    code = "not_in_that_entry"

    def __init__(self, *, lot: str, entry: UUID) -> None:
        self.lot, self.entry = lot, entry
        super().__init__(
            say(
                "Entry {entry} did not touch lot {lot}. Enter that on its own.",
                entry=entry,
                lot=lot,
            )
        )


class TakenSince(LarderError):
    """A correction that would take away what was since drawn."""

    code = "taken_since"

    def __init__(
        self, *, lot: str, what: str, back: int, left: int, unit: str, draws: Sequence[str]
    ) -> None:
        self.lot, self.what, self.back, self.left = lot, what, back, left
        self.unit, self.draws = unit, tuple(draws)
        named = joined("; ", draws) or "none"
        super().__init__(
            say(
                "Lot {lot}, {what}: this takes back {back} and {left} are left. Taken since: "
                "{named}. Correct those first.",
                lot=lot,
                what=what,
                back=in_words(back, unit),
                left=in_words(left, unit),
                named=named,
            )
        )


class NotConserved(LarderError):
    """A material of which more or less came out than went in."""

    code = "not_conserved"

    def __init__(self, *, material: str, taken: int, made: int, lost: int) -> None:
        self.material, self.taken, self.made, self.lost = material, taken, made, lost
        self.gap, self.unit = taken - made - lost, "mg"
        super().__init__(
            say(
                "{material}: {taken} taken, {made} made and {lost} lost; {gap} {which}. Weigh "
                "again or name the loss.",
                material=material,
                taken=in_words(taken, "mg"),
                made=in_words(made, "mg"),
                lost=in_words(lost, "mg"),
                gap=in_words(abs(self.gap), "mg"),
                which=say("missing") if self.gap > 0 else say("too much"),
            )
        )


class NotTaken(LarderError):
    """A made lot that comes from none of the lots taken."""

    code = "not_taken"

    def __init__(self, lot: str) -> None:
        self.lot = lot
        super().__init__(
            say("Something was made of lot {lot}, but nothing was taken of it.", lot=lot)
        )


class NeedsACode(LarderError):
    """A part of a lot that is put by, or what goes to another site, needs a code of its own."""

    code = "needs_a_code"

    def __init__(self, lot: str, site: str = "") -> None:
        self.lot = lot
        if site:
            text = say("What of {lot} goes to {site} is a lot of its own there. Give it a code.",
                       lot=lot, site=site)  # fmt: skip
        else:
            text = say("Only a part of {lot} changes. Give that part a code of its own.", lot=lot)
        super().__init__(text)


class UnknownQuality(LarderError):
    """Dyed fibre kept as something that nobody knows."""

    code = "unknown_quality"

    def __init__(self, quality: str, *, known: tuple[str, ...]) -> None:
        self.quality, self.known = quality, known
        super().__init__(
            say(
                "Fibre is kept as {known}, not as {quality}. Leave it out where the run came "
                "out as it was meant to.",
                known=joined(" or ", known),
                quality=quality[:40],
            )
        )


class NoFaultNamed(LarderError):
    """Dyed fibre kept as less than it was meant to be, and nobody says why."""

    code = "no_fault_named"

    def __init__(self, *, lot: str, quality: str) -> None:
        self.lot, self.quality = lot, quality
        super().__init__(
            say(
                "Lot {lot} is kept as {quality}, and it is not said why. Say how it came out: "
                "boiled brown, streaky, felted, too pale.",
                lot=lot,
                quality=quality,
            )
        )


class NotDyed(LarderError):
    """Something said of dyed fibre about a lot that is not dyed."""

    code = "not_dyed"

    def __init__(self, *, lot: str, what: str) -> None:
        self.lot, self.what = lot, what
        super().__init__(
            say(
                "Lot {lot}, {what}, is not dyed. Set it aside if something is wrong.",
                lot=lot,
                what=what,
            )
        )


class NoClothSize(LarderError):
    """Cloth asked for by the metre of which nobody knows what a metre weighs."""

    code = "no_cloth_size"

    def __init__(self, *, lot: str, what: str) -> None:
        self.lot, self.what = lot, what
        super().__init__(
            say(
                "Lot {lot}, {what}: nobody knows what a metre of it weighs. Write its g per m² "
                "and its width, or give the weight.",
                lot=lot,
                what=what,
            )
        )


class NoSuchSwatch(LarderError):
    """A number that no swatch of the studio has."""

    code = "no_such_swatch"

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(
            say(
                "No swatch has the number {number}. Look at its tag, or keep it first.",
                number=number,
            )
        )


class SwatchTaken(LarderError):
    """A number that another swatch already has."""

    code = "swatch_taken"

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(
            say(
                "There is a swatch {number} already. Give the new one its own number.",
                number=number,
            )
        )


class NotAReading(LarderError):
    """A reading that nobody could have read off a swatch."""

    code = "not_a_reading"

    def __init__(self, what: str, *, write: str) -> None:
        self.what = what
        super().__init__(
            say("That is no reading of {what}. Write {write}.", what=what, write=write)
        )


class NothingLeft(LarderError):
    """A lot of which nothing is left."""

    code = "nothing_left"

    def __init__(self, *, lot: str, what: str, at: datetime) -> None:
        self.lot, self.what, self.at = lot, what, at
        super().__init__(
            say("Lot {lot}, {what}: none left on {at}.", lot=lot, what=what, at=on(at))
        )


class NotAStrip(LarderError):
    """A dip that says nothing readable."""

    code = "not_a_strip"

    def __init__(self, grade: object) -> None:
        self.grade = grade
        super().__init__(
            say("{grade!r} is no strip grade. Give 1 (faint) to 5 (black), or mg/L.", grade=grade)
        )


class NoWhereTo(LarderError):
    """A tip-out that does not say where to."""

    code = "no_where_to"

    def __init__(self) -> None:
        super().__init__(say("Say where it was tipped out: compost, drain, held for collection."))


class NotNow(LarderError):
    """Nothing asked was wrong; the same may be asked again later."""

    code = "not_now"


class Busy(NotNow):
    """Others were writing all the time; nothing was recorded."""

    code = "busy"

    def __init__(self, tries: int) -> None:
        self.tries = tries
        often = say(", {tries} tries", tries=tries) if tries > 1 else ""
        super().__init__(
            say(
                "The larder is busy: others were writing all the while{often}. Nothing was "
                "recorded; try again.",
                often=often,
            )
        )


class NoRoom(NotNow):
    """The disk under the larder is full, or cannot be written."""

    code = "no_room"

    def __init__(self) -> None:
        super().__init__(
            say(
                "The larder cannot be written: its disk is full or at fault. Nothing was "
                "recorded; make room and try again."
            )
        )


class NoTables(NotNow):
    """A database in which no table of ours was made yet."""

    code = "no_tables"

    def __init__(self) -> None:
        super().__init__(
            say("The larder has no shelves yet. Call python3 manage.py migrate, then ask again.")
        )


class OutOfReach(NotNow):
    """The database does not answer, or was lost on the way."""

    code = "out_of_reach"

    def __init__(self) -> None:
        super().__init__(
            say(
                "The larder does not answer. What was being recorded is there whole or not at "
                "all; enter the same again, it counts once."
            )
        )
