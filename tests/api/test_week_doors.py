"""The doors to the week: shell, address, sheet as text. The sums are tested a floor down."""

from __future__ import annotations

import json
from io import BytesIO, StringIO, TextIOWrapper
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.core.management import CommandError, call_command
from django.test import Client
from django.utils import timezone

from inventory.models import Studio

pytestmark = pytest.mark.django_db

NOTEBOOK = Path(__file__).resolve().parents[2] / "fixtures" / "pellitory-yard"
MONDAY = "2026-11-23T07:30"
WEEK = "/api/v1/week/"


@pytest.fixture
def yard() -> None:
    """Pellitory Yard, loaded from its notebook."""
    call_command("load", str(NOTEBOOK), stdout=StringIO())


def said(**options: Any) -> str:
    out = StringIO()
    call_command("week", stdout=out, **options)
    return out.getvalue()


def refused(**options: Any) -> str:
    with pytest.raises(CommandError) as error:
        said(**options)
    return str(error.value)


@pytest.mark.usefixtures("yard")
def test_shell_and_address_give_the_same_answer(client: Client) -> None:
    answered = client.get(WEEK, {"at": MONDAY})

    assert answered.status_code == 200
    assert answered.headers["Content-Type"] == "application/json"
    assert answered.json() == json.loads(said(at=MONDAY, json=True))
    answers = {row["code"]: row["answer"] for row in answered.json()["runs"]}
    assert answers == {
        "A": "yes", "B": "no", "C": "yes", "D": "yes", "E": "not yet", "F": "yes", "G": "no",
    }  # fmt: skip


@pytest.mark.usefixtures("yard")
def test_shell_and_text_page_show_the_same_sheet(client: Client) -> None:
    page = client.get("/sheet.txt", {"at": MONDAY, "studio": "Pellitory Yard"})

    assert page.status_code == 200
    assert page.headers["Content-Type"] == "text/plain; charset=utf-8"
    assert page.content.decode() == said(at=MONDAY)
    assert "  ● A   Blush: YES, WITH A JOB\n" in said(at=MONDAY)


@pytest.mark.usefixtures("yard")
def test_the_period_has_the_days_asked_for(client: Client) -> None:
    week = client.get(WEEK, {"at": MONDAY, "days": "10"}).json()

    assert (len(week["days"]), week["until"]) == (10, "2026-12-03T00:00:00+00:00")
    assert len(client.get(WEEK, {"at": MONDAY}).json()["days"]) == 7


@pytest.mark.usefixtures("yard")
def test_what_was_recorded_in_the_running_minute_is_seen_at_once(client: Client) -> None:
    said = {
        "id": str(uuid4()),
        "occurred_at": timezone.now().isoformat(),
        "lot": "AV-1030",
        "amount": "1001 g",
    }
    answer = client.post("/api/v1/entries/recount/", said, content_type="application/json")

    assert answer.status_code == 201, answer.content
    assert "1,001 g" in client.get("/shelves/").content.decode()


@pytest.mark.usefixtures("yard")
def test_without_a_moment_the_clock_is_read(client: Client) -> None:
    week = client.get(WEEK).json()

    # This minute up to its last second, so that what was just recorded is seen.
    assert week["at"].endswith((":59+00:00", ":59+01:00"))
    assert json.loads(said(json=True))["studio"] == "Pellitory Yard"


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    ("asked", "status", "code", "detail"),
    [
        ({"days": "29"}, 400, "days_unreadable", "29 days asked for; a period has 1 to 28 days."),
        (
            {"at": "2026-10-25T01:30"},
            400,
            "moment_twice",
            "01:30 on Sun 25 Oct 2026 comes twice in Europe/London: the clocks go back. Say which "
            "with its offset: 2026-10-25T01:30+01:00 or 2026-10-25T01:30+00:00.",
        ),
        ({"studio": "Nowhere"}, 404, "studio_unknown", "No studio is called “Nowhere”."),
        ({"studio": "a\x00b"}, 404, "studio_unknown", "No studio is called “a\ufffdb”."),
        ({"studio": ""}, 404, "studio_unknown", "No studio is called “”."),
        (
            {"day": "3"},
            400,
            "parameter_unknown",
            "The week is asked for with at, days and studio; not with “day”.",
        ),
        (
            {"days": ["3", "4"]},
            400,
            "parameter_unknown",
            "days stands twice in the address; write it once.",
        ),
    ],
)
def test_what_cannot_be_answered_is_a_problem_with_a_sentence(
    client: Client, asked: dict[str, Any], status: int, code: str, detail: str
) -> None:
    answered = client.get(WEEK, asked)

    body = answered.json()
    assert answered.status_code == body["status"] == status
    assert answered.headers["Content-Type"] == "application/problem+json"
    assert (body["code"], body["detail"]) == (code, detail)
    assert body["type"] == f"http://testserver/problems/{code.replace('_', '-')}/"
    assert client.get("/sheet.txt", asked).content.decode() == f"{detail}\n"
    assert client.get("/sheet.txt", asked).status_code == status


