"""Loading what is on the shelves: the studio, its rooms and vessels, lots, jars, baths, fibre."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from decimal import Decimal
from typing import Any

from inventory import fibre, ledger, lots, vessels
from inventory.entries import Dyed, Fibre, NewLot
from inventory.models import (
    ColdPlace,
    Dyestuff,
    Line,
    Ring,
    Site,
    Studio,
    StudioRule,
    Vessel,
    Water,
)
from inventory.science.catalogue import shipped
from sourcing.notebook.loading import Loading
from sourcing.notebook.metres import fibre_mg, size_of
from sourcing.notebook.page import Row
from sourcing.notebook.quantities import Counted, FigureOf, Weighed
from sourcing.notebook.rules import value_of

Values = dict[str, Any]
# How a studio's pages are read, by the column that says it; an empty one leaves it as it is.
READ_AS = {"language": "language", "number_form": "numbers", "units": "units"}


def load_studio(row: Row) -> tuple[Studio, bool]:
    """The studio of a notebook, made or brought up to date, and whether it is new."""
    values = {
        "zone": row.text("zone"),
        "country": row.text("country"),
        "region": row.text("region"),
        "currency": row.text("currency") or "GBP",
    }
    values |= {name: row.text(column) for name, column in READ_AS.items() if row.text(column)}
    studio, made = Studio.objects.get_or_create(name=row.text("studio"), defaults=values)
    if any(getattr(studio, name) != value for name, value in values.items()):
        for name, value in values.items():
            setattr(studio, name, value)
        studio.save(update_fields=list(values))
    return studio, made


def load_rooms(loading: Loading) -> None:
    """Sites, rules, waters, rings, lines, cold places and the studio's own dyestuffs."""
    for page, keep in ROOMS.items():
        for row in loading.notebook.page(page):
            keep(loading, row)


def _site(loading: Loading, row: Row) -> None:
    loading.keep(row, Site, {"code": row.text("site")}, {"name": row.text("note")})


def _rule(loading: Loading, row: Row) -> None:
    figure = row.values["value"]
    assert isinstance(figure, FigureOf)
    key = {"item": row.text("item"), "name": row.text("rule"), "since": row.day("since")}
    value = value_of(row.text("rule"), figure)
    values: Values = {"value": value, "note": row.text("note")}
    values |= {"low": row.number("low"), "high": row.number("high")}
    loading.keep(row, StudioRule, key, values)


def _water(loading: Loading, row: Row) -> None:
    values: Values = {
        "ph": row.number("ph"),
        "temperature_c": round(row.number("warmth") or 0),
        "site_id": loading.site_id(row),
    }
    loading.keep(row, Water, {"name": row.text("water")}, values)


def _ring(loading: Loading, row: Row) -> None:
    values: Values = {
        "watts": row.whole("power"),
        "not_for": ",".join(row.words("not for")),
        "site_id": loading.site_id(row),
    }
    loading.keep(row, Ring, {"code": row.text("ring")}, values)


def _line(loading: Loading, row: Row) -> None:
    values: Values = {
        "holds_mg": row.whole("holds"),
        "outdoors": row.yes("outdoors"),
        "site_id": loading.site_id(row),
    }
    loading.keep(row, Line, {"code": row.text("line")}, values)


def _cold_place(loading: Loading, row: Row) -> None:
    values: Values = {
        "kind": row.text("kind"),
        "holds_mg": row.whole_or_none("holds"),
        "temperature_c": warmth_of(row),
        "site_id": loading.site_id(row),
    }
    loading.keep(row, ColdPlace, {"code": row.text("place")}, values)


def _dyestuff(loading: Loading, row: Row) -> None:
    values: Values = {
        "piece": row.text("piece"),
        "foraged": row.yes("foraged"),
        "fugitive": row.yes("fugitive"),
        "hazard": row.text("caution"),
    }
    loading.keep(row, Dyestuff, {"name": row.text("dyestuff")}, values)


ROOMS: dict[str, Callable[[Loading, Row], None]] = {
    "sites": _site,
    "rules": _rule,
    "waters": _water,
    "rings": _ring,
    "lines": _line,
    "cold_places": _cold_place,
    "dyestuffs": _dyestuff,
}


def load_vessels(loading: Loading) -> None:
    """Pots, tubs and buckets, and what they went through."""
    fill = figure_at(loading, "studio", "fill_fraction", loading.begins) or Decimal(1)
    for row in loading.notebook.page("vessels"):
        brim_ml = row.whole("brim") // 1000
        working = row.whole_or_none("working")
        values: Values = {
            "kind": row.text("kind"),
            "material": row.text("material"),
            "brim_ml": brim_ml,
            "working_ml": int(brim_ml * fill) if working is None else working // 1000,
            "iron_pot": row.yes("iron pot"),
            "food": row.yes("food"),
            "site_id": loading.site_id(row),
        }
        loading.keep(row, Vessel, {"code": row.text("vessel")}, values)
        _went_through(loading, row)


def _went_through(loading: Loading, row: Row) -> None:
    code = row.text("vessel")
    if row.yes("chipped"):
        loading.post(row, vessels.chip, part="chipped", at=loading.begins, vessel=code)
    for column, verb in (("iron on", vessels.mark_iron), ("blank swatch passed", vessels.clear)):
        day = row.day(column)
        if day is not None:
            loading.post(row, verb, part=f"{column} {day}", at=loading.noon(day), vessel=code)


