"""An authority of ours vouches for a studio's own network and for nothing of the world."""

from __future__ import annotations

import socket

import pytest

from api.https.names import NameRefused, is_own_address, is_own_name, names_of_machine


@pytest.fixture(autouse=True)
def shed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine called shed, with one address in the studio and one in the world."""
    told = [(0, 0, 0, "", ("192.168.1.20", 0)), (0, 0, 0, "", ("203.0.113.9", 0))]
    monkeypatch.setattr(socket, "gethostname", lambda: "Shed.example.org")
    monkeypatch.setattr(socket, "getaddrinfo", lambda *asked: told)
    monkeypatch.setattr("api.https.names.way_out", lambda: ("192.168.1.20",))


def test_a_machine_is_called_by_its_addresses_and_its_plain_name() -> None:
    names = names_of_machine()

    assert names.addresses == ("192.168.1.20", "127.0.0.1")
    assert names.names == ("shed.local", "shed", "localhost")


def test_an_address_of_the_world_is_left_out() -> None:
    assert "203.0.113.9" not in names_of_machine().all


def test_what_its_owner_adds_stands_in_front() -> None:
    names = names_of_machine(["Dyes.home.arpa.", "10.1.2.3"])

    assert names.names[0] == "dyes.home.arpa"
    assert names.addresses[0] == "10.1.2.3"


@pytest.mark.parametrize(
    "name", ["dyes.example.org", "203.0.113.9", "local", "a b.lan", "", ".lan"]
)
def test_a_name_of_the_world_is_refused_with_what_would_do(name: str) -> None:
    with pytest.raises(NameRefused) as refusal:
        names_of_machine([name])

    assert str(refusal.value) == (
        f"{name} is not a name of a studio's own network. Give one that ends in .local, "
        ".home.arpa, .lan, .internal, the plain name of this machine, or an address such as "
        "192.168.1.20."
    )


@pytest.mark.parametrize(
    ("inside", "outside"),
    [
        ("10.255.255.255", "11.0.0.0"),
        ("172.16.0.0", "172.15.255.255"),
        ("172.31.255.255", "172.32.0.0"),
        ("192.168.255.255", "192.169.0.0"),
    ],
)
def test_the_studios_networks_end_where_the_papers_say(inside: str, outside: str) -> None:
    assert is_own_address(inside)
    assert not is_own_address(outside)


def test_an_address_is_no_name_whatever_it_ends_in() -> None:
    assert not is_own_name("1.2.3.4", "shed")
    assert is_own_name("shed", "shed")
    assert not is_own_name("barn", "shed")
