"""What is too long, too large or strange on the wire is refused before anybody reads it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory

from api.bounds import LONGEST_ADDRESS, largest_body_at
from api.no_files import FileRefused
from api.program_answers import ForPrograms
from api.rest.errors import answer_problem
from api.web.errors import bad_request
from tests.api.web.pages import sound, words
from tests.api.wire import Wire, served

API = "/api/v1/shelves/"


@pytest.fixture(scope="module")
def wire() -> Iterator[Wire]:
    # No request here gets as far as a database, and its tests may hold one open on this machine.
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    with served() as found:
        yield found
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


def test_a_body_over_the_bound_is_refused_though_none_of_it_was_sent(wire: Wire) -> None:
    heard = wire.ask(
        f"POST {API} HTTP/1.1\nContent-Type: application/json\nContent-Length: 1000001"
    )

    assert (heard.status, heard.problem["code"]) == (413, "body_too_large")
    assert heard.problem["detail"] == (
        "The body has 1,000,001 bytes, 1,000,000 at most here. Send less at once."
    )
    assert (heard.problem["bytes"], heard.problem["most_bytes"]) == (1_000_001, 1_000_000)


def test_behind_a_body_of_any_length_the_line_is_closed(wire: Wire) -> None:
    heard = wire.ask(f"POST {API} HTTP/1.1\nContent-Length: 99000000000")

    assert (heard.status, heard.headers["connection"]) == (413, "close")


def test_a_body_at_the_bound_comes_as_far_as_the_view(wire: Wire) -> None:
    head = "POST /problems/ HTTP/1.1\nContent-Type: application/x-www-form-urlencoded"

    just = wire.ask(f"{head}\nContent-Length: 64000", b"a" * 64_000)
    over = wire.ask(f"{head}\nContent-Length: 64001", b"a" * 64_001)

    assert (just.status, over.status) == (405, 413)
    assert "64,001 bytes, 64,000 at most" in over.body.decode()


@pytest.mark.parametrize(
    ("path", "most"),
    [
        ("/", 64_000),
        ("/stop/abc/", 64_000),
        ("/api/v1/week/", 1_000_000),
        ("/api/v1/notebook/lots.csv", 8_000_000),
        ("/api/v1/notebook.zip", 40_000_000),
        ("*", 64_000),
    ],
)
def test_each_address_has_its_own_bound(path: str, most: int) -> None:
    assert largest_body_at(path) == most


def test_a_body_in_chunks_is_refused_and_what_it_hides_is_not_asked(wire: Wire) -> None:
    hidden = b"GET /problems/ HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"
    body = f"{len(hidden):x}\r\n".encode() + hidden + b"\r\n0\r\n\r\n"

    heard = wire.ask(f"POST {API} HTTP/1.1\nTransfer-Encoding: chunked", body)

    assert (heard.status, heard.problem["code"]) == (411, "length_needed")
    assert heard.answers == 1


@pytest.mark.parametrize("length", ["abc", "-5", "+5", "5, 5", "0x5", "٣", "9" * 30, "5.0"])
def test_a_length_that_is_none_is_refused(wire: Wire, length: str) -> None:
    heard = wire.ask(f"POST {API} HTTP/1.1\nContent-Length: {length}")

    assert (heard.status, heard.problem["code"]) == (400, "request_unreadable")
    assert heard.answers == 1


@pytest.mark.parametrize("packing", ["gzip", "br", "gzip, identity", "x" * 300])
def test_a_packed_body_is_refused_with_what_is_read_instead(wire: Wire, packing: str) -> None:
    heard = wire.ask(f"POST {API} HTTP/1.1\nContent-Length: 2\nContent-Encoding: {packing}", b"{}")

    assert (heard.status, heard.problem["code"]) == (415, "body_refused")
    assert heard.headers["accept-encoding"] == "identity"


@pytest.mark.parametrize("address", ["/api/v1/{}/", "/api/v1/shelves/?part={}"])
def test_an_address_over_the_bound_is_refused(wire: Wire, address: str) -> None:
    long = address.format("a" * (LONGEST_ADDRESS - len(address) + 4))

    heard = wire.ask(f"GET {long} HTTP/1.1")

    assert (heard.status, heard.problem["code"]) == (414, "address_too_long")
    assert len(heard.body) < 1_000


def test_an_address_at_the_bound_is_looked_up(wire: Wire) -> None:
    path = "/api/v1/"

    heard = wire.ask(f"GET {path}{'a' * (LONGEST_ADDRESS - len(path))} HTTP/1.1")

    assert heard.status == 404


@pytest.mark.parametrize(
    "path",
    [
        b"/api/v1/nothing/",
        b"/api/v1/%00/",
        b"/api/v1/%zz/",
        b"/api/v1/%ED%A0%80/",
        b"/api/v1/%C0%AE%C0%AE/",
        b"/api/v1/\xff\xfe/",
        b"/api/v1/../../manage.py",
        b"/api/v2/",
        b"//api/v1//nothing/",
    ],
)
def test_strange_paths_are_not_there(wire: Wire, path: bytes) -> None:
    heard = wire.ask(b"GET " + path + b" HTTP/1.1")

    assert (heard.status, heard.problem["code"]) == (404, "not_found")


@pytest.mark.parametrize("query", [b"%ff=1", b"%=1", b"a=%E0%80", b"\xff=\xfe", b"%00=%00"])
def test_a_query_that_is_no_utf_8_is_refused_with_a_sentence(wire: Wire, query: bytes) -> None:
    heard = wire.ask(b"GET /problems/?" + query + b" HTTP/1.1")

    assert heard.status == 400
    assert b"is asked for with" in heard.body


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PROPFIND"])
def test_a_strange_method_is_a_problem_to_programs(wire: Wire, method: str) -> None:
    heard = wire.ask(f"{method} {API} HTTP/1.1\nX-Secret: echo me")

    assert (heard.status, heard.problem["code"]) == (405, "method_not_allowed")
    assert heard.headers["allow"] == "GET, HEAD, OPTIONS, POST, PUT, PATCH, DELETE"
    assert b"echo me" not in heard.body


@pytest.mark.parametrize("host", ["elsewhere.example", "127.0.0.1:99999x", "a b", ""])
def test_another_host_is_a_problem_to_programs_and_a_page_to_people(wire: Wire, host: str) -> None:
    program = wire.ask(f"GET {API} HTTP/1.1", host=host)
    people = wire.ask("GET /problems/ HTTP/1.1", host=host)

    assert (program.status, program.problem["code"]) == (400, "host_unknown")
    assert program.problem["type"] == "/problems/host-unknown/"
    assert (people.status, people.headers["content-type"]) == (400, "text/html; charset=utf-8")


@pytest.mark.parametrize("path", [API, "/problems/", "/api/v1/figures/?nothing=1"])
def test_options_tell_what_an_address_knows(wire: Wire, path: str) -> None:
    heard = wire.ask(f"OPTIONS {path} HTTP/1.1")

    assert (heard.status, heard.body) == (204, b"")
    assert heard.headers["allow"] == "GET, HEAD, OPTIONS"
    assert not {"content-type"} & heard.headers.keys()
    assert wire.ask("OPTIONS /api/v1/nothing/ HTTP/1.1").status == 404


def test_head_has_the_headers_of_get_and_no_body(wire: Wire) -> None:
    whole, head = (wire.ask(f"{method} /problems/ HTTP/1.1") for method in ("GET", "HEAD"))

    assert head.body == b""
    assert head.headers["content-length"] == str(len(whole.body))
    assert head.headers["content-type"] == whole.headers["content-type"]


def test_a_fault_of_ours_is_a_problem_to_programs(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("what nobody foresaw")

    monkeypatch.setattr("api.rest.shelves.ShelvesView.get", broken)
    client.raise_request_exception = False

    answer = client.get(API)

    assert (answer.status_code, answer.json()["code"]) == (500, "fault")
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert b"foresaw" not in answer.content.replace(b"nobody foresaw. Nothing", b"")


@pytest.mark.parametrize(("status", "code"), [(403, "refused"), (404, "not_found"), (503, "fault")])
def test_a_page_that_would_go_to_a_program_becomes_a_problem(status: int, code: str) -> None:
    def page(request: HttpRequest) -> HttpResponse:
        return HttpResponse("<h1>No</h1>", status=status, headers={"Retry-After": "5"})

    program = ForPrograms(page)(RequestFactory().get(API))
    people = ForPrograms(page)(RequestFactory().get("/shelves/"))

    assert isinstance(program, HttpResponse)
    assert isinstance(people, HttpResponse)
    assert (program.status_code, program["Retry-After"]) == (status, "5")
    assert f'"code":"{code}"' in program.content.decode()
    assert people.content == b"<h1>No</h1>"


def test_what_programs_are_answered_is_kept_by_nobody_else(wire: Wire) -> None:
    def answered(request: HttpRequest) -> HttpResponse:
        return HttpResponse("{}", content_type="application/json")

    found = ForPrograms(answered)(RequestFactory().get(API))

    assert found.headers["Cache-Control"] == "private, no-cache"
    assert wire.ask("GET /api/v1/nothing/ HTTP/1.1").headers["cache-control"] == "no-store"


def test_a_slash_that_was_left_out_changes_no_method(wire: Wire) -> None:
    heard = wire.ask(f"POST {API[:-1]} HTTP/1.1\nContent-Length: 2", b"{}")

    assert (heard.status, heard.headers["location"]) == (308, API)
    assert "content-type" not in heard.headers


def test_a_form_with_a_file_in_it_is_refused_and_one_in_parts_is_read() -> None:
    plain = RequestFactory().post("/", {"do": "begin"})
    file = RequestFactory().post("/", {"do": SimpleUploadedFile("pot.jpg", b"a" * 10)})

    assert plain.POST["do"] == "begin"
    with pytest.raises(FileRefused) as refused:
        _ = file.POST
    page = bad_request(file, refused.value)
    assert page.status_code == 415
    assert "No form here takes a file." in words(page)
    answer = answer_problem(refused.value, {})
    assert answer is not None
    assert (answer.status_code, answer.data["code"]) == (415, "file_refused")


def test_a_page_that_refuses_is_sound(client: Client) -> None:
    page = client.get("/" + "a" * LONGEST_ADDRESS)

    assert page.status_code == 414
    assert sound(page) == []
