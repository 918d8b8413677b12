"""The address at which a reader stops letters: signed, for ever, without an account."""

from __future__ import annotations

from uuid import UUID

from django.core.signing import BadSignature, Signer
from django.urls import reverse

from inventory.science.saying import say
from sourcing.reminding.facts import ALL, KINDS

SLUGS = {kind.replace(" ", "-"): kind for kind in (*KINDS, ALL)}
SIGNER = Signer(sep=".", salt="api.reminders.stopping")
LONGEST = 200  # characters of an address's part; ours have about a hundred

# What a kind of letter is called on a page.
CALLED = {
    "morning sheet": "the morning sheet",
    "day before": say("the word on the day before a pick-up"),
    "dip": say("the word that a jar waits for a dip"),
    "last good day": say("the word before a lot or bath ends"),
    "order-by day": say("the word before an order-by day"),
    "light test": say("the word that a light test is out"),
    "all": say("every letter from here"),
}


def stop_path(mark: UUID, kind: str) -> str:
    """The path at which a reader stops a kind of letter, or all."""
    return reverse("stop", args=[token_of(mark, kind)])


def token_of(mark: UUID, kind: str) -> str:
    """What stands for a reader and a kind in an address; nobody else can make it."""
    return SIGNER.sign(f"{mark.hex}-{kind.replace(' ', '-')}")


def read_token(token: str) -> tuple[UUID, str] | None:
    """Reader and kind of a token; None where it is none of ours."""
    if len(token) > LONGEST:
        return None
    try:
        mark, _, slug = SIGNER.unsign(token).partition("-")
        return UUID(hex=mark), SLUGS[slug]
    except (BadSignature, ValueError, KeyError):
        return None
