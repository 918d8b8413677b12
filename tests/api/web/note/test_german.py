"""A form as a reader of German opens, fills and sees it refused."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.api.web.note.filled import faults, main_of, opened, sent, told
from tests.api.web.pages import as_read

pytestmark = pytest.mark.usefixtures("yard")


@pytest.fixture
def german() -> Client:
    """Somebody whose browser asks for German."""
    return Client(headers={"accept-language": "de"})


def test_a_form_asks_in_german_and_sends_what_the_larder_knows(german: Client) -> None:
    form = opened(german, "dip", jar="J1")

    said = told(german, sent(german, form, grade="4"))

    assert "Welches Glas? J1 Wie dunkel ist der Streifen? dunkelgrau" in said


def test_a_question_without_an_answer_is_named_in_german(german: Client) -> None:
    answer = sent(german, opened(german, "judge"), looks="")

    assert answer.status_code == 422
    assert "Wie sieht es aus? Es ist noch nicht gesagt." in str(faults(answer))


def test_choices_are_read_in_german_and_kept_as_they_were(german: Client) -> None:
    page = german.get("/note/receive-fibre/")

    assert 'value="wool"' in page.content.decode()
    assert "Wolle" in as_read(main_of(page))
