"""How big a run can be, ready to show: the weight, what binds it, and how far each thing goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from api.web.ask.view import Otherwise, in_grams
from inventory.science.saying import first_large, say
from sourcing.week.facts import WeekFacts
from sourcing.week.how_big import HowBig, Reach
from sourcing.week.words import grams, listed, moment_in_words


@dataclass(frozen=True, slots=True)
class ReachShown:
    """How far one thing goes."""

    look: str
    word: str
    text: str


@dataclass(frozen=True, slots=True)
class BindsShown:
    """What one step more would lack, and what would do."""

    text: str
    more: tuple[str, ...]  # each by itself; none where nothing alone would


@dataclass(frozen=True, slots=True)
class HowBigShown:
    """The answer to how big a run can be."""

    look: str
    sentence: str
    address: str  # where it is looked at with that weight; empty where none fits
    look_at: str
    step: str
    binds: tuple[BindsShown, ...]
    told_for: str
    reaches: tuple[ReachShown, ...]
    loses: str


def how_big_shown(big: HowBig, facts: WeekFacts, otherwise: Otherwise) -> HowBigShown:
    """The answer in words; a weight that fits can be looked at in one step."""
    return HowBigShown(
        look="yes" if big.mg else "no",
        sentence=_sentence(big, facts),
        address=otherwise({"weight": in_grams(big.mg), "unit": "g"}) if big.mg else "",
        look_at=say("Look at {weight}", weight=grams(big.mg)),
        step=grams(big.step_mg),
        binds=tuple(_binds(big)),
        told_for=grams(big.reached_for_mg),
        reaches=tuple(_reach(row) for row in big.reaches),
        loses=_loses(big),
    )


def _sentence(big: HowBig, facts: WeekFacts) -> str:
    answer = big.answer
    if answer is None or answer.first_step_at is None or answer.dry_at is None:
        return say("Not even {step} fits in these days.", step=grams(big.step_mg))
    return say(
        "Up to {weight}: first step {first}, dry {dry}.", weight=grams(big.mg),
        first=moment_in_words(answer.first_step_at, facts.zone),
        dry=moment_in_words(answer.dry_at, facts.zone),
    )  # fmt: skip


def _binds(big: HowBig) -> Iterator[BindsShown]:
    """Each thing once, with all that would do for it."""
    for text in dict.fromkeys(row.text for row in big.binds):
        more = tuple(row.more for row in big.binds if row.text == text and row.more)
        yield BindsShown(first_large(text), more)


def _reach(row: Reach) -> ReachShown:
    text = first_large(row.text)
    if row.enough:
        return ReachShown("yes", say("enough"), text)
    return ReachShown("no", say("not enough"), text)


def _loses(big: HowBig) -> str:
    if not big.loses:
        return ""
    return say("Beside so much of it {runs} would be no yes any more.", runs=listed(big.loses))
