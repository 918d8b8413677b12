"""An entry counts once: the same again gets the first answer, another body is refused."""

from __future__ import annotations

import threading
import uuid
from typing import Any

import pytest
from django.test import Client

from api.entries.errors import StillRecording
from api.entries.record import HANDS
from api.models import Entry
from inventory.models import Movement, Posting, Studio
from tests.api.entries.larder import THEN, enter

pytestmark = pytest.mark.usefixtures("yard")

DRAW: dict[str, Any] = {"takes": [{"lot": "AV-1116", "amount": "40 g"}]}


def _postings() -> int:
    return Posting.objects.of(Studio.objects.get()).count()


def test_the_same_entry_again_gets_the_first_answer_and_moves_nothing(client: Client) -> None:
    entry = str(uuid.uuid4())

    first = enter(client, "draw", id=entry, **DRAW)
    before = _postings()
    again = enter(client, "draw", id=entry, sent_at="2026-11-23T08:31+00:00", **DRAW)

    assert (first.status_code, again.status_code) == (201, 200)
    assert again.json() == first.json()
    assert first.json()["moved"] == [
        {
            "lot": "AV-1116",
            "number": 2,
            "change": {"amount": "-40", "unit": "g"},
            "left": {"amount": "1140", "unit": "g"},
        }
    ]
    assert _postings() == before


@pytest.mark.parametrize(
    ("verb", "said"),
    [
        ("draw", {"takes": [{"lot": "AV-1116", "amount": "41 g"}]}),
        ("draw", {**DRAW, "occurred_at": "2026-11-23T08:31+00:00"}),
        ("draw", {**DRAW, "note": "twice"}),
        ("judge", {"lot": "AV-1116", "looks": "bad"}),
    ],
)
def test_the_id_of_an_entry_with_another_body_is_refused(
    client: Client, verb: str, said: dict[str, Any]
) -> None:
    entry = str(uuid.uuid4())
    enter(client, "draw", id=entry, **DRAW)
    before = _postings()

    refused = enter(client, verb, **{"id": entry, **said})

    assert refused.status_code == 422
    assert refused.json()["code"] == "entry_used"
    assert _postings() == before


def test_an_entry_that_is_still_being_recorded_is_told_to_come_again(client: Client) -> None:
    entry, studio = uuid.uuid4(), Studio.objects.get()

    with HANDS.on(studio.pk, entry):
        waits = enter(client, "draw", id=str(entry), **DRAW)
    later = enter(client, "draw", id=str(entry), **DRAW)

    assert (waits.status_code, waits.json()["code"]) == (409, "still_running")
    assert later.status_code == 201


def test_of_two_hands_on_one_entry_one_has_it() -> None:
    entry, refused = uuid.uuid4(), list[StillRecording]()

    def other() -> None:
        try:
            with HANDS.on(1, entry):
                pass
        except StillRecording as error:
            refused.append(error)

    with HANDS.on(1, entry):
        thread = threading.Thread(target=other)
        thread.start()
        thread.join()

    assert [error.entry for error in refused] == [entry]


def test_what_the_shelves_refuse_leaves_no_trace_and_may_come_again(client: Client) -> None:
    entry = str(uuid.uuid4())
    before = _postings()

    too_much = enter(client, "draw", id=entry, takes=[{"lot": "AV-1116", "amount": "1,181 g"}])
    just = enter(client, "draw", id=entry, takes=[{"lot": "AV-1116", "amount": "1,180 g"}])

    assert (too_much.status_code, too_much.json()["code"]) == (409, "not_enough")
    assert "short by 1 g" in too_much.json()["detail"]
    assert just.status_code == 201
    assert _postings() == before + 1


def test_amounts_are_taken_as_people_write_them_and_said_as_understood(client: Client) -> None:
    said = enter(
        client, "receive", lot="AV-2", what="avocado stones", amount="58 stones",
        state="fresh", place={"kind": "bench"},
    ).json()  # fmt: skip
    wool = enter(
        client, "receive-fibre", lot="W-2", fibre="wool", form="yarn", amount="2 lb 3 oz"
    ).json()

    # The café's stones are 42 g each in the notebook; 2 lb 3 oz = 35 oz x 28.349523125 g.
    assert said["moved"][0]["left"] == {"amount": "2436", "unit": "g"}
    assert said["understood"][0]["understood"] == "58 stones"
    assert wool["understood"] == [
        {
            "pointer": "/amount",
            "words": "2 lb 3 oz",
            "amount": "992.233",
            "unit": "g",
            "understood": "2 lb 3 oz = 992 g",
        }
    ]


def test_a_bag_of_what_is_counted_in_stones_is_not_taken_for_a_stone(client: Client) -> None:
    said = {"source": "Lantern Steps café", "gives": "avocado stones", "lot": "AV-1"}

    came = enter(client, "pick-up", amount="3 bags", place={"kind": "bench"}, **said)
    drawn = enter(client, "draw", takes=[{"lot": "AV-1116", "amount": "half a bucket"}])

    sentence = (
        "Nobody has written down what a bag of avocado stones weighs. "
        "Weigh it, or count the pieces."
    )
    assert came.status_code == drawn.status_code == 422
    assert came.json()["errors"] == [{"pointer": "/amount", "detail": sentence}]
    assert drawn.json()["errors"][0]["pointer"] == "/takes/0/amount"


def test_every_field_at_fault_is_named_with_its_place(client: Client) -> None:
    broken = enter(client, "draw", takes=[{"lot": "AV-1116", "amount": 40}, {}], colour="red")
    unclear = enter(client, "draw", takes=[{"lot": "AV-1116", "amount": "a few"}], occurred_at=THEN)
    other = enter(client, "draw", takes=[{"lot": "AV-1116", "amount": "40 mL"}])

    assert broken.status_code == 400
    pointers = {row["pointer"] for row in broken.json()["errors"]}
    assert pointers == {"/colour", "/takes/0/amount", "/takes/1/lot"}
    typo = enter(client, "dip", jar="J2", grde=4).json()["errors"]
    assert typo == [
        {"pointer": "/grde", "detail": "Nothing is called so here. Did you mean grade?"}
    ]
    for answer, where in ((unclear, "/takes/0/amount"), (other, "/takes/0/amount")):
        assert (answer.status_code, answer.json()["code"]) == (422, "fields_unclear")
        assert [row["pointer"] for row in answer.json()["errors"]] == [where]


def test_the_entry_and_what_it_did_are_written_together(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    studio = Studio.objects.get()
    moved = Movement.objects.of(studio).count()

    def fail(*_: object, **__: object) -> None:
        raise RuntimeError("the machine stopped")

    monkeypatch.setattr(Entry, "save", fail)
    with pytest.raises(RuntimeError):
        enter(client, "draw", **DRAW)

    assert Movement.objects.of(studio).count() == moved


def test_an_answer_that_one_has_already_is_not_sent_again(client: Client) -> None:
    address = f"/api/v1/entries/{enter(client, 'draw', **DRAW).json()['id']}/"

    first = client.get(address)
    again = client.get(address, headers={"if-none-match": first["ETag"]})

    assert (again.status_code, again.content, again["ETag"]) == (304, b"", first["ETag"])
