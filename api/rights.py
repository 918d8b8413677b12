"""What a member of a studio may do, and how somebody is turned away who may not."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from inventory.science.saying import say


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


RIGHTS = tuple(str(right) for right in Right)


def lesser(one: Right, other: Right) -> Right:
    """The right that is covered by the other one."""
    return one if other.covers(one) else other


WRONG_TOKEN = {"WWW-Authenticate": 'Bearer error="invalid_token"'}


class TurnedAway(Exception):
    """Somebody asks who may not; the sentence says what they could do."""

    code: str
    headers: Mapping[str, str] = {}


class NotSignedIn(TurnedAway):
    """Nobody knows who asks."""

    code = "not_signed_in"
    headers: Mapping[str, str] = {"WWW-Authenticate": "Bearer"}  # RFC 6750, 3

    def __init__(self, detail: str = "") -> None:
        super().__init__(
            detail
            or say(
                "Nobody is signed in. Sign in on the page /sign-in/, or send a token in the "
                "header “Authorization: Bearer TOKEN”."
            )
        )


class TokenUnknown(NotSignedIn):
    """A token that was never made, or was ended."""

    code = "token_unknown"
    headers = WRONG_TOKEN

    def __init__(self) -> None:
        super().__init__(
            say("This token is not known here, or was ended. Make a new one on the page /account/.")
        )


class TokenExpired(NotSignedIn):
    """A token whose last moment is past."""

    code = "token_expired"
    headers = WRONG_TOKEN

    def __init__(self, name: str, until: str) -> None:
        self.name, self.until = name, until
        super().__init__(
            say(
                "The token “{name}” was good until {until}. Make a new one on the page /account/.",
                name=name,
                until=until,
            )
        )


class NoRight(TurnedAway):
    """A member whose right is too small for what is asked."""

    code = "no_right"

    def __init__(self, *, studio: str, has: Right, needs: Right) -> None:
        self.studio, self.has, self.needs = studio, has, needs
        super().__init__(
            say(
                "This needs the right of {one}; at {studio} you have that of {one_2}. Ask an "
                "owner of the studio.",
                one=_one(needs),
                studio=studio,
                one_2=_one(has),
            )
        )


class ReadsOnly(TurnedAway):
    """A token that was made to read, and is asked to write."""

    code = "token_reads_only"

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(
            say(
                "The token “{name}” was made for reading only. Make one that writes on the "
                "page /account/.",
                name=name,
            )
        )


class FromElsewhere(TurnedAway):
    """Something to be written that was sent from a page of somebody else's."""

    code = "from_elsewhere"

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(
            say(
                "This was not sent from a page of ours, so nothing was written. A program "
                "sends a token; a page sends what its form holds in “csrfmiddlewaretoken” as "
                "the header X-CSRFToken."
            )
        )


def _one(right: Right) -> str:
    return say("an {right}", right=right) if right[0] in "aeiou" else say("a {right}", right=right)
