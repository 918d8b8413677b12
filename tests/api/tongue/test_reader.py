"""In which language a page is answered."""

from __future__ import annotations

import pytest
from django.test import Client


@pytest.mark.parametrize(
    ("asked", "spoken"),
    [
        ("", "en-GB"),
        ("en-US,en;q=0.8,de;q=0.5", "en-GB"),
        ("de-AT,de;q=0.9,en;q=0.5", "de"),
        ("sv", "en-GB"),
    ],
)
def test_a_page_is_in_the_language_that_the_browser_asks_for(asked: str, spoken: str) -> None:
    answer = Client().get("/no-signal/", headers={"accept-language": asked})

    assert answer.headers["Content-Language"] == spoken
    assert f'<html lang="{spoken}"' in answer.content.decode()
    assert {"Accept-Language", "Cookie"} <= set(answer.headers["Vary"].split(", "))


def test_a_choice_of_ones_own_comes_before_the_browsers() -> None:
    client = Client()
    client.cookies["language"] = "de"

    assert client.get("/no-signal/").headers["Content-Language"] == "de"


def test_a_program_is_refused_in_english_unless_it_asks_otherwise() -> None:
    client, address = Client(), "/api/v1/no-such-thing/"

    plain, german = client.get(address), client.get(address, headers={"accept-language": "de"})

    assert plain.headers["Content-Language"] == "en-GB"
    assert german.headers["Content-Language"] == "de"
    assert plain.json()["detail"] != german.json()["detail"]
    assert plain.json()["type"] == german.json()["type"]


@pytest.mark.django_db
def test_what_a_program_reads_is_english_whatever_it_asks_for() -> None:
    answers = [
        Client().get("/api/v1/schema.json", headers={"accept-language": asked})
        for asked in ("", "de")
    ]

    assert answers[0].content == answers[1].content
    assert "Content-Language" not in answers[1].headers
