"""Choices from the shelves: jars, lots, baths, fibre, pots, each with what tells it apart."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from api.tongue.trade import trade
from api.web.note.hand import Choice, Hand
from api.web.shelves.words import life_said, moment_said, one_or
from inventory.science.counting import Counted
from inventory.science.facts import BathFacts, FibreFacts, JarFacts, VesselFacts
from inventory.science.jar_story import JarStory
from inventory.science.saying import joined, say
from sourcing.week.words import grams, litres, volume

WAITING = {"ready to dip": 0, "retest": 1, "steeping": 2, "matured": 3, "set aside": 4, "spent": 5}
Choices = Callable[[Hand], Sequence[Choice]]


def jars(hand: Hand) -> Sequence[Choice]:
    """Every jar, those that wait for a strip in front."""
    facts = hand.shelves
    stories = [facts.story(jar) for jar in facts.shelf.jars]
    stories.sort(key=lambda story: (_wait(story), WAITING[story.state.word], story.jar.code))
    return [_jar(story.jar, _told(story)) for story in stories]


def jars_by_code(hand: Hand) -> Sequence[Choice]:
    """Every jar with what is left in it."""
    return [
        _jar(jar, say("{code}, {left}", code=jar.code, left=volume(jar.left_ul)))
        for jar in hand.shelves.shelf.jars
    ]


def lots(hand: Hand) -> Sequence[Choice]:
    """Every lot of dyestuff that is here, what spoils first in front."""
    rows = [row for row in hand.shelves.lots if row.comes is None]
    return [_lot(hand, row) for row in rows]


def lots_past_first(hand: Hand) -> Sequence[Choice]:
    """Lots and baths that may be tipped out, those past their last good day in front."""
    rows = [row for row in hand.shelves.lots if row.comes is None]
    rows.sort(key=lambda row: row.days_left)
    return [*(_lot(hand, row) for row in rows), *baths(hand), *jars_by_code(hand)]


def fresh_lots(hand: Hand) -> Sequence[Choice]:
    """Lots to put by: what is still fresh or damp, what spoils first before the rest.

    What is put by already can be moved, but is offered only where nothing else is left.
    """
    rows = [row for row in hand.shelves.lots if row.comes is None and row.days_left >= 0]
    wet = [row for row in rows if row.lot.stay.state in ("fresh", "damp")]
    return [_lot(hand, row) for row in wet or rows]


def lots_and_supplies(hand: Hand) -> Sequence[Choice]:
    """What is drawn by hand: lots that count, then supplies."""
    usable = [_lot(hand, row) for row in hand.shelves.lots if row.usable and row.comes is None]
    return [*usable, *supplies(hand)]


def everything(hand: Hand) -> Sequence[Choice]:
    """Lots, then supplies, jars, baths and fibre."""
    return [*lots(hand), *supplies(hand), *jars_by_code(hand), *baths(hand), *fibre(hand)]


def supplies(hand: Hand) -> Sequence[Choice]:
    """Alum, soda crystals, tannin."""
    rows = hand.shelves.shelf.supplies
    return [
        Choice(row.code, trade(row.what), say("{left} left", left=grams(row.left_mg)))
        for row in rows
    ]


def supply_first(name: str) -> Choices:
    """Supplies with one of that name in front."""

    def among(hand: Hand) -> Sequence[Choice]:
        return sorted(supplies(hand), key=lambda choice: name not in choice.words)

    return among


def baths(hand: Hand) -> Sequence[Choice]:
    """Every bath that is kept."""
    return [_bath(row) for row in hand.shelves.shelf.baths]


def aside(hand: Hand) -> Sequence[Choice]:
    """What is set aside, with the reason."""
    shelf = hand.shelves.shelf
    rows: Iterable[tuple[str, str, str]] = (
        *((row.code, row.dyestuff, row.set_aside) for row in shelf.lots),
        *((row.code, row.name or row.looks, row.set_aside) for row in shelf.jars),
        *((row.code, row.what, row.set_aside) for row in shelf.baths),
        *((row.code, row.fibre, row.set_aside) for row in shelf.fibre),
    )
    return [
        Choice(code, what, say("{code}, {why}", code=code, why=why))
        for code, what, why in rows
        if why
    ]


def unlabelled(hand: Hand) -> Sequence[Choice]:
    """What has no label."""
    shelf = hand.shelves.shelf
    rows: Iterable[tuple[str, str, bool]] = (
        *((row.code, row.looks or row.name, row.labelled) for row in shelf.jars),
        *((row.code, row.dyestuff, row.labelled) for row in shelf.lots),
        *((row.code, row.fibre, row.labelled) for row in shelf.fibre),
    )
    return [Choice(code, what, code) for code, what, labelled in rows if not labelled]


def on_the_way(hand: Hand) -> Sequence[Choice]:
    """Lots and fibre that are promised and not here yet."""
    facts = hand.shelves
    found = [
        Choice(
            row.lot.code,
            row.lot.dyestuff,
            say(
                "{code}, {comes}",
                code=row.lot.code,
                comes=moment_said(row.comes, facts.today, facts.zone),
            ),
        )
        for row in facts.lots
        if row.comes is not None
    ]
    return [
        *found,
        *(
            Choice(
                row.code,
                row.fibre,
                say(
                    "{code}, {arrives_at}",
                    code=row.code,
                    arrives_at=moment_said(row.arrives_at, facts.today, facts.zone),
                ),
            )
            for row in facts.shelf.fibre
            if row.arrives_at is not None and row.arrives_at > facts.at
        ),
    ]


def cut_lots(hand: Hand) -> Sequence[Choice]:
    """Lots that were cut from hedges and wild plants."""
    rows = [row for row in hand.shelves.lots if row.lot.foraged]
    return [_lot(hand, row) for row in rows]


def fibre(hand: Hand) -> Sequence[Choice]:
    """Every lot of fibre."""
    return [_fibre(row) for row in hand.shelves.shelf.fibre]


def week_fibre(hand: Hand) -> Sequence[Choice]:
    """The same, for a form that needs the week anyway."""
    return [_fibre(row) for row in hand.week.shelf.fibre]


def fibre_where(first: Callable[[FibreFacts], bool], *, only: bool = False) -> Choices:
    """Lots of fibre, those that fit in front, or only those."""

    def among(hand: Hand) -> Sequence[Choice]:
        rows = [row for row in hand.shelves.shelf.fibre if not only or first(row)]
        return [_fibre(row) for row in sorted(rows, key=lambda row: not first(row))]

    return among


def pots(hand: Hand) -> Sequence[Choice]:
    """Every pot, tub and bucket."""
    return [_pot(row) for row in hand.shelves.shelf.vessels]


def pots_with_iron(hand: Hand) -> Sequence[Choice]:
    """Pots, those that had iron in them and no blank swatch since in front."""
    return [_pot(row) for row in sorted(hand.shelves.shelf.vessels, key=_is_clear)]


def _is_clear(row: VesselFacts) -> bool:
    if row.iron_on is None:
        return True
    return row.blank_passed_on is not None and row.blank_passed_on >= row.iron_on


def _wait(story: JarStory) -> str:
    """A jar that has a day for its next strip by that day, the others behind."""
    dip = story.state.next_dip
    return dip.isoformat() if dip is not None else "9999"


def _told(story: JarStory) -> str:
    jar, state = story.jar, story.state
    parts = [jar.code, state.word]
    if state.age_days is not None and state.word in ("steeping", "ready to dip"):
        parts.append(say("day {age_days}", age_days=state.age_days))
    if state.grade is not None:
        parts.append(say("strip {grade} of 5", grade=state.grade))
        if state.strip_age_days is not None:
            parts.append(
                say(
                    "{strip_age_days} ago",
                    strip_age_days=one_or(state.strip_age_days, "day", "days"),
                )
            )
    return joined(", ", parts)


def _jar(jar: JarFacts, more: str) -> Choice:
    return Choice(jar.code, jar.name or jar.looks or jar.code, more)


def _lot(hand: Hand, row: Counted) -> Choice:
    lot = row.lot
    kept = say(
        "{code}, {left} {state}", code=lot.code, left=grams(lot.left_mg), state=lot.stay.state
    )
    return Choice(
        lot.code,
        trade(lot.dyestuff),
        say("{kept}, {life_said}", kept=kept, life_said=life_said(row, hand.shelves.today)),
    )


def _bath(row: BathFacts) -> Choice:
    return Choice(
        row.code, trade(row.what), say("{code}, {left}", code=row.code, left=volume(row.left_ul))
    )


def _fibre(row: FibreFacts) -> Choice:
    done = row.shade or row.mordant or ("scoured" if row.scoured else "unscoured")
    damp = say(", damp") if row.damp else ""
    return Choice(
        row.code,
        say("{fibre} {form}", fibre=row.fibre, form=row.form),
        say(
            "{code}, {left}, {done}{damp}",
            code=row.code,
            left=grams(row.left_mg),
            done=done,
            damp=damp,
        ),
    )


def _pot(row: VesselFacts) -> Choice:
    size = joined(" ", filter(None, (litres(row.brim_ml), trade(row.material), trade(row.kind))))
    return Choice(row.code, row.code, size)
