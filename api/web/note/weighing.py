"""A weight with its container and without: two questions, one weighing of the body."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.web.note.ask import Amount, Body
from inventory.science.saying import say

IN_TUB = (
    Amount(name="gross", words=say("Weighed in a tub: with it"), needed=False),
    Amount(name="tare", words=say("The tub alone"), needed=False),
)


def in_tub(body: Body) -> Body:
    """Gross and tare as one weighing."""
    plain = {name: said for name, said in body.items() if name not in ("gross", "tare")}
    pair = {name: body[name] for name in ("gross", "tare") if name in body}
    return {**plain, "weighed_in": pair} if pair else plain


def out_of_tub(body: Mapping[str, Any]) -> Body:
    """A weighing as gross and tare."""
    pair = body.get("weighed_in")
    plain = {name: said for name, said in body.items() if name != "weighed_in"}
    return {**plain, **pair} if isinstance(pair, Mapping) else plain
