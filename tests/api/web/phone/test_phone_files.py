"""What a phone is given: a script and a worker under rules of their own, a name, some pages."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.test import Client

from api.web.phone import scripts
from inventory.models import Studio
from tests.api.told import told
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import load


@pytest.fixture
def yard(db: None) -> Studio:
    load()
    return Studio.objects.get(name="Pellitory Yard")


def status_of(client: Client, address: str) -> int:
    answer = client.get(address)
    assert told(answer)
    return answer.status_code


def test_the_script_is_kept_for_ever_under_the_name_of_its_content(client: Client) -> None:
    named = client.get(scripts.page_script_address())
    former = client.get("/script/larder.0123456789ab.js")

    assert named.headers["Cache-Control"] == "public, max-age=31536000, immutable"
    assert former.headers["Cache-Control"] == "no-cache"
    assert named.content == former.content


def test_the_worker_is_looked_at_again_and_names_what_it_lays_in_first(client: Client) -> None:
    answer = client.get("/worker.js")

    assert answer.headers["Cache-Control"] == "no-cache"
    assert answer.headers["Content-Type"].startswith("text/javascript")
    first = re.findall(r'"([^"]+)"', answer.content.decode().splitlines()[0])
    assert "/no-signal/" in first
    assert scripts.page_script_address() in first
    assert {status_of(client, name) for name in first} == {200}


def test_a_change_in_any_script_makes_another_worker(monkeypatch: pytest.MonkeyPatch) -> None:
    before = scripts.worker_script()
    parts = ("keeping", "sending", "carrying")
    monkeypatch.setattr(scripts, "OF_THE_WORKER", parts)
    scripts.worker_script.cache_clear()

    after = scripts.worker_script()

    scripts.worker_script.cache_clear()
    assert before.splitlines()[1] != after.splitlines()[1]


def test_the_scripts_hold_no_address_and_no_code_made_from_text() -> None:
    text = scripts.page_script() + scripts.worker_script()

    assert re.findall(r"https?://|eval\(|new Function|innerHTML|document\.write", text) == []


def test_the_larder_is_called_by_its_name_with_pictures_that_are_there(client: Client) -> None:
    said = client.get("/larder.webmanifest").json()

    assert (said["name"], said["scope"], said["display"]) == ("Dye Larder", "/", "standalone")
    assert said["start_url"] == "/today/"
    assert {row["sizes"] for row in said["icons"]} == {"any", "192x192", "512x512"}
    for row in said["icons"]:
        assert status_of(client, row["src"]) == 200


@pytest.mark.parametrize("address", ["/no-signal/", "/trust/", "/note/kept/"])
def test_its_pages_are_sound(client: Client, yard: Studio, address: str) -> None:
    assert sound(client.get(address)) == []


def test_the_page_without_a_signal_says_nothing_of_a_studio(client: Client, yard: Studio) -> None:
    page = client.get("/no-signal/")

    assert "Pellitory" not in page.content.decode()
    assert "What you wrote down is still on this phone." in words(page)


def test_what_is_kept_is_drawn_by_the_phone_with_a_word_for_sending(
    client: Client, yard: Studio
) -> None:
    page = client.get("/note/kept/")

    (token,) = read(page).query("input[name=csrfmiddlewaretoken]")
    assert token.attrs is not None
    assert token.attrs["value"]
    assert "csrftoken" in page.cookies
    assert page.headers["Cache-Control"] == "no-cache"
    states = {"kept-waiting", "kept-refused", "kept-look", "kept-landed"}
    assert states <= {node.attrs["id"] for node in read(page).query("template[id]") if node.attrs}


def test_a_larder_without_https_gives_nothing_to_trust(
    client: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.conf.settings.STATE", tmp_path)

    assert "nothing to trust yet" in words(client.get("/trust/"))
    assert client.get("/trust/larder.crt").status_code == 404