def load_lots(loading: Loading) -> None:
    """Dyestuff on the shelves, where it has been, and what was seen of it."""
    stays: dict[str, list[Row]] = {}
    for row in loading.notebook.page("stays"):
        stays.setdefault(row.text("lot"), []).append(row)
    for row in loading.notebook.page("lots"):
        past = sorted(stays.get(row.text("lot"), []), key=lambda stay: moment_of(stay, "since"))
        _lot(loading, row, [*past, row])
    for row in loading.notebook.page("verdicts"):
        at, sound = moment_of(row, "at"), row.text("looks") == "sound"
        loading.post(row, lots.judge, at=at, lot=row.text("lot"), sound=sound)


def load_supplies(loading: Loading) -> None:
    """Alum, soda crystals, tannin and the like."""
    for row in loading.notebook.page("supplies"):
        lot = NewLot(
            code=row.text("supply"), what=row.text("what"), kind="supply", site=row.text("site")
        )
        amount = row.whole("left")
        loading.post(row, ledger.receive, at=loading.begins, lot=lot, amount=amount)


def load_fibre(loading: Loading) -> None:
    """Fibre waiting to be dyed, with what has been done to it."""
    for row in loading.notebook.page("fibre"):
        since = row.day("since")
        mordant = row.several("mordant")
        state = Fibre(
            scoured=row.yes("scoured"),
            mordant=str(mordant[0]) if mordant else "",
            mordant_percent=_decimal(mordant[1]) if mordant else Decimal(0),
            damp=row.yes("damp"),
            iron_percent=row.number("iron") or Decimal(0),
            shade=row.text("dyed"),
            since=since,
        )
        lot = NewLot(
            code=row.text("fibre lot"),
            what=row.text("fibre"),
            kind="fibre",
            site=row.text("site"),
            labelled=row.yes("labelled", default=True),
            set_aside=row.text("set aside"),
            arrives_at=row.moment("arrives"),
            weighed=row.yes("weighed", default=True),
        )
        loading.post(
            row,
            fibre.receive,
            at=loading.midnight(since) if since else loading.begins,
            lot=lot,
            amount=fibre_mg(row),
            form=row.text("form"),
            fibre=state,
            clients_own=row.yes("client's own"),
            dyed=_dyed(row),
            cloth=size_of(row),
        )


def _dyed(row: Row) -> Dyed | None:
    """How dyed fibre came out; None where the row says nothing of it."""
    dyed = Dyed(row.whole("depth"), row.text("quality"), row.text("came out"))
    return None if dyed == Dyed() else dyed


def piece_mg_of(loading: Loading, item: str, at: datetime) -> int:
    """What one piece weighs by the studio's rule, else by the shipped figure."""
    grams = figure_at(loading, item, "piece_mass_g", at)
    assert grams is not None, "the notebook was checked for it"
    return int(grams * 1000)


def moment_of(row: Row, name: str) -> datetime:
    """A moment that the row must have."""
    found = row.moment(name)
    assert found is not None, (row.page, row.line, name)
    return found


def warmth_of(row: Row) -> float | None:
    """The warmth on a row, where it was read."""
    warmth = row.number("warmth")
    return None if warmth is None else float(warmth)


def figure_at(loading: Loading, item: str, name: str, at: datetime) -> Decimal | None:
    """The studio's own figure on a day, else the shipped one."""
    day = at.astimezone(loading.notebook.setting.zone).date()
    rules = loading.kept(StudioRule, ("item", "name", "since"))
    own = [
        (since.toordinal() if since else 0, rule.value)
        for (of, what, since), rule in rules.items()
        if (of, what) == (item, name) and (since is None or since <= day)
    ]
    if own:
        return Decimal(max(own)[1])
    found = shipped().find(item, name, on=day)
    return None if found is None else found.value


def _lot(loading: Loading, row: Row, stays: list[Row]) -> None:
    """A lot received in its first place, then put where it was put."""
    first, *later = stays
    since, code = moment_of(first, "since"), row.text("lot")
    at = loading.begins if row.has("arrives") else since
    dyestuff = loading.kept(Dyestuff, ("name",)).get((row.text("dyestuff"),))
    new = NewLot(
        code=code,
        what=row.text("dyestuff"),
        state=first.text("state"),
        place=loading.place(first.text("place"), warmth_of(first)),
        since=since,
        arrives_at=row.moment("arrives"),
        site=row.text("site"),
        source=row.text("source"),
        gathered_on=row.day("gathered"),
        permission=row.text("permission"),
        foraged=dyestuff is not None and dyestuff.foraged,
        nest_checked=row.yes("nest checked") if row.has("nest checked") else None,
        labelled=row.yes("labelled", default=True),
        set_aside=row.text("set aside"),
    )
    amount, note = row.values["amount"], row.text("note")
    if isinstance(amount, Counted):
        piece_mg = piece_mg_of(loading, new.what, at)
        counted: Values = {"pieces": amount.pieces, "piece_mg": piece_mg}
        loading.post(row, ledger.receive_count, at=at, lot=new, note=note, **counted)
    else:
        assert isinstance(amount, Weighed)
        loading.post(row, ledger.receive, at=at, lot=new, amount=amount.mg, note=note)
    for stay in later:
        loading.post(
            stay,
            ledger.put_by,
            part="put by",
            at=moment_of(stay, "since"),
            lot=code,
            state=stay.text("state"),
            place=loading.place(stay.text("place"), warmth_of(stay)),
        )


def _decimal(value: object) -> Decimal:
    assert isinstance(value, Decimal)
    return value
