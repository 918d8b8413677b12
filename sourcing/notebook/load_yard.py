"""Loading intentions: hours, blocks, chores, sources, pick-ups, recipes, runs and their gates."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from datetime import date, datetime
from fractions import Fraction
from typing import Any

from inventory.models import Lot
from sourcing.chores import last_word
from sourcing.models import (
    Agreement,
    Block,
    Chore,
    ChoreDone,
    FastnessWish,
    Hanging,
    Hours,
    Making,
    PickUp,
    PutByWish,
    Recipe,
    RecipeDose,
    RecipeStep,
    Run,
    ShadeCard,
    Source,
    Weather,
)
from sourcing.notebook.load_shelf import figure_at
from sourcing.notebook.loading import Loading
from sourcing.notebook.metres import run_mg
from sourcing.notebook.page import Row
from sourcing.notebook.quantities import Counted, DoseOf, Weighed
from sourcing.tubs import move_tubs
from sourcing.week.facts import Heat


def load_calendar(loading: Loading) -> None:
    """Hours, blocks, chores, weather and what hangs on the line."""
    notebook, keep = loading.notebook, loading.keep
    for row in notebook.page("hours"):
        keep(row, Hours, *_hours(loading, row))
    for row in notebook.page("blocks"):
        values = {
            "what": row.text("what"),
            "since": row.moment("from"),
            "until": row.moment("until"),
            "rings": list(row.words("rings")),
            "vessels": list(row.words("vessels")),
            "line_mg": row.whole("line"),
            "hands_min": row.whole("hands"),
            "no_iron": row.yes("no iron"),
            "group": row.yes("group"),
        }
        keep(row, Block, {"code": row.text("block")}, values)
    for row in notebook.page("chores"):
        day, at = row.day("day"), row.clock("at")
        assert day is not None
        zone = notebook.setting.zone
        values = {
            "hands_min": row.whole("hands"),
            "clears": row.text("clears"),
            "at": None if at is None else datetime.combine(day, at, tzinfo=zone),
        }
        keep(row, Chore, {"day": day, "what": row.text("what")}, values)
        _chore_done(loading, row, day)
    for row in notebook.page("weather"):
        values = {"frost": row.yes("frost"), "aired": row.yes("aired", default=True)}
        keep(row, Weather, {"day": row.day("day")}, values)
    for row in notebook.page("hangings"):
        key = {"line": row.text("line"), "since": row.moment("since"), "what": row.text("what")}
        values = {"until": row.moment("until"), "weight_mg": row.whole("weight")}
        keep(row, Hanging, key, values)


def _chore_done(loading: Loading, row: Row, day: date) -> None:
    """A chore that is done, where nobody has said anything of it yet."""
    at, what = row.moment("done at"), row.text("what")
    if at is not None and last_word(loading.studio, day=day, what=what) is None:
        values = {"day": day, "what": what, "at": at, "entry": loading.entry(row, "done")}
        loading.add(ChoreDone, values)


def load_sources(loading: Loading) -> None:
    """Sources, what they agreed to give, and pick-ups."""
    notebook, keep = loading.notebook, loading.keep
    for row in notebook.page("sources"):
        values = {
            "kind": row.text("kind"),
            "place": row.text("where"),
            "carrying_note": row.text("carrying note"),
            "carrying_until": row.day("carrying until"),
            "note": row.text("note"),
        }
        keep(row, Source, {"name": row.text("source")}, values)
    for row in notebook.page("agreements"):
        key = {"source_id": _source_id(loading, row), "gives": row.text("gives")}
        keep(row, Agreement, key, _agreement(row))
    for row in notebook.page("pickups"):
        key = {
            "source_id": _source_id(loading, row),
            "gives": row.text("gives"),
            "at": row.moment("at"),
        }
        keep(row, PickUp, key, _pickup(loading, row))
    # In the order of their moments, and what is left before what is fetched at the same one.
    for row in sorted(notebook.page("tubs"), key=_in_order):
        said = {"source": row.text("source"), "how": row.text("how"), "note": row.text("note")}
        loading.post(row, move_tubs, at=row.moment("at"), tubs=row.whole("tubs"), **said)


def load_recipes(loading: Loading) -> None:
    """Recipes with steps and doses, a new version where one changed, and makings."""
    steps, doses = _by_recipe(loading, "steps"), _by_recipe(loading, "doses")
    for row in loading.notebook.page("recipes"):
        code = row.text("recipe")
        _recipe(loading, row, steps.get(code, []), doses.get(code, []))
    for row in loading.notebook.page("makings"):
        values = {
            "dyestuff": row.text("dyestuff"),
            "state": row.text("state"),
            "g_per_litre": row.number("amount"),
            "heats": _heats(row),
            "hands_min": row.whole("hands"),
            "vessels": list(row.words("vessels")) or ["pot"],
        }
        loading.keep(row, Making, {"bath": row.text("bath")}, values)


def load_runs(loading: Loading) -> None:
    """Runs that are wanted, their gates, and what is to be put by for."""
    latest = _latest(loading) | loading.versions
    lots = {lot.code: lot.pk for lot in Lot.objects.of(loading.studio)}
    blocks = loading.kept(Block, ("code",))
    for row in loading.notebook.page("runs"):
        block = blocks.get((row.text("group block"),))
        values = {
            "recipe_id": latest[row.text("recipe")].pk,
            "fibre": row.text("fibre"),
            "weight_mg": _run_mg(loading, row),
            "fibre_lot_id": lots.get(row.text("fibre lot")),
            "due": row.moment("due"),
            "jar_id": lots.get(row.text("jar")),
            "for_whom": row.text("for whom"),
            "client": row.yes("for a client", default=True),
            "group_block_id": None if block is None else block.pk,
            "people": row.whole("people"),
            "begun": row.yes("begun"),
            "fibre_needed_by": row.day("fibre needed by"),
        }
        _run(loading, row, values)
    for row in loading.notebook.page("gates"):
        _gate(loading, row)
    for row in loading.notebook.page("putby"):
        recipe = latest.get(row.text("recipe"))
        values = {
            "recipe_id": None if recipe is None else recipe.pk,
            "dyestuff": row.text("dyestuff"),
            "state": row.text("state"),
            "runs": row.whole("runs"),
            "each_mg": row.whole("each"),
            "since": row.day("from"),
            "last_on": row.day("until"),
            "spread": row.text("spread") or "monthly",
            "note": row.text("note"),
        }
        loading.keep(row, PutByWish, {"code": row.text("put by")}, values)


def _run_mg(loading: Loading, row: Row) -> int:
    """What a run dyes; of metres that are still to be scoured, less by the fibre's scour loss."""
    fibre = loading.notebook.named_row("fibre", row.text("fibre lot"))
    recipe = loading.notebook.named_row("recipes", row.text("recipe"))
    loss = None
    if recipe is not None and recipe.yes("needs scoured", default=True):
        loss = figure_at(loading, row.text("fibre"), "scour_loss_fraction", loading.begins)
    return run_mg(row, fibre, Fraction(loss or 0))


