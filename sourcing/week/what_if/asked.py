"""Several changes together: each checked against the facts, none settled twice, then put in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inventory.science.saying import joined, say
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week
from sourcing.week.project import project
from sourcing.week.what_if.change import Change, Fault
from sourcing.week.what_if.cloth import with_cloth_only

CHANGES_AT_MOST = 20


class CannotBe(ValueError):
    """Changes that do not fit the facts, each fault with the number of its change from 0 on."""

    def __init__(self, faults: Sequence[tuple[int, Fault]]) -> None:
        self.faults = tuple(faults)
        super().__init__(
            joined(
                " ",
                (say("Change {n}: {text}", n=n + 1, text=fault.text) for n, fault in self.faults),
            )
        )


def check(facts: WeekFacts, changes: Sequence[Change]) -> None:
    """Refuse changes that cannot be.

    Raises
    ------
    CannotBe
        With everything that is wrong with any of them.
    """
    found = list(_faults(facts, changes))
    if found:
        raise CannotBe(found)


def changed(facts: WeekFacts, changes: Sequence[Change]) -> WeekFacts:
    """The facts as they would be; the very same where nothing is changed.

    Changes are put in by what they are and say, not by their place in the list, so any order of
    them gives the same facts.

    Parameters
    ----------
    facts : everything at one moment; not touched
    changes : 20 at most, any order

    Raises
    ------
    CannotBe
        With everything that is wrong with any of them.
    """
    check(facts, changes)
    for change in sorted(changes, key=lambda change: (change.order, repr(change))):
        facts = change.on(facts)
    return facts


def week_if(
    facts: WeekFacts, changes: Sequence[Change], *, days: int, unlocks: bool = False
) -> Week:
    """The week as it would be; with no change the plain answer, exactly.

    Raises
    ------
    CannotBe
        With everything that is wrong with any of the changes.
    """
    then = changed(facts, changes)
    return with_cloth_only(project(then, days=days, unlocks=unlocks), then)


def _faults(facts: WeekFacts, changes: Sequence[Change]) -> Iterator[tuple[int, Fault]]:
    if len(changes) > CHANGES_AT_MOST:
        text = say(
            "{count} changes asked for; one question takes {changes_at_most} at most.",
            count=len(changes),
            changes_at_most=CHANGES_AT_MOST,
        )
        yield CHANGES_AT_MOST, Fault("", text)
        return
    settled: dict[tuple[str, ...], int] = {}
    for number, change in enumerate(changes):
        yield from ((number, fault) for fault in change.faults(facts))
        decides = change.decides(facts)
        rival = min((settled[key] for key in decides if key in settled), default=None)
        if rival is not None:
            text = say(
                "Change {rival} settles the same already. Leave one of the two out.",
                rival=rival + 1,
            )
            yield number, Fault("", text)
        settled |= dict.fromkeys(decides - settled.keys(), number)
