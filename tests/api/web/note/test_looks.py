"""What the shelves refused of a phone's notes waits until somebody puts it right or lets it go."""

from __future__ import annotations

import pytest
from django.test import Client

from api.models.entries import Entry
from api.rights import Right
from inventory.models import Studio
from tests.api.members import member, signed_in
from tests.api.web.note.filled import faults, form_of, main_of, opened, sent, told
from tests.api.web.note.test_waiting import note, send
from tests.api.web.pages import read, sound

pytestmark = pytest.mark.usefixtures("yard")


@pytest.fixture
def look(client: Client, yard: Studio) -> str:
    """The address at which a draw of too much is settled."""
    kept = note("draw", lot="AV-1116", amount="4", amount_unit="kg")
    assert send(client, kept).json()["answers"][0]["state"] == "needs a look"
    page = client.get("/note/looks/")
    assert sound(page) == []
    (link,) = read(page).query("article a.deed")
    return str((link.attrs or {})["href"])


def test_it_stands_in_the_list_with_amount_and_reason(client: Client, look: str) -> None:
    said = main_of(client.get("/note/looks/"))

    assert "AV-1116, avocado stones: 4,000 g asked for, 1,180 g left" in said
    assert "How much? 4 kg" in said
    assert "1 to look at" in main_of(client.get("/note/"))


def test_it_is_recorded_after_all_with_another_amount(
    client: Client, look: str, yard: Studio
) -> None:
    page = client.get(look)
    form = form_of(page)
    assert sound(page) == []
    assert form.fields["lot"] == "AV-1116"
    assert form.fields["amount"] == "4 kg"

    said = told(client, sent(client, form, amount="400 g"))

    assert "AV-1116: 780 g left" in said
    row = Entry.objects.of(yard).get()
    assert row.state == "recorded"
    assert row.occurred_at.isoformat() == "2026-11-23T16:40:00+00:00"
    assert "Nothing needs a look." in main_of(client.get("/note/looks/"))


def test_refused_again_it_goes_on_needing_a_look(client: Client, look: str, yard: Studio) -> None:
    page = sent(client, form_of(client.get(look)), amount="3 kg")

    assert page.status_code == 422
    assert "AV-1116" in faults(page)[0]
    assert form_of(page).fields["amount"] == "3 kg"
    assert Entry.objects.of(yard).get().state == "needs a look"


def test_it_is_let_go_and_stays_on_record(client: Client, look: str, yard: Studio) -> None:
    said = told(client, sent(client, form_of(client.get(look)), let_go="yes"))

    assert said.startswith("It was let go")
    assert Entry.objects.of(yard).get().state == "let go"


def test_letting_go_takes_the_right_of_a_dyer(look: str, yard: Studio) -> None:
    helper = signed_in(member(yard, Right.HELPER))

    page = sent(helper, form_of(helper.get(look)), let_go="yes")

    assert page.status_code == 403
    assert faults(page) == [
        "This needs the right of a dyer; at Pellitory Yard you have that of a helper. "
        "Ask an owner of the studio."
    ]
    assert Entry.objects.of(yard).get().state == "needs a look"


def test_what_needs_no_look_leads_to_what_was_said(client: Client) -> None:
    address = sent(client, opened(client, "dip"), grade="4")["Location"]

    answer = client.get(address.replace("/said/", "/looks/"))

    assert (answer.status_code, answer["Location"]) == (303, address)
