"""A whole studio by the door: it leaves, comes elsewhere, and the week is the same there."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.http import HttpResponse
from django.test import Client

from api.models import Membership
from api.rights import Right
from inventory import ledger
from inventory.models import Studio
from sourcing.notebook.one_page import page_of
from sourcing.notebook.yard_pages import BY_NAME
from tests.api.members import account, bearer, member, signed_in
from tests.inventory.scratch import python, scratch_database
from tests.loaded import load_fixture
from tests.sourcing.notebook.test_bundle import zipped
from tests.sourcing.notebook.test_one_page import NOW

pytestmark = pytest.mark.django_db
WHOLE = "/api/v1/notebook.zip"
AT = "2026-11-24T10:00"
WASH_HOUSE = b"studio,zone\nWash House,Europe/London\n"
SCRIPT = Path(__file__).with_name("whole.py")


@pytest.fixture
def yard() -> Studio:
    load_fixture()
    studio = Studio.objects.get()
    ledger.draw(studio, entry=uuid4(), at=NOW, takes=[("AV-0911", 123_457), ("alum", 1)])
    return studio


def out(client: Client, **asked: str) -> bytes:
    answer = client.get(WHOLE, asked)
    assert answer.status_code == 200, answer.content
    content: bytes = answer.getvalue()
    return content


def status_of(client: Client, address: str = WHOLE, **more: Any) -> int:
    """How a way out is answered; read to its end, so that its file is let go."""
    answer = client.get(address, **more)
    assert answer.getvalue()
    status: int = answer.status_code
    return status


def bring(client: Client, raw: bytes, *, asked: str = "", **more: Any) -> Any:
    answer: HttpResponse = client.post(
        f"{WHOLE}?{asked}", raw, content_type="application/zip", **more
    )
    return answer


def test_a_studio_leaves_and_its_week_is_the_same_elsewhere(
    client: Client, yard: Studio, tmp_path: Path
) -> None:
    file = tmp_path / "yard.zip"
    file.write_bytes(out(client))
    before = client.get("/api/v1/week/", {"at": AT}).json()

    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    with scratch_database(elsewhere) as environment:
        said = json.loads(python(environment, str(SCRIPT), str(file), AT))

    assert said["brought"] == 201
    assert said["week"] == json.loads(json.dumps(before))


def test_the_file_has_a_name_and_is_not_kept_on_the_way(client: Client, yard: Studio) -> None:
    answer = client.get(WHOLE, {"at": AT}, headers={"accept-encoding": "gzip"})

    assert answer["Content-Disposition"] == 'attachment; filename="Pellitory Yard 2026-11-24.zip"'
    assert (answer["Content-Type"], answer["Cache-Control"]) == ("application/zip", "no-store")
    assert int(answer["Content-Length"]) == len(answer.getvalue())
    assert "Content-Encoding" not in answer


def test_ones_own_studio_brought_in_again_is_not_changed(client: Client, yard: Studio) -> None:
    raw = out(client)

    again = bring(client, raw)
    assert (again.status_code, again.json()["new"], again.json()["changed"]) == (200, {}, {})
    with zipfile.ZipFile(io.BytesIO(raw)) as bundle:
        pages = {name: bundle.read(name) for name in bundle.namelist() if "notebook/" in name}
    rings = pages["notebook/rings.csv"].replace(b"3.5 kW", b"4 kW")
    changed = bring(client, zipped(*pages.items(), ("rings.csv", rings)))
    assert changed.json()["code"] == "bundle_refused"  # the page is there twice
    changed = bring(client, zipped(*{**pages, "notebook/rings.csv": rings}.items()))
    assert changed.json()["changed"] == {"rings": 1}
    assert b"4 kW" in page_of(yard, BY_NAME["rings"], at=NOW)


def test_what_is_wrong_is_said_and_nothing_is_kept(client: Client) -> None:
    bad = zipped(("studio.csv", WASH_HOUSE), ("rings.csv", b"ring,power\nR1,hot\n"))
    answer = bring(client, bad)

    assert (answer.status_code, answer.json()["code"]) == (422, "notebook_refused")
    assert (answer.json()["problems"][0]["file"], Studio.objects.count()) == ("rings.csv", 0)
    good = zipped(("studio.csv", WASH_HOUSE))
    assert bring(client, good, asked="dry_run=1").json()["new"] == {"studio": 1}
    assert Studio.objects.count() == 0
    assert bring(client, zipped(("rings.csv", b"ring,power\n"))).status_code == 422
    assert bring(client, b"PK").json()["code"] == "bundle_refused"
    assert bring(client, b"").json()["code"] == "file_missing"
    wrong = client.post(WHOLE, {}, content_type="application/json")
    assert wrong.status_code == 415


def test_whoever_brings_a_studio_in_owns_it(client: Client) -> None:
    who = account("bo@pellitory.example")
    client.force_login(who)
    raw = zipped(("studio.csv", WASH_HOUSE), ("rings.csv", b"ring,power\nR1,2 kW\n"))

    assert bring(client, raw, asked="dry_run=1").status_code == 200
    assert (Studio.objects.count(), Membership.everywhere().count()) == (0, 0)
    assert bring(client, raw).status_code == 201
    row = Membership.everywhere().select_related("studio").get()
    assert (row.account_id, row.studio.name, row.right) == (who.pk, "Wash House", "owner")
    assert bring(client, raw).status_code == 200


def test_only_an_owner_takes_a_studio_away_or_brings_it_in(client: Client, yard: Studio) -> None:
    raw = zipped(("studio.csv", page_of(yard, BY_NAME["studio"], at=NOW)))
    other = Studio.objects.create(name="Wash House", zone="Europe/London")
    elsewhere = {"authorization": bearer(member(other, email="cy@pellitory.example"))}

    for right, status in ((Right.LOOKER_ON, 403), (Right.DYER, 403), (Right.OWNER, 200)):
        who = {"authorization": bearer(member(yard, right, f"{right}@pellitory.example"))}
        assert status_of(client, headers=who) == status
        assert bring(client, raw, headers=who).status_code == status
    reads = bearer(member(yard, email="di@pellitory.example"), reads_only=True)
    assert bring(client, raw, headers={"authorization": reads}).json()["code"] == "token_reads_only"
    assert bring(client, raw, headers=elsewhere).json()["code"] == "person_needed"
    assert status_of(client, f"{WHOLE}?studio=Pellitory+Yard", headers=elsewhere) == 404
    assert bring(client, raw).status_code == status_of(client) == 401
    stranger = signed_in(member(other, email="ed@pellitory.example"))
    assert bring(stranger, raw).json()["code"] == "studio_taken"
