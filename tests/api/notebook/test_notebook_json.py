"""The notebook's rows for programs: read as JSON, written back the same, refused with a place."""

from __future__ import annotations

from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client

from api.notebook_rows.names import members_of
from api.rights import Right
from inventory.models import Posting, Ring, Studio
from sourcing.models import Recipe
from sourcing.notebook.history_pages import RECORDED_BY
from sourcing.notebook.load import load_files
from sourcing.notebook.notebook import files_of
from sourcing.notebook.yard_pages import PAGES
from tests.api.members import bearer, member
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import YARD

pytestmark = pytest.mark.django_db
NOTEBOOK = "/api/v1/notebook/"
NEW = {"if-none-match": "*"}


@pytest.fixture
def yard() -> Studio:
    load_fixture()
    return Studio.objects.get()


def put(client: Client, where: str, row: object, **headers: str) -> HttpResponse:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    answer: HttpResponse = client.put(
        f"{NOTEBOOK}{where}", row, content_type="application/json", headers=named
    )
    return answer


def json(answer: HttpResponse) -> Any:
    return answer.json()  # type: ignore[attr-defined]


def all_rows(client: Client, page: str, **asked: object) -> list[dict[str, Any]]:
    answer = client.get(f"{NOTEBOOK}{page}/", asked).json()
    found: list[dict[str, Any]] = answer["rows"]
    while answer["next"]:
        answer = client.get(answer["next"]).json()
        found += answer["rows"]
    return found


@pytest.mark.usefixtures("yard")
def test_the_pages_say_which_columns_they_have_and_which_entries_record_them(
    client: Client,
) -> None:
    pages = {page["page"]: page for page in client.get(NOTEBOOK).json()["pages"]}

    assert list(pages) == [page.name for page in PAGES]
    assert pages["rings"]["key"] == ["ring"]
    assert pages["rings"]["columns"][2] == {
        "member": "not_for", "column": "not for", "kind": "codes", "example": "P1",
        "meaning": "vessels it does not take", "required": False, "choices": [],
        "refers": ["vessels"], "low": None, "high": None,
    }  # fmt: skip
    assert pages["rings"]["recorded_by"] is None
    assert pages["lots"]["recorded_by"] == RECORDED_BY["lots"]
    assert [len(members_of(page)) for page in PAGES] == [len(page.columns) for page in PAGES]


@pytest.mark.parametrize("folder", ["pellitory-yard", "kelpwick-loft"])
def test_a_row_of_every_page_read_and_written_back_is_the_same(client: Client, folder: str) -> None:
    load_files(files_of(YARD.parent / folder)[0])
    studio = Studio.objects.get()
    postings = Posting.objects.of(studio).count()

    for page in PAGES:
        for row in all_rows(client, page.name)[-1:]:
            where = f"{page.name}/{row['key']}/"
            read = client.get(f"{NOTEBOOK}{where}")
            assert (read.json(), read["ETag"]) == (row["row"], row["etag"])
            answer = put(client, where, row["row"], if_match=row["etag"])
            if page.name in RECORDED_BY:
                assert (answer.status_code, json(answer)["code"]) == (409, "row_is_history")
                assert RECORDED_BY[page.name] in json(answer)["detail"]
            else:
                assert (answer.status_code, json(answer)) == (200, row), page.name

    assert Posting.objects.of(studio).count() == postings
    assert Recipe.objects.of(studio).filter(version__gt=1).count() == 0


