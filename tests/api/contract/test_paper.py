"""The contract is what the addresses say, is served as committed, and costs no page anything."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest
from django.test import Client

from api.contract.paper import COMMITTED, paper, text_of

UNUSED = "import api.urls, sys; print([name for name in sys.modules if 'drf_spectacular' in name])"


@pytest.fixture(scope="module")
def written() -> dict[str, Any]:
    return paper()


def test_the_contract_is_committed_as_the_addresses_say_it(written: dict[str, Any]) -> None:
    assert COMMITTED.read_text(encoding="utf-8") == text_of(written), (
        "python3 manage.py contract --write"
    )


@pytest.mark.django_db
def test_the_contract_is_served_as_it_is_committed_to_whoever_asks() -> None:
    answer = Client().get("/api/v1/schema.json")
    again = Client().get("/api/v1/schema.json", headers={"if-none-match": answer["ETag"]})

    assert answer.json() == json.loads(COMMITTED.read_text(encoding="utf-8"))
    assert again.status_code == 304


@pytest.mark.django_db
def test_the_contract_is_asked_for_without_a_word() -> None:
    answer = Client().get("/api/v1/schema.json?at=now")

    assert answer.status_code == 400
    assert answer.json()["detail"] == (
        "The contract is the same whatever is asked; leave “at” out."
    )


def test_the_contract_names_no_host_and_no_machine(written: dict[str, Any]) -> None:
    text = text_of(written)

    assert written["servers"] == [{"url": "/"}]
    assert "127.0.0.1" not in text
    assert "localhost" not in text


def test_no_page_pays_for_what_writes_the_contract() -> None:
    start = f"import os, django; os.environ['DJANGO_SETTINGS_MODULE'] = 'api.settings'; {UNUSED}"
    start = start.replace("import api.urls", "django.setup(); import api.urls", 1)

    done = subprocess.run([sys.executable, "-c", start], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"
