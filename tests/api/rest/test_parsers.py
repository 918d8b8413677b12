"""Every body gets an answer below 500; what is wrong with it is said in one sentence."""

from __future__ import annotations

from typing import Any

import pytest
from rest_framework.decorators import api_view, permission_classes
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.test import APIRequestFactory

from api.rest.parsers import DEEPEST, LARGEST_BODY_BYTES

TOO_LARGE = (
    "a number with too many digits; 9,007,199,254,740,991 is the largest. Write an amount as "
    "text, with its unit."
)
TWICE = "twice in one object; write it once."


@api_view(["POST"])
@permission_classes([])
def _echo(request: Request) -> Response:
    return Response({"value": request.data})


def _post(body: bytes, content_type: str = "application/json") -> tuple[int, Any]:
    answer = _echo(APIRequestFactory().generic("POST", "/", body, content_type=content_type))
    if answer.status_code >= 400:
        return answer.status_code, {"detail": answer.data["detail"]}
    return answer.status_code, answer.data


def _nested(depth: int) -> bytes:
    return b"[" * depth + b"1" + b"]" * depth


def test_a_plain_body_is_read() -> None:
    assert _post('{"lot": "AV-1", "weight_g": "1½"}'.encode()) == (
        200,
        {"value": {"lot": "AV-1", "weight_g": "1½"}},
    )


def test_numbers_are_read_up_to_the_bound() -> None:
    body = b"[9007199254740991, -9007199254740991, 1e300, 0.5]"

    assert _post(body)[1] == {"value": [9007199254740991, -9007199254740991, 1e300, 0.5]}


def test_nesting_is_read_up_to_the_bound_and_refused_beyond_it() -> None:
    assert _post(_nested(DEEPEST))[0] == 200
    assert _post(_nested(DEEPEST + 1)) == (
        400,
        {"detail": "The body is nested more than 50 deep; send it flatter."},
    )


@pytest.mark.parametrize("depth", [1_000, 100_000, 499_000])
def test_nesting_that_exhausts_the_reader_is_refused_too(depth: int) -> None:
    assert _post(_nested(depth)) == (
        400,
        {"detail": "The body is nested more than 50 deep; send it flatter."},
    )
    assert _post(b'{"a":' * (depth // 6) + b"1" + b"}" * (depth // 6))[0] == 400


@pytest.mark.parametrize(
    ("body", "detail"),
    [
        (rb'{"note": "\ud800"}', "The body holds a text with half a character (a lone surrogate)."),
        (rb'{"\udfff": 1}', "The body holds a text with half a character (a lone surrogate)."),
        (rb'["a\u0000b"]', "The body holds a text with the character NUL; leave it out."),
        (b'{"a": NaN}', "The body holds NaN, which JSON does not know; send a number."),
        (b'{"a": -Infinity}', "The body holds -Infinity, which JSON does not know; send a number."),
        (b"[" + b"9" * 5_000 + b"]", f"The body holds {TOO_LARGE}"),
        (b"[9007199254740992]", f"The body holds {TOO_LARGE}"),
        (b"[-9007199254740992]", f"The body holds {TOO_LARGE}"),
        (b"[1e400]", "The body holds the number “1e400”, which is too large."),
        (b'{"a": {"b": 1, "c": 2, "b": 1}}', f"The body names “b” {TWICE}"),
        (rb'{"lot": 1, "lot": 2}', f"The body names “lot” {TWICE}"),
        (b'{"a": \xff}', "The body is not UTF-8 at byte 6; send JSON as UTF-8."),
        (b" ", "The body is not JSON at line 1 column 2: Expecting value."),
        (b'{"a"\n1}', "The body is not JSON at line 2 column 1: Expecting ':' delimiter."),
    ],
)
def test_what_cannot_be_kept_is_refused_with_the_reason(body: bytes, detail: str) -> None:
    status, answer = _post(body)

    assert status == 400
    assert answer["detail"] == detail


def test_a_whole_character_outside_the_first_plane_is_read() -> None:
    assert _post(rb'"\ud83e\uddf6"') == (200, {"value": "🧶"})


def test_a_body_is_read_up_to_the_bound_and_refused_beyond_it() -> None:
    just = b'"' + b"a" * (LARGEST_BODY_BYTES - 2) + b'"'

    assert _post(just)[0] == 200
    assert _post(just + b" ") == (
        413,
        {"detail": "The body is larger than 1,000,000 bytes; send less."},
    )


@pytest.mark.parametrize("charset", ["utf-16", "hex", "rot13", "no-such"])
def test_a_charset_in_the_header_changes_nothing(charset: str) -> None:
    status, _ = _post(b'{"a": 1}', f"application/json; charset={charset}")

    assert status == 200
