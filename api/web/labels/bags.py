"""Labels of lots of dyestuff: bag, box or bucket, its weight in its state, its last good day."""

from __future__ import annotations

from collections.abc import Iterator

from api.web.labels.label import Label, Line, full_day, on_label
from api.web.shelves.lots import COLD, why_left_out
from inventory.science.cautions import cautions_for_lot
from inventory.science.counting import Counted
from inventory.science.days import local_day
from inventory.science.saying import say
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import grams


def label_of_lot(facts: ShelvesFacts, row: Counted) -> Label:
    """The label of a lot."""
    lot = row.lot
    return Label(
        code=lot.code,
        name="",
        what=say("{dyestuff}, {state}", dyestuff=lot.dyestuff, state=lot.stay.state)
        if lot.labelled
        else say("not known"),
        lines=tuple(_lines(facts, row)),
        cautions=on_label(
            cautions_for_lot(
                lot.dyestuff,
                fugitive=lot.dyestuff in facts.fugitive,
                cold=lot.stay.place_kind in COLD,
                own=facts.cautions.get(lot.dyestuff, ""),
            )
        ),
        # What is still on its way needs no stop: it is not used before it is there.
        stop="" if row.left_out in ("", "comes later") else why_left_out(facts, row),
        blanks=() if lot.labelled else (say("what it is"), say("since")),
    )


def _lines(facts: ShelvesFacts, row: Counted) -> Iterator[Line]:
    lot, stay = row.lot, row.lot.stay
    place = stay.place or stay.place_kind
    kept = local_day(stay.since, zone=facts.zone)
    yield Line(
        say("weight"),
        say("{left_mg} {state}", left_mg=grams(lot.left_mg), state=stay.state),
        strong=True,
    )
    yield Line(say("last good day"), full_day(row.good.day), strong=True)
    if lot.gathered_on is not None and lot.gathered_on != kept:
        yield Line(say("gathered"), full_day(lot.gathered_on))
    yield Line(say("kept"), say("{place}, since {full_day}", place=place, full_day=full_day(kept)))
    if lot.source:
        yield Line(say("from"), lot.source)
    if lot.permission:
        yield Line(say("permission"), lot.permission)
