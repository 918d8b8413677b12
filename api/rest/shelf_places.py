"""Pots, rings, line and cold places as JSON."""

from __future__ import annotations

from api.rest.shelf_values import Json, amount_said, day_said, litres_said
from inventory.science.facts import VesselFacts
from sourcing.shelves import ShelvesFacts

PAST_AT_MOST = 50


def vessel_said(row: VesselFacts, facts: ShelvesFacts) -> Json:
    past = [each for each in facts.past if each.vessel == row.code]
    return {
        "code": row.code,
        "kind": row.kind,
        "material": row.material,
        "brim": litres_said(row.brim_ml),
        "working": litres_said(row.working_ml),
        "iron_pot": row.iron_pot,
        "chipped": row.chipped,
        "food": row.food,
        "iron_on": day_said(row.iron_on),
        "blank_passed_on": day_said(row.blank_passed_on),
        "past": [{"on": day_said(each.day), "what": each.what} for each in past[:PAST_AT_MOST]],
        "site": row.site or None,
    }


def places_said(facts: ShelvesFacts) -> Json:
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
                "holds": amount_said(row.holds_mg, "mg"),
                "hangs": amount_said(facts.hangs_mg.get(row.code, 0), "mg"),
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
                else amount_said(room.place.holds_mg, "mg"),
                "inside": amount_said(room.now_mg, "mg"),
                "lots": room.lots,
                "temperature_c": room.place.temperature_c,
            }
            for room in facts.rooms
        ],
        "freezer_tonight": None
        if night is None
        else {
            "holds": amount_said(night.holds_mg, "mg"),
            "inside_now": amount_said(night.now_mg, "mg"),
            "comes": amount_said(night.comes_mg, "mg"),
            "comes_lots": list(night.comes),
            "to_put_by": amount_said(night.put_by_mg, "mg"),
            "to_put_by_lots": list(night.put_by),
            "inside_tonight": amount_said(night.inside_mg, "mg"),
            "over": amount_said(night.over_mg, "mg"),
        },
    }
