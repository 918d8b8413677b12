"""What can go wrong with a run and what is claimed for it."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from inventory.errors import LarderError, in_words, on
from inventory.science.saying import joined, say


class NoSuchRun(LarderError):
    """A code that no run of the studio has."""

    code = "no_such_run"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(say("No run has the code {run}. Ask for it first.", run=run))


class RunTaken(LarderError):
    """A code that another run already has."""

    code = "run_taken"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(
            say("There is a run {run} already. Give the new one a code of its own.", run=run)
        )


class RunTooHeavy(LarderError):
    """A run of more fibre than the week is worked out for."""

    code = "run_too_heavy"

    def __init__(self, run: str, *, weight_mg: int, most_mg: int) -> None:
        self.run, self.weight_mg, self.most_mg = run, weight_mg, most_mg
        super().__init__(
            say(
                "Run {run}: {weight_mg:,} kg asked for; a run of {most_mg:,} kg at most is "
                "worked out. Divide it into several.",
                run=run,
                weight_mg=-(-weight_mg // 1_000_000),
                most_mg=most_mg // 1_000_000,
            )
        )


class OtherFibre(LarderError):
    """A recipe asked for on a fibre that it is not for."""

    code = "other_fibre"

    def __init__(self, *, recipe: str, fibre: str, fibres: tuple[str, ...]) -> None:
        self.recipe, self.fibre, self.fibres = recipe, fibre, fibres
        super().__init__(
            say(
                "{recipe} is for {fibres}, not for {fibre}. Choose another recipe.",
                recipe=recipe,
                fibres=joined(" or ", fibres),
                fibre=fibre,
            )
        )


class RunFinished(LarderError):
    """Something asked of a run that is dyed already."""

    code = "run_finished"

    def __init__(self, *, run: str, at: datetime) -> None:
        self.run, self.at = run, at
        super().__init__(
            say("Run {run} was finished on {at}. Ask for a new one.", run=run, at=on(at))
        )


class RunHasBegun(LarderError):
    """Something asked of a run that is under way."""

    code = "run_has_begun"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(
            say(
                "Run {run} is under way, so it is neither changed nor let go. Finish it with "
                "what came out of it; what is no use is tipped out afterwards.",
                run=run,
            )
        )


class NotFinished(LarderError):
    """Something taken back that was never said."""

    code = "not_finished"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(
            say("Run {run} is not finished, so there is nothing to take back.", run=run)
        )


class NoAmount(LarderError):
    """A pick-up without weight or count, or with both."""

    code = "no_amount"

    def __init__(self) -> None:
        super().__init__(say("Weigh what came or count it: one of the two."))


class SpokenFor(LarderError):
    """More asked for than is left beside what other runs were promised."""

    code = "spoken_for"

    def __init__(
        self,
        *,
        lot: str,
        what: str,
        asked: int,
        left: int,
        claimed: int,
        unit: str,
        runs: str,
        turns: bool = False,
    ) -> None:
        self.lot, self.what, self.asked, self.left = lot, what, asked, left
        self.claimed, self.unit, self.runs = claimed, unit, runs
        self.spare = max(left - claimed, 0)
        self.short = asked - self.spare
        do = say("Take less, or release a claim.")
        if turns and self.spare:
            do = say(
                "Take {spare} at most, say for which run it is, or release a claim.",
                spare=in_words(self.spare, unit),
            )
        elif turns:
            do = say("Say for which run it is, or release a claim.")
        super().__init__(
            say(
                "Lot {lot}, {what}: {asked} asked for, {left} left, of which {claimed} are "
                "promised to {runs}; short by {short}. {do}",
                do=do,
                lot=lot,
                what=what,
                asked=in_words(asked, unit),
                left=in_words(left, unit),
                claimed=in_words(claimed, unit),
                runs=runs,
                short=in_words(self.short, unit),
            )
        )


class ClaimedSince(LarderError):
    """An entry to be taken back of which another run was promised meanwhile what it made."""

    code = "claimed_since"

    def __init__(
        self, *, lot: str, what: str, back: int, promised: int, unit: str, runs: str
    ) -> None:
        self.lot, self.what, self.back = lot, what, back
        self.promised, self.unit, self.runs = promised, unit, runs
        super().__init__(
            say(
                "Lot {lot}, {what}: this takes back {back}, and {promised} are promised to {runs} "
                "since. Release that claim first.",
                lot=lot,
                what=what,
                back=in_words(back, unit),
                promised=in_words(promised, unit),
                runs=runs,
            )
        )


class ClaimsWentBack(LarderError):
    """A taking back with which claims went back, to be taken back itself."""

    code = "claims_went_back"

    def __init__(self, entry: UUID) -> None:
        self.entry = entry
        super().__init__(
            say(
                "With that taking back its run was promised again what it was promised before. "
                "Write down anew what was done."
            )
        )


class NothingDyed(LarderError):
    """A bath to be kept of a run whose recipe has no step that dyes."""

    code = "nothing_dyed"

    def __init__(self, *, run: str, shade: str) -> None:
        self.run, self.shade = run, shade
        super().__init__(
            say(
                "{shade} ({run}) has no step that dyes, so it leaves no bath. Write down what is "
                "kept as a bath made.",
                run=run,
                shade=shade,
            )
        )
