"""Who is asking, and what they may do: one answer for pages, programs and feeds.

A view says the least right that it wants and gets a `Visitor`; what is not allowed never reaches
the rows. While nobody has an account and the service answers this machine only, whoever sits at
it is the owner.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from django.http import QueryDict

from api.asked import studio_asked
from inventory.models import Studio


class Right(StrEnum):
    """What a member of a studio may do; each may do what those before it may."""

    LOOKER_ON = "looker-on"  # sees everything, writes nothing
    HELPER = "helper"  # also records what happened: pick-ups, weighings, dips, draws
    DYER = "dyer"  # also plans: runs, recipes, sources, orders, corrections
    OWNER = "owner"  # also the studio itself: its figures, members and tokens, its leaving

    def covers(self, other: Right) -> bool:
        """Whether this right is at least the other one."""
        order = tuple(Right)
        return order.index(self) >= order.index(other)


class Asking(Protocol):
    """As much of a request as is read here; pages and programs have it alike."""

    @property
    def GET(self) -> QueryDict: ...


@dataclass(frozen=True, slots=True)
class Visitor:
    """Somebody who may look at one studio, and what else they may do there."""

    studio: Studio
    right: Right
    account: int | None = None  # its key; None: nobody has one, and this machine is the owner's
    token: int | None = None  # key of the token that a program showed
    name: str = ""


def visitor_of(request: Asking, *, least: Right = Right.LOOKER_ON) -> Visitor:
    """Who asks about which studio, if their right covers `least`.

    The studio is the one that `?studio=` names, else the only one that the visitor belongs to.
    """
    return Visitor(studio_asked(request.GET.get("studio")), Right.OWNER)
