"""What goes out without a reader, such as a letter or a sheet, is said as the studio has it."""

from __future__ import annotations

import io

import pytest
from django.core.management import call_command
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
