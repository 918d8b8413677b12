"""A question that is answered with some words in a row, each behind a comma."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.web.note.ask import Ask, Body, Fields, Shown
from api.web.note.hand import Hand
from inventory.science.saying import joined


@dataclass(frozen=True, kw_only=True)
class Listed(Ask):
    """Codes or days, behind commas or spaces."""

    most: int = 200

    def said(self, fields: Fields) -> Body:
        found = fields.get(self.name, "").replace(",", " ").split()
        return {self.name: found} if found else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        text = self.in_words(body)
        return {self.name: text} if text else {}

    def in_words(self, body: Mapping[str, Any]) -> str:
        found = body.get(self.name)
        return joined(", ", (str(word) for word in found)) if isinstance(found, list) else ""

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        return Shown(
            "text", self.name, self.words, self.hint, fields.get(self.name, ""), self.needed,
            kind="text", most=self.most,
        )  # fmt: skip