def _hours(loading: Loading, row: Row) -> tuple[dict[str, Any], dict[str, Any]]:
    day = row.values["day"]
    key = {
        "who": row.text("who"),
        "weekday": None if isinstance(day, date) else day,
        "day": day if isinstance(day, date) else None,
        "since": row.day("since"),
        "site_id": loading.site_id(row),
    }
    values = {
        "hands_min": row.whole("hands"),
        "opens": row.clock("from"),
        "closes": row.clock("to"),
        "last_on": row.day("until"),
        "note": row.text("note"),
    }
    return key, values


def _source_id(loading: Loading, row: Row) -> int:
    return loading.kept(Source, ("name",))[(row.text("source"),)].pk


def _in_order(row: Row) -> tuple[datetime, bool]:
    at = row.moment("at")
    assert at is not None
    return at, row.text("how") != "left"


def _agreement(row: Row) -> dict[str, Any]:
    likely = row.values.get("likely")
    return {
        "days": [day.isoformat() if isinstance(day, date) else day for day in row.several("days")],
        "at": row.clock("at"),
        "since": row.day("since"),
        "last_on": row.day("until"),
        "closed": [[since.isoformat(), until.isoformat()] for since, until in _closed(row)],
        "permission_by": row.text("permission by"),
        "permission_on": row.day("permission on"),
        "permission_ended": row.day("permission ended"),
        "hands_min": row.whole("hands"),
        "likely_mg": likely.mg if isinstance(likely, Weighed) else None,
        "likely_pieces": likely.pieces if isinstance(likely, Counted) else None,
        "note": row.text("note"),
    }


def _closed(row: Row) -> Iterable[tuple[date, date]]:
    for stretch in row.several("closed"):
        assert isinstance(stretch, tuple)
        yield stretch


def _pickup(loading: Loading, row: Row) -> dict[str, Any]:
    amount = row.values.get("amount")
    place = loading.place(row.text("place")) if row.has("place") else None
    return {
        "how": row.text("pick-up"),
        "weight_mg": amount.mg if isinstance(amount, Weighed) else None,
        "pieces": amount.pieces if isinstance(amount, Counted) else None,
        "lot_code": row.text("lot"),
        "place": place.code if place else "",
        "place_kind": place.kind if place else "",
        "nests_by": row.text("nests by"),
        "nests_on": row.day("nests on"),
        "note": row.text("note"),
    }


def _by_recipe(loading: Loading, page: str) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in loading.notebook.page(page):
        found.setdefault(row.text("recipe"), []).append(row)
    return found


def _heats(row: Row) -> list[list[int | None]]:
    heats = []
    for heat in row.several("heats"):
        assert isinstance(heat, Heat)
        heats.append([heat.start_c, heat.goal_c, heat.hold_min])
    return heats


