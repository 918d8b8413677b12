"""How many requests a minute are answered, by who asks: the shipped numbers, or those of the house.

Reading and writing are counted apart. Whoever sits at the machine that the service answers alone
is not counted.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from django.core.exceptions import ImproperlyConfigured

MINUTE_S = 60
OFF = "off"
WRITTEN = re.compile(r"(?P<whose>[a-z]+)=(?P<reads>[0-9]{1,7})/(?P<writes>[0-9]{1,7})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Limit:
    """So many requests a minute; at least one of each."""

    reads: int
    writes: int
    whose: str  # as the sentence that refuses says it


Limits = Mapping[str, Limit]
SHIPPED: Limits = {
    "token": Limit(600, 120, "one token"),
    "account": Limit(600, 120, "one account"),
    # A whole house behind one address, with tokens or signed in; also those that are none.
    "address": Limit(3_000, 600, "one address"),
    "stranger": Limit(120, 30, "one address without a token"),
    "link": Limit(60, 20, "one link"),
}
FORM = (
    "write off, or reads and writes a minute such as token=600/120 link=60/20; "
    f"there are {', '.join(SHIPPED)}."
)


def limits_said(text: str | None) -> Limits:
    """The limits that `DYE_LARDER_LIMITS` names, the shipped ones for the rest.

    >>> limits_said("link=5/1")["link"].reads, limits_said("off")
    (5, {})
    """
    if not text:
        return SHIPPED
    if text.strip().lower() == OFF:
        return {}
    return {**SHIPPED, **dict(_one(word) for word in text.replace(",", " ").split())}


def _one(word: str) -> tuple[str, Limit]:
    found = WRITTEN.fullmatch(word)
    shipped = SHIPPED.get(found["whose"]) if found else None
    if found is None or shipped is None or not (int(found["reads"]) and int(found["writes"])):
        raise ImproperlyConfigured(f"DYE_LARDER_LIMITS says {word!r}; {FORM}")
    return found["whose"], Limit(int(found["reads"]), int(found["writes"]), shipped.whose)