@pytest.mark.usefixtures("yard")
def test_other_methods_are_refused(client: Client) -> None:
    assert client.generic("TRACE", WEEK).status_code == 405
    assert client.generic("TRACE", "/").status_code == 405
    assert client.post("/").status_code == client.post("/sheet.txt").status_code == 405
    posted = client.put(WEEK)
    assert (posted.status_code, posted.json()["code"]) == (405, "method_not_allowed")
    assert "GET" in posted.headers["Allow"]
    assert client.head(WEEK, {"at": MONDAY}).status_code == 200


def test_an_unknown_address_is_a_problem_to_programs_and_a_page_to_people(
    client: Client,
) -> None:
    program, people = client.get("/api/v1/nothing/"), client.get("/nothing/")

    assert (program.status_code, program.json()["code"]) == (404, "not_found")
    assert program.headers["Content-Type"] == "application/problem+json"
    assert people.status_code == 404
    assert "Nothing is kept at this address." in people.content.decode()


def test_before_any_studio_is_written_down_the_way_in_is_said(client: Client) -> None:
    sentence = "No studio is written down yet. Load a notebook: python3 manage.py load FOLDER"

    assert refused() == sentence
    assert client.get(WEEK).json()["detail"] == sentence
    assert client.get(WEEK).status_code == 404


@pytest.mark.usefixtures("yard")
def test_with_two_studios_one_has_to_be_named(client: Client) -> None:
    Studio.objects.create(name="Second Yard", zone="Pacific/Auckland")
    sentence = "Several studios are written down. Say which one by its name."

    assert refused(at=MONDAY) == sentence
    assert client.get(WEEK).json()["code"] == "studio_not_named"
    assert said(at=MONDAY, studio="pellitory yard").startswith("Pellitory Yard · Mon 23 Nov 2026")


@pytest.mark.usefixtures("yard")
def test_a_terminal_without_unicode_gets_plain_marks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout", TextIOWrapper(BytesIO(), encoding="iso-8859-1"))

    sheet = said(at=MONDAY)

    assert sheet.isascii()
    assert "  + A   Blush: YES, WITH A JOB\n" in sheet
    assert "  ~ E   Oak Grey: NOT YET\n" in sheet
    assert "  - B   Old Rose: NO\n" in sheet
    assert json.loads(said(at=MONDAY, json=True))["studio"] == "Pellitory Yard"


@pytest.mark.usefixtures("yard")
def test_the_number_of_questions_to_the_database_is_bounded(
    client: Client, django_assert_max_num_queries: Any
) -> None:
    with django_assert_max_num_queries(8):
        assert client.get(WEEK, {"at": MONDAY}).status_code == 200


@pytest.mark.usefixtures("yard")
def test_the_shell_refuses_with_the_same_sentences() -> None:
    assert refused(days="0") == "0 days asked for; a period has 1 to 28 days."
    assert refused(studio="Nowhere") == "No studio is called “Nowhere”."
    assert refused(at="2026-03-29T01:30").startswith("There is no 01:30 on Sun 29 Mar 2026")
