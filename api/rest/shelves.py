"""The shelves as JSON under stable names, and the address that serves them.

The same facts as on the page; amounts are decimal strings with a unit, days and moments ISO 8601.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from decimal import Decimal
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.shelves import SHELVES
from api.contract.shapes import one_of
from api.question import question_of
from api.rest.contract import PAGE, QUESTION, Word, said
from api.rest.shelf_places import places_said, vessel_said
from api.rest.shelf_values import (
    ROWS_KEPT,
    Json,
    amount_said,
    caution_said,
    day_said,
    figure_said,
    fraction_said,
    measured_said,
    moment_in,
    moment_said,
    since_said,
)
from api.shelves_asked import MORE, PARTS, Asked, asked_of
from inventory.science.cautions import Caution, cautions_for_jar, cautions_for_lot
from inventory.science.cloth import length_mm
from inventory.science.counting import Counted, Total
from inventory.science.facts import BathFacts, FibreFacts, JarFacts, SupplyFacts
from inventory.science.jar_story import Happening, JarStory
from inventory.science.keeping import bath_last_good_day, fibre_last_good_day
from inventory.science.saying import say
from sourcing.moved import Moved
from sourcing.shelves import ShelvesFacts, shelves_at
from sourcing.week.words import decimal_string

ROWS_AT_MOST = 100  # of each part in one answer; more with part and page
HAPPENED_AT_MOST = 50
PART = Word("part", one_of(*PARTS), "Only this part; a page wants one.", "lots")


class ShelvesView(APIView):
    """GET: what lies on the shelves, by part."""

    @said(
        "shelves",
        summary="What lies on the shelves: jars, baths, lots, fibre, supplies, pots, places",
        asks=(*QUESTION, PART, PAGE),
        answer=SHELVES,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="The list of the shelves", more=MORE)
        asked = asked_of(request.query_params)
        facts = shelves_at(
            question.studio,
            at=question.at,
            skip=asked.skip_moved,
            kinds=asked.kinds,
            with_moved=asked.with_moved,
            with_places=asked.with_places,
        )
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
        "pots": ("vessels", shelf.vessels, vessel_said),
    }
    said: Json = {"studio": facts.studio, "at": moment_said(facts.at, facts), "page": asked.page}
    counts: Json = {}
    for part, (name, rows, show) in parts.items():
        if asked.part in ("", part):
            counts[name] = len(rows)
            first = (asked.page - 1) * ROWS_AT_MOST
            said[name] = [show(row, facts) for row in rows[first : first + ROWS_AT_MOST]]
    if not asked.part:
        said |= places_said(facts)
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
        "since": since_said(story.since, facts),
        "usable_from": moment_said(state.usable_from, facts),
        "next_dip": day_said(state.next_dip),
        "age_days": state.age_days,
        "left": amount_said(jar.left_ul, "µL"),
        "begun_with": amount_said(jar.begun_volume_ul, "µL"),
        "level": fraction_said(story.level),
        "strip": _strip(story),
        "goal": _goal(story, facts),
        "strength": _strength(story),
        "gas": _gas(story),
        "happened": [_happening(row, facts.zone) for row in story.happened[:HAPPENED_AT_MOST]],
        "happened_in_all": len(story.happened),
        "figures": [figure_said(row) for row in story.rests_on],
        "cautions": [caution_said(row) for row in cautions_for_jar(jar.metal)],
        "site": jar.site or None,
    }


def _strip(story: JarStory) -> Json | None:
    state = story.state
    if state.grade is None:
        return None
    return {
        "grade": state.grade,
        "age_days": state.strip_age_days,
        "good_to": day_said(state.strip_good_to),
    }


def _goal(story: JarStory, facts: ShelvesFacts) -> Json | None:
    goal = story.goal
    if goal is None:
        return None
    return {
        "what": goal.what,
        "from": moment_said(goal.since, facts),
        "to": moment_said(goal.until, facts),
        "day": goal.days_gone,
        "of_days": goal.days_whole,
        "fraction": fraction_said(goal.fraction),
    }


def _strength(story: JarStory) -> Json | None:
    row = story.strength
    if row is None:
        return None
    return {
        "counted_as": say("{metal} sulphate crystals", metal=story.jar.metal),
        "likely_g_per_l": measured_said(row.likely_g_per_l),
        "low_g_per_l": measured_said(row.low_g_per_l),
        "high_g_per_l": measured_said(row.high_g_per_l),
        "most_g_per_l": measured_said(row.most_g_per_l),
        "metal_mg_per_l": measured_said(row.metal_mg_per_l),
        "fraction_of_most": measured_said(row.fraction),
        "rests_on": row.rests_on,
        "told_on": day_said(row.told_on),
    }


def _gas(story: JarStory) -> Json | None:
    liquor = story.liquor
    if liquor is None or story.jar.metal != "iron":
        return None
    return {
        "so_far_l": measured_said(liquor.gas_l),
        "at_most_l": measured_said(liquor.gas_at_most_l),
    }


@lru_cache(maxsize=ROWS_KEPT)
def _happening(row: Happening, zone: ZoneInfo) -> Json:
    said: Json = {"at": moment_in(row.at, zone), "what": row.kind}
    if row.dip is not None:
        said |= {"grade": row.dip.grade, "metal_mg_per_l": row.dip.metal_mg_per_l}
    if row.event is not None:
        said |= {"volume": amount_said(row.event.volume_ul, "µL")}
    return said


def _bath(bath: BathFacts, facts: ShelvesFacts) -> Json:
    good = bath_last_good_day(bath, facts.figures, zone=facts.zone, at=facts.at)
    return {
        "code": bath.code,
        "what": bath.what,
        "left": amount_said(bath.left_ul, "µL"),
        "made_at": moment_said(bath.made_at, facts),
        "temperature_c": bath.temperature_c,
        "times_used": bath.times_used,
        "shade": bath.shade or None,
        "metal": bath.metal or None,
        "alum_left": amount_said(bath.alum_left_mg, "mg"),
        "set_aside": bath.set_aside or None,
        "last_good_day": day_said(good.day),
        "days_left": (good.day - facts.today).days,
        "figure": figure_said(good.figure),
    }


# -- lots, supplies, fibre ---------------------------------------------------------------------


def _lot(row: Counted, facts: ShelvesFacts) -> Json:
    lot = row.lot
    own = facts.cautions.get(lot.dyestuff, "")
    cautions = cautions_for_lot(lot.dyestuff, fugitive=lot.dyestuff in facts.fugitive, own=own)
    return _lot_said(row, facts.zone, facts.aside_since.get(lot.code), cautions)


@lru_cache(maxsize=ROWS_KEPT)
def _lot_said(
    row: Counted, zone: ZoneInfo, aside_since: datetime | None, cautions: tuple[Caution, ...]
) -> Json:
    """A lot with all that holds for its day."""
    lot = row.lot
    return {
        "code": lot.code,
        "dyestuff": lot.dyestuff,
        "left": amount_said(lot.left_mg, "mg"),
        "state": lot.stay.state,
        "place": lot.stay.place or lot.stay.place_kind,
        "since": moment_in(lot.stay.since, zone),
        "last_good_day": day_said(row.good.day),
        "days_left": row.days_left,
        "life_gone": fraction_said(row.life),
        "by_eye": row.good.by_eye or None,
        "left_out": row.left_out or None,
        "set_aside": lot.set_aside or None,
        "set_aside_since": aside_since and moment_in(aside_since, zone),
        "comes_at": row.comes and moment_in(row.comes, zone),
        "gathered_on": day_said(lot.gathered_on),
        "source": lot.source or None,
        "permission": lot.permission or None,
        "foraged": lot.foraged,
        "nest_checked": lot.nest_checked,
        "figure": figure_said(row.good.figure),
        "cautions": [caution_said(each) for each in cautions],
        "site": lot.site or None,
    }


def _total(row: Total, facts: ShelvesFacts) -> Json:
    return {
        "what": row.dyestuff,
        "usable_now": amount_said(row.now_mg, "mg"),
        "usable_tonight": amount_said(row.tonight_mg, "mg"),
        "left_out": [
            {
                "lot": each.lot.code,
                "left": amount_said(each.lot.left_mg, "mg"),
                "why": each.left_out,
            }
            for each in row.out[:ROWS_AT_MOST]
        ],
        "left_out_in_all": amount_said(row.out_mg, "mg"),
    }


def _supply(row: SupplyFacts, facts: ShelvesFacts) -> Json:
    left = amount_said(row.left_mg, "mg")
    return {"code": row.code, "what": row.what, "left": left, "site": row.site or None}


def _fibre(row: FibreFacts, facts: ShelvesFacts) -> Json:
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    return {
        "code": row.code,
        "fibre": row.fibre,
        "form": row.form,
        "left": amount_said(row.left_mg, "mg"),
        "length": _length(row),
        "g_per_m2": None if row.cloth is None else decimal_string(row.cloth.g_per_m2),
        "width_mm": None if row.cloth is None else row.cloth.width_mm,
        "scoured": row.scoured,
        "mordant": row.mordant or None,
        "mordant_percent": decimal_string(row.mordant_percent),
        "shade": row.shade or None,
        "depth": row.depth or None,
        "quality": row.quality or None,
        "came_out": row.came_out or None,
        "iron_percent": decimal_string(row.iron_percent),
        "damp": row.damp,
        "since": day_said(row.since),
        "last_good_day": day_said(good.day) if good is not None else None,
        "labelled": row.labelled,
        "set_aside": row.set_aside or None,
        "comes_at": moment_said(row.arrives_at, facts),
        "clients_own": row.clients_own,
        "weighed": row.weighed,
        "site": row.site or None,
    }


def _length(row: FibreFacts) -> Json | None:
    """Metres of cloth whose size is known, in whole millimetres."""
    if row.cloth is None:
        return None
    metres = Decimal(round(length_mm(row.left_mg, row.cloth))) / 1000
    return {"amount": decimal_string(metres), "unit": "m"}


# -- what moved ------------------------------------------------------------------------------


def _moved(row: Moved, facts: ShelvesFacts) -> Json:
    return {
        "at": moment_said(row.at, facts),
        "what": row.kind,
        "amounts": [
            {
                "code": part.code,
                "of": part.what,
                "change": amount_said(part.amount, part.unit),
                "left": amount_said(part.left, part.unit),
            }
            for part in row.parts
        ],
        "about": list(row.about),
        "grade": row.grade,
        "note": row.note or None,
        "taken_back": row.taken_back,
    }
