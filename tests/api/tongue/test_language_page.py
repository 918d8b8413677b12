"""The page on which a device, or an owner for the whole studio, chooses language and numbers."""

from __future__ import annotations

import pytest
from django.test import Client

from api.rights import Right
from inventory.models import Studio
from tests.api.members import member, signed_in
from tests.api.web.pages import sound, words
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db
ADDRESS = "/language/"


def test_whoever_is_not_signed_in_may_choose_too() -> None:
    client = Client()

    client.post(ADDRESS, {"do": "mine", "language": "de", "numbers": ""})

    page = client.get("/no-signal/")
    assert page.headers["Content-Language"] == "de"


def test_a_device_keeps_its_choice_and_may_forget_it() -> None:
    load()
    client = Client()

    client.post(ADDRESS, {"do": "mine", "language": "de", "numbers": "point"})
    chosen = client.get("/", {"at": MONDAY})
    client.post(ADDRESS, {"do": "mine", "language": "", "numbers": ""})
    forgotten = client.get("/", {"at": MONDAY})

    assert "Mo 23. Nov. 2026, 07:30" in words(chosen)
    assert "1,180 g" in words(chosen)
    assert forgotten.headers["Content-Language"] == "en-GB"
    assert sound(chosen) == []


def test_an_owner_chooses_for_all_and_a_device_for_itself() -> None:
    load()
    owner = Client()

    owner.post(ADDRESS, {"do": "studio", "language": "de", "numbers": "comma"})
    for_all = Client().get("/", {"at": MONDAY})
    other = Client()
    other.cookies["language"] = "en-gb"
    own = other.get("/", {"at": MONDAY})

    assert Studio.objects.get().language == "de"
    assert for_all.headers["Content-Language"] == "de"
    assert "1.180 g" in words(for_all)
    assert own.headers["Content-Language"] == "en-GB"
    assert "1.180 g" in words(own)


def test_a_dyer_does_not_choose_for_all() -> None:
    load()
    dyer = signed_in(member(Studio.objects.get(), Right.DYER))

    page = dyer.post(ADDRESS, {"do": "studio", "language": "de", "numbers": ""})

    assert page.status_code == 403
    assert Studio.objects.get().language == ""


@pytest.mark.parametrize("said", [{"language": "xx"}, {"numbers": "dots"}])
def test_what_is_no_choice_is_refused(said: dict[str, str]) -> None:
    client = Client()

    page = client.post(ADDRESS, {"do": "mine", **said})

    assert page.status_code == 422
    assert "none of the choices" in words(page)
    assert "language" not in client.cookies
