"""Labels of fibre: dry weight, what has been done to it, the name that the law gives it."""

from __future__ import annotations

from collections.abc import Iterator

from api.web.labels.label import Label, Line, full_day
from api.web.shelves.fibre import done_to
from inventory.science.cautions import cautions_for_run
from inventory.science.facts import FibreFacts
from inventory.science.fibre_names import legal_name
from inventory.science.keeping import fibre_last_good_day
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import grams

FOR_SALE = "labels"  # that cloth for sale carries its fibre names, and where to check it


def label_of_fibre(facts: ShelvesFacts, row: FibreFacts) -> Label:
    """The label of a lot of fibre: a swing ticket for a skein or a piece."""
    rows = cautions_for_run(for_sale=True, baths=False)
    return Label(
        code=row.code,
        name=row.shade,
        what=f"{row.fibre} {row.form}".strip(),
        lines=tuple(_lines(facts, row)),
        cautions=tuple(each for each in rows if each.code == FOR_SALE),
        stop=_stop(facts, row),
        # A lot has one fibre by name, its share nobody has written down.
        blanks=("% of it", "mark"),
        for_dye=False,
    )


def _lines(facts: ShelvesFacts, row: FibreFacts) -> Iterator[Line]:
    yield Line("dry weight", grams(row.left_mg), strong=True)
    named = legal_name(row.fibre)
    yield Line("fibre name for sale", named.words if named is not None else row.fibre)
    since = f" since {full_day(row.since)}" if row.since else ""
    yield Line("state", f"{done_to(row)[1]}, {'damp' if row.damp else 'dry'}{since}")
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    if good is not None:
        yield Line("damp no longer than", full_day(good.day), strong=True)
    if row.iron_percent:
        yield Line("iron in it", f"{row.iron_percent.normalize():f} % as iron sulphate")
    if row.came_out:
        yield Line("came out", row.came_out)


def _stop(facts: ShelvesFacts, row: FibreFacts) -> str:
    if row.set_aside:
        return f"set aside: {row.set_aside}"
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    if good is not None and good.day < facts.today:
        return "damp too long: look for mould"
    return ""
