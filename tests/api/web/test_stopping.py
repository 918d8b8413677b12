"""Stopping letters without an account: what only looks, what stops, what begins again."""

from __future__ import annotations

import re
from uuid import UUID

import pytest
from django.test import Client

from api.reminders.stopping import read_token, stop_path, token_of
from inventory.models import Studio
from sourcing.models import ReaderSaid
from sourcing.reminders import mark_of, wishes_of
from tests.api.reminders.readers import DYER, with_cafe, with_dyer, yard
from tests.api.web.pages import read, sound, words

ONE_CLICK = {"List-Unsubscribe": "One-Click"}
MARK = mark_of("Pellitory Yard", DYER)


@pytest.fixture
def studio(db: None) -> Studio:
    return with_cafe(with_dyer(yard()))


@pytest.fixture
def strict() -> Client:
    """A client that is checked for forgery, as every browser is."""
    return Client(enforce_csrf_checks=True)


def stopped(studio: Studio) -> set[str]:
    """What the dyer has stopped."""
    return {str(kind) for wish in wishes_of(studio) if wish.reader == DYER for kind in wish.stopped}


def press(client: Client, path: str) -> int:
    """Open the page and press its button, as a browser does."""
    (form,) = read(client.get(path)).query("form")
    fields = {
        field.attrs["name"]: field.attrs["value"] or ""
        for field in form.query("input")
        if field.attrs.get("name")
    }
    answer = client.post(path, fields)
    return answer.status_code


def test_looking_at_the_page_changes_nothing(client: Client, studio: Studio) -> None:
    path = stop_path(MARK, "dip")
    for ask in (client.get, client.head, client.get):
        assert ask(path).status_code == 200

    assert not ReaderSaid.objects.of(studio).exists()


def test_the_page_says_what_would_stop_and_is_sound(client: Client, studio: Studio) -> None:
    page = client.get(stop_path(MARK, "last good day"))

    assert sound(page) == []
    said = words(page)
    assert "Letters from Pellitory Yard" in said
    assert "To d…@pellitory-yard.example: the word before a lot or bath ends." in said
    assert "dyer@pellitory-yard.example" not in page.content.decode()
    assert page["Cache-Control"] == "no-store"
    assert page["Referrer-Policy"] == "same-origin"


def test_the_button_stops_and_begins_again(strict: Client, studio: Studio) -> None:
    path = stop_path(MARK, "dip")

    assert press(strict, path) == 303
    assert stopped(studio) == {"dip"}
    page = strict.get(path)
    assert sound(page) == []
    assert "Stopped" in words(page)
    assert press(strict, path) == 303
    assert stopped(studio) == set()


def test_every_letter_is_stopped_at_the_address_for_all(strict: Client, studio: Studio) -> None:
    link = read(strict.get(stop_path(MARK, "dip"))).query("main a")[0]

    assert press(strict, link.attrs["href"] or "") == 303
    assert "Stopped" in words(strict.get(stop_path(MARK, "dip")))
    assert len(stopped(studio)) == 6


def test_a_mail_program_stops_with_one_click_and_no_cookie(strict: Client, studio: Studio) -> None:
    answer = strict.post(stop_path(MARK, "dip"), ONE_CLICK)

    assert answer.status_code == 200  # RFC 8058: no way round
    assert stopped(studio) == {"dip"}


def test_one_click_as_a_plain_form_stops_too(strict: Client, studio: Studio) -> None:
    answer = strict.post(
        stop_path(MARK, "dip"),
        "List-Unsubscribe=One-Click",
        content_type="application/x-www-form-urlencoded",
    )

    assert (answer.status_code, stopped(studio)) == (200, {"dip"})


def test_one_click_can_stop_and_nothing_else(strict: Client, studio: Studio) -> None:
    path = stop_path(MARK, "dip")
    for _ in range(3):
        strict.post(path, {**ONE_CLICK, "do": "begin"})

    assert stopped(studio) == {"dip"}
    assert ReaderSaid.objects.of(studio).count() == 1


@pytest.mark.parametrize("do", ["stop", "begin"])
def test_a_form_from_elsewhere_changes_nothing(do: str, strict: Client, studio: Studio) -> None:
    answer = strict.post(stop_path(MARK, "dip"), {"do": do})

    assert answer.status_code == 403
    assert sound(answer) == []
    assert "too old, or from elsewhere" in words(answer)
    assert not ReaderSaid.objects.of(studio).exists()


def test_an_address_cannot_be_made_by_anybody_else(strict: Client, studio: Studio) -> None:
    good = stop_path(MARK, "dip")
    token = good.removeprefix("/stop/").removesuffix("/")
    body, signature = token.split(".")
    others = [
        f"{body}.{signature[:-1]}{'A' if signature[-1] != 'A' else 'B'}",
        f"{body.replace('-dip', '-all')}.{signature}",
        body,
        f"{UUID(int=7).hex}-dip.{signature}",
        "x" * 5_000,
    ]
    for other in others:
        for answer in (strict.get(f"/stop/{other}/"), strict.post(f"/stop/{other}/", ONE_CLICK)):
            assert answer.status_code == 404
            assert sound(answer) == []

    assert not ReaderSaid.objects.of(studio).exists()


def test_a_signed_address_of_nobody_is_not_found(client: Client, studio: Studio) -> None:
    assert client.get(stop_path(UUID(int=7), "dip")).status_code == 404


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_other_methods_are_refused(method: str, client: Client, studio: Studio) -> None:
    assert getattr(client, method)(stop_path(MARK, "dip")).status_code == 405


def test_a_token_tells_reader_and_kind_and_the_address_of_nobody() -> None:
    token = token_of(MARK, "last good day")

    assert read_token(token) == (MARK, "last good day")
    assert re.fullmatch(r"[0-9a-f]{32}-last-good-day\.[\w-]+", token)


def test_whoever_stops_stops_in_every_copy_of_the_studio(client: Client, studio: Studio) -> None:
    Studio.objects.filter(pk=studio.pk).update(name="Old Yard")
    with_dyer(yard())
    client.post(stop_path(MARK, "dip"), ONE_CLICK)

    for name in ("Old Yard", "Pellitory Yard"):
        assert stopped(Studio.objects.get(name=name)) == {"dip"}
