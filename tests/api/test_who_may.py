"""Who may do what: every address, with every method, asked by everybody who should not.

The addresses come from the address book, the least right from what views and verbs declare. An
address is private unless it stands in `OPEN`; one that writes and is no verb stands in `WRITES`,
or this fails.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote

import pytest
from django.apps import apps
from django.db import models, transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from django.utils import timezone
from pytest_django import DjangoDbBlocker

from api.entries.registry import VERBS
from api.models import Membership
from api.rest.records import RecordsView
from api.rights import Right
from api.tokens import make_token
from inventory.models import Studio
from inventory.models.scope import OfStudio
from sourcing.models import Source
from tests.api.contract.forms import contract
from tests.api.members import bearer, member
from tests.api.records.full import full_yard
from tests.api.told import told
from tests.api.web.yard import load

METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE")
READING = ("GET", "HEAD")
# Open to everyone, each with why.
OPEN = {
    "api/": "how programs ask, the same for all",
    "problems/": "what a problem means, the same for all",
    "problems/<slug:slug>/": "likewise",
    "no-signal/": "says that there is no signal, the same for all",
    "trust/": "how a phone trusts this larder, wanted before one can sign in",
    "trust/larder.crt": "what it is to trust, which is no secret",
    "worker.js": "the same script for all, fetched without a cookie too",
    "script/larder.<slug:mark>.js": "likewise",
    "style/<slug:names>.<slug:mark>.css": "how every page looks, the same for all",
    "larder.webmanifest": "what the larder is called, the same for all",
    "stop/<str:token>/": "its reader has no account; the token in it is the key",
    "calendar/<str:token>.ics": "a calendar program has no account; the token in it is the key",
    "saved/<str:token>/": "a source has no account; the token in it is the key to one page",
    "saved/by/<str:mark>/": "likewise; the cookie that the token was traded for is the key",
    "api/v1/schema.json": "the contract, wanted before one has a token",
    "api/v1/notebook/": "which pages a notebook has, the same for all",
    "language/": "whoever cannot read the way in; what it changes for a studio wants an owner",
    "sign-in/": "the way in",
    "sign-out/": "the way out, and nothing else",
    "join/<str:token>/": "whoever was invited has no account yet; the token in it is the key",
    "password/forgotten/": "whoever cannot sign in",
    "password/new/<str:token>/": "likewise; the token in it is the key",
}
# About whoever asks, whichever studios they belong to.
OF_ONESELF = {"account/", "password/", "api/v1/me/", "api/v1/studios/"}
# Reading that takes more than to belong to the studio.
READS = {
    "api/v1/members/<int:member>/": Right.OWNER,  # but for oneself
    "note/": Right.HELPER,
    "note/waiting/": Right.HELPER,
    "note/carried/": Right.HELPER,  # and each form by the right of its verb
    "note/looks/": Right.HELPER,
    "note/looks/<uuid:entry>/": Right.HELPER,
    "note/<slug:verb>/": Right.HELPER,  # and each form by the right of its verb
    "sources/<int:source>/links/": Right.DYER,
}
# Operations that write and are no verb: the least right of somebody who may.
WRITES = {
    ("POST", "api/v1/entries/"): Right.HELPER,  # and each entry by the right of its verb
    ("POST", "api/v1/entries/<uuid:entry>/settle/"): Right.HELPER,
    ("POST", "api/v1/week/"): Right.LOOKER_ON,  # a what-if, which keeps nothing
    ("POST", "api/v1/studios/"): Right.LOOKER_ON,  # a second studio of one's own
    ("POST", "api/v1/tokens/"): Right.LOOKER_ON,  # never of more right than oneself
    ("DELETE", "api/v1/tokens/<int:token>/"): Right.LOOKER_ON,  # one's own
    ("PATCH", "api/v1/members/<int:member>/"): Right.OWNER,
    ("DELETE", "api/v1/members/<int:member>/"): Right.OWNER,  # but for leaving oneself
    ("POST", "api/v1/another-week/"): Right.DYER,
    ("DELETE", "api/v1/another-week/<uuid:search>/"): Right.DYER,
    ("POST", "api/v1/invitations/"): Right.OWNER,
    ("DELETE", "api/v1/invitations/<int:invitation>/"): Right.OWNER,
    ("POST", "api/v1/notebook.zip"): Right.OWNER,
    ("PUT", "api/v1/notebook/<str:page>.csv"): Right.DYER,
    ("PUT", "api/v1/notebook/<str:page>/<str:key>/"): Right.DYER,
    ("DELETE", "api/v1/notebook/<str:page>/<str:key>/"): Right.DYER,
}
ROOT = Path(__file__).resolve().parents[2]
A_PERSON = "api/v1/studios/"  # begins one; a token belongs to the one it was made for
KEEPS_NOTHING = {"api/v1/week/"}  # so that a token which only reads may ask it
# The studio is the one that the file names, so a file that cannot be read is refused before a right
# is asked for; tests/api/notebook/test_whole_studio.py has the rights.
BY_ITS_FILE = ("POST", "api/v1/notebook.zip")
REFUSED = {401, 403, 404, 405}
LONG = os.environ.get("DYE_LARDER_LONG") == "1"
SHORTEST_SECRET = 6


@dataclass(frozen=True)
class Asked:
    """One method of one address, with the keys of the studio that is asked about."""

    route: str
    method: str
    address: str
    form: str = "application/json"
    body: str = ""
    view: Any = None

    @property
    def is_for_programs(self) -> bool:
        return self.route.startswith("api/")

    @property
    def is_known(self) -> bool:
        """Whether the address knows the method at all."""
        if not self.is_for_programs:
            return self.method in ("GET", "HEAD")
        if self.method == "HEAD":
            return hasattr(self.view, "get")
        return hasattr(self.view, self.method.lower())

    @property
    def least(self) -> Right:
        """The least right of somebody who may."""
        view = self.view
        if self.method in READING or not self.is_known:
            least = Right(getattr(view, "least", Right.LOOKER_ON))
            return READS.get(self.route, least)
        if (verb := getattr(view, "verb", None)) is not None:
            return Right(verb.least)
        return WRITES[self.method, self.route]


@dataclass(frozen=True)
class Larder:
    """Two studios with all sorts of people, and what one must never learn of the other."""

    tokens: dict[str, str]
    keys: dict[str, str]
    secrets: tuple[str, ...]


@pytest.fixture(scope="module")
def larder(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Larder]:
    with django_db_blocker.unblock(), transaction.atomic():
        yard = full_yard()
        load("kelpwick-loft")
        loft = Studio.objects.get(name="Kelpwick Loft")
        people, keys = _people(yard, loft), _keys()
        yield Larder(people, keys, _secrets(yard, loft))
        transaction.set_rollback(True)


def _people(yard: Studio, loft: Studio) -> dict[str, str]:
    """Everybody by what they are, with what they send as their token."""
    now = timezone.now()
    rights = {str(right): member(yard, right, f"{right}@yard.example") for right in Right}
    found = {name: bearer(who) for name, who in rights.items()}
    found["reads only"] = bearer(rights["owner"], reads_only=True)
    found["owner of another studio"] = bearer(member(loft, Right.OWNER, "ida@loft.example"))
    gone = member(yard, Right.OWNER, "gone@yard.example")
    found["ended member"] = bearer(gone)
    type(gone).objects.of(yard).filter(pk=gone.pk).update(ended_at=now)
    _, old = make_token(rights["owner"], name="old", right=Right.OWNER,
                        at=now - timedelta(days=2), until=now - timedelta(days=1))  # fmt: skip
    return {**found, "expired token": f"Bearer {old}", "nobody": ""}


def _keys() -> dict[str, str]:
    """A key of the yard for each place in an address."""
    yard = Studio.objects.get(name="Pellitory Yard")
    source = str(Source.objects.of(yard)[0].pk)
    owner = Membership.objects.of(yard).get(right=Right.OWNER, ended_at=None).pk
    return {"step": "days",
            "source": source, "order": "1", "kind": "dyestuff", "slug": "weld", "verb": "dip",
            "entry": "018f3c1e-7c1a-7000-8000-5a1d0f4c2b11", "page": "rings", "key": "R1",
            "search": "018f3c1e-7c1a-7000-8000-5a1d0f4c2b77",
            "token": "1", "invitation": "1", "member": str(owner), "run": "A"}  # fmt: skip


def _secrets(yard: Studio, loft: Studio) -> tuple[str, ...]:
    """What stands in the text columns of one studio, and not in the other's or in our code."""
    known = " ".join([*_texts(loft), *(file.read_text() for file in _code())])
    return tuple(sorted(text for text in _texts(yard) if text not in known))


