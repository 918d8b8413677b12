"""*Today* leads to the bath that is to be kept, from the dyeing on, and no more once it is."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.test import Client

from inventory.models import Studio
from sourcing.kept_baths import keep_bath
from sourcing.notebook.load import load_files
from sourcing.steps import begin_run
from tests.api.web.pages import read, sound
from tests.sourcing.test_second_bath import haze_yard
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.django_db
KEEP = "/note/keep-bath/?run=A"


@pytest.fixture
def studio() -> Studio:
    files = haze_yard()
    own = [row for row in files["gates.csv"].decode().splitlines() if row.startswith("A,")]
    gates = files["gates.csv"].decode() + "".join(f"H{row[1:]}\n" for row in own)
    run = b"H,haze,wool,250 g,W-88,Fri 11 Dec 2026 18:00,,,yes,,,no,\n"
    load_files({**files, "runs.csv": files["runs.csv"] + run, "gates.csv": gates.encode()})
    found = Studio.objects.get()
    begin_run(found, entry=uuid4(), at=nov(23, 8), run="H")
    return found


def leads(client: Client, at: str) -> list[str]:
    page = client.get("/today/", {"at": at})
    assert sound(page) == []
    ways = read(page).query("article.today-step a.today-way")
    return [str((way.attrs or {})["href"]) for way in ways]


def test_it_leads_to_the_form_of_the_bath_from_the_dyeing_on(
    client: Client, studio: Studio
) -> None:
    assert all(not way.startswith(KEEP) for way in leads(client, "2026-11-23T09:00"))
    assert any(way.startswith(KEEP) for way in leads(client, "2026-11-24T12:15"))


def test_nothing_leads_there_once_it_is_kept(client: Client, studio: Studio) -> None:
    keep_bath(studio, entry=uuid4(), at=nov(24, 12), run="A", volume=55_000_000, temperature_c=8)

    assert all(not way.startswith(KEEP) for way in leads(client, "2026-11-24T12:15"))
