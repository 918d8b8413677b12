"""What refuses a body is said in the language that was asked for; its code never changes."""

from __future__ import annotations

import re
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from tests.api.web.pages import words
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db
GERMAN = {"accept-language": "de-AT,de;q=0.9,en;q=0.5"}


def _recount(client: Client, said: object, **more: object) -> Any:
    body = {"id": str(uuid4()), "occurred_at": "2026-11-23T09:00+00:00", "lot": "ON-0801",
            "amount": said, **more}  # fmt: skip
    return lambda headers: client.post(
        "/api/v1/entries/recount/", body, content_type="application/json", headers=headers
    )


def test_a_program_is_refused_as_it_asks_and_in_english_where_it_does_not(client: Client) -> None:
    load()
    sent = _recount(client, "12 blobs")

    plain, german = sent({}), sent(GERMAN)

    assert plain.status_code == german.status_code == 422
    said = {"title": "", "detail": "", "errors": [], "at": ""}
    assert {**plain.json(), **said} == {**german.json(), **said}
    assert plain.json()["title"] == "Some fields are not understood"
    assert german.json()["title"] == "Einige Felder sind nicht zu verstehen"
    assert "“blobs” at character 4 was not understood" in plain.json()["detail"]
    assert "„blobs“ bei Zeichen 4 war nicht zu verstehen" in german.json()["detail"]
    assert "„blobs“" in german.json()["errors"][0]["detail"]
    assert plain.headers["Content-Language"] == "en-GB"
    assert german.headers["Content-Language"] == "de"
    assert "Accept-Language" in german.headers["Vary"]


@pytest.mark.parametrize(
    ("more", "pointer", "sentence"),
    [
        ({"amount": ["2 kg"]}, "/amount", "Schreib eine Menge wie"),
        ({"lots": 1}, "/lots", "So heißt hier nichts. War lot gemeint?"),
        ({"occurred_at": 5}, "/occurred_at", "Schreib Tag und Zeit wie"),
    ],
)
def test_what_is_wrong_with_a_field_is_said_too(
    client: Client, more: dict[str, object], pointer: str, sentence: str
) -> None:
    load()

    answer = _recount(client, "2 kg", **more)(GERMAN)

    assert answer.status_code == 400
    found = {row["pointer"]: row["detail"] for row in answer.json()["errors"]}
    assert sentence in found[pointer]


def test_a_field_that_is_missing_is_said_though_the_framework_says_it(client: Client) -> None:
    load()

    answer = client.post(
        "/api/v1/entries/recount/", {}, content_type="application/json", headers=GERMAN
    )

    assert {row["detail"] for row in answer.json()["errors"]} == {
        "Dieses Feld muss ausgefüllt sein."
    }


def test_an_address_that_is_none_is_refused_in_german(client: Client) -> None:
    answer = client.get("/api/v1/nothing/", headers=GERMAN)

    assert answer.status_code == 404
    assert answer.headers["Content-Language"] == "de"
    assert not answer.json()["detail"].startswith("Nothing")


def test_a_form_says_in_german_what_was_not_understood(client: Client) -> None:
    load()
    fields = {"id": str(uuid4()), "lot": "ON-0801", "amount": "12 blobs", "at": MONDAY}

    page = client.post("/note/recount/", fields, headers=GERMAN)

    assert page.status_code == 422
    assert "„blobs“ bei Zeichen 4 war nicht zu verstehen" in words(page)


def test_a_number_that_may_be_either_is_refused_where_commas_are_written(client: Client) -> None:
    load()
    fields = {"id": str(uuid4()), "jar": "J2", "warmth_c": "1.500"}

    page = client.post("/note/keep-at/", fields, headers=GERMAN)

    assert page.status_code == 422
    assert "„1.500“ bei Zeichen 1 kann 1500 oder 1,5 heißen" in words(page)


def test_a_cell_of_the_notebook_is_refused_in_german_too(client: Client) -> None:
    load()
    listed = client.get("/rules/", {"at": MONDAY}).content.decode()
    address = re.findall(r'href="(/rules/[^"?]+/)', listed)[0]

    page = client.get(address, {"at": MONDAY, "value": "plenty"}, headers=GERMAN)

    assert page.status_code == 422
    assert "Schreib einen Wert wie 5 %, 48 h oder 0.7." in words(page)
