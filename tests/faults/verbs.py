"""Every verb that enters something, ready to be called with one part of it spoilt."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from fractions import Fraction
from typing import Any
from uuid import uuid4

from django.apps import apps

from inventory import fibre, jars, ledger, lots, vessels
from inventory.entries import Fibre, NewLot, Place
from inventory.models import Studio, Vessel
from sourcing import claims, pickups, runs, tubs
from sourcing.models import Recipe, Run, Source

AT = datetime(2026, 11, 23, 9, tzinfo=UTC)
Verb = Callable[[Studio, dict[str, Any]], object]


def shelves(studio: Studio) -> None:
    """One thing of each sort, for the verbs to do something to."""
    ledger.receive(studio, entry=uuid4(), at=AT, lot=new_lot("A"), amount=1_000_000)
    jars.begin(
        studio, entry=uuid4(), at=AT, code="J", name="Iron 1", metal="iron", volume=1_000_000
    )
    wool = NewLot(code="F", what="wool")
    fibre.receive(
        studio, entry=uuid4(), at=AT, lot=wool, amount=1_000_000, form="yarn", fibre=Fibre()
    )
    Vessel.objects.of(studio).create(
        code="P1", kind="pot", material="stainless", brim_ml=60_000, working_ml=48_000
    )
    Source.objects.of(studio).create(name="Lantern Steps")
    recipe = Recipe.objects.of(studio).create(
        code="blush", version=1, shade="blush", fibres=["wool"], bright=False, l_per_kg=Fraction(30)
    )
    Run.objects.of(studio).create(code="R", recipe=recipe, fibre="wool", weight_mg=1_000_000)


def new_lot(code: str = "B", **changes: Any) -> NewLot:
    """A lot of stones on the bench."""
    said = {"what": "avocado stones", "state": "fresh", "place": Place("bench"), **changes}
    return NewLot(code=code, **said)


def _receive(studio: Studio, said: dict[str, Any]) -> object:
    lot = new_lot(**{name: said.pop(name) for name in list(said) if name in NEW_LOT})
    return ledger.receive(studio, **{"entry": uuid4(), "at": AT, "amount": 5, **said, "lot": lot})


def _begin(studio: Studio, said: dict[str, Any]) -> object:
    jar = {"code": "J9", "name": "Iron 9", "metal": "iron", "volume": 1000}
    return jars.begin(studio, **{"entry": uuid4(), "at": AT, **jar, **said})


def _make_bath(studio: Studio, said: dict[str, Any]) -> object:
    bath = {"code": "B9", "what": "alum bath", "volume": 1000, "temperature_c": 20}
    return jars.make_bath(studio, **{"entry": uuid4(), "at": AT, **bath, **said})


def _receive_fibre(studio: Studio, said: dict[str, Any]) -> object:
    what = said.pop("what", "wool")
    done = Fibre(**{name: said.pop(name) for name in list(said) if name in FIBRE})
    lot = NewLot(code="W-9", what=what)
    entered = {"entry": uuid4(), "at": AT, "amount": 5, "form": "yarn", **said}
    return fibre.receive(studio, **{**entered, "lot": lot, "fibre": done})


def _draw(studio: Studio, said: dict[str, Any]) -> object:
    takes = [(said.pop("lot", "A"), said.pop("amount", 5))]
    return ledger.draw(studio, **{"entry": uuid4(), "at": AT, **said, "takes": takes})


def _draw_past_claims(studio: Studio, said: dict[str, Any]) -> object:
    takes = [(said.pop("lot", "A"), said.pop("amount", 5))]
    return claims.draw(studio, **{"entry": uuid4(), "at": AT, **said, "takes": takes})


def _tip_out(studio: Studio, said: dict[str, Any]) -> object:
    takes = [(said.pop("lot", "A"), said.pop("amount", 5))]
    where = {"where_to": "compost"}
    return ledger.tip_out(studio, **{"entry": uuid4(), "at": AT, **where, **said, "takes": takes})


def _with(verb: Callable[..., object], *, entered: bool = True, **usual: Any) -> Verb:
    """A verb called with what is usual, and what is said instead."""

    def call(studio: Studio, said: dict[str, Any]) -> object:
        entry = {"entry": uuid4()} if entered else {}
        return verb(studio, **{**entry, **usual, **said})

    return call


STONES = {"source": "Lantern Steps", "gives": "avocado stones", "lot": "P-1"}
HERE = {"place": Place("bench")}
NEW_LOT = (
    *("code", "what", "kind", "state", "place", "since", "site", "source", "permission"),
    *("set_aside", "arrives_at"),
)
FIBRE = ("mordant", "mordant_percent", "iron_percent", "shade")
VERBS: dict[str, Verb] = {
    "receive": _receive,
    "receive_count": _with(
        ledger.receive_count, at=AT, lot=new_lot("C"), pieces=3, piece_mg=42_000
    ),
    "draw": _draw,
    "draw past claims": _draw_past_claims,
    "tip_out": _tip_out,
    "recount": _with(ledger.recount, at=AT, lot="A", found=5),
    "weigh_again": _with(ledger.weigh_again, at=AT, lot="A", found=5),
    "put_by": _with(ledger.put_by, at=AT, lot="A", state="frozen", place=Place("freezer")),
    "set_aside": _with(lots.set_aside, at=AT, lot="A", reason="furry"),
    "arrive": _with(lots.arrive, at=AT, lot="A"),
    "begin a jar": _begin,
    "dip": _with(jars.dip, at=AT, jar="J"),
    "top_up": _with(jars.top_up, at=AT, jar="J", volume=5),
    "evaporate": _with(jars.evaporate, at=AT, jar="J", left=5),
    "draw from a jar": _with(jars.draw, at=AT, jar="J", volume=5),
    "keep_at": _with(jars.keep_at, at=AT, jar="J", temperature_c=8.0),
    "make_bath": _make_bath,
    "receive fibre": _receive_fibre,
    "mordant": _with(fibre.mordant, at=AT, lot="F", with_what="alum", percent=12),
    "dry": _with(fibre.dry, at=AT, lot="F"),
    "mark_iron": _with(vessels.mark_iron, at=AT, vessel="P1"),
    "record_pickup": _with(pickups.record_pickup, at=AT, **STONES, **HERE),
    "report_pickup": _with(pickups.report_pickup, entered=False, at=AT, **STONES, **HERE),
    "miss_pickup": _with(
        pickups.miss_pickup, entered=False, at=AT, source="Lantern Steps", gives="nettle"
    ),
    "move_tubs": _with(tubs.move_tubs, at=AT, source="Lantern Steps", how="left", tubs=2),
    "claim": _with(claims.claim, at=AT, run="R", lot="A", amount=5),
    "release": _with(claims.release, entered=False, at=AT, run="R"),
    "ask_run": _with(
        runs.ask_run, entered=False, code="R9", recipe="blush", fibre="wool", weight_mg=5
    ),
}


def rows() -> dict[str, int]:
    """How many rows each of our tables has."""
    ours = ("inventory", "sourcing")
    models = [model for app in ours for model in apps.get_app_config(app).get_models()]
    return {model._meta.label: model._base_manager.count() for model in models}
