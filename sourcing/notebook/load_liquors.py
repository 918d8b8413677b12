"""Loading jars with all that happened to them, and baths."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from typing import Any

from inventory import jars, ledger, lots
from inventory.models import Movement, Studio
from inventory.posting import Posted
from sourcing.notebook.load_shelf import Values, moment_of, warmth_of
from sourcing.notebook.loading import Loading
from sourcing.notebook.page import Row

NOTHING = Fraction(0)


def load_liquors(loading: Loading) -> None:
    """Jars with all that happened to them, in order, and baths."""
    happened: dict[str, list[Row]] = {}
    for page in ("jar_events", "dips"):
        for row in loading.notebook.page(page):
            happened.setdefault(row.text("jar"), []).append(row)
    for row in loading.notebook.page("jars"):
        rows = sorted(happened.get(row.text("jar"), []), key=lambda event: moment_of(event, "at"))
        _jar(loading, row, rows)
    for row in loading.notebook.page("baths"):
        made = moment_of(row, "made")
        loading.post(
            row,
            jars.make_bath,
            at=made,
            code=row.text("bath"),
            what=row.text("what"),
            volume=row.whole("left"),
            temperature_c=float(row.number("warmth") or 0),
            made_at=made,
            shade=row.text("shade"),
            depth=row.whole("depth"),
            metal=row.text("metal"),
            times_used=row.whole("times used"),
            alum_left_mg=row.whole("alum left"),
            site=row.text("site"),
            set_aside=row.text("set aside"),
        )


def load_later_events(loading: Loading) -> None:
    """What happened to jars that are on the shelf already, where only that is to be loaded."""
    begun = {row.text("jar") for row in loading.notebook.page("jars")}
    pages = ("jar_events", "dips")
    rows = [row for page in pages for row in loading.notebook.page(page)]
    for event in sorted(rows, key=lambda event: moment_of(event, "at")):
        if event.text("jar") not in begun:
            moves = Movement.objects.of(loading.studio).filter(lot__code=event.text("jar"))
            last = moves.order_by("-number").values_list("left_after", flat=True).first()
            _happened(loading, event, event.text("jar"), last or 0)


def _jar(loading: Loading, row: Row, happened: Iterable[Row]) -> None:
    """A jar begun, then what happened to it in order; set aside at the end, when it is."""
    happened = tuple(happened)
    code, begun = row.text("jar"), row.moment("begun")
    vinegar, water = shares_of(row)
    volume = row.whole("begun with", row.whole("left"))
    aside = row.text("set aside")
    loading.post(
        row,
        jars.begin,
        at=begun or loading.begins,
        code=code,
        name=row.text("name"),
        metal=row.text("metal"),
        volume=volume,
        vinegar_parts=vinegar,
        water_parts=water,
        acid_percent=row.number("vinegar") or Decimal(0),
        begun_at=begun,
        temperature_c=warmth_of(row),
        metal_put_in_mg=row.whole_or_none("metal put in"),
        looks=row.text("looks"),
        site=row.text("site"),
        labelled=row.yes("labelled", default=True),
        set_aside="" if happened else aside,
    )
    left = volume
    for event in happened:
        left = _happened(loading, event, code, left)
    if aside and happened:
        at = moment_of(happened[-1], "at")
        loading.post(row, lots.set_aside, part="set aside", at=at, lot=code, reason=aside)


def shares_of(row: Row) -> tuple[Fraction, Fraction]:
    """Vinegar and water as shares of what was poured; both 0 where nobody knows."""
    parts = row.several("parts")
    if not parts:
        return NOTHING, NOTHING
    vinegar, water = (Fraction(str(part)) for part in parts)
    return vinegar / (vinegar + water), water / (vinegar + water)


def _happened(loading: Loading, event: Row, code: str, left: int) -> int:
    """Record one event or dip of a jar; what is left in it afterwards."""
    verb, values, left = _verb_of(event, left)
    loading.post(event, verb, at=moment_of(event, "at"), jar=code, **values)
    return left


def _verb_of(event: Row, left: int) -> tuple[Any, dict[str, Any], int]:
    if event.page == "dips":
        reading = event.number("reading")
        grade = event.whole_or_none("strip")
        metal = None if reading is None else float(reading)
        return jars.dip, {"grade": grade, "metal_mg_per_l": metal}, left
    what, amount = event.text("what"), event.whole("amount")
    if what == "topped up":
        acid = event.number("vinegar") or Decimal(0)
        values: Values = {"volume": amount, "acid_percent": acid}
        values["vinegar_parts"] = shares_of(event)[0]
        return jars.top_up, values, left + amount
    if what == "measured":
        return _recount, {"found": amount}, amount
    if what == "drawn":
        return jars.draw, {"volume": amount}, left - amount
    if what == "kept at":
        return jars.keep_at, {"temperature_c": warmth_of(event)}, left
    if what == "evaporated":
        return jars.evaporate, {"left": left - amount}, left - amount
    return jars.strain, {"left": left - amount if amount else None}, left - amount


def _recount(studio: Studio, *, jar: str, **values: Any) -> Posted:
    return ledger.recount(studio, lot=jar, **values)
