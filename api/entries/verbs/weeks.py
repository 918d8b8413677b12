"""Entries about the week as a whole: another one taken, or the plain one again."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import Code, Moment, Note, Said, Words, Yes
from api.entries.verb import Verb
from api.visitor import Right
from sourcing import taken

RUNS_AT_MOST, FLOORS_AT_MOST = 400, 400


class FloorSaid(Said):
    """A step that waits."""

    run = Code()
    step = Words(most=80, help_text="its word on the run sheet")
    not_before = Moment()
    stays = Yes(required=False, default=False, help_text="it begins at that moment")


class SiteSaid(Said):
    """A run that is worked at one site only."""

    run = Code()
    site = Words(most=40)


class TogetherSaid(Said):
    """A run that goes along in another run's pots through its first steps."""

    run = Code()
    in_pots_of = Code(help_text="the run whose pots they are")
    up_to = Words(most=80, help_text="its last step there, by its word on the run sheet")


class Take(Said):
    """A week taken; with nothing but its end it is the plain one."""

    until = Moment(help_text="end of the week that was looked at")
    order = serializers.ListField(
        child=Code(), max_length=RUNS_AT_MOST, required=False,
        help_text="runs as they are placed; others follow by due date",
    )  # fmt: skip
    waits = serializers.ListField(child=FloorSaid(), max_length=FLOORS_AT_MOST, required=False)
    sites = serializers.ListField(child=SiteSaid(), max_length=RUNS_AT_MOST, required=False)
    together = serializers.ListField(
        child=TogetherSaid(), max_length=RUNS_AT_MOST, required=False,
        help_text="runs that share pots, where their recipes allow it",
    )  # fmt: skip
    note = Note()


def take(asked: Asked) -> Kept:
    """Another week in place of the plain one."""
    row = taken.take_week(
        asked.studio,
        until=asked["until"],
        order=asked.get("order", ()),
        floors=[(row["run"], row["step"], row["not_before"]) for row in asked.get("waits", ())],
        stays=[(row["run"], row["step"]) for row in asked.get("waits", ()) if row["stays"]],
        sites=[(row["run"], row["site"]) for row in asked.get("sites", ())],
        together=[
            (row["in_pots_of"], row["run"], row["up_to"]) for row in asked.get("together", ())
        ],
        **asked.posting,
    )
    return Kept("taken-weeks", str(row.entry))


def _verb(name: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, "runs", says, Right.DYER, fields, run, example)


VERBS = (
    _verb("take-week", "Another order of runs for the week, or the plain one again.", Take, take,
          until="2026-11-30T00:00+00:00", order=["E", "A", "D"],
          waits=[{"run": "A", "step": "scour", "not_before": "2026-11-23T11:00+00:00"}]),
)  # fmt: skip
