"""What a phone kept without a signal is taken in any order, once, and only from whose it is."""

from __future__ import annotations

import re
import uuid
from typing import Any

import pytest
from django.test import Client

from api.entries.record import HANDS
from api.models.entries import Entry
from api.rights import Right
from inventory.models import Studio
from tests.api.members import member, signed_in
from tests.api.web.note.filled import asked_in, form_of, opened

pytestmark = pytest.mark.usefixtures("yard")
CAFE = "source=Lantern+Steps+caf%C3%A9&gives=avocado+stones"
FRIDGE = "fridge:fridge"


def whose(client: Client) -> str:
    (found,) = re.findall(r'data-whose="([0-9a-f]+)"', client.get("/note/").content.decode())
    return str(found)


def note(verb: str, **fields: str) -> dict[str, Any]:
    given = {"id": str(uuid.uuid4()), "occurred_at": "2026-11-23T16:40:00.250Z", **fields}
    return {"verb": verb, "fields": [[name, text] for name, text in given.items()]}


def send(client: Client, *notes: dict[str, Any], mark: str | None = None) -> Any:
    body = {"whose": whose(client) if mark is None else mark,
            "sent_at": "2026-11-24T07:29:58Z", "notes": list(notes)}  # fmt: skip
    return client.post("/note/waiting/", body, content_type="application/json")


def test_each_note_lands_once_with_its_true_moment(client: Client, yard: Studio) -> None:
    kept = note("pick-up", **{"from": CAFE}, amount="58", amount_unit="stones", place=FRIDGE)

    first, again = send(client, kept), send(client, kept)

    assert first.json()["received_at"] == "2026-11-24T07:30:00+00:00"
    (answer,) = first.json()["answers"]
    assert (answer["status"], answer["state"]) == (201, "recorded")
    assert answer["words"] == "The pick-up is written down"
    assert client.get(answer["address"]).status_code == 200
    assert again.json()["answers"] == [{**answer, "status": 200}]
    row = Entry.objects.of(yard).get()
    assert row.occurred_at.isoformat() == "2026-11-23T16:40:00+00:00"
    assert row.said["lot"] == "AV-1123"


def test_a_note_in_hand_already_waits_for_its_answer_and_is_not_refused(
    client: Client, yard: Studio
) -> None:
    kept = note("dip", jar="J1", grade="4")
    with HANDS.on(yard.pk, uuid.UUID(kept["fields"][0][1])):
        (meanwhile,) = send(client, kept).json()["answers"]
        (another,) = send(client, note("dip", jar="J1", grade="2")).json()["answers"]

    assert (meanwhile["status"], meanwhile["state"]) == (409, "waiting")
    assert "is still being recorded. Nothing is lost" in meanwhile["words"]
    assert (another["status"], another["state"]) == (201, "recorded")
    assert send(client, kept).json()["answers"][0]["state"] == "recorded"


def test_they_are_recorded_as_they_happened_and_answered_as_they_were_sent(
    client: Client, yard: Studio
) -> None:
    late = note("dip", jar="J1", grade="4", occurred_at="2026-11-24T07:20:00Z")
    early = note("dip", jar="J1", grade="2", occurred_at="2026-11-23T17:00:00Z")

    answers = send(client, late, early).json()["answers"]

    assert [answer["id"] for answer in answers] == [late["fields"][0][1], early["fields"][0][1]]
    grades = [row.said["grade"] for row in Entry.objects.of(yard).order_by("id")]
    assert grades == [2, 4]


def test_two_tubs_of_one_day_get_codes_of_their_own(client: Client, yard: Studio) -> None:
    tub = {"from": CAFE, "amount_unit": "stones", "place": FRIDGE}

    send(client, note("pick-up", **tub, amount="58"), note("pick-up", **tub, amount="12"))

    assert [row.said["lot"] for row in Entry.objects.of(yard).order_by("id")] == [
        "AV-1123", "AV-1123-2",
    ]  # fmt: skip