def _code() -> list[Path]:
    """Our words and tables; what stands there is no secret of anybody's."""
    floors = (ROOT / floor for floor in ("api", "sourcing", "inventory"))
    files = [file for floor in floors for file in floor.rglob("*")]
    return [file for file in files if file.suffix in (".py", ".html", ".csv")]


def _texts(studio: Studio) -> set[str]:
    found: set[str] = set()
    for model in apps.get_models():
        if not issubclass(model, OfStudio):
            continue
        for field in model._meta.concrete_fields:
            if isinstance(field, models.CharField | models.TextField) and not field.choices:
                found.update(model.objects.of(studio).values_list(field.name, flat=True))
    return {text for text in found if isinstance(text, str) and len(text) >= SHORTEST_SECRET}


def routes(patterns: Any = None, before: str = "") -> Iterator[tuple[str, Any]]:
    """Every address of the book with what answers it."""
    for each in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(each, URLResolver):
            yield from routes(each.url_patterns, before + str(each.pattern))
        elif isinstance(each, URLPattern):
            yield before + str(each.pattern), getattr(each.callback, "view_class", None)


def asked(larder: Larder, *methods: str) -> list[Asked]:
    """Every private address with each of the methods."""
    return [
        Asked(route, method, _address(route, larder.keys), *_body(_path(route), method), view)
        for route, view in routes()
        if route not in OPEN
        for method in methods
    ]


