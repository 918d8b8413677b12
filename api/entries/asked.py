"""An entry as it was asked for, and what a verb answers: the words that pass between them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID

from inventory.models import Studio
from inventory.posting import Posted


@dataclass(frozen=True, slots=True)
class Asked:
    """One entry, its fields read and checked for their form."""

    studio: Studio
    entry: UUID
    at: datetime  # when it happened, as we take it
    said: Mapping[str, Any]

    def __getitem__(self, name: str) -> Any:
        return self.said[name]

    def get(self, name: str, default: Any = None) -> Any:
        """What was said of a field, or what stands in where nothing was."""
        found = self.said.get(name)
        return default if found is None else found

    @property
    def posting(self) -> dict[str, Any]:
        """What every verb of the ledger is told: whose it is, when, and a note."""
        return {"entry": self.entry, "at": self.at, "note": self.get("note", "")}

    def given(self, *names: str) -> dict[str, Any]:
        """The fields of these names that were said, for a verb that knows what stands in."""
        return {name: self.said[name] for name in names if self.said.get(name) is not None}


@dataclass(frozen=True, slots=True)
class Kept:
    """What an entry left: a record of one noun under its key, movements of lots, or both."""

    noun: str
    key: str
    posted: Posted | None = None
    values: Mapping[str, Any] = field(default_factory=dict)  # plain values worth telling
