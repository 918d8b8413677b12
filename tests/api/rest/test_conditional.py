"""ETags as RFC 9110 has them: 304 for who has it, 412 and 428 for who would lose another's work."""

from __future__ import annotations

import gzip

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory
from rest_framework.decorators import api_view, permission_classes
from rest_framework.request import Request

from api.compressed import Compressed
from api.rest.conditional import (
    AlreadyThere,
    ChangedMeanwhile,
    IfMatchNeeded,
    TagsUnreadable,
    answered,
    check_change,
    is_known,
    tag_of,
)
from api.rest.errors import answer_problem

FOUND = {"lot": "AV-1", "note": "stones of the Lantern Steps café, washed " * 10}


@api_view(["GET", "PUT"])
@permission_classes([])  # nothing of a studio
def _lot(request: Request) -> HttpResponse:
    return answered(request, FOUND)


def _asked(method: str = "GET", **headers: str) -> HttpRequest:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return RequestFactory().generic(method, "/api/v1/lots/AV-1/", headers=named)


# RFC 9110, 8.8.3.2: the table of examples of the two comparisons.
COMPARED = [
    ('W/"1"', '"1"', False, True),
    ('W/"1"', '"2"', False, False),
    ('"1"', '"1"', True, True),
]


@pytest.mark.parametrize(("sent", "tag", "strong", "weak"), COMPARED)
def test_reading_compares_weakly_and_changing_strongly(
    sent: str, tag: str, strong: bool, weak: bool
) -> None:
    assert is_known(_asked(if_none_match=sent), tag) is weak
    if strong:
        check_change(_asked("PUT", if_match=sent), tag)
    else:
        with pytest.raises(ChangedMeanwhile):
            check_change(_asked("PUT", if_match=sent), tag)


@pytest.mark.parametrize(
    "header",  # RFC 9110, 13.1.1 and 13.1.2, and lists as 5.6.1 lets recipients find them
    [
        '"xyzzy"',
        '"xyzzy", "r2d2xxxx", "c3piozzzz"',
        '"r2d2xxxx","xyzzy"',
        "*",
        ', ,"a,b" ,"xyzzy",',
    ],
)
def test_the_examples_of_the_rfc_fit_one_that_they_name(header: str) -> None:
    check_change(_asked("PUT", if_match=header), '"xyzzy"')

    assert is_known(_asked(if_none_match=header), '"xyzzy"')
    assert header == "*" or not is_known(_asked(if_none_match=header), '"nope"')


def test_a_comma_inside_the_quotes_parts_nothing() -> None:
    check_change(_asked("PUT", if_match='"a,b"'), '"a,b"')

    with pytest.raises(ChangedMeanwhile):
        check_change(_asked("PUT", if_match='"a,b"'), '"a"')


def test_a_change_of_what_is_no_longer_there_is_refused_even_with_a_star() -> None:
    with pytest.raises(ChangedMeanwhile, match="nothing here any more") as gone:
        check_change(_asked("PUT", if_match="*"), None)

    assert gone.value.headers == {}


def test_a_change_says_which_state_it_changes() -> None:
    with pytest.raises(IfMatchNeeded):
        check_change(_asked("PUT"), '"1"')

    check_change(_asked("PUT"), '"1"', needed=False)
    check_change(_asked("PUT"), None)  # where nothing stands, nothing is lost


def test_what_is_written_as_new_replaces_nothing() -> None:
    check_change(_asked("PUT", if_none_match="*"), None)

    with pytest.raises(AlreadyThere) as there:
        check_change(_asked("PUT", if_none_match="*"), '"1"')
    assert there.value.headers == {"ETag": '"1"'}


@pytest.mark.parametrize("header", ["", "xyzzy", '"xyzzy', '"a" "b"', 'w/"a"', "*, *", '"a\x7f"'])
def test_an_if_match_without_an_etag_is_said(header: str) -> None:
    with pytest.raises(TagsUnreadable, match="Send it as you read it, with its quotes"):
        check_change(_asked("PUT", if_match=header), '"xyzzy"')

    assert not is_known(_asked(if_none_match=header), '"xyzzy"')


@pytest.mark.parametrize(
    ("error", "status", "code"),
    [
        (ChangedMeanwhile('"2"'), 412, "changed_meanwhile"),
        (AlreadyThere('"2"'), 412, "already_there"),
        (IfMatchNeeded('"2"'), 428, "if_match_needed"),
    ],
)
def test_a_refused_change_is_told_the_etag_that_holds_now(
    error: ChangedMeanwhile, status: int, code: str
) -> None:
    answer = answer_problem(error, {})

    assert answer is not None
    assert (answer.status_code, answer.data["code"]) == (status, code)
    assert answer["ETag"] == '"2"'


def test_whoever_has_it_already_gets_304_under_the_same_headers() -> None:
    first = _lot(_asked())
    again = _lot(_asked(if_none_match=first["ETag"]))
    other = _lot(_asked(if_none_match=tag_of("other")))

    assert (first.status_code, again.status_code, other.status_code) == (200, 304, 200)
    assert first["ETag"].startswith('"')
    for name in ("ETag", "Cache-Control", "Allow"):
        assert again[name] == first[name]
    assert again.content == b""
    assert "Content-Type" not in again


def test_reading_under_a_condition_that_does_not_hold_is_refused() -> None:
    answer = _lot(_asked(if_match='"old"'))

    assert answer.status_code == 412
    assert answer["ETag"] == _lot(_asked())["ETag"]


def test_a_version_at_hand_saves_making_the_answer() -> None:
    class Untold:
        pass

    answer = answered(_asked(if_none_match='"v7"'), Untold(), tag='"v7"')

    assert answer.status_code == 304


def test_tags_differ_where_parts_do() -> None:
    assert tag_of("a", "b") != tag_of("ab") != tag_of(b"ab")
    assert tag_of({"a": 1}) == tag_of({"a": 1})
    assert tag_of("a", "b") != tag_of("b", "a")


def test_the_compressed_form_has_a_strong_etag_of_its_own_that_fits_everywhere() -> None:
    seen: list[HttpRequest] = []

    def within(request: HttpRequest) -> HttpResponse:
        seen.append(request)
        return _lot(request)

    compressed = Compressed(within)
    first = compressed(_asked(accept_encoding="gzip"))
    assert isinstance(first, HttpResponse)
    plain = _lot(_asked())["ETag"]

    assert first["ETag"] == plain[:-1] + '-gzip"'
    assert b"Lantern Steps" in gzip.decompress(first.content)
    again = compressed(_asked(accept_encoding="gzip", if_none_match=first["ETag"]))
    assert (again.status_code, again["ETag"]) == (304, first["ETag"])
    assert "Accept-Encoding" in again["Vary"]
    compressed(_asked("PUT", if_match=first["ETag"]))
    check_change(seen[-1], plain)