def _recipe(loading: Loading, row: Row, steps: list[Row], doses: list[Row]) -> None:
    """The recipe as it stands in the notebook: the last version, or a new one after it."""
    says = _recipe_values(row)
    step_values = [_step(step) for step in sorted(steps, key=lambda step: step.whole("no"))]
    dose_values = [_dose(dose, number) for number, dose in enumerate(doses, start=1)]
    body = json.dumps([says, step_values, dose_values], default=str, sort_keys=True)
    digest = hashlib.sha256(body.encode()).hexdigest()
    last = _latest(loading).get(row.text("recipe"))
    if last is not None and last.body_sha256 == digest:
        return
    code, version = row.text("recipe"), 1 if last is None else last.version + 1
    says |= {"code": code, "version": version, "body_sha256": digest}
    recipe = loading.add(Recipe, says)
    loading.kept(Recipe, ("code", "version"))[code, version] = recipe
    (loading.new if last is None else loading.changed)["recipes"] += 1
    RecipeStep.objects.of(loading.studio).bulk_create(
        RecipeStep(recipe=recipe, **values) for values in step_values
    )
    RecipeDose.objects.of(loading.studio).bulk_create(
        RecipeDose(recipe=recipe, **values) for values in dose_values
    )


def _latest(loading: Loading) -> dict[str, Recipe]:
    """The last version of each recipe."""
    rows = loading.kept(Recipe, ("code", "version"))
    return {code: rows[code, version] for code, version in sorted(rows)}


def _recipe_values(row: Row) -> dict[str, Any]:
    mordant = row.several("mordant")
    values = {
        "shade": row.text("shade"),
        "fibres": list(row.words("fibres")),
        "l_per_kg": row.share("ratio"),
        "mordant": mordant[0] if mordant else "",
        "mordant_percent": mordant[1] if mordant else 0,
        "bright": row.yes("bright"),
        "needs_scoured": row.yes("needs scoured", default=True),
        "match": row.text("match") or "blend",
        "water": row.text("water"),
        "ph_low": row.number("ph low"),
        "ph_high": row.number("ph high"),
        "fugitive": row.yes("fugitive"),
        "depth": row.whole("depth", 3),
    }
    # Named only where it says something, so that a recipe without it stays the same version.
    percent = row.number("strength")
    later = {
        "may_share": list(row.words("may share")),
        "second_of": row.text("second bath of"),
        "strength": None if percent is None else Fraction(percent) / 100,
    }
    return values | {name: value for name, value in later.items() if value}


def _step(row: Row) -> dict[str, Any]:
    stands = row.several("stands") or (0, None)
    hands = row.several("hands") or (0, "load")
    strained = row.number("strained at")
    begun = row.number("begun at")
    values = {
        "number": row.whole("no"),
        "name": row.text("step"),
        "kind": row.text("kind"),
        "vessels": list(row.words("vessels")),
        "l_per_kg": row.share("water"),
        "heats": _heats(row),
        "stand_min": stands[0],
        "stand_max": stands[1],
        "night": row.yes("night"),
        "cool_min": row.whole("cools"),
        "hands_min": hands[0],
        "hands_per": hands[1],
        "at_once": row.text("follows") == "at once",
        "strain": row.yes("strain"),
        "strained_c": None if strained is None else round(strained),
        "from_time": row.clock("from"),
        "one_lot": row.yes("one lot"),
        "aired": row.yes("aired"),
        "metal": row.text("leaves"),
    }
    # Named only where they say something, so that a recipe without them stays the same version.
    later = {
        "begun_c": None if begun is None else round(begun),
        "snippet_min": row.whole("snippet") or None,
        "snippet_hands_min": row.whole("snippet hands") or None,
    }
    return values | {name: value for name, value in later.items() if value is not None}


def _dose(row: Row, number: int) -> dict[str, Any]:
    dose = row.values["amount"]
    assert isinstance(dose, DoseOf)
    field = {"share": "per_fibre", "mL per 100 g": "ml_per_100g", "L per kg": "l_per_kg"}
    kind = row.text("kind")
    name = {"liquor": "ml_per_100g", "bath": "l_per_kg"}.get(kind, field[dose.form])
    worth = dose.per_g * 100 if name == "ml_per_100g" else dose.per_g
    return {
        "number": number,
        "step": row.text("step"),
        "what": row.text("what"),
        "kind": kind,
        "state": row.text("state"),
        name: worth,
    }


def _run(loading: Loading, row: Row, values: dict[str, Any]) -> None:
    """A wanted run; one that has begun keeps the recipe that it began with."""
    code = row.text("run")
    found = loading.kept(Run, ("code",)).get((code,))
    if found is not None and found.begun:
        values["recipe_id"] = found.recipe_id
    loading.keep(row, Run, {"code": code}, values)


def _gate(loading: Loading, row: Row) -> None:
    run = loading.kept(Run, ("code",))[(row.text("run"),)]
    if row.text("gate") == "shade card":
        loading.keep(row, ShadeCard, {"run_id": run.pk}, {"approved": row.yes("passed")})
        return
    values = {
        "wanted": row.number("wanted"),
        "reading": row.number("reading"),
        "begun_on": row.day("begun"),
        "days": row.whole("days"),
        "accepted_in_writing": row.yes("passed"),
    }
    key = {"run_id": run.pk, "what": row.text("gate")}
    loading.keep(row, FastnessWish, key, values)