def test_a_row_is_made_changed_and_taken_out(client: Client, yard: Studio) -> None:
    made = put(client, "rings/R3/", {"power": "2000 W", "not_for": ["P1", "P2"]}, if_none_match="*")

    assert made.status_code == 201
    assert made["Location"] == "/api/v1/notebook/rings/R3/"
    row = {"ring": "R3", "power": {"amount": "2000", "unit": "W"}, "not_for": ["P1", "P2"],
           "site": None}  # fmt: skip
    assert json(made) == {"key": "R3", "etag": made["ETag"], "row": row}
    assert client.get(f"{NOTEBOOK}rings/R3/", headers=NEW | {"if-none-match": made["ETag"]}
                      ).status_code == 304  # fmt: skip
    row["power"] = {"amount": "2.5", "unit": "kW"}
    changed = put(client, "rings/R3/", row, if_match=made["ETag"])
    assert json(changed)["row"]["power"] == {"amount": "2500", "unit": "W"}
    again = put(client, "rings/R3/", row, if_match=made["ETag"])
    assert (again.status_code, json(again)["code"]) == (412, "changed_meanwhile")
    gone = client.delete(f"{NOTEBOOK}rings/R3/", headers={"if-match": changed["ETag"]})
    assert (gone.status_code, Ring.objects.of(yard).filter(code="R3").count()) == (204, 0)
    assert client.get(f"{NOTEBOOK}rings/R3/").json()["code"] == "no_such_row"


@pytest.mark.usefixtures("yard")
def test_whoever_writes_says_which_state_is_changed(client: Client) -> None:
    ring = {"power": "4 kW"}

    for where, headers, status, code in (
        ("rings/R1/", {}, 428, "if_match_needed"),
        ("rings/R9/", {}, 428, "new_not_said"),
        ("rings/R1/", {"if_none_match": "*"}, 412, "already_there"),
        ("rings/R9/", {"if_match": "*"}, 412, "changed_meanwhile"),
        ("rings/R1/", {"if_match": "R1"}, 400, "etag_unreadable"),
    ):
        answer = put(client, where, ring, **headers)
        assert (answer.status_code, json(answer)["code"]) == (status, code)
    assert client.delete(f"{NOTEBOOK}rings/R1/").status_code == 428
    assert client.delete(f"{NOTEBOOK}rings/R9/", headers={"if-match": "*"}).status_code == 412


@pytest.mark.usefixtures("yard")
def test_what_others_name_is_not_taken_out(client: Client) -> None:
    answer = client.delete(f"{NOTEBOOK}vessels/P1/", headers={"if-match": "*"})

    assert (answer.status_code, answer.json()["code"]) == (409, "row_pointed_at")
    assert answer.json()["by"] == ["rings R2 names it under not for"]


@pytest.mark.usefixtures("yard")
def test_what_cannot_be_a_cell_is_refused_with_its_place(client: Client) -> None:
    for body, pointer, sentence in (
        ({"power": 2.5}, "/power", "Write a text as people write it"),
        ({"power": {"amount": 2, "unit": "kW"}}, "/power", "Write a text as people write it"),
        ({"not_for": ["P1", 2]}, "/not_for", "or a list of at most 100 texts."),
        ([], "", "Send an object with a member for each column."),
    ):
        answer = put(client, "rings/R9/", body, if_none_match="*")
        assert answer.status_code == 400
        (error,) = json(answer)["errors"]
        assert error["pointer"] == pointer
        assert sentence in error["detail"]


@pytest.mark.usefixtures("yard")
def test_what_does_not_fit_is_refused_with_its_place(client: Client) -> None:
    answer = put(client, "rings/R9/", {"power": "1 kW", "not_for": ["P77"]}, if_none_match="*")

    assert (answer.status_code, json(answer)["errors"]) == (422, [{
        "pointer": "/not_for",
        "detail": '"P77" stands there. vessels.csv has no P77. '
                  "Add it to vessels.csv, or correct it.",
    }])  # fmt: skip
    answer = put(client, "rings/R9/", {"watts": 2}, if_none_match="*")
    assert (answer.status_code, json(answer)["errors"]) == (422, [{
        "pointer": "/watts",
        "detail": "There is no such member. There are ring, power, not_for, site.",
    }])  # fmt: skip
    steps = [{"no": 1, "step": "dye", "kind": "dye"}, {"no": 2, "step": "dye", "kind": "wash"}]
    recipe = {"shade": "Dusk", "fibres": ["wool"], "ratio": "30:1", "bright": False, "steps": steps}
    answer = put(client, "recipes/dusk/", recipe, if_none_match="*")
    assert [row["pointer"] for row in json(answer)["errors"]] == ["/steps/1/kind"]
    steps[1]["kind"] = "rinse"
    answer = put(client, "recipes/dusk/", recipe, if_none_match="*")
    assert [row["pointer"] for row in json(answer)["errors"]] == ["/steps/1/step"]
    steps[1]["step"] = "rinse"
    answer = put(client, "recipes/dusk/", recipe, if_none_match="*")
    assert answer.status_code == 201, json(answer)
    assert [row["step"] for row in json(answer)["row"]["steps"]] == ["dye", "rinse"]


