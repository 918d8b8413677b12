"""Signing in and out: who knows the password comes in, who guesses waits, the house does not."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.contrib.auth import authenticate
from django.contrib.auth.hashers import identify_hasher, make_password
from django.contrib.sessions.models import Session
from django.test import Client, RequestFactory, override_settings

from api import settings as house
from api.models import Account, Tries
from api.passwords import SmallMachineArgon2
from api.rights import Right
from api.tries import SIGN_IN, TooOften, count_try, forget_tries
from inventory.models import Studio
from tests.api.members import PASSWORD, account, member, signed_in
from tests.api.web.pages import sound, words

ADA, BEN = "ada@pellitory.example", "ben@pellitory.example"
NOON = datetime(2026, 11, 23, 12, 0, tzinfo=UTC)
WRONG = "E-mail and password do not belong together. Look at both again."


@pytest.fixture
def ada(db: None) -> Account:
    return account(ADA, password=PASSWORD)


def _sign_in(client: Client, email: str = ADA, password: str = PASSWORD, **more: str) -> Any:
    address = more.pop("address", "127.0.0.1")
    sent = {"email": email, "password": password, **more}
    return client.post("/sign-in/", sent, REMOTE_ADDR=address)


def _is_signed_in(client: Client) -> bool:
    return client.get("/account/").status_code == 200


@pytest.mark.parametrize("email", [ADA, "Ada@Pellitory.Example", f" {ADA} "])
def test_whoever_knows_the_password_comes_in_under_a_new_key(ada: Account, email: str) -> None:
    client = Client()
    client.get("/sign-in/")
    before = client.cookies["csrftoken"].value

    answer = _sign_in(client, email)

    assert (answer.status_code, answer["Location"]) == (303, "/")
    assert _is_signed_in(client)
    assert client.cookies["csrftoken"].value != before
    kept = client.cookies["sessionid"]
    assert (kept["httponly"], kept["samesite"], kept["secure"]) == (True, "Lax", "")
    assert answer["Cache-Control"] == "no-store"


def test_a_key_that_somebody_knew_before_opens_nothing_after(ada: Account) -> None:
    member(Studio.objects.create(name="Pellitory Yard", zone="Europe/London"), email=ADA)
    client = Client()
    _sign_in(client)
    old = client.cookies["sessionid"].value

    _sign_in(client)

    thief = Client()
    thief.cookies["sessionid"] = old
    assert client.cookies["sessionid"].value != old
    assert not _is_signed_in(thief)


@pytest.mark.parametrize(
    ("email", "password"),
    [
        (ADA, "weld over woad"),
        (ADA, ""),
        (ADA, PASSWORD + " "),
        ("nobody@pellitory.example", PASSWORD),
        ("", ""),
        ("\0", PASSWORD),
        ("x" * 5000, "y" * 5000),
    ],
)
def test_whoever_does_not_is_told_the_same_whatever_is_wrong(
    ada: Account, email: str, password: str
) -> None:
    client = Client()

    answer = _sign_in(client, email, password)

    assert answer.status_code == 422
    assert WRONG in words(answer)
    assert sound(answer) == []
    assert not _is_signed_in(client)


def test_an_account_that_was_ended_does_not_come_in(ada: Account) -> None:
    Account.objects.update(is_active=False)

    assert WRONG in words(_sign_in(Client()))


@pytest.mark.parametrize(
    ("wanted", "way"),
    [
        ("/shelves/?studio=Pellitory+Yard", "/shelves/?studio=Pellitory+Yard"),
        ("https://elsewhere.example/", "/"),
        ("//elsewhere.example/", "/"),
        ("/\\elsewhere.example/", "/"),
        ("javascript:alert(1)", "/"),
        ("/\r\nSet-Cookie: a=b", "/"),
        ("/" + "x" * 3000, "/"),
    ],
)
def test_the_way_goes_on_to_a_page_of_ours_only(ada: Account, wanted: str, way: str) -> None:
    assert _sign_in(Client(), next=wanted)["Location"] == way


def test_a_page_that_was_wanted_is_reached_by_signing_in(ada: Account) -> None:
    client = Client()
    sent = client.get("/shelves/", {"days": "3"})

    form = client.get(sent["Location"])

    assert 'name="next" value="/shelves/?days=3"' in form.content.decode()
    assert sound(form) == []


def test_five_misses_and_the_sixth_waits_even_with_the_password(ada: Account) -> None:
    for _ in range(5):
        assert _sign_in(Client(), password="wrong").status_code == 422

    answer = _sign_in(Client())

    assert answer.status_code == 429
    assert "This was tried too often from here. Try again in 15 minutes." in words(answer)
    assert 0 < int(answer["Retry-After"]) <= 900
    assert sound(answer) == []


def test_who_waits_keeps_nobody_else_in_the_house_waiting(ada: Account) -> None:
    account(BEN, password=PASSWORD)
    for _ in range(6):
        _sign_in(Client(), password="wrong")

    assert _sign_in(Client(), BEN).status_code == 303
    assert _sign_in(Client(), ADA).status_code == 429
    assert _sign_in(Client(), ADA, address="192.0.2.7").status_code == 303


def test_an_email_that_nobody_has_is_kept_waiting_just_so(ada: Account) -> None:
    answers = [_sign_in(Client(), "nobody@pellitory.example").status_code for _ in range(6)]

    assert answers == [422] * 5 + [429]


def test_signing_in_forgets_what_went_before(ada: Account) -> None:
    for _ in range(3):
        for _ in range(4):
            _sign_in(Client(), password="wrong")
        assert _sign_in(Client()).status_code == 303

    assert not Tries.objects.exists()


@pytest.mark.django_db
def test_a_rest_ends_after_its_minutes_and_is_not_made_longer_by_trying() -> None:
    for _ in range(5):
        count_try(ADA, "house", at=NOON, allowance=SIGN_IN)
    for minutes in (1, 14):
        with pytest.raises(TooOften):
            count_try(ADA, "house", at=NOON + timedelta(minutes=minutes), allowance=SIGN_IN)

    count_try(ADA, "house", at=NOON + timedelta(minutes=15), allowance=SIGN_IN)

    assert Tries.objects.get().count == 1
    forget_tries(ADA, "house")
    assert not Tries.objects.exists()


@pytest.mark.django_db
def test_nothing_is_kept_of_who_tried_but_a_digest_and_that_for_a_day() -> None:
    count_try(ADA, "192.0.2.7", at=NOON, allowance=SIGN_IN)
    assert ADA not in str(Tries.objects.values().get())

    count_try(BEN, "192.0.2.7", at=NOON + timedelta(days=1, seconds=1), allowance=SIGN_IN)

    assert Tries.objects.get().last_at > NOON


def test_signing_out_ends_the_session_and_needs_a_button(ada: Account) -> None:
    client = Client()
    _sign_in(client)

    assert client.get("/sign-out/").status_code == 405
    assert _is_signed_in(client)
    assert client.post("/sign-out/")["Location"] == "/sign-in/"

    assert not _is_signed_in(client)
    assert not Session.objects.exists()


def test_a_form_of_another_site_signs_nobody_in_or_out(ada: Account) -> None:
    client = Client(enforce_csrf_checks=True)

    assert _sign_in(client).status_code == 403
    assert client.post("/sign-out/").status_code == 403


def test_sessions_whose_time_is_over_are_cleared_away(ada: Account) -> None:
    _sign_in(Client())
    Session.objects.update(expire_date=NOON)

    _sign_in(Client())

    assert Session.objects.count() == 1


@pytest.mark.django_db
def test_where_nobody_has_an_account_the_page_says_how_the_first_is_made() -> None:
    before = Client().get("/sign-in/")
    account(ADA)

    assert sound(before) == []
    assert "manage.py account add EMAIL" in words(before)
    assert "manage.py account add EMAIL" not in words(Client().get("/sign-in/"))


@pytest.mark.parametrize("studios", [0, 1, 2])
def test_while_nobody_has_an_account_there_is_a_way_back_from_the_page(
    db: None, studios: int
) -> None:
    for number in range(studios):
        Studio.objects.create(name=f"Yard {number}", zone="Europe/London")
    before = Client().get("/sign-in/")
    far = Client().get("/sign-in/", REMOTE_ADDR="192.168.0.9")
    account(ADA)
    after = Client().get("/sign-in/")

    assert sound(before) == []
    assert 'href="/today/"' in before.content.decode()
    assert 'href="/today/"' not in far.content.decode() + after.content.decode()


def test_the_page_is_of_the_house_while_nobody_has_an_account(db: None) -> None:
    """A phone that comes by keeps the copies of the house that it carries along."""
    Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
    whose = re.compile('data-whose="([0-9a-f]+)"')
    of_a_page = whose.search(Client().get("/sources/").content.decode())
    of_the_door = whose.search(Client().get("/sign-in/").content.decode())
    account(ADA)

    assert of_a_page
    assert of_the_door
    assert of_a_page[1] == of_the_door[1]
    assert not whose.search(Client().get("/sign-in/").content.decode())


def test_a_page_says_who_is_signed_in(db: None) -> None:
    yard = Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
    client = signed_in(member(yard, Right.LOOKER_ON))

    page = client.get("/sources/")

    assert '<a href="/account/">Ada</a>' in page.content.decode()
    assert 'href="/account/"' not in Client().get("/sign-in/").content.decode()


def test_passwords_are_kept_as_a_small_machine_can_and_an_attacker_can_not() -> None:
    assert house.PASSWORD_HASHERS == ["api.passwords.SmallMachineArgon2"]
    with override_settings(PASSWORD_HASHERS=house.PASSWORD_HASHERS):
        kept = make_password(PASSWORD)

        assert isinstance(identify_hasher(kept), SmallMachineArgon2)
        assert kept.startswith("argon2$argon2id$v=19$m=19456,t=2,p=1$")


def test_an_email_that_nobody_has_costs_as_many_hashes(
    ada: Account, monkeypatch: pytest.MonkeyPatch
) -> None:
    from django.contrib.auth.hashers import MD5PasswordHasher

    hashed: list[str] = []
    encode = MD5PasswordHasher.encode

    def counted(self: Any, password: str, salt: str) -> str:
        hashed.append(password)
        return encode(self, password, salt)

    monkeypatch.setattr(MD5PasswordHasher, "encode", counted)
    ask = RequestFactory().post("/")
    counts = []
    for email in (ADA, "nobody@pellitory.example"):
        hashed.clear()
        authenticate(ask, email=email, password="wrong")
        counts.append(len(hashed))

    assert counts == [1, 1]


@pytest.mark.parametrize(
    "key", ["x", "x" * 32, '"\\000aaaaaaaaaaaa"', "ä" * 12, "x" * 5000, "' OR 1=1"]
)
def test_a_cookie_that_is_no_session_of_ours_is_nobody(ada: Account, key: str) -> None:
    answer = Client(HTTP_COOKIE=f"sessionid={key}").get("/account/")

    assert answer.status_code == 303


def test_a_session_is_over_after_its_time(ada: Account) -> None:
    client = Client()
    _sign_in(client)
    assert _is_signed_in(client)

    Session.objects.update(expire_date=NOON)

    assert not _is_signed_in(client)
