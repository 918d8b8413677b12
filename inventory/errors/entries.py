"""What can go wrong with an entry and with what puts it right."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from inventory.errors.larder import LarderError
from inventory.errors.words import in_words, on
from inventory.science.saying import joined, say


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
