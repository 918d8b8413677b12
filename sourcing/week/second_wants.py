"""Which bath a run follows in, and by how much it is short: kept ones, and those of placed runs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.science.facts import BathFacts
from inventory.science.keeping import LastGood
from inventory.science.saying import joined, say
from sourcing.week.facts import Recipe, RunFacts
from sourcing.week.larder import Larder, Pick, fetched
from sourcing.week.moments import minute_of
from sourcing.week.plan import Reason, Shortage
from sourcing.week.reasons import because
from sourcing.week.second_bath import DYEBATH, Follows, dyed_in, follows, ratio_of
from sourcing.week.words import (
    amount,
    day_in_words,
    decimal_string,
    figure_in_words,
    moment_in_words,
)

if TYPE_CHECKING:
    from sourcing.week.wants import Wants

TENTH = 10


@dataclass(frozen=True, slots=True)
class Candidate:
    """A bath that a run might follow in."""

    bath: BathFacts
    good: LastGood
    l_per_kg: Fraction  # of it that the run asks for
    usable_from: int
    run: str = ""  # whose it is, of one that a placed run leaves
    far: str = ""  # the site that it is fetched from

    def need_ul(self, run: RunFacts) -> int:
        return round(self.l_per_kg * run.weight_mg)


def want_second_bath(
    run: RunFacts,
    recipe: Recipe,
    larder: Larder,
    wants: Wants,
    without: frozenset[str],
    minute: int | None,
) -> None:
    """The bath that a run follows in, or what it is short of.

    Parameters
    ----------
    without : codes of baths that an earlier attempt ruled out
    minute : when its dyeing was placed at the last attempt; None: not known yet
    """
    asked = follows(recipe, larder.facts.recipes, larder.facts.figures, on=larder.today)
    if asked is None:
        text = say(
            "no recipe {recipe} with a step that dyes is written down", recipe=recipe.second_of
        )
        wants.lacking.append(Reason("recipe", recipe.second_of, text))
        return
    if not asked.given:
        wants.lacking.append(_too_many(asked))
        return
    there, most = list(_candidates(asked, larder, wants)), 0
    whys: list[Reason] = []
    for row in there:
        if row.bath.code in without:
            continue
        need_ul = row.need_ul(run)
        day = larder.calendar.day_of(max(row.usable_from, minute or 0))
        barred = _barred(row, recipe, asked, day)
        if barred is not None:
            whys.append(barred)
            continue
        if row.far and need_ul > larder.carry_ul_at_most:
            continue
        if larder.left[row.bath.code] < need_ul:
            most = max(most, larder.left[row.bath.code])
            continue
        _take(row, run, recipe, asked, need_ul, larder, wants)
        return
    need_ul = round(asked.of_bath(_ratio(asked)) * run.weight_mg)
    wants.short.append(_short(asked, need_ul, most))
    wants.lacking.extend(whys or [_nobody(asked, larder, here=bool(there))])


def could_follow(run: RunFacts, recipe: Recipe, larder: Larder) -> bool:
    """Whether any order of the week's runs might give a run its bath; never no where one does."""
    asked = follows(recipe, larder.facts.recipes, larder.facts.figures, on=larder.today)
    if asked is None or not asked.given:
        return False
    shade = asked.first.shade
    dyes = {row.code for row in larder.facts.recipes if row.shade == shade}
    if any(row.recipe in dyes and row.code != run.code for row in larder.facts.runs):
        return True
    need_ul = round(asked.of_bath(_ratio(asked)) * run.weight_mg)
    return any(
        bath.what == DYEBATH and bath.shade == shade and bath.left_ul >= need_ul
        for bath in larder.facts.shelf.baths
    )


def _candidates(asked: Follows, larder: Larder, wants: Wants) -> Iterator[Candidate]:
    """Baths of the shade that comes first: kept here, left by placed runs, kept at another site."""
    now, site = minute_of(larder.facts.at), wants.site
    kept = [
        Candidate(bath, good, asked.of_bath(_ratio(asked)), now, far=fetched(bath.site, site))
        for bath, good in larder.all_baths_of(DYEBATH, site=site, far=wants.far)
        if bath.shade == asked.first.shade and _used(bath) == asked.number - 1
    ]
    yield from (row for row in kept if not row.far)
    for row, good in larder.poured_of(asked.first.shade, site=site):
        if _used(row.bath) == asked.number - 1:
            free = max(now, minute_of(row.bath.made_at))
            yield Candidate(row.bath, good, asked.of_bath(row.l_per_kg), free, row.run)
    yield from (row for row in kept if row.far)


def _used(bath: BathFacts) -> int:
    """How often cloth was dyed in a bath; once where nobody said."""
    return bath.times_used or 1


