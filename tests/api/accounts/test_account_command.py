"""Accounts from the machine itself: the first is made here, and nothing is typed in the open."""

from __future__ import annotations

import io
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from api.models import Account
from inventory.models import Studio
from tests.api.members import PASSWORD

ADA = "ada@pellitory.example"


@pytest.fixture(autouse=True)
def yard(db: None) -> Studio:
    return Studio.objects.create(name="Pellitory Yard", zone="Europe/London")


def _called(monkeypatch: pytest.MonkeyPatch, *words: str, typed: str = "") -> str:
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    said = io.StringIO()
    call_command("account", *words, stdout=said, stderr=io.StringIO())
    return said.getvalue()


def _add(monkeypatch: pytest.MonkeyPatch, *more: str, typed: str = f"{PASSWORD}\n") -> str:
    return _called(monkeypatch, "add", ADA, "--name", "Ada", *more, typed=typed)


def test_the_first_account_closes_the_house_and_opens_it_to_its_owner(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert _called(monkeypatch, "list") == (
        "Nobody has an account: whoever sits at this machine is the owner.\n"
    )

    assert _add(monkeypatch) == f"Ada <{ADA}> is owner of Pellitory Yard.\n"

    assert Client().get("/api/v1/sources/").status_code == 401
    client = Client()
    assert client.post("/sign-in/", {"email": ADA, "password": PASSWORD}).status_code == 303
    assert client.get("/api/v1/sources/").status_code == 200
    assert _called(monkeypatch, "list") == f"Ada <{ADA}>: owner of Pellitory Yard\n"


def test_an_account_that_is_there_joins_another_studio_and_keeps_its_password(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    _add(monkeypatch)
    Studio.objects.create(name="Kelpwick Loft", zone="Europe/London")

    with pytest.raises(CommandError, match="Say which one"):
        _add(monkeypatch)
    _add(monkeypatch, "--studio", "Kelpwick Loft", "--right", "dyer", typed="")

    assert _called(monkeypatch, "list") == (
        f"Ada <{ADA}>: dyer of Kelpwick Loft, owner of Pellitory Yard\n"
    )
    assert Account.objects.get().check_password(PASSWORD)


@pytest.mark.parametrize(
    ("typed", "said"), [("short\n", "at least 10 characters"), ("", "at least 10 characters")]
)
def test_a_password_too_weak_makes_no_account(
    monkeypatch: pytest.MonkeyPatch, typed: str, said: str
) -> None:
    with pytest.raises(CommandError, match=said):
        _add(monkeypatch, typed=typed)

    assert not Account.objects.exists()


def test_whoever_types_is_asked_twice_and_unseen(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    typed = iter([PASSWORD, PASSWORD + "x", PASSWORD, PASSWORD])
    monkeypatch.setattr("api.management.commands.account.getpass", lambda prompt: next(typed))
    monkeypatch.setattr("sys.stdin", Terminal())
    words = ("account", "add", ADA, "--name", "Ada")

    with pytest.raises(CommandError, match="The two passwords differ"):
        call_command(*words, stdout=io.StringIO())
    call_command(*words, stdout=io.StringIO())

    assert Account.objects.get().check_password(PASSWORD)


def test_a_link_for_a_new_password_is_printed_and_good(
    monkeypatch: pytest.MonkeyPatch, settings: Any
) -> None:
    _add(monkeypatch)
    assert _called(monkeypatch, "recovery", ADA.upper()).startswith("/password/new/")
    settings.ADDRESS = "https://larder.example"

    link = _called(monkeypatch, "recovery", ADA).strip()

    assert link.startswith("https://larder.example/password/new/")
    page = Client().get(link.removeprefix("https://larder.example"))
    assert page.status_code == 200
    with pytest.raises(CommandError, match="No account has the e-mail"):
        _called(monkeypatch, "recovery", "nobody@pellitory.example")


def test_an_account_is_ended_unless_it_is_the_last_owner(monkeypatch: pytest.MonkeyPatch) -> None:
    _add(monkeypatch)
    with pytest.raises(CommandError, match="Pellitory Yard has no other owner"):
        _called(monkeypatch, "end", ADA)
    ben = "ben@pellitory.example"
    _called(monkeypatch, "add", ben, "--name", "Ben", typed=f"{PASSWORD}\n")

    assert _called(monkeypatch, "end", ADA) == f"Ada <{ADA}> is ended.\n"

    assert _called(monkeypatch, "list") == (
        f"Ada <{ADA}>: ended\nBen <{ben}>: owner of Pellitory Yard\n"
    )
    assert Client().get("/api/v1/sources/").status_code == 401
    with pytest.raises(CommandError, match="was ended"):
        _add(monkeypatch)