def test_rows_come_so_many_at_a_time_and_none_twice(client: Client, yard: Studio) -> None:
    whole = [row["key"] for row in all_rows(client, "steps")]
    first = client.get(f"{NOTEBOOK}steps/", {"limit": 5}).json()
    put(client, "rings/R3/", {"power": "1 kW"}, if_none_match="*")
    hours = client.get(f"{NOTEBOOK}hours/", {"limit": 3}).json()
    put(client, "hours/aa~Mon~~/", {"hands": "0 h"}, if_none_match="*")

    assert [row["key"] for row in first["rows"]] == whole[:5]
    assert [row["key"] for row in all_rows(client, "steps", limit=5)] == whole
    assert len(whole) == len(set(whole)) == 23
    rest = [row["key"] for row in client.get(hours["next"]).json()["rows"]]
    assert not set(rest) & {row["key"] for row in hours["rows"]}
    refused = client.get(first["next"].replace("/steps/", "/doses/"))
    assert (refused.status_code, refused.json()["code"]) == (400, "cursor_unreadable")


@pytest.mark.usefixtures("yard")
def test_what_is_not_there_is_said(client: Client) -> None:
    assert client.get(f"{NOTEBOOK}vesels/").json()["detail"] == (
        "A notebook has no page “vesels”. Did you mean vessels? Write that."
    )
    for where in ("vesels/", "vesels/P1/", "vesels.csv", "rings/R77/", "rings/!9/"):
        assert client.get(f"{NOTEBOOK}{where}").status_code == 404
    for where, asked in (("rings/", "limit=0"), ("rings/", "page=2"), ("rings/R1/", "limit=1")):
        assert client.get(f"{NOTEBOOK}{where}?{asked}").status_code == 400


def test_a_dyer_writes_hours_and_only_an_owner_the_figures(client: Client, yard: Studio) -> None:
    rule = {"value": "6 %"}
    for right, hours, rules in (
        (Right.LOOKER_ON, 403, 403),
        (Right.HELPER, 403, 403),
        (Right.DYER, 201, 403),
        (Right.OWNER, 201, 201),
    ):
        who = bearer(member(yard, right, f"{right}@pellitory.example"))
        as_one = {"authorization": who, "if_none_match": "*"}
        where = f"hours/the {right}~Mon~~/"
        assert put(client, where, {"hands": "0 h"}, **as_one).status_code == hours
        since = f"rules/wool~scour loss fraction~2026-11-{len(right):02}/"
        assert put(client, since, rule, **as_one).status_code == rules
        assert client.get(f"{NOTEBOOK}rules/", headers={"authorization": who}).status_code == 200


def test_rows_of_another_studio_are_neither_read_nor_written(client: Client, yard: Studio) -> None:
    load_files({"studio.csv": b"studio,zone\nWash House,Europe/London\n"})
    other = Studio.objects.get(name="Wash House")
    who = {"authorization": bearer(member(other))}

    assert client.get(f"{NOTEBOOK}rings/", headers=who).json()["rows"] == []
    assert client.get(f"{NOTEBOOK}rings/R1/", headers=who).status_code == 404
    assert client.get(f"{NOTEBOOK}rings/?studio=Pellitory+Yard", headers=who).status_code == 404
    gone = client.delete(f"{NOTEBOOK}rings/R1/", headers={**who, "if-match": "*"})
    assert (gone.status_code, Ring.objects.of(yard).count()) == (412, 2)
