"""With whom a run shares a pot: which part of it is its own, and in words."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from inventory.science.saying import Said, joined, say
from sourcing.week.facts import RunFacts
from sourcing.week.plan import Placed
from sourcing.week.words import litres


def share_of_pot(row: Placed, runs: Iterable[RunFacts]) -> Fraction:
    """A run's own part of what is in a pot, above 0 to 1; 1 where nobody else's cloth is in it.

    All cloth of a shared step goes in at one ratio, so its part is as the weights are.
    """
    if not row.shared_with:
        return Fraction(1)
    weights = {run.code: run.weight_mg for run in runs}
    mine = weights.get(row.run, 0)
    whole = mine + sum(weights.get(code, 0) for code in row.shared_with)
    return Fraction(mine, whole) if mine else Fraction(1)


def shared_said(row: Placed, runs: Iterable[RunFacts]) -> Said:
    """`in one pot with Blush (A), 36 L in all`; empty where the pot is its own."""
    if not row.shared_with:
        return Said("")
    known = {run.code: run for run in runs}
    there = [known[code] for code in row.shared_with if code in known]
    others = joined(", ", (say("{shade} ({run})", shade=run.shade, run=run.code) for run in there))
    if not row.vessel or row.run not in known or not row.litres:
        return say("together with {others}", others=others)
    whole_l = Fraction(row.litres) / share_of_pot(row, known.values())
    return say(
        "in one pot with {others}, {litres} in all", others=others, litres=litres(whole_l * 1000)
    )
