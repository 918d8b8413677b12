"""Records: every noun as a list and one by one, in its studio only, as the contract says."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from jsonschema import Draft202012Validator

from api.contract.shapes import SHARED
from api.records.contract import EXAMPLES, example_of, shape_name, shapes
from api.records.noun import Noun
from api.records.nouns import NOUNS
from api.rights import Right
from inventory.corrections import correct
from inventory.models import Studio
from inventory.shelves import shelf_at
from sourcing.models import Recipe
from tests.api.members import bearer, member
from tests.api.records.full import DAY, TUESDAY, entry, full_yard

pytestmark = pytest.mark.django_db
# What is not the same in two larders that hold the same: our own numbers, and when it was written.
OURS = {"id", "recorded_at", "sealed_at", "digest"}


@pytest.fixture
def yard() -> Studio:
    return full_yard()


def asked(client: Client, address: str, /, **words: Any) -> Any:
    answer = client.get(f"/api/v1/{address}", words)
    assert answer.status_code == 200, (address, answer.content)
    return answer.json()


def key_of(noun: Noun, record: dict[str, Any]) -> str:
    column = next(each for each in noun.columns if each.cells == (noun.key,))
    return str(record[column.name])


def lasting(found: Any) -> Any:
    """What stays the same from one larder to the next."""
    if isinstance(found, dict):
        return {name: lasting(each) for name, each in found.items() if name not in OURS}
    return [lasting(each) for each in found] if isinstance(found, list) else found


def wrong(noun: Noun, record: Any) -> list[str]:
    """How a record is other than the contract says; what it does not name counts too."""
    schemas = {**SHARED, **shapes()}
    closed = {
        name: {**shape, "additionalProperties": False} if "properties" in shape else shape
        for name, shape in schemas.items()
    }
    whole = {
        "$ref": f"#/components/schemas/{shape_name(noun)}",
        "components": {"schemas": closed},
    }
    return [error.message for error in Draft202012Validator(whole).iter_errors(record)]


@pytest.mark.usefixtures("yard")
def test_every_noun_has_its_rows_each_as_the_contract_says(client: Client) -> None:
    for noun in NOUNS:
        records = asked(client, f"{noun.name}/", limit=200)["records"]
        keys = [key_of(noun, record) for record in records]

        assert records, noun.name
        assert len(set(keys)) == len(keys), noun.name
        assert [fault for record in records for fault in wrong(noun, record)] == [], noun.name
        assert asked(client, f"{noun.name}/{keys[0]}/") == records[0], noun.name
        assert lasting(example_of(noun)) in [lasting(record) for record in records], noun.name
        assert wrong(noun, example_of(noun)) == [], noun.name


def test_there_is_an_example_of_each_noun_and_of_nothing_else() -> None:
    written = json.loads(EXAMPLES.read_text(encoding="utf-8"))

    assert list(written) == [noun.name for noun in NOUNS]
    assert len({shape_name(noun) for noun in NOUNS}) == len(NOUNS)


@pytest.mark.usefixtures("yard")
def test_a_list_asks_as_often_for_one_row_as_for_many(client: Client) -> None:
    for noun in NOUNS:
        asked(client, f"{noun.name}/", limit=1)
        for limit in (1, 200):
            with CaptureQueriesContext(connection) as questions:
                asked(client, f"{noun.name}/", limit=limit)

            assert len(questions) == 2 + len(noun.parts) + (noun.first is not None), noun.name


def test_nothing_of_another_studio_is_shown_or_found(client: Client, yard: Studio) -> None:
    other = Studio.objects.create(name="Quillet Barn", zone="Europe/London")
    here, there = {"studio": yard.name}, {"studio": other.name}
    for noun in NOUNS:
        first = asked(client, f"{noun.name}/", limit=1, **here)["records"][0]
        address = f"{noun.name}/{key_of(noun, first)}/"

        assert asked(client, address, **here) == first, noun.name
        assert asked(client, f"{noun.name}/", **there) == {"records": [], "next": None}, noun.name
        missing = client.get(f"/api/v1/{address}", there)
        assert (missing.status_code, missing.json()["code"]) == (404, "record_unknown"), noun.name
        assert yard.name not in missing.content.decode(), noun.name


@pytest.mark.usefixtures("yard")
def test_every_filter_keeps_what_it_names_and_leaves_out_the_rest(client: Client) -> None:
    """Each filter that names a member of the record, by the value of its first row."""
    for noun in NOUNS:
        records = asked(client, f"{noun.name}/", limit=200)["records"]
        for each in noun.filters:
            value = records[0].get(each.name)
            if each.kind in ("since", "until", "since day", "until day") or value is None:
                continue
            word = {True: "yes", False: "no"}.get(value, value) if each.kind == "yes" else value
            found = asked(client, f"{noun.name}/", limit=200, **{each.name: word})["records"]

            wanted = [record for record in records if record[each.name] == value]
            assert found == wanted, (noun.name, each.name)


@pytest.mark.usefixtures("yard")
def test_a_period_begins_with_its_first_moment_and_ends_before_its_last(client: Client) -> None:
    noon, later = "2026-11-24T12:00:00+00:00", "2026-11-24T13:00:00+00:00"

    def happened(**words: str) -> set[str]:
        records = asked(client, "postings/", limit=200, **words)["records"]
        return {record["occurred_at"] for record in records}

    assert happened(since=noon, until=later) == {noon}
    assert happened(since="2026-11-24T12:00:01") >= {later}
    assert noon not in happened(since="2026-11-24T12:00:01")
    assert happened(since="2026-11-24", until="2026-11-25") == {noon, later}
    chores = asked(client, "chores/", since="2026-11-23", until="2026-11-27")["records"]
    assert [chore["day"] for chore in chores] == ["2026-11-23"]


@pytest.mark.usefixtures("yard")
def test_the_newest_version_of_a_recipe_is_the_one_by_its_code(
    client: Client, yard: Studio
) -> None:
    old = Recipe.objects.of(yard).get(code="blush")
    old.pk, old.version, old.shade = None, 2, "Deeper Blush"
    old.save()

    assert asked(client, "recipes/blush/")["shade"] == "Deeper Blush"
    both = asked(client, "recipes/", code="blush")["records"]
    assert [(row["version"], len(row["steps"])) for row in both] == [(1, 5), (2, 0)]


def test_a_lot_is_kept_as_the_shelves_say_whatever_was_taken_back(
    client: Client, yard: Studio
) -> None:
    """Dried on Tuesday; that was a mistake; no, it was none; yes, it was one."""

    def kept() -> tuple[list[str], set[tuple[str, str]]]:
        dried = asked(client, "lots/", state="dried", place="dry store", limit=200)["records"]
        lots = asked(client, "lots/", kind="dyestuff", limit=200)["records"]
        return [row["code"] for row in dried], {(row["code"], row["state"]) for row in lots}

    def shelf() -> set[tuple[str, str]]:
        return {(lot.code, lot.stay.state) for lot in shelf_at(yard, at=TUESDAY + 9 * DAY).lots}

    assert "CB-1121" in kept()[0]
    for wrong, then in (("dried", False), ("back", True), ("back again", False)):
        undo = entry("back" if wrong == "dried" else f"{wrong} again")
        correct(yard, entry=undo, corrects=entry(wrong))

        assert ("CB-1121" in kept()[0]) is then, wrong
        assert kept()[1] >= shelf(), wrong
    assert asked(client, "lots/CB-1121/")["state"] == "fresh"


@pytest.mark.usefixtures("yard")
def test_a_list_that_has_not_changed_is_not_sent_again(client: Client) -> None:
    first = client.get("/api/v1/lots/")
    again = client.get("/api/v1/lots/", headers={"if-none-match": first["ETag"]})
    other = client.get("/api/v1/jars/", headers={"if-none-match": first["ETag"]})

    assert (again.status_code, again.content) == (304, b"")
    assert other.status_code == 200
    assert first["Cache-Control"] == "private, no-cache"


def test_nobody_reads_without_a_token_and_addresses_of_people_only_their_owner(
    client: Client, yard: Studio
) -> None:
    looker, owner = (
        bearer(member(yard, right, f"{right}@pellitory-yard.example"))
        for right in (Right.LOOKER_ON, Right.OWNER)
    )
    for noun in NOUNS:
        for address in (f"/api/v1/{noun.name}/", f"/api/v1/{noun.name}/1/"):
            stranger = client.get(address)
            assert stranger.status_code == 401, address
            assert stranger["WWW-Authenticate"] == "Bearer", address
        with CaptureQueriesContext(connection) as questions:
            seen = client.get(f"/api/v1/{noun.name}/", headers={"authorization": looker})

        assert seen.status_code == (403 if noun.least is Right.OWNER else 200), noun.name
        assert len(questions) <= 2 + len(noun.parts) + 2 * (noun is NOUNS[0]), noun.name
    found = client.get("/api/v1/readers/", headers={"authorization": owner})
    assert [row["name"] for row in found.json()["records"]][1:] == ["assistant", "dyer"]


ASKED = [
    ("lots/?limit=0", 400, "“0” is no number of records. Write one from 1 to 200."),
    ("lots/?limit=201", 400, "“201” is no number of records. Write one from 1 to 200."),
    ("lots/?limit=5&limit=6", 400, "limit stands twice in the address; write it once."),
    ("lots/?kind=stones", 400, "“stones” is no kind that we know. Write dyestuff, supply, jar"),
    ("lots/?foraged=perhaps", 400, "“perhaps” is no foraged that we know. Write yes, true, no or"),
    ("lots/?what=%00", 400, "is no what. Write it in at most 200 signs, all printable."),
    ("lots/?colour=red", 400, "The list of lots is asked for with what, source, state"),
    ("lots/?since=lots", 400, "“lots” is no moment."),
    ("lots/?since=2026-02-30", 400, "“2026-02-30” is no day."),
    ("stays/?entry=5", 400, "“5” is no entry. Write a UUID such as"),
    ("deliveries/?order=x", 400, "“x” is no order. Write a whole number."),
    ("lots/?backwards=up", 400, "“up” is no backwards that we know. Write yes, true, no or"),
    ("lots/AV-0000/", 404, "There is no lot “AV-0000” here. /api/v1/lots/ lists those that are."),
    ("postings/5/", 404, "There is no posting “5” here."),
    ("dips/x/", 404, "There is no dip “x” here."),
    ("lots/%C2%85/", 404, "There is no lot “\N{REPLACEMENT CHARACTER}” here."),
    ("weather/soon/", 404, "There is no day of weather “soon” here."),
    ("lots/J1/?limit=5", 400, "A lot is asked for with studio; not with “limit”."),
    ("lots/?studio=Nowhere", 404, "No studio is called “Nowhere”."),
]


@pytest.mark.usefixtures("yard")
def test_what_cannot_be_asked_is_answered_with_one_sentence(client: Client) -> None:
    for address, status, sentence in ASKED:
        answer = client.get(f"/api/v1/{address}")

        assert answer.status_code == status, address
        assert sentence in answer.json()["detail"], address
        assert answer["Content-Type"] == "application/problem+json", address
    assert asked(client, "hours/", weekday=999_999_999) == {"records": [], "next": None}
