"""May a run dye over cloth that is dyed already: second quality, or kept for re-dyeing?

Cloth with a shade in it is no plain fibre: nothing takes it unasked, and no paler shade covers it.
"""

from __future__ import annotations

from inventory.science.facts import FibreFacts
from inventory.science.saying import joined, say
from sourcing.week.facts import RunFacts

SECOND, AGAIN = "second quality", "for re-dyeing"


def is_dyed(fibre: FibreFacts) -> bool:
    """Whether a lot of fibre is anything but plain."""
    return bool(fibre.shade or fibre.quality)


def why_not_over(fibre: FibreFacts, run: RunFacts, depth: int) -> str:
    """Why a run of a depth, 1 light to 5 dark, may not dye a lot; empty when it may."""
    if not is_dyed(fibre):
        return ""
    named = run.fibre_lot == fibre.code
    kept = say("{code} is {kept_as}", code=fibre.code, kept_as=_kept_as(fibre))
    if not named and not fibre.quality:
        return say("{kept}: name it in the run to dye over it", kept=kept)
    if not named and run.client and fibre.quality == SECOND:
        return say("{kept}: name it in the run, or take other cloth for a client", kept=kept)
    if fibre.quality == AGAIN and fibre.depth and depth <= fibre.depth:
        return say(
            "{kept}, depth {depth}: only a darker shade covers it, this one is {depth_2}",
            kept=kept,
            depth=fibre.depth,
            depth_2=depth,
        )
    return ""


def over_note(fibre: FibreFacts) -> str:
    """What the sheet says of dyed cloth that a run takes."""
    return say("dyes over {code}, {kept_as}", code=fibre.code, kept_as=_kept_as(fibre))


def _kept_as(fibre: FibreFacts) -> str:
    """`for re-dyeing (Blush, boiled brown)`, or `dyed Blush`."""
    if not fibre.quality:
        return say("dyed {shade}", shade=fibre.shade)
    said = joined(", ", (part for part in (fibre.shade, fibre.came_out) if part))
    return say("{quality} ({said})", quality=fibre.quality, said=said) if said else fibre.quality
