"""*Begin*: from an empty larder to the first answer, each step kept, in one go by the client."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from inventory.audit import audit
from inventory.models import FibreLot, Line, Lot, Ring, Studio, Vessel
from sourcing.models import Hours, Recipe, Run
from tests.api.members import account
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import said

pytestmark = pytest.mark.django_db
QUERIES = 8
NAME, HERE = "Bare Loft", "GB Europe/London"
ROOM = {"pot": ["20", "30"], "iron": "10", "ring": ["2000"], "line": "2", "cold": ["freezer"],
        "buckets": "yes"}  # fmt: skip
DAYS = {"day": ["0", "1", "2", "3", "4"], "hours": "day"}
SAVED = {"fibre": "wool", "form": "yarn", "weight": "300", "scoured": "yes",
         "onion skins": "250 g", "alum": "500"}  # fmt: skip
SHADE = {"shade": "start-onion", "weight": "200"}
# What the whole way costs somebody: fields typed or ticked, and buttons pressed.
FIELDS_AT_MOST, PRESSES_AT_MOST = 26, 5


def send(client: Client, address: str, fields: dict[str, Any]) -> Any:
    """The form of a page as a browser sends it: its hidden fields, and what somebody filled in."""
    page = client.get(address)
    assert page.status_code == 200, address
    assert sound(page) == [], address
    hidden = read(page).query("main form input[type=hidden]")
    kept = {str(row.attrs["name"]): str(row.attrs["value"]) for row in hidden
            if row.attrs["name"] in ("entry",)}  # fmt: skip
    return client.post(address, {**kept, **fields})


def begun(client: Client) -> Studio:
    send(client, "/begin/", {"name": NAME, "place": HERE})
    return Studio.objects.get(name=NAME)


def test_an_empty_larder_leads_to_its_first_answer_in_one_go(client: Client) -> None:
    fields, presses = 0, 0
    address = client.get("/")["Location"]
    assert address == "/begin/"
    for form in ({"name": NAME, "place": HERE}, ROOM, DAYS, SAVED, SHADE):
        page = send(client, address, form)
        assert page.status_code == 303, (address, words(page))
        address = page["Location"]
        fields += sum(len(v) if isinstance(v, list) else 1 for v in form.values())
        presses += 1

    answer = client.get(address)

    assert address == "/runs/A/"
    assert sound(answer) == []
    text = said(read(answer).query("p.looked-said")[0])
    assert text.startswith("Yes: ")
    assert ", dry " in text
    assert (fields, presses) <= (FIELDS_AT_MOST, PRESSES_AT_MOST)
    assert audit() == []
    print(f"{fields} fields, {presses} presses: {text}")


def test_each_step_is_kept_as_it_was_said(client: Client) -> None:
    studio = begun(client)
    for step, form in (("room", ROOM), ("days", DAYS), ("saved", SAVED), ("shade", SHADE)):
        send(client, f"/begin/{step}/", form)

    assert (studio.zone, studio.country, studio.currency) == ("Europe/London", "GB", "GBP")
    pots = Vessel.objects.of(studio).values_list("code", "brim_ml", "iron_pot")
    assert set(pots) == {("P1", 20_000, False), ("P2", 30_000, False), ("I1", 10_000, True),
                         ("B1", 15_000, False), ("B2", 15_000, False)}  # fmt: skip
    assert Ring.objects.of(studio).get().watts == 2_000
    assert Line.objects.of(studio).get().holds_mg == 2_000_000
    assert Hours.objects.of(studio).filter(hands_min=360).count() == 5
    lots = set(Lot.objects.of(studio).values_list("code", "what", "kind"))
    assert lots == {("ON-1", "onion skins", "dyestuff"), ("AL-1", "alum", "supply"),
                    ("WO-1", "wool", "fibre")}  # fmt: skip
    assert FibreLot.objects.of(studio).count() == 1
    run = Run.objects.of(studio).get()
    assert (run.recipe.shade, run.weight_mg, run.client) == ("Onion gold", 200_000, False)


def test_a_step_is_left_and_taken_up_again_and_changed(client: Client) -> None:
    studio = begun(client)
    send(client, "/begin/room/", ROOM)

    way = client.get("/begin/")
    assert "Bare Loft is written down." in words(way)
    assert words(way).count("✓ kept") == 2  # the studio and its room
    send(
        client,
        "/begin/room/",
        {
            "shown": ["vessels P1", "vessels P2", "rings R1"],
            "there": ["vessels P2", "rings R1"],
            "pot": ["40"],
            "line": "3",
        },
    )
    send(client, "/begin/days/", DAYS)
    send(client, "/begin/days/", {"day": ["5"], "hours": "morning"})  # fmt: skip

    pots = dict(Vessel.objects.of(studio).filter(kind="pot").values_list("code", "brim_ml"))
    assert pots == {"P3": 40_000, "P2": 30_000, "I1": 10_000}
    assert Line.objects.of(studio).get().holds_mg == 3_000_000
    assert [row.weekday for row in Hours.objects.of(studio).filter(hands_min__gt=0)] == [5]


def test_what_is_saved_is_written_once_however_often_it_is_sent(client: Client) -> None:
    studio = begun(client)
    page = client.get("/begin/saved/")
    entry = str(read(page).query("input[name=entry]")[0].attrs["value"])

    for _ in range(2):
        assert client.post("/begin/saved/", {**SAVED, "entry": entry}).status_code == 303

    assert Lot.objects.of(studio).count() == 3


@pytest.mark.parametrize(
    ("step", "form", "sentence"),
    [
        ("room", {"other": "600"}, "A pot holds 1 to 500 L to the brim."),
        ("days", {}, "Tick the days on which somebody is in."),
        ("saved", {"alum": "500"}, "Say how much fibre you have, dry"),
        ("saved", {**SAVED, "onion skins": "a lot"}, "“a lot”"),
        ("shade", SHADE, "Onion gold is for wool or silk, and none of it is there."),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_half_written(
    client: Client, step: str, form: dict[str, Any], sentence: str
) -> None:
    studio = begun(client)

    page = send(client, f"/begin/{step}/", form)

    assert page.status_code == 422
    assert sound(page) == []
    assert sentence in words(page)
    for model in (Vessel, Hours, Lot, Run, Recipe):
        assert not model.objects.of(studio).exists()


def test_without_a_place_no_studio_is_begun(client: Client) -> None:
    page = send(client, "/begin/", {"name": NAME, "place": ""})

    assert page.status_code == 422
    assert "Say where the studio is" in words(page)
    assert not Studio.objects.exists()


def test_elsewhere_is_written_by_hand(client: Client) -> None:
    send(client, "/begin/", {"name": NAME, "place": "", "zone": "Pacific/Chatham", "money": "nzd"})

    studio = Studio.objects.get()
    assert (studio.zone, studio.currency) == ("Pacific/Chatham", "NZD")


def test_whoever_has_an_account_and_no_studio_begins_one_of_their_own() -> None:
    client = Client()
    client.force_login(account("ida@loft.example"))
    assert client.get("/")["Location"] == "/begin/"

    send(client, "/begin/", {"name": NAME, "place": HERE})

    assert client.get("/begin/room/").status_code == 200


def test_a_stranger_begins_nothing_where_somebody_has_an_account(client: Client) -> None:
    account("ida@loft.example")

    page = client.post("/begin/", {"name": NAME, "place": HERE})

    assert page["Location"].startswith("/sign-in/")
    assert not Studio.objects.exists()


def test_every_step_asks_few_questions(client: Client) -> None:
    begun(client)
    send(client, "/begin/room/", ROOM)
    send(client, "/begin/saved/", SAVED)

    for address in ("/begin/", *(f"/begin/{step}/" for step in ("room", "days", "saved", "shade"))):
        with CaptureQueriesContext(connection) as asked:
            assert client.get(address).status_code == 200
        assert len(asked) <= QUERIES, address
    assert client.get("/begin/elsewhere/").status_code == 404
