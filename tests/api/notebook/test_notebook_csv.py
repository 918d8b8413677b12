"""Pages of the notebook as CSV files: out, in again the same, refused by line and column."""

from __future__ import annotations

import csv
import io
from typing import Any
from uuid import uuid4

import pytest
from django.http import HttpResponse
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from api.rights import Right
from inventory import lots
from inventory.models import Studio
from sourcing.models import Source
from sourcing.notebook.load import load_files
from sourcing.notebook.notebook import files_of
from sourcing.notebook.sheet import as_cell, plain, read_sheet
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.notebook.yard_pages import PAGES
from tests.api.members import bearer, member
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import YARD
from tests.sourcing.notebook.test_one_page import NOW

pytestmark = pytest.mark.django_db
FILE = "/api/v1/notebook/{}.csv"
FORMULAS = ["=1+1", "+1+1", "-1+1", "@sum", "\t=1", "\r=1", "'=1", "''@x", " =1", "＝1", "-4 °C",
            "+44 20", "'tis", "–5", "=\"quoted\", and more"]  # fmt: skip


@pytest.fixture
def yard() -> Studio:
    load_fixture()
    return Studio.objects.get()


def out(client: Client, page: str, **asked: str) -> bytes:
    content: bytes = client.get(FILE.format(page), asked).content
    return content


def put(client: Client, page: str, raw: bytes | str, *, asked: str = "", **more: Any) -> Any:
    address = f"{FILE.format(page)}?{asked}"
    answer: HttpResponse = client.put(address, raw, content_type="text/csv", **more)
    return answer


@pytest.mark.parametrize("folder", ["pellitory-yard", "kelpwick-loft"])
def test_every_page_out_and_in_again_is_the_same_data(client: Client, folder: str) -> None:
    load_files(files_of(YARD.parent / folder)[0])
    before = {page.name: out(client, page.name) for page in PAGES}
    studio = Studio.objects.get()
    written = files_for(notebook_of(studio, at=NOW))

    for page in PAGES:
        answer = put(client, page.name, before[page.name])
        assert (answer.status_code, answer.json()["new"], answer.json()["changed"]) == (200, {}, {})

    assert files_for(notebook_of(studio, at=NOW)) == written


@pytest.mark.usefixtures("yard")
def test_a_page_is_a_file_with_a_name_and_is_not_sent_twice(client: Client) -> None:
    answer = client.get(FILE.format("cold_places"))

    assert answer["Content-Type"] == "text/csv; charset=utf-8; header=present"
    assert answer["Content-Disposition"] == 'attachment; filename="cold_places.csv"'
    assert answer.content.endswith(b"\r\n")
    again = client.get(FILE.format("cold_places"), headers={"if-none-match": answer["ETag"]})
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.usefixtures("yard")
def test_what_is_wrong_is_said_by_line_and_column(client: Client) -> None:
    answer = put(client, "rings", "ring,power,not for\nR3,2 kW,P99\nR4,hot,\n")

    assert (answer.status_code, answer["Content-Type"]) == (422, "application/problem+json")
    assert answer.json()["code"] == "notebook_refused"
    assert answer.json()["detail"] == (
        "Nothing was loaded: 2 things to put right in the notebook first."
    )
    assert answer.json()["problems"][0] == {
        "file": "rings.csv", "line": 2, "column": "not for", "stands": "P99",
        "write": "vessels.csv has no P99. Add it to vessels.csv, or correct it.",
    }  # fmt: skip
    assert b"R3" not in out(client, "rings")


@pytest.mark.usefixtures("yard")
def test_a_dry_run_keeps_nothing(client: Client) -> None:
    rings = "ring;power\nR3;2 kW\n"

    said = put(client, "rings", rings, asked="dry_run=1").json()
    assert (said["dry_run"], said["new"]) == (True, {"rings": 1})
    assert put(client, "rings", rings, asked="dry_run=yes").status_code == 400
    assert put(client, "rings", rings).json()["new"] == {"rings": 1}
    assert put(client, "rings", rings).json()["new"] == {}


@pytest.mark.usefixtures("yard")
def test_bodies_that_are_no_page_are_refused_in_a_sentence(client: Client) -> None:
    assert put(client, "rings", b"").json()["code"] == "file_missing"
    large = put(client, "rings", b"x" * 8_000_001)
    assert (large.status_code, large.json()["code"]) == (413, "body_too_large")
    wrong = client.put(FILE.format("rings"), {}, content_type="application/json")
    assert wrong.status_code == 415
    for raw in (b"\xff\xfe\x00", b"\x00", b"ring,power\n\xed\xa0\x80,1 kW\n", b'"'):
        assert put(client, "rings", raw).status_code == 422


def test_pages_are_read_by_lookers_on_and_written_by_dyers(client: Client, yard: Studio) -> None:
    for right, rings, sites in (
        (Right.LOOKER_ON, 403, 403),
        (Right.DYER, 200, 403),
        (Right.OWNER, 200, 200),
    ):
        who = {"authorization": bearer(member(yard, right, f"{right}@pellitory.example"))}
        assert client.get(FILE.format("rules"), headers=who).status_code == 200
        people = 200 if right == Right.OWNER else 403
        assert client.get(FILE.format("reminders"), headers=who).status_code == people
        assert client.get("/api/v1/notebook/stops/", headers=who).status_code == people
        assert put(client, "rings", "ring,power\n", headers=who).status_code == rings
        assert put(client, "sites", "site\nshed\n", headers=who).status_code == sites


def cells_of(raw: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(raw.decode(), newline="")))


@pytest.mark.parametrize("text", FORMULAS)
def test_no_cell_begins_as_a_formula_and_each_comes_in_the_same(text: str) -> None:
    cell = as_cell(plain(text))
    sheet, problems = read_sheet(
        "x.csv", f'note\r\n"{cell.replace(chr(34), chr(34) * 2)}"\r\n'.encode(),
        known=["note"], most_rows=9,
    )  # fmt: skip

    assert problems == []
    assert sheet.lines[0].cells == (plain(text),)
    assert not cell.startswith(("=", "@", "\t", "\r", "＝"))


SIGNS = st.one_of(
    st.sampled_from("=+-@'\t\r\n,;\"  1a\u00a0\u200d"), st.characters(exclude_categories=["Cs"])
)
NOTES = st.text(SIGNS, min_size=1, max_size=30).filter(lambda text: bool(plain(text)))


@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
@given(text=NOTES)
def test_any_words_of_a_note_go_out_and_come_in_the_same(yard: Studio, text: str) -> None:
    client = Client()
    source = Source.objects.of(yard).order_by("name").first()
    assert source is not None
    Source.objects.of(yard).filter(pk=source.pk).update(note=text.replace("\x00", ""))

    raw = out(client, "sources")
    note = next(row for row in cells_of(raw) if row[0] == source.name)[-1]
    assert not note.startswith(("=", "@", "\t", "\r", "\n"))
    answer = put(client, "sources", raw)
    assert (answer.status_code, answer.json().get("changed")) == (200, {}), answer.content
    assert out(client, "sources") == raw


def test_a_reason_that_looks_like_a_formula_is_inert(client: Client, yard: Studio) -> None:
    for reason in ("=smells odd", "@home"):
        lots.set_aside(yard, entry=uuid4(), at=NOW, lot="NE-0620", reason=reason)
        assert f",'{reason},".encode() in out(client, "lots")
        assert put(client, "lots", out(client, "lots")).json()["changed"] == {}
