"""Why a run could not begin sooner, in words: what pushed its steps, with amount and moment."""

from __future__ import annotations

from collections.abc import Iterable

from sourcing.week.desk import Desk
from sourcing.week.fits import Push
from sourcing.week.moments import NEVER
from sourcing.week.plan import Reason
from sourcing.week.words import kilos, moment_in_words


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
    return [_reason(push, desk) for push in sorted(found.values(), key=lambda push: push.at)]


def _costs_a_day(push: Push, desk: Desk) -> bool:
    calendar = desk.calendar
    if push.kind in ("standing", "attended"):
        return False
    if push.until >= NEVER:
        return True
    days = calendar.day_number(push.until) - calendar.day_number(push.at)
    return days > 1 if push.kind == "closed" else days > 0


def _reason(push: Push, desk: Desk) -> Reason:
    until = None if push.until >= desk.calendar.end else desk.calendar.moment(push.until)
    what, by = (*push.what.split(":"), "")[:2]
    kind = "frost" if _is_frost(push) else push.kind
    return Reason(kind, what, _text(push, desk, what, by), until)


def _is_frost(push: Push) -> bool:
    """Whether a line that has the room is refused: it stands outdoors and a frost falls."""
    return push.kind == "line" and push.amount <= push.there


def _text(push: Push, desk: Desk, what: str, by: str) -> str:
    at = moment_in_words(desk.calendar.moment(push.at), desk.facts.zone)
    until = (
        "not within the horizon"
        if push.until >= desk.calendar.end
        else moment_in_words(desk.calendar.moment(push.until), desk.facts.zone)
    )
    if _is_frost(push):
        return f"frost while cloth would hang on {what} from {at}; next {until}"
    if push.kind == "line":
        over = push.amount - push.there
        return (
            f"line on {at}: {kilos(push.amount)} would hang on {kilos(push.there)}, "
            f"{kilos(over)} over; room from {until}"
        )
    if push.kind == "hands":
        return (
            f"hands for {push.step} on {at}: {push.amount} min wanted, "
            f"{max(push.there, 0)} left; next {until}"
        )
    if push.kind in ("vessel", "ring"):
        if not what:
            return f"no vessel is allowed for {push.step}"
        holder = f"held by {_holder(by, desk)}" if by else "held by the run itself"
        return f"{what} is {holder}; free for {push.step} {until}"
    if push.kind == "closed":
        return f"nobody is in from {at} to {until}"
    if push.kind == "night":
        return f"{push.step} on {at} would stand too many nights; next {until}"
    if push.kind == "aired":
        return f"{push.step} needs airing, not possible on {at}; next {until}"
    return f"{push.step} waits until {until}"


def _holder(code: str, desk: Desk) -> str:
    shades = {run.code: run.shade for run in desk.facts.runs}
    blocks = {block.code: block.what for block in desk.facts.blocks}
    return shades.get(code) or blocks.get(code) or code
