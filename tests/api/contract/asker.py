"""Who asks the contract at length: an owner with a token, and those whom an owner may send away.

Whoever ends their own token or membership, or hands on their right, has ended what was theirs to
end. From the next request on another owner asks, so that what comes after is asked by an owner too.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.utils import timezone

from api.members import join
from api.models import Account, Membership
from api.rights import Right, TokenUnknown
from api.tokens import make_token, token_of
from inventory.models import Studio

STUDIO = "Pellitory Yard"
OTHERS = 12  # members who may be given another right and sent away
Wsgi = Callable[[dict[str, Any], Any], Iterable[bytes]]


@dataclass
class Asker:
    """The house as WSGI serves it, asked by an owner of the studio, whoever that is by now."""

    house: Wsgi
    first: str = ""
    secret: str = ""

    def __post_init__(self) -> None:
        for number in range(OTHERS):
            _member(tuple(Right)[number % len(Right)])
        self.first = self.secret = _member(Right.OWNER)

    def __call__(self, environ: dict[str, Any], start: Any) -> Iterable[bytes]:
        if environ.get("HTTP_AUTHORIZATION") == f"Bearer {self.first}":
            if not self._may():
                self.secret = _member(Right.OWNER)
            environ["HTTP_AUTHORIZATION"] = f"Bearer {self.secret}"
        return self.house(environ, start)

    def _may(self) -> bool:
        try:
            return token_of(self.secret).membership.right == Right.OWNER
        except TokenUnknown:
            return False


def _member(right: Right) -> str:
    """Somebody new; the secret of their token."""
    now, studio = timezone.now(), Studio.objects.get(name=STUDIO)
    name = f"asks-{secrets.token_hex(8)}"
    account = Account.objects.create(email=f"{name}@example.org", name=name, made_at=now)
    member: Membership = join(studio, account, right=right, at=now)
    until = now + timedelta(days=1)
    return make_token(member, name="asks", right=right, until=until, at=now)[1]
