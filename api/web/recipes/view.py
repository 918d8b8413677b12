"""A recipe ready to show: doses with what they come to, steps with warmth and times, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.urls import reverse

from api.question import Question
from api.web.ask.choices import dose_in_words
from api.web.figures.things import RowShown, rows_shown, thing_address
from inventory.science.library import library
from inventory.science.saying import joined, say
from inventory.science.wording import bare_warmth, liquor_ratio, warmth
from sourcing.notebook.row_key import key_text
from sourcing.notebook.step_words import write_minutes
from sourcing.recipes import as_decimal
from sourcing.recipes_seen import ReadingSeen, RecipeSeen, SwatchSeen
from sourcing.starts.starts import Start, start_called
from sourcing.week.facts import Heat, Recipe, Step
from sourcing.week.words import decimal_string, listed, moment_in_words

START = say("a start, try a snippet")
ROWS_AT_MOST = 4  # of one figure; the catalogue's own page has all


@dataclass(frozen=True, slots=True)
class RecipeCard:
    """One recipe of the list."""

    code: str
    shade: str
    address: str
    ask: str  # the address that asks for a run of it
    fibres: str
    doses: tuple[str, ...]
    marks: tuple[str, ...]
    said: str  # version 3, wanted twice


@dataclass(frozen=True, slots=True)
class StepShown:
    """One step in words."""

    name: str
    where: str
    does: tuple[str, ...]
    takes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SourceShown:
    """One figure of a shipped start, and all that the catalogue has on it."""

    what: str
    here: str
    rows: tuple[RowShown, ...]
    address: str


@dataclass(frozen=True, slots=True)
class SwatchShown:
    """A swatch with its readings."""

    name: str
    lot: str
    at: str
    readings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RecipeShown:
    """The page of one recipe in one version."""

    card: RecipeCard
    version: int
    last: bool
    versions: tuple[tuple[int, str, bool], ...]  # number, address, whether it is shown
    facts: tuple[tuple[str, str], ...]
    steps: tuple[StepShown, ...]
    sources: tuple[SourceShown, ...]
    swatches: tuple[SwatchShown, ...]
    change: str  # the address of its form


def card_of(seen: RecipeSeen, carried: str) -> RecipeCard:
    """A recipe as a shade ticket."""
    recipe = seen.recipe
    ask = f"{reverse('ask')}{f'{carried}&' if carried else '?'}{urlencode({'recipe': recipe.code})}"
    return RecipeCard(
        code=recipe.code,
        shade=recipe.shade,
        address=address_of(recipe.code) + carried,
        ask=ask,
        fibres=listed(recipe.fibres),
        doses=tuple(dose_in_words(dose) for dose in recipe.doses),
        marks=tuple(_marks(recipe)),
        said=_said(seen),
    )


def address_of(code: str) -> str:
    """Where a recipe has its page."""
    return reverse("recipe", args=[key_text([code])])


def recipe_shown(
    seen: RecipeSeen, swatches: tuple[SwatchSeen, ...], question: Question
) -> RecipeShown:
    """The whole page."""
    recipe, zone = seen.recipe, ZoneInfo(question.studio.zone)
    here = address_of(recipe.code)
    start = start_called(recipe.code)
    return RecipeShown(
        card=card_of(seen, question.carried),
        version=seen.version,
        last=seen.version == seen.versions,
        versions=tuple(_versions(seen, here, question.carried)),
        facts=tuple(_facts(recipe)),
        steps=tuple(_step(step, recipe) for step in recipe.steps),
        sources=() if start is None else tuple(_sources(start, question.carried)),
        swatches=tuple(_swatch(row, zone) for row in swatches),
        change=reverse("recipe-change", args=[key_text([recipe.code])]) + question.carried,
    )


def _marks(recipe: Recipe) -> Iterator[str]:
    if recipe.fugitive:
        yield say("soon fades")
    if start_called(recipe.code) is not None:
        yield START


def _said(seen: RecipeSeen) -> str:
    said: list[str] = [say("version {version}", version=seen.version)] if seen.versions > 1 else []
    if seen.open_runs:
        said.append(
            say("wanted once")
            if seen.open_runs == 1
            else say("wanted {open_runs} times", open_runs=seen.open_runs)
        )
    return joined(", ", said)


def _versions(seen: RecipeSeen, here: str, carried: str) -> Iterator[tuple[int, str, bool]]:
    """The newest first; numbers run from 1 without a gap."""
    if seen.versions < 2:
        return
    for number in range(seen.versions, max(0, seen.versions - 50), -1):
        asked = f"{carried}&version={number}" if carried else f"?version={number}"
        yield number, here + asked, number == seen.version


def _facts(recipe: Recipe) -> Iterator[tuple[str, str]]:
    yield say("Fibre"), listed(recipe.fibres)
    yield say("Ratio"), f"{decimal_string(recipe.l_per_kg)}:1"
    if recipe.mordant:
        yield (
            say("Mordant"),
            say(
                "{mordant} {mordant_percent} %",
                mordant=recipe.mordant,
                mordant_percent=decimal_string(recipe.mordant_percent),
            ),
        )
    yield say("Iron"), say("spoils it") if recipe.bright else say("does it no harm")
    yield say("Lots"), say("one lot only") if recipe.match == "lot" else say("one blend of lots")
    yield say("Depth"), say("{depth} of 5", depth=recipe.depth)
    if recipe.may_share:
        yield say("May share a pot for"), listed(recipe.may_share)
    if recipe.second_of:
        yield say("Dyed in"), _second_bath(recipe)
    if recipe.water:
        yield say("Water"), recipe.water
    if recipe.ph_low is not None or recipe.ph_high is not None:
        ends = [decimal_string(end) for end in (recipe.ph_low, recipe.ph_high) if end is not None]
        yield "pH", " to ".join(ends)


def _second_bath(recipe: Recipe) -> str:
    if recipe.strength is None:
        return say("the second bath of {recipe}", recipe=recipe.second_of)
    return say(
        "the second bath of {recipe}, {percent} % of its shade",
        recipe=recipe.second_of,
        percent=_tenth(as_decimal(recipe.strength * 100)),
    )


def _step(step: Step, recipe: Recipe) -> StepShown:
    return StepShown(
        name=step.name,
        where=_where(step, recipe),
        does=tuple(_does(step)),
        takes=tuple(dose_in_words(dose) for dose in recipe.doses if dose.step == step.name),
    )


def _where(step: Step, recipe: Recipe) -> str:
    if not step.vessels:
        return say("by hand")
    if step.vessels == ("same",):
        return say("in the same pot")
    ratio = recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg
    return say(
        "in a {vessels}, {ratio}",
        vessels=joined(" or ", step.vessels),
        ratio=liquor_ratio(ratio.quantize(Decimal("0.1"))),
    )


def _tenth(number: Decimal) -> str:
    return decimal_string(number.quantize(Decimal("0.1")).normalize())


def _does(step: Step) -> Iterator[str]:
    """What happens in a step, one thing after the other."""
    yield from (_heat(heat) for heat in step.heats)
    if step.begun_c is not None:
        yield say("begun in water of {begun}", begun=warmth(step.begun_c))
    if step.stand_min:
        yield _stands(step.stand_min, step.stand_max)
    if step.night:
        yield say("stands overnight")
    if step.cool_min:
        yield say("cools {write_minutes}", write_minutes=write_minutes(step.cool_min))
    if step.strain:
        at = (
            ""
            if step.strained_c is None
            else say(" at {strained}", strained=warmth(step.strained_c))
        )
        yield say("strained{at}", at=at)
    if step.snippet_min:
        yield say(
            "a snippet stands in it {write_minutes}", write_minutes=write_minutes(step.snippet_min)
        )
    if step.from_time is not None:
        yield say("not before {from_time:%H:%M}", from_time=step.from_time)
    if step.at_once:
        yield say("follows at once")
    if step.aired:
        yield say("only where it is aired")
    if step.metal:
        yield say("leaves {metal}", metal=step.metal)
    if step.hands_min:
        yield say("hands {hands_min} min per {per}", hands_min=step.hands_min, per=step.hands_per)


def _stands(least: int, most: int | None) -> str:
    """How long cloth stands in its bath: so long, or from so long to so long."""
    if most is None:
        return say("stands {time}", time=write_minutes(least))
    if least % 60 == 0 and most % 60 == 0:
        return say("stands {least} to {most} h", least=least // 60, most=most // 60)
    return say("stands {least} to {most} min", least=least, most=most)


def _heat(heat: Heat) -> str:
    start = "" if heat.start_c is None else say("from {start} ", start=bare_warmth(heat.start_c))
    hold = (
        say(", held {write_minutes}", write_minutes=write_minutes(heat.hold_min))
        if heat.hold_min
        else ""
    )
    return say("heats {start}to {goal}{hold}", start=start, goal=warmth(heat.goal_c), hold=hold)


def _sources(start: Start, carried: str) -> Iterator[SourceShown]:
    for row in start.figures:
        thing = library().thing(row.kind, row.thing)
        assert thing is not None, "a start is read with its things"
        rows = rows_shown(row.said)[:ROWS_AT_MOST]
        yield SourceShown(row.what, row.here, rows, thing_address(thing, carried=carried))


def _swatch(row: SwatchSeen, zone: ZoneInfo) -> SwatchShown:
    name = say(
        "{which} {number}",
        which=say("Snippet") if row.snippet else say("Swatch"),
        number=row.number,
    )
    readings = tuple(_reading(each) for each in row.readings)
    return SwatchShown(name, row.lot, moment_in_words(row.at, zone), readings)


def _reading(row: ReadingSeen) -> str:
    """`light 5 after 28 days`, `colour L* 62, a* 21, b* 14`."""
    if row.lab is not None:
        parts = (
            say("{name}* {part}", name=name, part=decimal_string(part))
            for name, part in zip(say("Lab"), row.lab, strict=True)
        )
        return say("{what} {parts}", what=row.what, parts=joined(", ", parts))
    said = (
        ""
        if row.value is None
        else say(" {decimal_string}", decimal_string=decimal_string(row.value))
    )
    days = "" if row.days is None else say(" after {days} days", days=row.days)
    return joined("", (row.what, said, days))
