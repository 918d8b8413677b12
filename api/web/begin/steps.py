"""The steps of a beginning: which are done, and what comes next; each can be taken up again."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Exists, OuterRef
from django.urls import reverse

from inventory.models import FibreLot, Studio, Vessel
from inventory.models.scope import OfStudio
from inventory.science.saying import say
from sourcing.models import Hours, Run

# Part of the address, the words of the step, and the rows by which it is done.
STEPS: tuple[tuple[str, str, type[OfStudio]], ...] = (
    ("room", say("Pots, rings and line"), Vessel),
    ("days", say("Who is in"), Hours),
    ("saved", say("What is saved"), FibreLot),
    ("shade", say("A first shade"), Run),
)


@dataclass(frozen=True, slots=True)
class StepShown:
    """One step of the way."""

    number: int
    words: str
    address: str
    done: bool
    here: bool


def way(studio: Studio | None, here: str, carried: str) -> tuple[StepShown, ...]:
    """All steps; the studio's own name comes first and stays as it was written."""
    done = _done(studio)
    first = StepShown(
        1, say("The studio"), reverse("begin") + carried, studio is not None, here == ""
    )
    return (
        first,
        *(
            StepShown(number, words, step_address(name, carried), name in done, name == here)
            for number, (name, words, _) in enumerate(STEPS, start=2)
        ),
    )


def step_address(name: str, carried: str = "") -> str:
    """Where a step has its page."""
    return reverse("begin-step", args=[name]) + carried


def next_after(name: str) -> str:
    """The step behind one; the same where it is the last."""
    names = [row[0] for row in STEPS]
    return names[min(names.index(name) + 1, len(names) - 1)]


def _done(studio: Studio | None) -> set[str]:
    """In one question, which steps have left something."""
    if studio is None:
        return set()
    asked = {
        name: Exists(model.objects.of(studio).filter(studio=OuterRef("pk")))
        for name, _, model in STEPS
    }
    found = Studio.objects.filter(pk=studio.pk).annotate(**asked).values(*asked).get()
    return {name for name, there in found.items() if there}
