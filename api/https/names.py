"""By which names and addresses this machine is reached in the studio's own network."""

from __future__ import annotations

import socket
from collections.abc import Iterable
from dataclasses import dataclass
from ipaddress import IPv4Address, ip_address, ip_network

# What an authority of ours may vouch for, and nothing else: names that nobody in the world can
# own (RFC 6762, 8375, 9476) and addresses that lead nowhere outside (RFC 1918, 3927, 1122).
ENDINGS = ("local", "home.arpa", "lan", "internal", "localhost")
NETWORKS = tuple(
    ip_network(text)
    for text in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8")
)
# An address set aside for papers: asked for the way to it, the machine says which of its own
# addresses it would use; nothing is sent (RFC 5737).
NOWHERE = ("192.0.2.1", 9)


class NameRefused(ValueError):
    """A name that belongs to the world and not to a studio's network."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(
            f"{name} is not a name of a studio's own network. Give one that ends in "
            f"{', '.join('.' + ending for ending in ENDINGS[:-1])}, the plain name of this "
            "machine, or an address such as 192.168.1.20."
        )


@dataclass(frozen=True, slots=True)
class Names:
    """Names and addresses, the one that a phone finds best in front."""

    addresses: tuple[str, ...]
    names: tuple[str, ...]

    @property
    def all(self) -> tuple[str, ...]:
        return (*self.addresses, *self.names)


def names_of_machine(more: Iterable[str] = ()) -> Names:
    """What this machine is called, then what its owner adds.

    Raises
    ------
    NameRefused
        If one that is added is not a studio's own.
    """
    host = socket.gethostname().split(".")[0].lower()
    found = [address for address in _own_addresses() if is_own_address(address)]
    added = [name.strip().rstrip(".").lower() for name in more]
    for name in added:
        if not (is_own_address(name) or is_own_name(name, host)):
            raise NameRefused(name)
    addresses = [name for name in added if is_own_address(name)]
    names = [name for name in added if name not in addresses]
    own = (f"{host}.local", host, "localhost") if host.isascii() else ("localhost",)
    return Names(
        tuple(dict.fromkeys((*addresses, *found, "127.0.0.1"))),
        tuple(dict.fromkeys((*names, *own))),
    )


def is_own_address(text: str) -> bool:
    """Whether it is an address that leads nowhere outside."""
    try:
        address = ip_address(text)
    except ValueError:
        return False
    return isinstance(address, IPv4Address) and any(address in net for net in NETWORKS)


def is_own_name(text: str, host: str) -> bool:
    """Whether it is this machine's plain name, or a name that nobody in the world can own."""
    parts = text.split(".")
    sound = all(part and part.replace("-", "").isalnum() and part.isascii() for part in parts)
    is_address = parts[-1].isdigit()
    return (
        sound
        and not is_address
        and (text == host or text.endswith(tuple(f".{e}" for e in ENDINGS)))
    )


def _own_addresses() -> tuple[str, ...]:
    """The address on the way out first, then what the machine's name leads to."""
    try:
        told = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET, socket.SOCK_STREAM)
    except OSError:
        told = []
    return tuple(dict.fromkeys((*way_out(), *(str(row[4][0]) for row in told))))


def way_out() -> tuple[str, ...]:
    """The address that this machine would write under a letter; none without a network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        try:
            way.connect(NOWHERE)
        except OSError:
            return ()
        return (str(way.getsockname()[0]),)
