"""Whatever an address asks, the answer is 200 or a sentence below 500, and nothing is written."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver

from api.urls import urlpatterns
from inventory.audit import audit
from sourcing.notebook.load import load_files
from tests.faults.verbs import rows
from tests.once import once
from tests.sourcing.notebook.desk import yard_files

HOST = {"host": "127.0.0.1"}
# Those that take a form; tests/api/accounts and tests/api/web/note ask them.
FORMS = {"account", "forgotten", "password", "sign-in", "sign-out", "note-waiting", "language"}
# Those that are asked like any page, and also take a form that writes on the shelves.
ALSO_FORMS = {"/another/", "/ask/", "/begin/", "/new-recipe/", "/recipes/"}
# Those about accounts, which no moment is named to; tests/api/rest/test_accounts_json.py asks them.
OF_ACCOUNTS = ("me/", "studios/", "tokens/", "members/", "invitations/")
PLAIN = [
    f"/{pattern.pattern}"
    for pattern in urlpatterns
    if isinstance(pattern, URLPattern)
    and "<" not in str(pattern.pattern)
    and pattern.name not in FORMS
    and not str(pattern.pattern).startswith(tuple(f"api/v1/{name}" for name in OF_ACCOUNTS))
]
# The lists of records; they are asked with words of their own, see tests/api/records.
RECORDS = [
    f"/{under.pattern}{pattern.pattern}"
    for under in urlpatterns
    if isinstance(under, URLResolver)
    for pattern in under.url_patterns
    if "<" not in str(pattern.pattern)
]
# Where something is entered, or a whole studio brought in; these take a body and are tested with
# what they record.
TAKING = ("/api/v1/entries/", "/api/v1/notebook.zip")
ENTRIES = [address for address in PLAIN if address.startswith(TAKING)]
# Every address that needs nothing but a question; one that is added is asked the same.
ADDRESSES = [address for address in PLAIN if address not in ENTRIES]
# Those that are the same for every studio and at any moment; a word too many is refused here too.
ASKED_NOTHING = {
    "/api/v1/notebook/",
    "/api/v1/schema.json",
    "/api/",
    "/problems/",
    "/no-signal/",
    "/worker.js",
    "/trust/",
    "/trust/larder.crt",
    "/larder.webmanifest",
}
QUESTIONS = [address for address in ADDRESSES if address not in ASKED_NOTHING]
ADDRESSES += RECORDS
WEEK = "/api/v1/week/"
ALSO_ASKED = {WEEK, "/api/v1/another-week/"}
MOMENT = (
    "Write day and time such as 2026-11-23T07:30, by the studio's clock, or with an offset such "
    "as 2026-11-23T07:30+00:00."
)
SKIPPED = (
    "There is no 01:30 on Sun 29 Mar 2026 in Europe/London: the clocks go forward over it. "
    "Give an earlier or a later time."
)
TWICE = (
    "01:30 on Sun 25 Oct 2026 comes twice in Europe/London: the clocks go back. "
    "Say which with its offset: 2026-10-25T01:30+01:00 or 2026-10-25T01:30+00:00."
)
NO_DAYS = "is no number of days. Write a whole number, 1 to 28."
HOLE = "\N{REPLACEMENT CHARACTER}"
ASKED = [
    ("at=lots", 400, f"“lots” is no moment. {MOMENT}"),
    ("at=2026-11-23", 400, f"“2026-11-23” is no moment. {MOMENT}"),
    ("at=2026-03-29T01:30", 400, SKIPPED),
    ("at=2026-10-25T01:30", 400, TWICE),
    ("at=%00", 400, f"“{HOLE}” is no moment. {MOMENT}"),
    ("at=%ED%A0%80", 400, f"“{HOLE * 3}” is no moment. {MOMENT}"),
    ("at", 400, f"“” is no moment. {MOMENT}"),
    ("at=" + "9" * 10_000, 400, f"“{'9' * 60}…” is no moment. {MOMENT}"),
    ("at=9999-12-31T23:59-12:00", 400, f"“9999-12-31T23:59-12:00” is no moment. {MOMENT}"),
    ("days=0", 400, "0 days asked for; a period has 1 to 28 days."),
    ("days=29", 400, "29 days asked for; a period has 1 to 28 days."),
    ("days=1000000000000", 400, f"“1000000000000” {NO_DAYS}"),
    ("days=-1", 400, f"“-1” {NO_DAYS}"),
    ("days=nan", 400, f"“nan” {NO_DAYS}"),
    ("days=1e3", 400, f"“1e3” {NO_DAYS}"),
    ("days=%D9%A3", 400, f"“٣” {NO_DAYS}"),
    ("days=7&days=8", 400, "days stands twice in the address; write it once."),
    ("studio=nobody", 404, "No studio is called “nobody”."),
    ("studio=", 404, "No studio is called “”."),
    ("studio=%00", 404, f"No studio is called “{HOLE}”."),
    ("studio=%ED%A0%80", 404, f"No studio is called “{HOLE * 3}”."),
    ("studio=" + "x" * 10_000, 404, f"No studio is called “{'x' * 60}…”."),
]


made = once(lambda: load_files(yard_files()))


@pytest.fixture(scope="module")
def before(made: None) -> Iterator[dict[str, int]]:
    yield rows()
    assert audit() == []


@pytest.fixture
def yard(made: None, before: dict[str, int], db: None) -> Iterator[None]:
    yield
    assert rows() == before


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    ("asked", "status", "sentence"), ASKED, ids=[asked[:25] for asked, _, _ in ASKED]
)
def test_what_cannot_be_asked_is_answered_with_one_sentence(
    asked: str, status: int, sentence: str
) -> None:
    of_a_studio = RECORDS if asked.startswith("studio") else []
    for address in QUESTIONS + of_a_studio:
        answer = Client(raise_request_exception=False).get(f"{address}?{asked}", headers=HOST)

        assert answer.status_code == status, address
        said = answer.json()["detail"] if address.startswith("/api/") else _words(answer.content)
        assert sentence in said, address
        assert len(answer.content) < 10_000


def _words(page: bytes) -> str:
    """What a page says, its marks taken off."""
    plain = re.sub(r"<[^>]+>", " ", page.decode())
    for mark, sign in (("&#x27;", "'"), ("&amp;", "&"), ("&quot;", '"')):
        plain = plain.replace(mark, sign)
    return " ".join(plain.split())


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    "asked", ["at=1900-01-01T00:00&days=1", "at=2199-12-31T23:59&days=28", "days=28", ""]
)
def test_the_edges_of_what_can_be_asked_are_answered(asked: str) -> None:
    for address in QUESTIONS:
        assert Client().get(f"{address}?{asked}", headers=HOST).status_code == 200, address


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("asked", ["a=1&" * 2_000, "&".join(f"p{n}" for n in range(900)), "%00=1"])
def test_an_address_that_asks_for_ever_is_refused_at_once(asked: str) -> None:
    began = time.process_time()

    for address in ADDRESSES:
        answer = Client(raise_request_exception=False).get(f"{address}?{asked}", headers=HOST)
        assert answer.status_code == 400, address

    assert time.process_time() - began < 1 * len(ADDRESSES)


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("method", ["TRACE", "TRACK", "CONNECT", "FOO", "DELETE", "PUT", "POST"])
def test_no_address_answers_a_method_that_changes_or_echoes(method: str) -> None:
    for address in ADDRESSES:
        answer = Client(raise_request_exception=False).generic(
            method, address, data=b"[" * 10_000 + b"]" * 10_000, content_type="application/json",
            headers={**HOST, "x-secret": "echo me"},
        )  # fmt: skip

        assert b"echo me" not in answer.content, address
        if (
            method == "POST" and address in ALSO_ASKED
        ):  # a what-if or a search: no such body asks it
            assert answer.status_code == 400
            continue
        if method == "POST" and address in ALSO_FORMS:  # such a body fills in no form
            assert answer.status_code in (303, 422), address
            continue
        assert answer.status_code == 405, address
        assert "GET" in answer.headers["Allow"], address


@pytest.mark.usefixtures("yard")
def test_where_something_is_entered_no_strange_method_or_host_is_answered() -> None:
    for address in ENTRIES:
        for method in ("TRACE", "FOO", "DELETE", "PUT", "PATCH"):
            answer = Client(raise_request_exception=False).generic(
                method, address, headers={**HOST, "x-secret": "echo me"}
            )
            assert answer.status_code == 405, (method, address)
            assert b"echo me" not in answer.content, (method, address)
        elsewhere = Client(raise_request_exception=False).post(
            address, {}, content_type="application/json", headers={"host": "elsewhere.example"}
        )
        assert elsewhere.status_code == 400, address
        assert b"Pellitory" not in elsewhere.content, address


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("host", ["elsewhere.example", "127.0.0.1\x00", "a" * 10_000, "[::1", ""])
def test_no_address_answers_to_another_host(host: str) -> None:
    for address in ADDRESSES:
        answer = Client(raise_request_exception=False).get(address, headers={"host": host})

        assert answer.status_code == 400, address
        assert b"Pellitory" not in answer.content, address


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    "address",
    ["/%00", "/%ED%A0%80", "/" + "a" * 10_000, "/static/../../etc/passwd", "/static/%00"],
)
def test_an_address_that_nobody_serves_is_not_there(address: str) -> None:
    answer = Client(raise_request_exception=False).get(address, headers=HOST)

    assert answer.status_code == 404
    assert len(answer.content) < 10_000