def test_what_the_shelves_refuse_is_kept_and_needs_a_look(client: Client, yard: Studio) -> None:
    kept = note("dip", jar="J99", grade="4")

    (answer,) = send(client, kept, note("dip", jar="J1", grade="3")).json()["answers"][:1]

    assert (answer["status"], answer["state"]) == (202, "needs a look")
    assert answer["words"].startswith("It is kept, and needs a look: ")
    assert "J99" in answer["words"]
    assert Entry.objects.of(yard).filter(state="needs a look").count() == 1


def test_what_cannot_be_read_goes_back_with_the_form_as_it_was(client: Client) -> None:
    kept = note("pick-up", **{"from": CAFE}, amount="a few", place=FRIDGE)

    (answer,) = send(client, kept).json()["answers"]

    assert answer["state"] == "refused"
    assert answer["status"] == 422
    assert asked_in(answer["address"])["amount"] == "a few"
    form = form_of(client.get(answer["address"]))
    assert form.fields["amount"] == "a few"
    assert form.fields["from"] == CAFE


@pytest.mark.parametrize("mark", ["", "0" * 32])
def test_a_mark_that_is_not_the_visitors_records_nothing(
    client: Client, yard: Studio, mark: str
) -> None:
    answer = send(client, note("dip", jar="J1", grade="4"), mark=mark)

    assert answer.status_code == 403
    assert answer.json()["words"].startswith("These notes were kept for somebody else")
    assert Entry.objects.of(yard).count() == 0


def test_the_notes_of_whoever_had_the_phone_before_are_not_sent(yard: Studio) -> None:
    ada = signed_in(member(yard, Right.HELPER))
    ben = signed_in(member(yard, Right.HELPER, "ben@yard.example"))

    answer = send(ben, note("dip", jar="J1", grade="4"), mark=whose(ada))

    assert answer.status_code == 403
    assert Entry.objects.of(yard).count() == 0


def test_who_belongs_to_two_studios_is_known_by_the_mark(yard: Studio) -> None:
    who = member(yard, Right.HELPER)
    loft = Studio.objects.create(name="Kelpwick Loft", zone="Europe/London")
    member(loft, Right.HELPER)
    mine = signed_in(who)
    page = mine.get("/note/", {"studio": "Pellitory Yard"}).content.decode()
    (mark,) = re.findall(r'data-whose="([0-9a-f]+)"', page)

    (answer,) = send(mine, note("dip", jar="J1", grade="4"), mark=mark).json()["answers"]

    assert answer["state"] == "recorded"
    assert Entry.objects.of(yard).count() == 1


def test_a_looker_on_sends_nothing(yard: Studio) -> None:
    mine = signed_in(member(yard, Right.LOOKER_ON))
    page = mine.get("/").content.decode()
    (mark,) = re.findall(r'data-whose="([0-9a-f]+)"', page)

    assert send(mine, note("dip", jar="J1", grade="4"), mark=mark).status_code == 403
    assert Entry.objects.of(yard).count() == 0


@pytest.mark.parametrize(
    "body", ["", "[]", "{}", '{"whose": "x", "notes": []}', '{"whose": "x", "notes": [1]}',
             '{"whose": "x", "notes": [{"verb": "dip", "fields": [["id"]]}]}']
)  # fmt: skip
def test_what_holds_no_notes_is_said_to_hold_none(client: Client, body: str) -> None:
    answer = client.post("/note/waiting/", body, content_type="application/json")

    assert answer.status_code == 400
    assert answer.json()["words"].startswith("Send JSON such as ")


def test_without_the_header_nothing_is_taken() -> None:
    strict = Client(enforce_csrf_checks=True)
    form = opened(strict, "dip")

    for headers, status in (({}, 403), ({"X-CSRFToken": form.fields["csrfmiddlewaretoken"]}, 400)):
        answer = strict.post("/note/waiting/", "{}", content_type="application/json",
                             headers=headers)  # fmt: skip
        assert answer.status_code == status
