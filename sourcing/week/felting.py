"""Would a run's cloth felt: does animal hair go from a hot bath into one that is much colder?

Goes through the stages as placed and follows how warm the cloth is. It warns and bars nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from inventory.science.catalogue import figure, find_figure
from inventory.science.felting import Shock, cooled_c, shock
from inventory.science.figures import Figure, Figures
from inventory.science.saying import say
from inventory.science.wording import least_warmth, warmth
from sourcing.week.facts import Step
from sourcing.week.fits import Fit
from sourcing.week.plan import Reason
from sourcing.week.reasons import because
from sourcing.week.stages import Room, holds_cloth


@dataclass(frozen=True, slots=True)
class Cooling:
    """How fast things cool in the shed, and the fall that a fibre bears."""

    bears: Figure
    shed_c: float
    bath_per_h: float
    lifted_per_h: float


def felting_of(
    fibre: str, fits: list[Fit], room: Room, figures: Figures, *, on: date
) -> tuple[Reason, ...]:
    """A warning for each bath that the cloth of a run would meet too cold; none for most fibres.

    Parameters
    ----------
    fits : a run's stages in time, in order; those of later rounds stand behind the first's
    figures : a fibre felts if it has `drop_without_felting_k`
    """
    bears = find_figure(figures, fibre, "drop_without_felting_k", on=on)
    if bears is None:
        return ()

    def studio(name: str) -> float:
        return float(figure(figures, "studio", name, on=on).value)

    cooling = Cooling(
        bears, studio("shed_c"), studio("bath_cools_per_h"), studio("lifted_cools_per_h")
    )
    found: dict[tuple[str, str], Reason] = {}
    for before, index in _pairs(fits):
        felts = _between(before, index, fits, room, cooling)
        if felts is not None:
            names = (fits[before].stage.step.name, fits[index].stage.step.name)
            found.setdefault(names, _warning(fibre, names, felts, cooling))
    return tuple(found.values())


def _pairs(fits: list[Fit]) -> Iterator[tuple[int, int]]:
    """Each bath with the one before it in the way of its cloth, by their places in the list."""
    for index, fit in enumerate(fits):
        if not holds_cloth(fit.stage.step):
            continue
        for before in range(index - 1, -1, -1):
            number, of = fits[before].stage.round_of
            same_way = of == 1 or number == fit.stage.round_of[0]
            if same_way and holds_cloth(fits[before].stage.step):
                yield before, index
                break


def _between(
    before: int, index: int, fits: list[Fit], room: Room, cooling: Cooling
) -> Shock | None:
    """The shock of going from one bath into the next; None where it is the same bath, or mild."""
    stage = fits[index].stage
    if stays_in_its_bath(stage.step):
        return None
    left_c = _leaves_at(before, fits, room, cooling)
    lifted = max(0, fits[index].start - fits[before].held_until)
    return shock(
        left_c=left_c,
        arrives_c=cooled_c(
            left_c, around_c=cooling.shed_c, minutes=lifted, per_h=cooling.lifted_per_h
        ),
        meets_c=stage.heats[0][0] if stage.heats else _fresh_c(stage.step, room),
        bears_k=float(cooling.bears.value),
    )


def _leaves_at(index: int, fits: list[Fit], room: Room, cooling: Cooling) -> float:
    """Warmth [°C] of a bath when its vessel is emptied; the warmest of its pots counts.

    A bath without a flame is as warm as its water, or as what the step before left in it.
    """
    fit = fits[index]
    if fit.stage.heats:
        warm_c = float(fit.stage.heats[-1][1])
        since = max(load.heat_until for load in fit.last.loads)
    elif stays_in_its_bath(fit.stage.step) and index:
        warm_c = _leaves_at(index - 1, fits, room, cooling)
        since = fits[index - 1].held_until
    else:
        warm_c, since = _fresh_c(fit.stage.step, room), fit.start
    stood = max(0, fit.held_until - since)
    return cooled_c(warm_c, around_c=cooling.shed_c, minutes=stood, per_h=cooling.bath_per_h)


def stays_in_its_bath(step: Step) -> bool:
    """Whether a step is worked in the liquor of the one before it; a rinse has fresh water."""
    return "same" in step.vessels and step.kind != "rinse"


def _fresh_c(step: Step, room: Room) -> float:
    return float(room.water_c if step.begun_c is None else step.begun_c)


def _warning(fibre: str, names: tuple[str, str], felts: Shock, cooling: Cooling) -> Reason:
    before, step = names
    still = ""
    if round(felts.arrives_c) < round(felts.left_c):
        still = say(", still {arrives},", arrives=warmth(round(felts.arrives_c)))
    text = say(
        "{fibre} leaves {before} at {left} and goes{still} into {step} at {meets}: let it cool "
        "in its bath first or begin at {begin_at} or warmer; {fibre} felts",
        fibre=fibre,
        before=before,
        left=warmth(round(felts.left_c)),
        still=still,
        step=step,
        meets=warmth(round(felts.meets_c)),
        begin_at=least_warmth(felts.begin_at_c),
    )
    return because("felting", fibre, text, cooling.bears)
