"""What is on the shelves at a moment, as rows of a notebook."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from inventory.models import Dyestuff, Lot, Posting, Site, Studio, StudioRule, Water
from inventory.science.facts import FibreFacts, JarEvent, JarFacts, LotFacts, Shelf
from sourcing.notebook.load_shelf import Values
from sourcing.notebook.quantities import Weighed
from sourcing.notebook.rules import figure_of
from sourcing.notebook.shelf_pages import PLACE_KINDS

Rows = Iterator[Values]


@dataclass(frozen=True)
class Standing:
    """A studio's shelves at a moment, and what only the tables know of them."""

    studio: Studio
    shelf: Shelf
    zone: ZoneInfo
    at: datetime

    def pages(self) -> dict[str, list[Values]]:
        """All pages about things, rows in the order of their keys."""
        jars = sorted(self.shelf.jars, key=lambda jar: jar.code)
        begins = self._begins()
        return {
            "studio": [self._studio(begins)],
            "sites": [
                {"site": site.code, "note": site.name}
                for site in Site.objects.of(self.studio).order_by("pk")
            ],
            "rules": list(self._rules()),
            "waters": list(self._waters()),
            "vessels": list(self._vessels()),
            **self._fittings(),
            "dyestuffs": list(self._dyestuffs()),
            **self._lots(),
            "jars": [_jar(jar) for jar in jars],
            "jar_events": [row for jar in jars for row in _events(jar)],
            "dips": [row for jar in jars for row in _dips(jar)],
            "baths": list(self._baths()),
            "supplies": [
                {"supply": row.code, "what": row.what, "left": row.left_mg, "site": row.site}
                for row in self.shelf.supplies
            ],
            "fibre": [_fibre(row, begins) for row in self.shelf.fibre],
        }

    def _begins(self) -> date | None:
        """The day of the first entry: what has no date of its own has been there since."""
        first = Posting.objects.of(self.studio).order_by("occurred_at").first()
        return None if first is None else first.occurred_at.astimezone(self.zone).date()

    def _studio(self, begins: date | None) -> Values:
        studio = self.studio
        return {
            "studio": studio.name,
            "zone": studio.zone,
            "country": studio.country,
            "region": studio.region,
            "currency": studio.currency,
            "begins": begins,
            "language": studio.language,
            "numbers": studio.number_form,
            "units": studio.units,
        }

    def _rules(self) -> Rows:
        for rule in StudioRule.objects.of(self.studio).order_by("item", "name", "since", "pk"):
            yield {
                "item": rule.item,
                "rule": rule.name,
                "value": figure_of(rule.name, rule.value),
                "since": rule.since,
                "low": rule.low,
                "high": rule.high,
                "note": rule.note,
            }

    def _waters(self) -> Rows:
        for row in Water.objects.of(self.studio).select_related("site").order_by("name"):
            yield {
                "water": row.name,
                "ph": row.ph,
                "warmth": Decimal(row.temperature_c),
                "site": row.site.code if row.site else "",
            }

    def _vessels(self) -> Rows:
        for row in self.shelf.vessels:
            yield {
                "vessel": row.code,
                "kind": row.kind,
                "material": row.material,
                "brim": row.brim_ml * 1000,
                "working": row.working_ml * 1000,
                "iron pot": row.iron_pot,
                "chipped": row.chipped,
                "food": row.food,
                "iron on": row.iron_on,
                "blank swatch passed": row.blank_passed_on,
                "site": row.site,
            }

    def _fittings(self) -> dict[str, list[Values]]:
        rings: list[Values] = [
            {"ring": row.code, "power": row.watts, "not for": row.not_for, "site": row.site}
            for row in self.shelf.rings
        ]
        lines: list[Values] = [
            {"line": row.code, "holds": row.holds_mg, "outdoors": row.outdoors, "site": row.site}
            for row in self.shelf.lines
        ]
        cold: list[Values] = [
            {
                "place": row.code,
                "kind": row.kind,
                "holds": row.holds_mg,
                "warmth": warmth(row.temperature_c),
                "site": row.site,
            }
            for row in self.shelf.cold_places
        ]
        return {"rings": rings, "lines": lines, "cold_places": cold}

    def _dyestuffs(self) -> Rows:
        for row in Dyestuff.objects.of(self.studio).order_by("name"):
            yield {
                "dyestuff": row.name,
                "piece": row.piece,
                "fugitive": row.fugitive,
                "foraged": row.foraged,
                "caution": row.hazard,
            }

    def _lots(self) -> dict[str, list[Values]]:
        notes = _notes(self.studio)
        places = {row.code for row in self.shelf.cold_places}
        pages: dict[str, list[Values]] = {"lots": [], "stays": [], "verdicts": []}
        for lot in self.shelf.lots:
            pages["lots"].append(_lot(lot, notes.get(lot.code, ""), places))
            pages["stays"] += _stays(lot, places)
            pages["verdicts"] += [
                {"lot": lot.code, "at": seen.at, "looks": "sound" if seen.sound else "bad"}
                for seen in lot.verdicts
            ]
        return pages

    def _baths(self) -> Rows:
        for row in self.shelf.baths:
            yield {
                "bath": row.code,
                "what": row.what,
                "made": row.made_at,
                "left": row.left_ul,
                "warmth": warmth(row.temperature_c),
                "times used": row.times_used,
                "shade": row.shade,
                "depth": row.depth,
                "metal": row.metal,
                "alum left": row.alum_left_mg or None,
                "set aside": row.set_aside,
                "site": row.site,
            }


