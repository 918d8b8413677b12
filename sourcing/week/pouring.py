"""What a run that is placed leaves in its pots, laid down for those that follow in its bath."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from fractions import Fraction

from sourcing.week.desk import Desk
from sourcing.week.facts import Recipe, RunFacts
from sourcing.week.fits import Fit
from sourcing.week.second_bath import bath_out, dyed_in, firsts, poured


def pour_off(
    run: RunFacts,
    recipe: Recipe,
    fits: Sequence[Fit],
    sources: Iterable[str],
    desk: Desk,
    *,
    site: str,
) -> None:
    """Let others have a placed run's bath from when its cloth is lifted, where any may want it.

    Parameters
    ----------
    fits : its stages in time
    sources : codes of all that it takes; the metal of a bath among them is in its own too
    """
    step = dyed_in(recipe)
    if step is None:
        return
    minute, litres_ml = bath_out(fits, step)
    if litres_ml:
        lay_down(run, recipe, sources, desk, litres_ml=litres_ml,
                 at=desk.calendar.moment(minute), site=site)  # fmt: skip


def lay_down(
    run: RunFacts,
    recipe: Recipe,
    sources: Iterable[str],
    desk: Desk,
    *,
    litres_ml: Fraction,
    at: datetime,
    site: str,
) -> None:
    """A run's bath among what there is, unless it is kept under a name of its own already."""
    step = dyed_in(recipe)
    if step is None or recipe.shade not in desk.followed or run.group_block or run.bath:
        return
    larder = desk.larder
    metals = [found.metal for code in sources if (found := larder.bath_called(code)) is not None]
    larder.pour(
        poured(
            run,
            recipe,
            step,
            litres_ml=litres_ml,
            at=at,
            number=len(firsts(recipe, desk.facts.recipes)) + 1,
            warmth_c=desk.house.shed_c,
            site=site,
            metal="iron" if "iron" in metals else min(filter(None, metals), default=""),
        )
    )
