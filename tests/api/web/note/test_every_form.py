"""Every form is filled as a person would, recorded once as a program's entry, and loses nothing."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.models.entries import Entry
from api.web.note.registry import FORMS, GROUPS
from inventory.models import Studio
from tests.api.web.note.answers import ANSWERS, Filling
from tests.api.web.note.filled import Filled, entry_of, faults, form_of, opened, sent, told
from tests.api.web.pages import sound

pytestmark = pytest.mark.usefixtures("yard")
AT_MOST_ASKED = 8  # questions of one page to the database
BY_VERB = pytest.mark.parametrize("verb", list(FORMS))


def come_before(client: Client, filling: Filling) -> None:
    """What has to be there before somebody opens the form."""
    for name, said in filling.before:
        body = {"id": str(uuid.uuid4()), "occurred_at": "2026-11-23T08:00+00:00", **said}
        before = client.post(f"/api/v1/entries/{name}/", body, content_type="application/json")
        assert before.status_code == 201, before.content


@BY_VERB
def test_it_is_sound_and_is_recorded_once_as_a_programs_entry_would_be(
    client: Client, yard: Studio, verb: str
) -> None:
    filling = ANSWERS[verb]
    come_before(client, filling)
    with CaptureQueriesContext(connection) as asked:
        form = opened(client, verb, **filling.asked)

    assert len(asked) <= AT_MOST_ASKED
    assert sound(form.page) == []
    answer = sent(client, form, **filling.answers)
    said = told(client, answer)
    again = sent(client, form, **filling.answers)

    assert filling.says in said
    assert again["Location"] == answer["Location"]
    row = Entry.objects.of(yard).get(entry=entry_of(answer))
    body = {**row.said, "id": entry_of(answer), "occurred_at": row.said_at.isoformat()}
    program = client.post(f"/api/v1/entries/{verb}/", body, content_type="application/json")
    assert program.status_code == 200, "the body of a program is the same one"


@BY_VERB
def test_refused_it_comes_back_with_every_answer(client: Client, yard: Studio, verb: str) -> None:
    filling = ANSWERS[verb]
    come_before(client, filling)
    form = opened(client, verb, **filling.asked)
    before = Entry.objects.of(yard).count()
    assert filling.wrong is not None
    answers = {**filling.answers, **filling.wrong}

    page = sent(client, form, **answers)

    assert page.status_code == 422
    assert filling.why in " ".join(faults(page))
    again = form_of(page)
    assert again.fields["id"] == form.fields["id"]
    kept = {name: _chosen(again, name, text) for name, text in answers.items() if text}
    assert kept == {name: text for name, text in answers.items() if text}
    assert sound(page) == []
    assert Entry.objects.of(yard).count() == before


def test_each_form_stands_once_on_the_page_of_forms() -> None:
    named = [verb for _, verbs in GROUPS for verb in verbs]

    assert sorted(named) == sorted(FORMS) == sorted(ANSWERS)


def _chosen(form: Filled, name: str, text: str) -> Any:
    """What a form has for a name; a code that was typed may stand among the choices instead."""
    plain = name.removesuffix("_typed")
    return text if name != plain and form.fields.get(plain) == text else form.fields.get(name)
