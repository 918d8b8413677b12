"""Where something is put: the bench, the studio's cold places, the dry store."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.tongue.trade import trade
from api.web.note.ask import Body, Pick
from api.web.note.hand import Choice, Hand
from inventory.science.saying import say

BENCH, DRY_STORE = "bench:", "dry store:"


@dataclass(frozen=True, kw_only=True)
class Where(Pick):
    """A place by its kind and, where it is one of the studio's own, its code."""

    can_type: bool = False

    def chosen(self, value: str) -> Body:
        kind, _, code = value.partition(":")
        return {self.name: {"kind": kind, **({"code": code} if code else {})}} if kind else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        found = body.get(self.name)
        if not isinstance(found, Mapping):
            return {}
        return {self.name: f"{found.get('kind', '')}:{found.get('code', '')}"}

    def in_words(self, body: Mapping[str, Any]) -> str:
        found = body.get(self.name)
        if not isinstance(found, Mapping):
            return ""
        return trade(str(found.get("code") or found.get("kind") or ""))


def places(hand: Hand) -> Sequence[Choice]:
    """Everywhere a lot can be put, the cold first."""
    cold = [Choice(f"{kind}:{code}", code, _more(kind, code)) for kind, code in hand.cold]
    return (*cold, Choice(BENCH, say("bench")), Choice(DRY_STORE, say("dry store")))


def _more(kind: str, code: str) -> str:
    return "" if kind in code else trade(kind)