def _ratio(asked: Follows) -> Fraction:
    step = dyed_in(asked.first)
    assert step is not None, asked.first
    return ratio_of(step, asked.first)


def _barred(row: Candidate, recipe: Recipe, asked: Follows, day: date) -> Reason | None:
    """Why a run may not follow in a bath, whatever it holds."""
    bath = row.bath
    if bath.metal and recipe.bright:
        text = say("{code} holds {metal}: brights come before it", code=bath.code, metal=bath.metal)
        return Reason("bath", bath.code, text)
    if bath.metal == "iron" and set(asked.step.vessels) != {"iron pot"}:
        text = say("{code} holds iron, and {step} goes into other than iron pots",
                   code=bath.code, step=asked.step.name)  # fmt: skip
        return Reason("bath", bath.code, text)
    if bath.depth and recipe.depth > bath.depth:
        text = say("{code} gave {shade}: second bath is paler", code=bath.code, shade=bath.shade)
        return Reason("bath", bath.code, text)
    if row.l_per_kg > asked.l_per_kg:
        text = say(
            "{code} is too weak for so much colour: {wanted} L of it for each kg, {there} L go in",
            code=bath.code,
            wanted=_tenths(row.l_per_kg),
            there=_tenths(asked.l_per_kg),
        )
        return because("bath", bath.code, text, asked.figure)
    if row.good.day < day:
        text = say("{code} ends {day}, before {day_2}", code=bath.code,
                   day=day_in_words(row.good.day), day_2=day_in_words(day))  # fmt: skip
        return because("bath", bath.code, text, row.good.figure)
    return None


def _take(
    row: Candidate,
    run: RunFacts,
    recipe: Recipe,
    asked: Follows,
    need_ul: int,
    larder: Larder,
    wants: Wants,
) -> None:
    bath, zone = row.bath, larder.facts.zone
    wants.picks.append(Pick(bath.code, bath.what, need_ul, "µL", asked.step.name, row.usable_from,
                            row.good.day, keeps=row.good.figure, far=row.far))  # fmt: skip
    percent = asked.strength * 100
    text = say("bath {number} of {shade}: {percent} % of its shade", number=asked.number,
               shade=asked.first.shade, percent=_tenths(percent))  # fmt: skip
    wants.reasons.append(because("bath", bath.code, text, asked.figure))
    more_ul = round(asked.l_per_kg * run.weight_mg) - need_ul
    said = say("{need} of the bath of {shade}", need=amount(need_ul, "µL"), shade=bath.shade)
    if more_ul > 0:
        said = say("{said}, topped up with {more} of water", said=said, more=amount(more_ul, "µL"))
    wants.notes.append(said)
    if row.usable_from > minute_of(larder.facts.at):
        free = larder.moment(row.usable_from)
        text = say("wants the bath of {run}, free {free}", run=row.run,
                   free=moment_in_words(free, zone))  # fmt: skip
        wants.waits.append(Reason("bath", bath.code, text, free))


def _short(asked: Follows, need_ul: int, most_ul: int) -> Shortage:
    text = say(
        "bath of {shade} short by {short}: {need} wanted, {there} left",
        shade=asked.first.shade,
        short=amount(need_ul - most_ul, "µL"),
        need=amount(need_ul, "µL"),
        there=amount(most_ul, "µL"),
    )
    return Shortage("bath", DYEBATH, need_ul - most_ul, "µL", None, text)


def _nobody(asked: Follows, larder: Larder, *, here: bool) -> Reason:
    """Why there is no bath: nobody dyes the shade, or who does is not placed before."""
    shade = asked.first.shade
    recipes = {row.code for row in larder.facts.recipes if row.shade == shade}
    runs = sorted(row.code for row in larder.facts.runs if row.recipe in recipes)
    if here:
        text = say("no bath of {shade} holds so much", shade=shade)
    elif runs:
        text = say(
            "no bath of {shade} is left here by {runs}", shade=shade, runs=joined(", ", runs)
        )
    else:
        text = say("nobody dyes {shade}, and no bath of it is kept", shade=shade)
    return Reason("bath", shade, text)


def _too_many(asked: Follows) -> Reason:
    most = asked.most
    if most is None or asked.number <= most.value:
        return because("bath", asked.first.shade,
                       say("{shade} leaves nothing in its bath", shade=asked.first.shade),
                       asked.figure)  # fmt: skip
    text = say(
        "{item} colours {most} baths, this would be number {number}",
        item=most.item,
        most=decimal_string(most.value),
        number=asked.number,
    )
    return Reason("bath", asked.first.shade, text, figure=figure_in_words(most), own=most.own)


def _tenths(number: Fraction) -> str:
    """A number to the tenth, without a nought behind the point."""
    tenths = round(number * TENTH)
    return f"{tenths // TENTH}" if tenths % TENTH == 0 else f"{tenths / TENTH:.1f}"
