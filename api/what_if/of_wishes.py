"""Changes of what comes and what is wanted: pick-ups and runs."""

from __future__ import annotations

from rest_framework import serializers

from api.entries.fields import PLACE_KINDS, AmountOf, Clock, Code, Day, Moment, Words, Yes
from api.what_if.kind import Read, kind
from sourcing.week.what_if.runs import AnotherDueDate, AnotherWeight, OneRunMore, RunLeftOut
from sourcing.week.what_if.visits import PickUpComes, PickUpMissed


def _comes(read: Read) -> PickUpComes:
    amount = read["amount"]
    return PickUpComes(
        read["source"], read["on"], read["gives"],
        mg=amount.mg if amount.kind == "mass" else None,
        pieces=amount.pieces if amount.kind == "count" else None,
        at=read.get("at"), lot=read.get("lot", ""), place_kind=read.get("place", ""),
    )  # fmt: skip


def _more(read: Read) -> OneRunMore:
    return OneRunMore(
        read["run"], read["recipe"], read["fibre"], read["weight"].mg, read.get("due"),
        for_whom=read.get("for_whom", ""), client=read.get("for_client", True),
        fibre_lot=read.get("fibre_lot", ""), shade_card=read.get("shade_card"),
    )  # fmt: skip


OF_WISHES = (
    kind(
        "pick-up missed",
        "A source's visit on a day brings nothing.",
        {
            "source": Words(),
            "on": Day(),
            "gives": Words(required=False, help_text="only this; else all that it would bring"),
        },
        lambda read: PickUpMissed(read["source"], read["on"], read.get("gives", "")),
        {"source": "Lantern Steps café", "on": "2026-11-26"},
    ),
    kind(
        "pick-up comes",
        "A source tells what it will bring on a day: it counts in full from its hour.",
        {
            "source": Words(),
            "on": Day(),
            "gives": Words(),
            "amount": AmountOf("mass", "count"),
            "at": Clock(required=False, help_text="else the hour at which it comes as a rule"),
            "lot": Code(required=False, help_text="what will be written on it"),
            "place": serializers.ChoiceField(
                PLACE_KINDS, required=False, help_text="else the fridge, or the bench without one"
            ),
        },
        _comes,
        {
            "source": "Lantern Steps café",
            "on": "2026-11-26",
            "gives": "avocado stones",
            "amount": "49 stones",
        },
    ),
    kind(
        "another due date",
        "A run is to be dry by another moment; null: whenever it fits.",
        {"run": Code(), "due": Moment(allow_null=True)},
        lambda read: AnotherDueDate(read["run"], read["due"]),
        {"run": "E", "due": "2026-12-01T17:00:00+00:00"},
    ),
    kind(
        "another weight",
        "A run is of another weight of dry, scoured fibre.",
        {"run": Code(), "weight": AmountOf("mass")},
        lambda read: AnotherWeight(read["run"], read["weight"].mg),
        {"run": "G", "weight": "2 lb 3 oz"},
    ),
    kind(
        "run left out",
        "A run is not wanted; what was claimed for it is free.",
        {"run": Code()},
        lambda read: RunLeftOut(read["run"]),
        {"run": "A"},
    ),
    kind(
        "one run more",
        "One run more is wanted.",
        {
            "run": Code(help_text="how it is called in the answer"),
            "recipe": Code(),
            "fibre": Words(),
            "weight": AmountOf("mass"),
            "due": Moment(required=False, help_text="dry by then; else whenever it fits"),
            "for_whom": Words(required=False),
            "for_client": Yes(required=False, help_text="else true"),
            "fibre_lot": Code(required=False, help_text="else any of the fibre"),
            "shade_card": Yes(
                required=False,
                help_text="whether one is approved; else as for other runs of shade and fibre",
            ),
        },
        _more,
        {
            "run": "H",
            "recipe": "slate",
            "fibre": "silk",
            "weight": {"amount": "100", "unit": "g"},
            "due": "2026-12-04T18:00:00+00:00",
        },
    ),
)
