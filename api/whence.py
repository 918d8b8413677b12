"""From which address somebody asks, also behind something that passes requests on."""

from __future__ import annotations

from collections.abc import Mapping
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from typing import Any, Protocol

NOWHERE = "unknown"
HOUSE_BITS = 64  # of an IPv6 address; each house has at least so many of its own


class Coming(Protocol):
    """As much of a request as is read here."""

    @property
    def META(self) -> Mapping[str, Any]: ...


def whence(request: Coming) -> str:
    """The address of a house: of IPv6 its first half, as the rest changes by itself.

    What a request says of its way is believed of something on this very machine only, and of that
    the last word, which it added itself: all before may be anybody's invention.
    """
    near = _read(str(request.META.get("REMOTE_ADDR", "")))
    passed_on = str(request.META.get("HTTP_X_FORWARDED_FOR", ""))
    if near is not None and near.is_loopback and passed_on:
        near = _read(passed_on.rpartition(",")[2]) or near
    if near is None:
        return NOWHERE
    if isinstance(near, IPv6Address):
        return str(ip_network((near, HOUSE_BITS), strict=False))
    return str(near)


def _read(text: str) -> IPv4Address | IPv6Address | None:
    try:
        found = ip_address(text.strip())
    except ValueError:
        return None
    return (isinstance(found, IPv6Address) and found.ipv4_mapped) or found
