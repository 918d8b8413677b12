"""What can go wrong with putting by."""

from __future__ import annotations

from inventory.errors import LarderError
from inventory.science.saying import joined, say


class NothingToPutBy(LarderError):
    """Runs asked for of something that is neither a dyestuff nor a shade here."""

    code = "nothing_to_put_by"

    def __init__(self, of: str) -> None:
        self.of = of
        super().__init__(
            say(
                "Nothing here is called {of}: no dyestuff, and no shade that takes one. Look "
                "among the sources and recipes.",
                of=of,
            )
        )


class NoGapAhead(LarderError):
    """Runs asked for over the next gap of a dyestuff that has none."""

    code = "no_gap_ahead"

    def __init__(self, dyestuff: str) -> None:
        self.dyestuff = dyestuff
        super().__init__(
            say(
                "No gap of {dyestuff} is ahead. Say from when to when the runs are wanted.",
                dyestuff=dyestuff,
            )
        )


class NoSuchPutBy(LarderError):
    """A code that no wish to put by for has."""

    code = "no_such_put_by"

    def __init__(self, put_by: str) -> None:
        self.put_by = put_by
        super().__init__(
            say("Nothing is put by for under the code {put_by}. Look at the list.", put_by=put_by)
        )


class PutByOfOneThing(LarderError):
    """A wish that names neither a recipe nor a dyestuff, or both, or a recipe with a state."""

    code = "put_by_of_one_thing"

    def __init__(self) -> None:
        super().__init__(
            say(
                "Name a recipe, or a dyestuff with its state: one of the two. A recipe says "
                "itself in which state it takes what."
            )
        )


class TakesNoDyestuff(LarderError):
    """Runs to put by for of a recipe that takes nothing that could be put by."""

    code = "takes_no_dyestuff"

    def __init__(self, shade: str) -> None:
        self.shade = shade
        super().__init__(
            say("{shade} takes no dyestuff, so there is nothing to put by for it.", shade=shade)
        )


class TooManyRuns(LarderError):
    """More runs than one wish may hold."""

    code = "too_many_runs"

    def __init__(self, runs: int, most: int) -> None:
        self.runs, self.most = runs, most
        super().__init__(
            say("{runs:,} runs wished for, {most} at most. Divide the wish.", runs=runs, most=most)
        )


class SpreadUnknown(LarderError):
    """A word for how runs are spread, or what is put by, that is not known."""

    code = "spread_unknown"

    def __init__(self, word: str, known: tuple[str, ...]) -> None:
        self.word, self.known = word, joined(" or ", known)
        super().__init__(
            say("“{word}” is not known here. Say {known}.", word=word, known=self.known)
        )
