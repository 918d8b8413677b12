"""What goes out without a reader, such as a letter or a sheet, is said as the studio has it."""

from __future__ import annotations

import io
from typing import Any
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.test import Client
from django.utils.translation import get_language

from api.tongue.reader import studio_reads
from inventory.models import Studio
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db


def _sheet() -> str:
    out = io.StringIO()
    call_command("week", at=MONDAY, stdout=out)
    return out.getvalue()


def test_the_sheet_is_in_the_language_of_the_studio() -> None:
    load()
    before = _sheet()
    Studio.objects.update(language="de")

    sheet = _sheet()

    assert "SEE TO" in before
    assert "KÜMMERE DICH UM" in sheet
    assert "AV-1116 heute einfrieren oder verbrauchen (Avocadokerne, 1.180 g)" in sheet
    assert "SEE TO" not in sheet


def test_a_studio_that_said_nothing_reads_english_where_nobody_asks() -> None:
    with studio_reads(Studio(language="", number_form="")):
        assert get_language() == "en-gb"
    with studio_reads(Studio(language="xx", number_form="")):
        assert get_language() == "en-gb"


def test_what_people_write_is_read_as_the_studio_writes_and_what_programs_send_as_json() -> None:
    """A studio in a land of points that shows commas: “1.180 g” may be either to its people."""
    load()
    Studio.objects.update(number_form="comma")
    client = Client()

    def received(amount: object) -> Any:
        body = {"id": str(uuid4()), "occurred_at": "2026-11-23T09:00+00:00", "lot": "ON-0801",
                "amount": amount}  # fmt: skip
        return client.post("/api/v1/entries/recount/", body, content_type="application/json")

    either, plain = received("1.180 g"), received({"amount": "1.180", "unit": "kg"})

    assert either.status_code == 422
    assert "may mean 1180 g or 1.18 g" in either.content.decode()
    assert plain.status_code == 201, plain.content
    assert plain.json()["moved"][0]["left"] == {"amount": "1180", "unit": "g"}
