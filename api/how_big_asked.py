"""Which run an address asks how big it can be: `run=G`, or `recipe=Blush&due=2026-12-01`."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, time
from typing import TypeVar

from django.http import QueryDict

from api.asked import Unreadable, day_asked, shown
from inventory.science.custom import Custom
from inventory.science.saying import joined, say
from inventory.science.unclear import Unclear
from sourcing.week.facts import WeekFacts
from sourcing.week.how_big import HowBig, how_big, how_big_of
from sourcing.week.project import HEAVIEST_RUN_MG
from sourcing.week.what_if import CannotBe
from sourcing.week.what_if.runs import OneRunMore

WORDS = ("run", "recipe", "fibre", "lot", "due", "client", "agreed", "weight")
EVENING = time(18)  # of the day by which a run is to be dry; assumed, not measured
YES_OR_NO = {"": None, "yes": True, "no": False}
NEW = "new"
LONGEST = 120

Found = TypeVar("Found")


class HowBigUnreadable(Unreadable):
    """A run that is asked about cannot be read, or cannot be."""

    code = "how_big_unreadable"


def how_big_asked(
    query: QueryDict, facts: WeekFacts, *, custom: Custom, days: int
) -> HowBig | None:  # fmt: skip
    """How big the run of an address can be; None where it names none.

    Raises
    ------
    HowBigUnreadable
        With a sentence on what to say instead.
    """
    said = {name: " ".join(query.get(name, "").split())[:LONGEST] for name in WORDS}
    wish_mg = _weight(said["weight"], custom) if said["weight"] else None
    if said["run"]:
        _alone(said)
        return _found(lambda: how_big_of(facts, said["run"], days=days, wish_mg=wish_mg), said)
    if said["recipe"]:
        run = _run(said, facts)
        return _found(lambda: how_big(facts, run, days=days, wish_mg=wish_mg), said)
    if any(said.values()):
        detail = say("Say which run, or by which recipe one more would be dyed.")
        raise HowBigUnreadable("run", "", detail)
    return None


def new_name(facts: WeekFacts) -> str:
    """What a run is called that is only asked about."""
    return NEW if all(run.code != NEW for run in facts.runs) else f"{NEW} run"


def _alone(said: dict[str, str]) -> None:
    """A run that is wanted has its recipe, fibre and day already."""
    for name in WORDS[1:-1]:
        if said[name]:
            detail = say(
                "Say a run or a recipe: a run that is wanted has its {name} already.", name=name
            )
            raise HowBigUnreadable(name, said[name], detail)


def _run(said: dict[str, str], facts: WeekFacts) -> OneRunMore:
    client = _yes(said, "client")
    return OneRunMore(
        new_name(facts), said["recipe"], said["fibre"] or _fibre(said, facts), 1,
        _due(said["due"], facts), client=client is not False, fibre_lot=said["lot"],
        shade_card=_yes(said, "agreed"),
    )  # fmt: skip


def _fibre(said: dict[str, str], facts: WeekFacts) -> str:
    """The fibre of a lot that is named, else the first that the recipe is worked out for."""
    lot = next((row for row in facts.shelf.fibre if row.code == said["lot"]), None)
    if lot is not None:
        return lot.fibre
    recipe = next((row for row in facts.recipes if row.code == said["recipe"]), None)
    return recipe.fibres[0] if recipe is not None and recipe.fibres else ""


def _due(text: str, facts: WeekFacts) -> datetime | None:
    if not text:
        return None
    return datetime.combine(day_asked("due", text), EVENING, tzinfo=facts.zone)


def _yes(said: dict[str, str], name: str) -> bool | None:
    if said[name] not in YES_OR_NO:
        detail = say("{name} is yes or no; not {shown}.", name=name, shown=shown(said[name]))
        raise HowBigUnreadable(name, said[name], detail)
    return YES_OR_NO[said[name]]


def _weight(text: str, custom: Custom) -> int:
    try:
        mg = custom.mass(text)
    except Unclear as unclear:
        raise HowBigUnreadable("weight", text, str(unclear)) from unclear
    if not 0 < mg <= HEAVIEST_RUN_MG:
        raise HowBigUnreadable(
            "weight", text, say("{shown} is nothing, or far too much.", shown=shown(text))
        )
    return mg


def _found(work: Callable[[], Found], said: dict[str, str]) -> Found:
    try:
        return work()
    except CannotBe as wrong:
        fields = [fault for _, fault in wrong.faults]
        name = fields[0].field if fields[0].field in WORDS else "run"
        detail = joined(" ", [fault.text for fault in fields])
        raise HowBigUnreadable(name, said[name], detail) from wrong
