"""Every example of the contract, sent as it stands to the demo studio, is accepted.

The verbs have theirs in tests/api/entries/test_examples.py, one after the other.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Any
from urllib.parse import quote, urlencode
from uuid import uuid4

import pytest
from django.db import transaction
from django.test import Client
from django.utils import timezone
from pytest_django import DjangoDbBlocker

from api.models import Membership
from api.models.invitations import Invitation
from api.rights import Right
from api.seeking.asked import ask_seek
from api.tokens import make_token
from tests.api.contract.forms import Found, contract, operations
from tests.api.members import member, signed_in
from tests.api.records.full import full_yard
from tests.api.told import told

ZIP = "application/zip"
ENTRIES = "/api/v1/entries/"
ROWS = [row for row in operations() if not row.name.startswith("enter_")]
# What has to have happened before an example can mean anything.
DIPPED = {"verb": "dip", "jar": "J2", "grade": 4}
TOO_MUCH = {"verb": "draw", "takes": [{"lot": "AV-1116", "amount": "90 kg"}]}
BEFORE = {"entry": DIPPED, "settle_entry": TOO_MUCH}
OF_ENTRY = "018f3c1e-7c1a-7000-8000-5a1d0f4c2b11"
WEEK = timedelta(days=7)
THEN = "2026-11-24T12:00:00+00:00"


@dataclass(frozen=True)
class Guarded:
    """A studio with an owner, somebody else, and what stands in the addresses about them."""

    owner: Membership
    keys: dict[str, str]


@pytest.fixture(scope="module")
def guarded(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Guarded]:
    now = timezone.now()
    with django_db_blocker.unblock(), transaction.atomic():
        studio = full_yard()
        owner, other = member(studio), member(studio, Right.HELPER, "bea@pellitory.example")
        token, _ = make_token(other, name="scale", right=Right.HELPER, at=now, until=now + WEEK)
        invitation = Invitation.objects.of(studio).create(
            email="dot@pellitory.example", right=Right.DYER, made_by=owner, digest="0" * 64,
            made_at=now, expires_at=now + WEEK,
        )  # fmt: skip
        search = ask_seek(studio, entry=uuid4(), at=now, days=7)
        keys = {"member": other.pk, "token": token.pk, "invitation": invitation.pk,
                "search": search.entry}  # fmt: skip
        yield Guarded(owner, {"entry": OF_ENTRY, **{name: str(key) for name, key in keys.items()}})
        transaction.set_rollback(True)


@pytest.mark.parametrize("row", ROWS, ids=[f"{row.method} {row.path}" for row in ROWS])
@pytest.mark.usefixtures("db")
def test_an_example_is_accepted_as_it_stands(row: Found, guarded: Guarded) -> None:
    client = signed_in(guarded.owner)
    if row.name in BEFORE:
        entry = {"id": OF_ENTRY, "occurred_at": THEN, **BEFORE[row.name]}
        client.post(ENTRIES, {"entries": [entry]}, content_type="application/json")

    answer = sent(row, client, guarded.keys)

    assert 200 <= answer.status_code < 300, answer
    assert str(answer.status_code) in row.said["responses"]


def sent(row: Found, client: Client, keys: dict[str, str]) -> Any:
    """The answer to an operation, asked as its examples show it."""
    address = path_of(row, client, keys)
    asked, headers = {}, {}
    for each in row.said.get("parameters", ()):
        word = shown(each)
        example = next(iter(word.get("examples", {}).values()), {}).get("value")
        if word["name"] == "If-Match":
            headers["If-Match"] = client.get(address)["ETag"]
        elif word["in"] == "query" and example is not None:
            asked[word["name"]] = example
    address = f"{address}?{urlencode(asked)}"
    media, body = body_of(row)
    if media == ZIP:  # The example tells of bytes; here are some.
        body = told(client.get("/api/v1/notebook.zip"))
    kind = {} if media is None else {"content_type": media}
    answer = client.generic(row.method.upper(), address, body, headers=headers, **kind)
    told(answer)
    return answer


def path_of(row: Found, client: Client, keys: dict[str, str]) -> str:
    """The address of an operation; a record is the first of its list, as the link there says."""
    if "{key}" not in row.path or row.said["tags"] == ["notebook"]:
        named = {"page": "rings", "key": "R1", **keys}
        if row.name == "delete_notebook_row":  # R1 is named by other rows, and has to stay.
            ring = "ring,power\r\nR3,2 kW\r\n"
            client.put("/api/v1/notebook/rings.csv", ring, content_type="text/csv")
            named["key"] = "R3"
        return row.path.format_map(named)
    above = row.path.removesuffix("{key}/")
    said = contract()["paths"][above]["get"]["responses"]["200"]
    found: Any = client.get(above).json()
    link = said["links"]["one"]
    assert link["operationId"] == row.name
    for step in link["parameters"]["key"].removeprefix("$response.body#/").split("/"):
        found = found[int(step)] if isinstance(found, list) else found[step]
    return f"{above}{quote(str(found), safe='')}/"


def shown(word: dict[str, Any]) -> dict[str, Any]:
    """A word in full."""
    if "$ref" not in word:
        return word
    found: dict[str, Any] = contract()["components"]["parameters"][word["$ref"].split("/")[-1]]
    return found


def body_of(row: Found) -> tuple[str | None, str | bytes]:
    """What an operation is sent: its form, and the example."""
    for media, said in row.said.get("requestBody", {}).get("content", {}).items():
        example = next(iter(said["examples"].values()))["value"]
        if row.name == "make_token":  # Good until a day that is still to come.
            example = {**example, "expires_at": (timezone.now() + WEEK).isoformat()}
        return media, example if isinstance(example, str) else json.dumps(example)
    return None, b""
