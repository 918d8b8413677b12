"""Who comes in: nobody without an account once there is one, and to no studio but their own."""

from __future__ import annotations

import re
from datetime import timedelta
from itertools import product
from typing import Any

import pytest
from django.db import connection
from django.test import Client, RequestFactory
from django.test.utils import CaptureQueriesContext
from django.urls import URLPattern, URLResolver
from django.utils import timezone

from api.models import Account, Membership, ProgramToken
from api.rights import NoRight, ReadsOnly, Right
from api.urls import urlpatterns
from api.visitor import visitor_of
from inventory.models import Studio
from tests.api.members import account, bearer, member, signed_in

SOURCES = "/api/v1/sources/"
YARD, LOFT = "Pellitory Yard", "Kelpwick Loft"
# What anybody may open, signed in or not.
OPEN = (
    "stop/",
    "saved/",  # by a source's link
    "calendar/",  # by a member's
    "api/v1/schema.json",
    "problems/",
    "language/",
    "no-signal/",
    "worker.js",
    "trust/",
    "larder.webmanifest",
    "script/",
    "style/",
    "sign-in/",
    "sign-out/",
    "join/",
    "password/forgotten/",
    "password/new/",
)
# Open themselves, and nothing below them: how programs ask, the columns of a notebook's pages.
OPEN_ALONE = ("api/", "api/v1/notebook/")
# What is about an account alone, whatever studio is named.
OF_ACCOUNT = {"/account/", "/password/", "/api/v1/me/", "/api/v1/studios/"}
EXAMPLES = {
    "int": "1",
    "str": "x",
    "path": "x",
    "slug": "x",
    "uuid": "8b6f1c1e-6f3a-4f0e-9a54-0d1f5f6d2c11",
}


def _address(pattern: URLPattern) -> str:
    return re.sub(r"<(\w+):\w+>", lambda kind: EXAMPLES[kind[1]], f"/{pattern.pattern}")


GUARDED = [
    *(
        _address(pattern)
        for pattern in urlpatterns
        if isinstance(pattern, URLPattern)
        and not str(pattern.pattern).startswith(OPEN)
        and str(pattern.pattern) not in OPEN_ALONE
    ),
    *(
        f"/{under.pattern}{_address(pattern)[1:]}"
        for under in urlpatterns
        if isinstance(under, URLResolver)
        for pattern in under.url_patterns
    ),
]


@pytest.fixture
def yard(db: None) -> Studio:
    return Studio.objects.create(name=YARD, zone="Europe/London")


@pytest.fixture
def loft(db: None) -> Studio:
    return Studio.objects.create(name=LOFT, zone="Europe/London")


@pytest.mark.usefixtures("yard")
def test_while_nobody_has_an_account_whoever_sits_here_is_the_owner(client: Client) -> None:
    assert client.get(SOURCES).status_code == 200
    assert visitor_of(RequestFactory().post("/")).right is Right.OWNER

    account()

    assert client.get(SOURCES).status_code == 401


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    "asker",
    [
        {"REMOTE_ADDR": "192.0.2.7"},
        {"REMOTE_ADDR": ""},
        {"HTTP_X_FORWARDED_FOR": "192.0.2.7"},
        {"HTTP_FORWARDED": "for=192.0.2.7"},
    ],
)
def test_whoever_does_not_sit_here_is_nobody_without_an_account(
    client: Client, asker: dict[str, str]
) -> None:
    answer = client.get(SOURCES, **asker)  # type: ignore[arg-type]

    assert (answer.status_code, answer.json()["code"]) == (401, "not_signed_in")


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("address", ["127.0.0.9", "::1", "::ffff:127.0.0.1"])
def test_every_way_to_write_this_machine_is_this_machine(client: Client, address: str) -> None:
    assert client.get(SOURCES, REMOTE_ADDR=address).status_code == 200


