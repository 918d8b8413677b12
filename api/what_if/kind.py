"""A kind of change as a program writes it: its word, its fields, an example, and what it makes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from rest_framework import serializers

from api.entries.fields import Said
from sourcing.week.what_if import Change

Fields = Mapping[str, serializers.Field[Any, Any, Any, Any]]
Read = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of change.

    Parameters
    ----------
    word : what stands under `change`
    says : one sentence on what is otherwise then
    said : reads its fields
    make : the change that the fields say
    example : one that the demo studio would take
    """

    word: str
    says: str
    said: type[Said]
    make: Callable[[Read], Change]
    example: Mapping[str, Any]

    @property
    def name(self) -> str:
        """Its name in the contract.

        >>> from api.what_if.kinds import KINDS
        >>> KINDS["pick-up missed"].name
        'WhatIfPickUpMissed'
        """
        return f"WhatIf{''.join(part.capitalize() for part in self.word.replace('-', ' ').split())}"


def kind(
    word: str,
    says: str,
    fields: Fields,
    make: Callable[[Read], Change],
    example: Mapping[str, Any],
    *,
    form: type[Said] = Said,
) -> Kind:
    """A kind of change with these fields beside its word; `form` checks them against each other."""
    named = {"change": serializers.ChoiceField([word], help_text=says), **fields}
    said = type("WhatIf" + word.title().replace(" ", "").replace("-", ""), (form,), {**named})
    return Kind(word, says, said, make, {"change": word, **example})
