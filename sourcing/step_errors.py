"""What can go wrong with the steps of a run: one class each, with what can be done."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from inventory.errors import LarderError, on
from inventory.science.saying import joined, say
from sourcing.week.words import listed


class NothingPlanned(LarderError):
    """A run without steps to keep: the shelves or the calendar do not let it begin."""

    code = "nothing_planned"

    def __init__(self, *, run: str, at: datetime, whys: Iterable[str]) -> None:
        self.run, self.at = run, at
        why = joined("; ", whys) or say("its steps are those of its group day")
        super().__init__(
            say(
                "Run {run} has no steps planned on {at}: {why}. See to that first, or say what "
                "it took and made when it is finished.",
                run=run,
                at=on(at),
                why=why,
            )
        )


class NoSuchStep(LarderError):
    """A step, round or pot-load that the plan of a run does not have."""

    code = "no_such_step"

    def __init__(self, *, run: str, asked: str, steps: Iterable[str]) -> None:
        self.run, self.asked = run, asked
        super().__init__(
            say(
                "Run {run} has no step {asked}. It has {steps}.",
                run=run,
                asked=asked,
                steps=listed(list(steps)),
            )
        )


class StepIsDone(LarderError):
    """A step said to be done that was done before."""

    code = "step_is_done"

    def __init__(self, *, run: str, step: str, at: datetime) -> None:
        self.run, self.step, self.at = run, step, at
        super().__init__(
            say(
                "Run {run}, {step}: done on {at}. If that was a mistake, say “not done after "
                "all” first.",
                run=run,
                step=step,
                at=on(at),
            )
        )


class StepStillToDo(LarderError):
    """A step to be taken back that nobody said was done."""

    code = "step_still_to_do"

    def __init__(self, *, run: str, step: str) -> None:
        self.run, self.step = run, step
        super().__init__(
            say(
                "Run {run}, {step}: nobody said that it is done. Look at the run again.",
                run=run,
                step=step,
            )
        )


class StepsAreDone(LarderError):
    """A run said not to be begun although steps of it are done."""

    code = "steps_are_done"

    def __init__(self, *, run: str, steps: Iterable[str]) -> None:
        self.run = run
        super().__init__(
            say(
                "Run {run} is begun: {steps} done. Take those back first, the last one first.",
                run=run,
                steps=listed(list(steps)),
            )
        )


class NotUnderWay(LarderError):
    """A run to be taken back that was not begun."""

    code = "not_under_way"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(say("Run {run} is not begun. Look at its code again.", run=run))
