"""Changes of the studio itself: line, pots, rings, hours and figures of its own."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers
from rest_framework.exceptions import ValidationError

from api.entries.fields import UNCLEAR, AmountOf, Clock, Code, Day, Moment, Said, Whole, Words
from api.rest.fields import unfit
from api.what_if.kind import Read, kind
from inventory.science import unclear
from inventory.science.saying import say
from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import read_figure
from sourcing.notebook.rules import value_of
from sourcing.week.what_if.figure import AnotherFigure
from sourcing.week.what_if.hours import SomebodyAway, SomebodyIn
from sourcing.week.what_if.room import LineRoom, OnePotMore, OneRingMore, PotAway, RingAway

DAY_MIN = 24 * 60
VESSELS = ("pot", "iron pot", "tub", "bucket")


class _LineRoomSaid(Said):
    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        if ("more" in attrs) == ("less" in attrs):
            raise unfit(say("Say either more or less."))
        return attrs


class _FigureSaid(Said):
    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        rule = "_".join(attrs["rule"].casefold().replace("_", " ").split())
        try:
            self.context["custom"].check_marks(attrs["value"])
            value = value_of(rule, read_figure(attrs["value"]))
        except (Unclear, unclear.Unclear) as wrong:
            raise ValidationError({"value": unfit(str(wrong), UNCLEAR).detail}) from None
        return {**attrs, "rule": rule, "number": value}


def _room(read: Read) -> LineRoom:
    mg = read["more"].mg if "more" in read else -read["less"].mg
    return LineRoom(mg, read.get("line", ""), read.get("from"), read.get("until"))


def _stretch() -> dict[str, serializers.Field[Any, Any, Any, Any]]:
    return {
        "from": Moment(required=False, help_text="else from the moment asked for"),
        "until": Moment(required=False, help_text="else for good"),
    }


def _site() -> Code:
    return Code(required=False, help_text="where the studio has several; else the first")


def _in(read: Read) -> SomebodyIn:
    return SomebodyIn(read["day"], read["from"], read["until"], read.get("hands_min"),
                      read.get("site", ""))  # fmt: skip


def _away(read: Read) -> SomebodyAway:
    return SomebodyAway(read["day"], read.get("from"), read.get("until"), read.get("hands_min"),
                        read.get("site", ""))  # fmt: skip


OF_STUDIO = (
    kind(
        "line room",
        "There is more room on a line, or less, by dry weight.",
        {
            "more": AmountOf("mass", required=False, help_text="one of more and less"),
            "less": AmountOf("mass", required=False, help_text="one of more and less"),
            "line": Code(required=False, help_text="else the first"),
            **_stretch(),
        },
        _room,
        {
            "more": "0.5 kg",
            "from": "2026-11-27T00:00:00+00:00",
            "until": "2026-11-28T10:00:00+00:00",
        },
        form=_LineRoomSaid,
    ),
    kind(
        "pot away",
        "A pot, tub or bucket is not there.",
        {"vessel": Code(), **_stretch()},
        lambda read: PotAway(read["vessel"], read.get("from"), read.get("until")),
        {"vessel": "P1", "until": "2026-11-24T18:00:00+00:00"},
    ),
    kind(
        "one pot more",
        "There is one pot, tub or bucket more, clean and sound.",
        {
            "vessel": Code(help_text="how it is called in the answer"),
            "kind": serializers.ChoiceField(VESSELS),
            "working": AmountOf("volume", help_text="what is filled safely"),
            "site": _site(),
        },
        lambda read: OnePotMore(
            read["vessel"], read["kind"], max(1, read["working"].ul // 1000), read.get("site", "")
        ),
        {"vessel": "lent pot", "kind": "iron pot", "working": "40 L"},
    ),
    kind(
        "ring away",
        "A ring of the stove cannot be lit.",
        {"ring": Code(), **_stretch()},
        lambda read: RingAway(read["ring"], read.get("from"), read.get("until")),
        {"ring": "R1"},
    ),
    kind(
        "one ring more",
        "There is one ring more, which takes any pot.",
        {
            "ring": Code(help_text="how it is called in the answer"),
            "watts": Whole(least=100, most=100_000),
            "site": _site(),
        },
        lambda read: OneRingMore(read["ring"], read["watts"], read.get("site", "")),
        {"ring": "camping ring", "watts": 3000},
    ),
    kind(
        "somebody in",
        "One person more is in on a day.",
        {
            "day": Day(),
            "from": Clock(),
            "until": Clock(),
            "hands_min": Whole(
                least=1, most=DAY_MIN, required=False, help_text="minutes of hands; else all of it"
            ),
            "site": _site(),
        },
        _in,
        {"day": "2026-11-25", "from": "09:00", "until": "18:00", "hands_min": 360},
    ),
    kind(
        "somebody away",
        "Somebody is away on a day: all of it, or from or until an hour.",
        {
            "day": Day(),
            "from": Clock(required=False, help_text="else from its beginning"),
            "until": Clock(required=False, help_text="else till its end"),
            "hands_min": Whole(
                least=1,
                most=DAY_MIN,
                required=False,
                help_text="what they would have given; needed where others are in",
            ),
            "site": _site(),
        },
        _away,
        {"day": "2026-11-27", "from": "13:00"},
    ),
    kind(
        "another figure",
        "A figure of the studio's own has another value.",
        {
            "item": Words(help_text="what it is a figure of; studio for the studio's own ways"),
            "rule": Words(help_text="as it stands among the figures, such as scour loss fraction"),
            "value": Words(most=40, help_text="with its unit, such as 20 %, 3 d or 42 g"),
        },
        lambda read: AnotherFigure(read["item"], read["rule"], read["number"]),
        {"item": "wool", "rule": "scour loss fraction", "value": "20 %"},
        form=_FigureSaid,
    ),
)