def _address(route: str, keys: dict[str, str]) -> str:
    """An address with a key of the yard in each of its places."""
    address = "/" + route.replace("<path:key>", _key_of(_path(route)))
    for place, name in re.findall(r"(<\w+:(\w+)>)", address):
        address = address.replace(place, keys[name])
    return address


def _path(route: str) -> str:
    """A route as the contract writes it."""
    return "/" + re.sub(r"<\w+:(\w+)>", r"{\1}", route)


def _operation(path: str, method: str) -> dict[str, Any]:
    found: dict[str, Any] = contract()["paths"].get(path, {}).get(method.lower(), {})
    return found


def _key_of(path: str) -> str:
    """The key that the contract shows for a record."""
    for word in _operation(path, "GET").get("parameters", ()):
        if word.get("name") == "key":
            return quote(str(next(iter(word["examples"].values()))["value"]), safe="")
    return ""


def _body(path: str, method: str) -> tuple[str, str]:
    """The form of a body and the body, as the contract shows them."""
    for form, said in _operation(path, method).get("requestBody", {}).get("content", {}).items():
        example = next(iter(said["examples"].values()))["value"]
        return form, example if isinstance(example, str) else json.dumps(example)
    return "application/json", ""


def answer_to(what: Asked, token: str, *, query: str = "") -> Any:
    """The answer, with nothing kept of what it did."""
    headers = {"authorization": token} if token else {}
    with transaction.atomic():
        answer = Client(raise_request_exception=False).generic(
            what.method, what.address + query, what.body, headers=headers,
            content_type=what.form,
        )  # fmt: skip
        transaction.set_rollback(True)
    answer.told = told(answer)
    return answer


def turned_away(what: Asked, answer: Any) -> bool:
    """A refusal; of a page also the way to the page where one signs in."""
    to_sign_in = answer.status_code == 303 and answer["Location"].startswith("/sign-in/")
    return answer.status_code in REFUSED or (not what.is_for_programs and to_sign_in)


pytestmark = pytest.mark.usefixtures("db")


@pytest.mark.parametrize("who", ["nobody", "ended member", "expired token"])
def test_whoever_is_not_let_in_gets_nothing_from_any_private_address(
    larder: Larder, who: str
) -> None:
    for what in asked(larder, *METHODS):
        # To a method that an address does not know all are alike; the long profile asks them all.
        if who != "nobody" and not what.is_known and not LONG:
            continue

        answer = answer_to(what, larder.tokens[who])

        assert turned_away(what, answer), (what, answer.status_code)
        if what.is_for_programs and what.is_known:
            assert answer.status_code == 401, what
            assert "Bearer" in answer["WWW-Authenticate"], what
        assert learned(larder, what, answer) == [], what


