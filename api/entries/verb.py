"""A verb: what may be entered under one name, who may, how it is read and what carries it out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from api.entries.asked import Asked, Kept
from api.entries.fields import Said
from api.visitor import Right

Run = Callable[[Asked], Kept]


@dataclass(frozen=True, slots=True, eq=False)
class Verb:
    """One verb of the studio.

    Parameters
    ----------
    name : part of its address, `weigh-again`
    noun : the records that it is about, by which it is filed in the contract
    says : one sentence on what it records
    least : the right that it needs
    fields : what is said beside id and moment
    run : carries it out in the transaction of the entry
    example : fields of an entry that the demo studio would take
    """

    name: str
    noun: str
    says: str
    least: Right
    fields: type[Said]
    run: Run
    example: Mapping[str, Any]
