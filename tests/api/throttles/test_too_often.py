"""Whoever asks too often hears when to come again; nobody else is shut out for it."""

from __future__ import annotations

from typing import Any

import pytest
from django.http import HttpRequest
from django.test import Client, RequestFactory

from api.models import Account
from api.rights import Right
from api.throttles import door
from api.throttles.limits import limits_said
from api.urls import urlpatterns
from api.whence import whence
from inventory.models import Studio
from tests.api.members import bearer, member, signed_in
from tests.api.web.pages import sound, words

LISTS = "/api/v1/vessels/"
OPEN = "/api/v1/schema.json"
LINKED = [f"/{each.pattern}" for each in urlpatterns if "<str:token>" in str(each.pattern)]
HALF = 12 * 60.0 + 30  # a moment, thirty seconds before the next minute


@pytest.fixture(autouse=True)
def _counted(settings: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    settings.THIS_MACHINE_ONLY = False
    settings.LIMITS = limits_said("token=3/1 account=3/1 stranger=2/1 address=20/20 link=2/1")
    settings.REDIS_URL = ""
    monkeypatch.setattr(door, "_now_s", lambda: HALF)
    door.counts.cache_clear()


@pytest.fixture
def yard(db: None) -> Studio:
    return Studio.objects.create(name="Pellitory Yard", zone="Europe/London")


def _ask(token: str, times: int, *, method: str = "GET", client: Client | None = None) -> list[int]:
    client = client or Client()
    headers = {"Authorization": token} if token else {}
    return [
        client.generic(method, LISTS, headers=headers).status_code  # type: ignore[arg-type]
        for _ in range(times)
    ]


def test_a_token_is_answered_up_to_its_limit_and_told_when_to_come_again(yard: Studio) -> None:
    token = bearer(member(yard))

    assert _ask(token, 3) == [200, 200, 200]
    answer = Client().get(LISTS, headers={"Authorization": token})

    assert (answer.status_code, answer["Retry-After"]) == (429, "31")
    assert answer["Content-Type"] == "application/problem+json"
    body = answer.json()
    assert (body["code"], body["most_per_minute"]) == ("throttled", 3)
    assert body["detail"] == (
        "Too many requests: 3 a minute are answered to one token. Come again in 31 seconds."
    )


def test_in_the_next_minute_it_is_answered_again(
    yard: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = bearer(member(yard))
    assert _ask(token, 4)[-1] == 429

    monkeypatch.setattr(door, "_now_s", lambda: HALF + 31)

    assert _ask(token, 1) == [200]


def test_reading_and_writing_are_counted_apart_and_so_are_tokens(yard: Studio) -> None:
    ada = member(yard)
    one, other = bearer(ada), bearer(ada)

    assert _ask(one, 4)[-1] == 429
    assert _ask(one, 2, method="POST") == [405, 429]
    assert _ask(other, 1) == [200]


def test_an_account_is_counted_whatever_browser_it_uses(yard: Studio) -> None:
    ada, ben = member(yard), member(yard, Right.DYER, "ben@pellitory.example")

    assert _ask("", 2, client=signed_in(ada)) == [200, 200]
    assert _ask("", 2, client=signed_in(ada)) == [200, 429]
    assert _ask("", 1, client=signed_in(ben)) == [200]


def test_a_stranger_is_soon_told_and_a_house_with_tokens_is_not(yard: Studio) -> None:
    assert _ask("", 3) == [401, 401, 429]
    assert Client().get(OPEN).status_code == 429
    assert Client().get(OPEN, REMOTE_ADDR="192.0.2.7").status_code == 200

    assert _ask(bearer(member(yard)), 1) == [200]


def test_tokens_that_are_none_are_counted_before_anybody_looks_for_them(
    yard: Studio, django_assert_num_queries: Any
) -> None:
    assert set(_ask("Bearer dyl_invented", 20)) == {401}

    with django_assert_num_queries(0):
        assert _ask("Bearer dyl_other", 1) == [429]


def test_whoever_sits_at_the_machine_is_not_counted(yard: Studio, settings: Any) -> None:
    settings.THIS_MACHINE_ONLY = True

    assert set(_ask("", 30)) == {200}
    assert not Account.objects.exists()


@pytest.mark.django_db
def test_a_link_is_counted_by_itself_and_links_that_are_tried_by_the_address() -> None:
    house: dict[str, Any] = {"REMOTE_ADDR": "192.0.2.7"}

    answers = [Client().get("/stop/abc/", REMOTE_ADDR=f"192.0.2.{n}") for n in range(3)]
    tried = [Client().get(f"/stop/{n}/", **house).status_code for n in range(3)]

    assert [answer.status_code for answer in answers] == [404, 404, 429]
    assert "2 a minute are answered to one link." in words(answers[-1])
    assert answers[-1]["Retry-After"] == "31"
    assert sound(answers[-1]) == []
    assert tried == [404, 404, 429]


@pytest.mark.django_db
@pytest.mark.parametrize("pattern", LINKED)
def test_every_page_behind_a_link_is_counted(pattern: str, settings: Any) -> None:
    settings.LIMITS = limits_said("link=1/1")
    address = pattern.replace("<str:token>", "abc")

    once, again = Client().get(address), Client().get(address)

    assert (once.status_code == 429, again.status_code) == (False, 429)


def _from(address: str, **meta: str) -> HttpRequest:
    return RequestFactory().get("/", REMOTE_ADDR=address, **meta)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("near", "passed_on", "address"),
    [
        ("192.0.2.7", "", "192.0.2.7"),
        ("192.0.2.7", "198.51.100.1", "192.0.2.7"),  # anybody may say so
        ("127.0.0.1", "198.51.100.1, 192.0.2.9", "192.0.2.9"),
        ("::1", "192.0.2.9", "192.0.2.9"),
        ("127.0.0.1", "nonsense", "127.0.0.1"),
        ("2001:db8:1:2:3:4:5:6", "", "2001:db8:1:2::/64"),
        ("::ffff:192.0.2.7", "", "192.0.2.7"),
        ("", "192.0.2.9", "unknown"),
    ],
)
def test_an_address_is_that_of_the_house_and_not_what_somebody_says(
    near: str, passed_on: str, address: str
) -> None:
    assert whence(_from(near, HTTP_X_FORWARDED_FOR=passed_on)) == address