@pytest.mark.usefixtures("yard")
def test_a_service_with_a_name_wants_an_account_of_everyone(client: Client, settings: Any) -> None:
    settings.THIS_MACHINE_ONLY = False

    assert client.get(SOURCES).status_code == 401


@pytest.mark.usefixtures("yard")
def test_no_address_says_anything_to_a_stranger(client: Client) -> None:
    account()
    for address in GUARDED:
        answers = [client.get(address), client.get(address, {"studio": YARD})]
        answers += [client.head(address), client.get(address, {"studio": "nobody"})]

        for answer in answers:
            assert YARD not in answer.content.decode(), address
            if address.startswith("/api/"):
                assert answer.status_code == 401, address
                assert answer["WWW-Authenticate"] == "Bearer", address
            else:
                assert answer.status_code == 303, address
                assert answer["Location"].startswith("/sign-in/?next=%2F"), address


def test_a_studio_of_others_is_answered_like_one_that_is_not_there(
    yard: Studio, loft: Studio
) -> None:
    member(loft, email="ben@loft.example")
    client, token = signed_in(member(yard)), bearer(Membership.objects.of(yard).get())
    everywhere = [one for one in GUARDED if one not in OF_ACCOUNT]
    for address, name in product(everywhere, (LOFT, LOFT.lower(), "nobody")):
        pages = [client.get(address, {"studio": name})]
        pages += [Client().get(address, {"studio": name}, headers={"Authorization": token})]

        for answer in pages:
            assert answer.status_code == 404, address
            assert f"No studio is called “{name}”." in answer.content.decode(), address


def test_a_member_of_two_studios_says_which(yard: Studio, loft: Studio) -> None:
    who = member(yard)
    client = signed_in(who)
    assert client.get(SOURCES).json()["studio"] == YARD

    member(loft, Right.HELPER)

    several = client.get(SOURCES)
    assert several.status_code == 400
    assert several.json()["detail"] == (
        f"You belong to {LOFT} and {YARD}. Say which one by its name: ?studio=NAME."
    )
    assert client.get(SOURCES, {"studio": LOFT.upper()}).json()["studio"] == LOFT
    assert client.get("/sources/")["Location"] == "/account/"


def test_whoever_belongs_nowhere_is_told_what_to_do(client: Client, yard: Studio) -> None:
    who = member(yard)
    client = signed_in(who)
    Membership.objects.of(yard).update(ended_at=timezone.now())

    answer = client.get(SOURCES)

    assert (answer.status_code, answer.json()["code"]) == (404, "belongs_nowhere")
    # A person may begin a studio of their own; a program is told that it belongs nowhere.
    assert client.get("/").headers["Location"] == "/begin/"


def test_a_right_that_is_taken_away_is_gone_with_the_next_request(yard: Studio) -> None:
    who = member(yard)
    client, token = signed_in(who), bearer(who)
    asked = {"Authorization": token}
    assert client.get(SOURCES).status_code == 200
    assert Client().get(SOURCES, headers=asked).status_code == 200

    Account.objects.update(is_active=False)

    assert client.get(SOURCES).json()["code"] == "not_signed_in"
    assert Client().get(SOURCES, headers=asked).json()["code"] == "token_unknown"


def test_another_password_ends_the_session(yard: Studio) -> None:
    who = member(yard)
    client = signed_in(who)
    who.account.set_password("another one")
    who.account.save()

    assert client.get(SOURCES).status_code == 401


@pytest.mark.parametrize(
    ("header", "code"),
    [
        ("Bearer dyl_nothing", "token_unknown"),
        ("Bearer ", "token_unknown"),
        ("Basic YTpi", "token_unknown"),
        ("Bearer dyl_\u00e9" + "x" * 5000, "token_unknown"),
    ],
)
def test_a_token_that_is_none_does_not_open_even_an_open_house(
    client: Client, yard: Studio, header: str, code: str
) -> None:
    answer = client.get(SOURCES, headers={"Authorization": header})

    assert (answer.status_code, answer.json()["code"]) == (401, code)
    assert answer["WWW-Authenticate"] == 'Bearer error="invalid_token"'


