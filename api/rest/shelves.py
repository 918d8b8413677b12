"""The shelves as JSON under stable names, and the address that serves them.

The same facts as on the page; amounts are decimal strings with a unit, days and moments ISO 8601.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.question import question_of
from api.shelves_asked import MORE, Asked, asked_of
from inventory.science.cautions import Caution, cautions_for_jar, cautions_for_lot
from inventory.science.counting import Counted, Total
from inventory.science.facts import BathFacts, FibreFacts, JarFacts, SupplyFacts, VesselFacts
from inventory.science.figures import Figure
from inventory.science.jar_story import Happening, JarStory
from inventory.science.keeping import bath_last_good_day, fibre_last_good_day
from sourcing.moved import Moved
from sourcing.shelves import ShelvesFacts, shelves_at
from sourcing.week.words import decimal_string, exact

ROWS_AT_MOST = 100  # of each part in one answer; more with part and page
HAPPENED_AT_MOST = 50
Json = dict[str, object]


class ShelvesView(APIView):
    """GET: what lies on the shelves, by part."""

    def get(self, request: Request) -> Response:
        question = question_of(request.query_params, what="The list of the shelves", more=MORE)
        asked = asked_of(request.query_params)
        facts = shelves_at(question.studio, at=question.at, skip=asked.skip_moved)
        return Response(shelves_as_json(facts, asked))


def shelves_as_json(facts: ShelvesFacts, asked: Asked | None = None) -> Json:
    """The shelves under their stable names, at most ROWS_AT_MOST rows of each part."""
    asked = asked or Asked()
    shelf = facts.shelf
    parts: dict[str, tuple[str, Sequence[Any], Callable[[Any, ShelvesFacts], Json]]] = {
        "jars": ("jars", shelf.jars, _jar),
        "baths": ("baths", shelf.baths, _bath),
        "lots": ("lots", facts.lots, _lot),
        "totals": ("dyestuffs", facts.totals, _total),
        "fibre": ("fibre", shelf.fibre, _fibre),
        "supplies": ("supplies", shelf.supplies, _supply),
        "pots": ("vessels", shelf.vessels, _vessel),
    }
    said: Json = {"studio": facts.studio, "at": _moment(facts.at, facts), "page": asked.page}
    counts: Json = {}
    for part, (name, rows, show) in parts.items():
        if asked.part in ("", part):
            counts[name] = len(rows)
            first = (asked.page - 1) * ROWS_AT_MOST
            said[name] = [show(row, facts) for row in rows[first : first + ROWS_AT_MOST]]
    if not asked.part:
        said |= _places(facts)
    if asked.part in ("", "moved"):
        said["moved"] = [_moved(row, facts) for row in facts.moved]
        said["more_moved"] = facts.more_moved
    return {**said, "counts": counts, "rows_at_most": ROWS_AT_MOST}


# -- jars and baths ----------------------------------------------------------------------------


def _jar(jar: JarFacts, facts: ShelvesFacts) -> Json:
    story = facts.story(jar)
    state = story.state
    return {
        "code": jar.code,
        "name": jar.name,
        "metal": jar.metal,
        "labelled": jar.labelled,
        "set_aside": jar.set_aside or None,
        "state": state.word,
        "usable": state.usable,
        "since": _since(story.since, facts),
        "usable_from": _moment(state.usable_from, facts),
        "next_dip": _day(state.next_dip),
        "age_days": state.age_days,
        "left": _amount(jar.left_ul, "µL"),
        "begun_with": _amount(jar.begun_volume_ul, "µL"),
        "level": _fraction(story.level),
        "strip": _strip(story),
        "goal": _goal(story, facts),
        "strength": _strength(story),
        "gas": _gas(story),
        "happened": [_happening(row, facts) for row in story.happened[:HAPPENED_AT_MOST]],
        "happened_in_all": len(story.happened),
        "figures": [_figure(row) for row in story.rests_on],
        "cautions": [_caution(row) for row in cautions_for_jar(jar.metal)],
        "site": jar.site or None,
    }


def _strip(story: JarStory) -> Json | None:
    state = story.state
    if state.grade is None:
        return None
    return {
        "grade": state.grade,
        "age_days": state.strip_age_days,
        "good_to": _day(state.strip_good_to),
    }


def _goal(story: JarStory, facts: ShelvesFacts) -> Json | None:
    goal = story.goal
    if goal is None:
        return None
    return {
        "what": goal.what,
        "from": _moment(goal.since, facts),
        "to": _moment(goal.until, facts),
        "day": goal.days_gone,
        "of_days": goal.days_whole,
        "fraction": _fraction(goal.fraction),
    }


def _strength(story: JarStory) -> Json | None:
    row = story.strength
    if row is None:
        return None
    return {
        "counted_as": f"{story.jar.metal} sulphate crystals",
        "likely_g_per_l": _measured(row.likely_g_per_l),
        "low_g_per_l": _measured(row.low_g_per_l),
        "high_g_per_l": _measured(row.high_g_per_l),
        "most_g_per_l": _measured(row.most_g_per_l),
        "metal_mg_per_l": _measured(row.metal_mg_per_l),
        "fraction_of_most": _measured(row.fraction),
        "rests_on": row.rests_on,
        "told_on": _day(row.told_on),
    }


def _gas(story: JarStory) -> Json | None:
    liquor = story.liquor
    if liquor is None or story.jar.metal != "iron":
        return None
    return {"so_far_l": _measured(liquor.gas_l), "at_most_l": _measured(liquor.gas_at_most_l)}


def _happening(row: Happening, facts: ShelvesFacts) -> Json:
    said: Json = {"at": _moment(row.at, facts), "what": row.kind}
    if row.dip is not None:
        said |= {"grade": row.dip.grade, "metal_mg_per_l": row.dip.metal_mg_per_l}
    if row.event is not None:
        said |= {"volume": _amount(row.event.volume_ul, "µL")}
    return said


def _bath(bath: BathFacts, facts: ShelvesFacts) -> Json:
    good = bath_last_good_day(bath, facts.figures, zone=facts.zone, at=facts.at)
    return {
        "code": bath.code,
        "what": bath.what,
        "left": _amount(bath.left_ul, "µL"),
        "made_at": _moment(bath.made_at, facts),
        "temperature_c": bath.temperature_c,
        "times_used": bath.times_used,
        "shade": bath.shade or None,
        "metal": bath.metal or None,
        "alum_left": _amount(bath.alum_left_mg, "mg"),
        "set_aside": bath.set_aside or None,
        "last_good_day": _day(good.day),
        "days_left": (good.day - facts.today).days,
        "figure": _figure(good.figure),
    }


# -- lots, supplies, fibre ---------------------------------------------------------------------


def _lot(row: Counted, facts: ShelvesFacts) -> Json:
    lot = row.lot
    own = facts.cautions.get(lot.dyestuff, "")
    cautions = cautions_for_lot(lot.dyestuff, fugitive=lot.dyestuff in facts.fugitive, own=own)
    return {
        "code": lot.code,
        "dyestuff": lot.dyestuff,
        "left": _amount(lot.left_mg, "mg"),
        "state": lot.stay.state,
        "place": lot.stay.place or lot.stay.place_kind,
        "since": _moment(lot.stay.since, facts),
        "last_good_day": _day(row.good.day),
        "days_left": row.days_left,
        "life_gone": _fraction(row.life),
        "by_eye": row.good.by_eye or None,
        "left_out": row.left_out or None,
        "set_aside": lot.set_aside or None,
        "set_aside_since": _moment(facts.aside_since.get(lot.code), facts),
        "comes_at": _moment(row.comes, facts),
        "gathered_on": _day(lot.gathered_on),
        "source": lot.source or None,
        "permission": lot.permission or None,
        "foraged": lot.foraged,
        "nest_checked": lot.nest_checked,
        "figure": _figure(row.good.figure),
        "cautions": [_caution(each) for each in cautions],
        "site": lot.site or None,
    }


def _total(row: Total, facts: ShelvesFacts) -> Json:
    return {
        "what": row.dyestuff,
        "usable_now": _amount(row.now_mg, "mg"),
        "usable_tonight": _amount(row.tonight_mg, "mg"),
        "left_out": [
            {"lot": each.lot.code, "left": _amount(each.lot.left_mg, "mg"), "why": each.left_out}
            for each in row.out[:ROWS_AT_MOST]
        ],
        "left_out_in_all": _amount(row.out_mg, "mg"),
    }


def _supply(row: SupplyFacts, facts: ShelvesFacts) -> Json:
    left = _amount(row.left_mg, "mg")
    return {"code": row.code, "what": row.what, "left": left, "site": row.site or None}


def _fibre(row: FibreFacts, facts: ShelvesFacts) -> Json:
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    return {
        "code": row.code,
        "fibre": row.fibre,
        "form": row.form,
        "left": _amount(row.left_mg, "mg"),
        "scoured": row.scoured,
        "mordant": row.mordant or None,
        "mordant_percent": decimal_string(row.mordant_percent),
        "iron_percent": decimal_string(row.iron_percent),
        "damp": row.damp,
        "since": _day(row.since),
        "last_good_day": _day(good.day) if good is not None else None,
        "labelled": row.labelled,
        "set_aside": row.set_aside or None,
        "comes_at": _moment(row.arrives_at, facts),
        "clients_own": row.clients_own,
        "weighed": row.weighed,
        "site": row.site or None,
    }


# -- pots and places ---------------------------------------------------------------------------


def _vessel(row: VesselFacts, facts: ShelvesFacts) -> Json:
    past = [each for each in facts.past if each.vessel == row.code]
    return {
        "code": row.code,
        "kind": row.kind,
        "material": row.material,
        "brim": _litres(row.brim_ml),
        "working": _litres(row.working_ml),
        "iron_pot": row.iron_pot,
        "chipped": row.chipped,
        "food": row.food,
        "iron_on": _day(row.iron_on),
        "blank_passed_on": _day(row.blank_passed_on),
        "past": [{"on": _day(each.day), "what": each.what} for each in past[:HAPPENED_AT_MOST]],
        "site": row.site or None,
    }


def _places(facts: ShelvesFacts) -> Json:
    """Rings, lines and cold places: a handful, never cut."""
    shelf, night = facts.shelf, facts.tonight
    return {
        "rings": [
            {"code": row.code, "watts": row.watts, "not_for": list(row.not_for)}
            for row in shelf.rings
        ],
        "lines": [
            {
                "code": row.code,
                "holds": _amount(row.holds_mg, "mg"),
                "hangs": _amount(facts.hangs_mg.get(row.code, 0), "mg"),
                "outdoors": row.outdoors,
            }
            for row in shelf.lines
        ],
        "cold_places": [
            {
                "code": room.place.code,
                "kind": room.place.kind,
                "holds": None
                if room.place.holds_mg is None
                else _amount(room.place.holds_mg, "mg"),
                "inside": _amount(room.now_mg, "mg"),
                "lots": room.lots,
                "temperature_c": room.place.temperature_c,
            }
            for room in facts.rooms
        ],
        "freezer_tonight": None
        if night is None
        else {
            "holds": _amount(night.holds_mg, "mg"),
            "inside_now": _amount(night.now_mg, "mg"),
            "comes": _amount(night.comes_mg, "mg"),
            "comes_lots": list(night.comes),
            "to_put_by": _amount(night.put_by_mg, "mg"),
            "to_put_by_lots": list(night.put_by),
            "inside_tonight": _amount(night.inside_mg, "mg"),
            "over": _amount(night.over_mg, "mg"),
        },
    }


def _moved(row: Moved, facts: ShelvesFacts) -> Json:
    return {
        "at": _moment(row.at, facts),
        "what": row.kind,
        "amounts": [
            {
                "code": part.code,
                "of": part.what,
                "change": _amount(part.amount, part.unit),
                "left": _amount(part.left, part.unit),
            }
            for part in row.parts
        ],
        "about": list(row.about),
        "grade": row.grade,
        "note": row.note or None,
        "taken_back": row.taken_back,
    }


# -- values ------------------------------------------------------------------------------------


def _amount(number: int, unit: str) -> Json:
    amount, said = exact(number, unit)
    return {"amount": amount, "unit": said}


def _litres(ml: int) -> Json:
    return {"amount": decimal_string(Decimal(ml) / 1000), "unit": "L"}


def _figure(row: Figure) -> Json:
    return {
        "item": row.item,
        "name": row.name,
        "value": decimal_string(row.value),
        "low": None if row.low is None else decimal_string(row.low),
        "high": None if row.high is None else decimal_string(row.high),
        "basis": row.basis,
        "source": row.source or None,
        "own": row.own,
        "since": _day(row.since),
    }


def _caution(row: Caution) -> Json:
    return {"code": row.code, "mark": row.mark, "text": row.sentence}


def _fraction(part: Fraction) -> str:
    return decimal_string(round(Decimal(part.numerator) / part.denominator, 4))


def _measured(number: float) -> str:
    """A reckoned number to the thousandth: finer than anybody can measure it."""
    return decimal_string(round(Decimal(number), 3))


def _since(at: datetime | date | None, facts: ShelvesFacts) -> str | None:
    return _moment(at, facts) if isinstance(at, datetime) else _day(at)


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _moment(at: datetime | None, facts: ShelvesFacts) -> str | None:
    return None if at is None else at.astimezone(facts.zone).isoformat(timespec="seconds")
