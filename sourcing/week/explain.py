"""Why a run could not begin sooner, in words: what pushed its steps, with amount and moment."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.science.catalogue import find_figure
from inventory.science.saying import say
from sourcing.week.allowed import can_heat, refused_for
from sourcing.week.desk import Desk
from sourcing.week.fits import Push
from sourcing.week.moments import NEVER
from sourcing.week.plan import Reason
from sourcing.week.words import figure_in_words, kilos, listed, moment_in_words

# The studio's rule that a kind of wait rests on; the others rest on what is written down.
RULES = {
    "line": "drying_h",
    "frost": "drying_h",
    "night": "nights_in_bath_at_most",
    "vessel": "pause_between_runs_min",
}


def waits_of(pushes: Iterable[Push], desk: Desk, run: str) -> list[Reason]:
    """The pushes that cost a day or more, in order of their moments.

    One a kind and thing, the last to let go: what it held before decided nothing.
    """
    found: dict[tuple[str, str], Push] = {}
    for push in pushes:
        if not _costs_a_day(push, desk):
            continue
        key = (push.kind, push.what.partition(":")[0])
        kept = found.get(key)
        if kept is None or push.until > kept.until:
            found[key] = push
    return [reason_of(push, desk, run) for push in sorted(found.values(), key=lambda push: push.at)]


def _costs_a_day(push: Push, desk: Desk) -> bool:
    calendar = desk.calendar
    if push.kind in ("standing", "attended"):
        return False
    if push.until >= NEVER:
        return True
    days = calendar.day_number(push.until) - calendar.day_number(push.at)
    return days > 1 if push.kind == "closed" else days > 0


def reason_of(push: Push, desk: Desk, run: str) -> Reason:
    """One push in words, with the rule that it rests on."""
    until = None if push.until >= desk.calendar.end else desk.calendar.moment(push.until)
    what, by = (*push.what.split(":"), "")[:2]
    kind = "frost" if _is_frost(push) else push.kind
    text = _text(push, desk, what, by) if what or kind != "vessel" else _refused(push, desk, run)
    rule = "pause_between_steps_min" if kind == "vessel" and not by else RULES.get(kind)
    found = find_figure(desk.facts.figures, "studio", rule, on=desk.today) if rule else None
    if found is None or until is None:
        return Reason(kind, what, text, until)
    return Reason(kind, what, text, until, figure_in_words(found), found.own)


def _is_frost(push: Push) -> bool:
    """Whether a line that has the room is refused: it stands outdoors and a frost falls."""
    return push.kind == "line" and push.amount <= push.there


def _text(push: Push, desk: Desk, what: str, by: str) -> str:
    at = moment_in_words(desk.calendar.moment(push.at), desk.facts.zone)
    until = (
        say("not within the horizon")
        if push.until >= desk.calendar.end
        else moment_in_words(desk.calendar.moment(push.until), desk.facts.zone)
    )
    if _is_frost(push):
        return say(
            "frost while cloth would hang on {what} from {at}; next {until}",
            what=what,
            at=at,
            until=until,
        )
    if push.kind == "line":
        over = push.amount - push.there
        return say(
            "line on {at}: {amount} would hang on {there}, {over} over; room from {until}",
            at=at,
            amount=kilos(push.amount),
            there=kilos(push.there),
            over=kilos(over),
            until=until,
        )
    if push.kind == "hands":
        return say(
            "hands for {step} on {at}: {amount} min wanted, {there} left; next {until}",
            step=push.step,
            at=at,
            amount=push.amount,
            there=max(push.there, 0),
            until=until,
        )
    if push.kind in ("vessel", "ring"):
        holder = (
            say("held by {holder}", holder=_holder(by, desk))
            if by
            else say("held by the run itself")
        )
        return say(
            "{what} is {holder}; free for {step} {until}",
            what=what,
            holder=holder,
            step=push.step,
            until=until,
        )
    if push.kind == "closed":
        return say("nobody is in from {at} to {until}", at=at, until=until)
    if push.kind == "night":
        return say(
            "{step} on {at} would stand too many nights; next {until}",
            step=push.step,
            at=at,
            until=until,
        )
    if push.kind == "aired":
        return say(
            "{step} needs airing, not possible on {at}; next {until}",
            step=push.step,
            at=at,
            until=until,
        )
    return say("{step} waits until {until}", step=push.step, until=until)


def _refused(push: Push, desk: Desk, code: str) -> str:
    """Why each vessel of the wanted kind may not hold a step."""
    (recipe,) = (desk.recipes[run.recipe] for run in desk.facts.runs if run.code == code)
    step = next(row for row in recipe.steps if row.name == push.step)
    kinds = {wanted.split()[-1] for wanted in step.vessels}
    whys = []
    for vessel in desk.facts.shelf.vessels:
        bright = recipe.bright and step.metal != "iron"
        why = refused_for(vessel, step, bright=bright)
        if not why and step.heats and not can_heat(vessel, desk.facts.shelf.rings):
            why = "fits no ring"
        if vessel.kind in kinds and why:
            whys.append(say("{code} {why}", code=vessel.code, why=why))
    return say("no vessel is allowed for {step}", step=push.step) + (
        say(": {whys}", whys=listed(whys)) if whys else ""
    )


def _holder(code: str, desk: Desk) -> str:
    shades = {run.code: run.shade for run in desk.facts.runs}
    blocks = {block.code: block.what for block in desk.facts.blocks}
    return shades.get(code) or blocks.get(code) or code
