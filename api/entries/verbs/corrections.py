"""Entries that put another entry right: the wrong one stays, the correction stands beside it."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Note, Said
from api.entries.verb import Verb
from api.entries.weights import for_lot
from api.visitor import Right
from sourcing.turned_back import correct as put_right


class ShouldBe(Said):
    """How much it should have been of one lot."""

    lot = Code()
    amount = AmountOf("mass", "volume", "count", "container", may_be_zero=True)


class Correct(Said):
    """An entry put right."""

    corrects = serializers.UUIDField(help_text="id of the entry that was wrong")
    amounts = serializers.ListField(
        child=ShouldBe(), min_length=1, max_length=40, required=False,
        help_text="left out: the whole entry is taken back",
    )  # fmt: skip
    note = Note()


def correct(asked: Asked) -> Kept:
    """An entry corrected, or taken back."""
    rows = asked.get("amounts")
    amounts: dict[str, int] | None = None
    if rows is not None:
        amounts = {
            row["lot"]: for_lot(
                asked, row["lot"], row["amount"], pointer=f"/amounts/{number}/amount"
            ).amount
            for number, row in enumerate(rows)
        }
    posted = put_right(
        asked.studio,
        entry=asked.entry,
        at=asked.at,
        corrects=asked["corrects"],
        amounts=amounts,
        note=asked.get("note", ""),
    )
    return Kept("postings", str(asked.entry), posted)


def _verb(name: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, "postings", says, Right.HELPER, fields, run, example)


VERBS = (
    _verb("correct", "An entry put right, or taken back.", Correct, correct,
          corrects="018f3c1e-7c1a-7000-8000-5a1d0f4c2b11", note="the other bag"),
)  # fmt: skip