def test_a_token_is_good_until_its_last_moment(client: Client, yard: Studio) -> None:
    asked = {"Authorization": bearer(member(yard))}
    now, rows = timezone.now(), ProgramToken.objects.of(yard)
    rows.update(expires_at=now + timedelta(minutes=1))
    assert client.get(SOURCES, headers=asked).status_code == 200
    assert rows.get().last_used_on == now.date()

    rows.update(made_at=now - timedelta(days=2), expires_at=now - timedelta(seconds=1))

    answer = client.get(SOURCES, headers=asked)
    assert (answer.status_code, answer.json()["code"]) == (401, "token_expired")
    assert answer.json()["name"] == "kitchen scale"


def test_nothing_of_a_token_is_kept_that_would_open(yard: Studio) -> None:
    secret = bearer(member(yard)).removeprefix("Bearer ")

    kept = ProgramToken.objects.of(yard).values().get()

    assert secret.startswith("dyl_")
    assert not [value for value in kept.values() if secret[4:14] in str(value)]


def test_each_right_covers_those_before_it_and_no_other(yard: Studio) -> None:
    for number, has in enumerate(Right):
        who = member(yard, has, f"m{number}@pellitory.example")
        asked = RequestFactory().get("/", headers={"Authorization": bearer(who)})
        for other, least in enumerate(Right):
            if other <= number:
                assert visitor_of(asked, least=least).right is has
            else:
                with pytest.raises(NoRight):
                    visitor_of(asked, least=least)


def test_a_right_too_small_is_refused_with_both(yard: Studio) -> None:
    who = member(yard, Right.LOOKER_ON)
    asked = RequestFactory().get("/", headers={"Authorization": bearer(who)})

    with pytest.raises(NoRight) as caught:
        visitor_of(asked, least=Right.OWNER)

    assert str(caught.value) == (
        "This needs the right of an owner; at Pellitory Yard you have that of a looker-on. "
        "Ask an owner of the studio."
    )


def test_a_token_may_no_more_than_its_member_does_today(yard: Studio) -> None:
    who = member(yard, Right.DYER)
    asked = {"Authorization": bearer(who)}
    small = {"Authorization": bearer(who, Right.HELPER)}
    ask = RequestFactory()
    assert visitor_of(ask.get("/", headers=asked)).right is Right.DYER
    assert visitor_of(ask.get("/", headers=small)).right is Right.HELPER

    Membership.objects.of(yard).update(right=Right.LOOKER_ON)

    assert visitor_of(ask.get("/", headers=asked)).right is Right.LOOKER_ON


def test_no_token_is_made_that_may_more_than_its_member(yard: Studio) -> None:
    with pytest.raises(NoRight):
        bearer(member(yard, Right.HELPER), Right.DYER)

    assert not ProgramToken.objects.of(yard).exists()


def test_a_token_for_reading_writes_nothing(yard: Studio) -> None:
    asked = {"Authorization": bearer(member(yard), reads_only=True)}
    assert visitor_of(RequestFactory().get("/", headers=asked)).right is Right.OWNER

    with pytest.raises(ReadsOnly):
        visitor_of(RequestFactory().post("/", headers=asked))


def test_who_asks_costs_no_question_in_an_open_house_and_one_with_a_session(yard: Studio) -> None:
    asked = []
    with CaptureQueriesContext(connection) as there:
        Client().get(SOURCES)
    asked.append(len(there))
    who = member(yard)
    client, token = signed_in(who), {"Authorization": bearer(who)}
    Client().get(SOURCES, headers=token)  # Marks the day.
    with CaptureQueriesContext(connection) as there:
        client.get(SOURCES)
    asked.append(len(there))
    with CaptureQueriesContext(connection) as there:
        Client().get(SOURCES, headers=token)
    asked.append(len(there))

    assert asked == [asked[0], asked[0] + 1, asked[0]]