def test_the_owner_of_another_studio_is_told_that_there_is_none(larder: Larder) -> None:
    for what in asked(larder, *METHODS):
        if not what.is_known and not LONG:
            continue
        token = larder.tokens["owner of another studio"]

        answer = answer_to(what, token, query="?studio=Pellitory Yard")

        if what.route not in OF_ONESELF and (what.method, what.route) != BY_ITS_FILE:
            assert answer.status_code in (REFUSED if not what.is_known else {404}), what
        assert learned(larder, what, answer) == [], what


def test_keys_of_another_studio_lead_nowhere(larder: Larder) -> None:
    at = "?at=2026-11-24T12:00"
    for what in asked(larder, *(METHODS if LONG else ("GET", "POST", "DELETE"))):
        if not what.is_known and not LONG:
            continue
        token, query = larder.tokens["owner of another studio"], at if "at" in words(what) else ""

        answer = answer_to(what, token, query=query)

        assert answer.status_code < 500, what
        assert learned(larder, what, answer) == [], what


@pytest.mark.parametrize("right", list(Right))
def test_a_right_lets_do_what_it_covers_and_nothing_else(larder: Larder, right: Right) -> None:
    for what in asked(larder, *METHODS):
        may = right.covers(what.least)
        # That more right does no less is asked of all in the long profile.
        if (what.method, what.route) == BY_ITS_FILE:
            continue
        if not what.is_known or (may and right != what.least and not LONG):
            continue

        if what.route == "api/v1/tokens/":  # A token for no more than one may oneself.
            what = replace(what, body=what.body.replace('"helper"', f'"{right}"'))

        answer = answer_to(what, larder.tokens[right])

        if what.route == A_PERSON:
            assert answer.json()["code"] == "person_needed"
        elif may:
            assert answer.status_code not in (401, 403, 405), (what, answer)
            assert answer.status_code < 500, what
        else:
            assert answer.status_code == 403, (what, answer)


def test_a_token_that_only_reads_writes_nothing(larder: Larder) -> None:
    for what in asked(larder, "POST", "PUT", "PATCH", "DELETE"):
        if (what.method, what.route) == BY_ITS_FILE:
            continue
        if what.is_known and what.route not in KEEPS_NOTHING:
            answer = answer_to(what, larder.tokens["reads only"])

            assert answer.status_code == 403, (what, answer)
            assert answer.json()["code"] in ("token_reads_only", "person_needed")


def test_what_an_address_knows_is_said_without_a_word_about_the_studio(larder: Larder) -> None:
    for what in asked(larder, "OPTIONS"):
        answer = answer_to(what, larder.tokens["nobody"])

        assert (answer.status_code, answer.content) == (204, b""), what


def test_every_operation_that_writes_says_whose_right_it_takes(larder: Larder) -> None:
    writing = [
        what
        for what in asked(larder, "POST", "PUT", "PATCH", "DELETE")
        if what.is_for_programs and what.is_known and not hasattr(what.view, "verb")
    ]

    assert {(what.method, what.route) for what in writing} == set(WRITES)
    assert {route for route, _ in routes()} >= set(OPEN)
    assert len(VERBS) == sum(hasattr(view, "verb") for _, view in routes())


def test_there_is_much_to_be_kept_from_others(larder: Larder) -> None:
    lists = [what for what in asked(larder, "GET") if issubclass(what.view or object, RecordsView)]

    shown = {
        secret
        for what in lists
        for secret in learned(larder, what, answer_to(what, larder.tokens["owner"]))
    }

    assert len(lists) > 40
    assert len(shown) > 30


def words(what: Asked) -> set[str]:
    """The words that an address of programs knows; a page knows the moment."""
    if not what.is_for_programs:
        return {"at"}
    said = _operation(_path(what.route), what.method).get("parameters", ())
    return {word.get("name") or word["$ref"].rpartition("/")[2] for word in said}


def learned(larder: Larder, what: Asked, answer: Any) -> list[str]:
    """What an answer tells of the yard that was not in the question."""
    told, said = answer.told.decode(errors="replace"), unquote(what.address)
    return [secret for secret in larder.secrets if secret in told and secret not in said]