def warmth(degrees: float | None) -> Decimal | None:
    """Degrees as a notebook writes them: 8, not 8.0."""
    if degrees is None:
        return None
    number = Decimal(str(degrees))
    return number.quantize(Decimal(1)) if number == number.to_integral_value() else number


def _notes(studio: Studio) -> dict[str, str]:
    """What was noted when each lot was received."""
    rows = Lot.objects.of(studio).filter(kind="dyestuff").exclude(posting__note="")
    return dict(rows.values_list("code", "posting__note"))


def place_of(code: str, kind: str, places: Collection[str]) -> str:
    """Where something is kept: the place by its code where the studio has it, else its kind."""
    return code if code in places or code in PLACE_KINDS else kind


def _lot(lot: LotFacts, note: str, places: Collection[str]) -> Values:
    stay = lot.stay
    return {
        "lot": lot.code,
        "dyestuff": lot.dyestuff,
        "amount": Weighed(lot.left_mg),
        "state": stay.state,
        "place": place_of(stay.place, stay.place_kind, places),
        "since": stay.since,
        "warmth": warmth(stay.temperature_c),
        "arrives": lot.arrives_at,
        "gathered": lot.gathered_on,
        "source": lot.source,
        "permission": lot.permission,
        "nest checked": lot.nest_checked,
        "labelled": lot.labelled,
        "set aside": lot.set_aside,
        "site": lot.site,
        "note": note,
    }


def _stays(lot: LotFacts, places: Collection[str]) -> Iterable[Values]:
    for stay in lot.stays[:-1]:
        yield {
            "lot": lot.code,
            "since": stay.since,
            "state": stay.state,
            "place": place_of(stay.place, stay.place_kind, places),
            "warmth": warmth(stay.temperature_c),
        }


def _jar(jar: JarFacts) -> Values:
    known = jar.vinegar_parts + jar.water_parts > 0
    return {
        "jar": jar.code,
        "name": jar.name,
        "metal": jar.metal,
        "parts": (jar.vinegar_parts, jar.water_parts) if known else None,
        "vinegar": jar.acid_percent or None,
        "begun": jar.begun_at,
        "begun with": jar.begun_volume_ul,
        "left": jar.left_ul,
        "warmth": warmth(jar.temperature_c),
        "metal put in": jar.metal_put_in_mg,
        "labelled": jar.labelled,
        "set aside": jar.set_aside,
        "looks": jar.looks,
        "site": jar.site,
    }


def _events(jar: JarFacts) -> Iterable[Values]:
    """What happened to a jar, what was taken at one moment in one row; a found surplus last."""
    taken: dict[datetime, int] = defaultdict(int)
    for event in jar.events:
        if event.kind == "drawn":
            taken[event.at] += event.volume_ul
    left = jar.begun_volume_ul
    last = jar.begun_at
    for event in jar.events:
        if event.kind == "drawn":
            if event.at not in taken:
                continue
            volume = taken.pop(event.at)
        else:
            volume = event.volume_ul
        last = event.at
        left += volume if event.kind == "topped up" else -volume
        yield _event(jar, event, volume)
    if left != jar.left_ul and last is not None:
        yield {"jar": jar.code, "at": last, "what": "measured", "amount": jar.left_ul}


def _event(jar: JarFacts, event: JarEvent, volume: int) -> Values:
    row: Values = {"jar": jar.code, "at": event.at, "what": event.kind, "amount": volume or None}
    if event.kind == "topped up" and event.vinegar_parts:
        row["parts"] = (event.vinegar_parts, 1 - event.vinegar_parts)
        row["vinegar"] = event.acid_percent
    if event.kind == "kept at":
        row["warmth"] = warmth(event.temperature_c)
    return row


def _dips(jar: JarFacts) -> Iterable[Values]:
    for dip in jar.dips:
        reading = dip.metal_mg_per_l
        yield {
            "jar": jar.code,
            "at": dip.at,
            "strip": dip.grade,
            "reading": None if reading is None else Decimal(str(reading)),
        }


def _fibre(row: FibreFacts, begins: date | None) -> Values:
    return {
        "fibre lot": row.code,
        "fibre": row.fibre,
        "form": row.form,
        "left": row.left_mg,
        "scoured": row.scoured,
        "mordant": (row.mordant, row.mordant_percent) if row.mordant else None,
        "damp": row.damp,
        "since": None if row.since == begins else row.since,
        "arrives": row.arrives_at,
        "client's own": row.clients_own,
        "weighed": row.weighed,
        "iron": row.iron_percent or None,
        "dyed": row.shade,
        "depth": row.depth or None,
        "quality": row.quality,
        "came out": row.came_out,
        "per m2": row.cloth.g_per_m2 if row.cloth else None,
        "width": row.cloth.width_mm if row.cloth else None,
        "labelled": row.labelled,
        "set aside": row.set_aside,
        "site": row.site,
    }
