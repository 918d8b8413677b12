"""With whom a run shares a pot, in words: who else, and how much liquor in all."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from inventory.science.saying import Said, joined, say
from sourcing.week.facts import RunFacts
from sourcing.week.plan import Placed


def shared_said(row: Placed, runs: Iterable[RunFacts]) -> Said:
    """`in one pot with Blush (A), 36 L in all`; empty where the pot is its own.

    All cloth of a shared step goes in at one ratio, so the liquor in all is to its own as the
    weights are.
    """
    if not row.shared_with:
        return Said("")
    known = {run.code: run for run in runs}
    there = [known[code] for code in row.shared_with if code in known]
    others = joined(", ", (say("{shade} ({run})", shade=run.shade, run=run.code) for run in there))
    mine = known.get(row.run)
    if not row.vessel or mine is None or not row.litres:
        return say("together with {others}", others=others)
    whole = mine.weight_mg + sum(run.weight_mg for run in there)
    litres = row.litres * whole / mine.weight_mg
    return say(
        "in one pot with {others}, {litres} in all",
        others=others,
        litres=say("{normalize:f} L", normalize=litres.quantize(Decimal("0.1")).normalize()),
    )
