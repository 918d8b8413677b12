"""Labels of fibre: dry weight, what has been done to it, the name that the law gives it."""

from __future__ import annotations

from collections.abc import Iterator

from api.web.labels.label import Label, Line, full_day
from api.web.shelves.fibre import done_to
from inventory.science.cautions import cautions_for_run
from inventory.science.facts import FibreFacts
from inventory.science.fibre_names import legal_name
from inventory.science.keeping import fibre_last_good_day
from inventory.science.saying import say
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import grams

FOR_SALE = "labels"  # that cloth for sale carries its fibre names, and where to check it


def label_of_fibre(facts: ShelvesFacts, row: FibreFacts) -> Label:
    """The label of a lot of fibre: a swing ticket for a skein or a piece."""
    rows = cautions_for_run(for_sale=True, baths=False)
    return Label(
        code=row.code,
        name=row.shade,
        what=say("{fibre} {form}", fibre=row.fibre, form=row.form).strip(),
        lines=tuple(_lines(facts, row)),
        cautions=tuple(each for each in rows if each.code == FOR_SALE),
        stop=_stop(facts, row),
        # A lot has one fibre by name, its share nobody has written down.
        blanks=(say("% of it"), say("mark")),
        for_dye=False,
    )


def _lines(facts: ShelvesFacts, row: FibreFacts) -> Iterator[Line]:
    yield Line(say("dry weight"), grams(row.left_mg), strong=True)
    named = legal_name(row.fibre)
    yield Line(say("fibre name for sale"), named.words if named is not None else row.fibre)
    since = say(" since {full_day}", full_day=full_day(row.since)) if row.since else ""
    yield Line(
        say("state"),
        say(
            "{done_to}, {which}{since}",
            done_to=done_to(row)[1],
            which=say("damp") if row.damp else say("dry"),
            since=since,
        ),
    )
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    if good is not None:
        yield Line(say("damp no longer than"), full_day(good.day), strong=True)
    if row.iron_percent:
        yield Line(
            say("iron in it"),
            say("{normalize:f} % as iron sulphate", normalize=row.iron_percent.normalize()),
        )
    if row.came_out:
        yield Line(say("came out"), row.came_out)


def _stop(facts: ShelvesFacts, row: FibreFacts) -> str:
    if row.set_aside:
        return say("set aside: {set_aside}", set_aside=row.set_aside)
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    if good is not None and good.day < facts.today:
        return say("damp too long: look for mould")
    return ""
