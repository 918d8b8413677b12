"""Read a JSON body into plain values, or say in one sentence what is wrong with it."""

from __future__ import annotations

import json
import math
from collections import Counter
from collections.abc import Mapping
from typing import IO, Any, NoReturn

from rest_framework.exceptions import ParseError
from rest_framework.parsers import BaseParser

from api.asked import shown
from api.rest.refused import Refused
from inventory.science.saying import say

LARGEST_BODY_BYTES = 1_000_000
DEEPEST = 50
LARGEST_NUMBER = 2**53 - 1  # RFC 7493, 2.2: what every program reads without losing a digit


class BodyTooLarge(Refused):
    """More bytes than were told of, or than a body may have."""

    code = "body_too_large"


class PlainJSONParser(BaseParser):
    """JSON in UTF-8 (RFC 8259), of bounded size and depth, without text that no database keeps."""

    media_type = "application/json"

    def parse(
        self,
        stream: IO[bytes],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        body = stream.read(LARGEST_BODY_BYTES + 1)
        if len(body) > LARGEST_BODY_BYTES:
            raise BodyTooLarge(
                say(
                    "The body is larger than {largest_body_bytes:,} bytes; send less.",
                    largest_body_bytes=LARGEST_BODY_BYTES,
                )
            )
        value = _value(body)
        _check(value)
        return value


def _value(body: bytes) -> Any:
    try:
        return json.loads(
            body.decode("utf-8"),
            parse_constant=_refuse_constant,
            parse_float=_fraction,
            parse_int=_whole,
            object_pairs_hook=_each_name_once,
        )
    except UnicodeDecodeError as error:
        raise ParseError(
            say("The body is not UTF-8 at byte {start}; send JSON as UTF-8.", start=error.start)
        ) from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno} column {error.colno}"
        raise ParseError(
            say("The body is not JSON at {where}: {msg}.", where=where, msg=error.msg)
        ) from error
    except RecursionError as error:
        raise ParseError(_too_deep()) from error


def _check(value: Any) -> None:
    """Walk without recursion, level by level, as depth is what may be wrong."""
    level = [value]
    for _ in range(DEEPEST + 1):
        if not level:
            return
        for each in level:
            if isinstance(each, str):
                _check_text(each)
        level = [inner for each in level for inner in _inside(each)]
    if level:
        raise ParseError(_too_deep())


def _inside(value: Any) -> list[Any]:
    if isinstance(value, dict):
        return [*value.keys(), *value.values()]
    return value if isinstance(value, list) else []


def _check_text(text: str) -> None:
    if "\x00" in text:
        raise ParseError(say("The body holds a text with the character NUL; leave it out."))
    # JSON can write half of a pair, as in "\ud800"; no database can keep it.
    if any("\ud800" <= character <= "\udfff" for character in text):
        raise ParseError(say("The body holds a text with half a character (a lone surrogate)."))


def _too_deep() -> str:
    return say("The body is nested more than {deepest} deep; send it flatter.", deepest=DEEPEST)


def _each_name_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """RFC 8259, 4: of a name that stands twice one reader takes the first, another the last."""
    found = dict(pairs)
    if len(found) < len(pairs):
        twice = Counter(name for name, _ in pairs).most_common(1)[0][0]
        raise ParseError(
            say("The body names {twice} twice in one object; write it once.", twice=shown(twice))
        )
    return found


def _whole(digits: str) -> int:
    # Told by the length first: Python refuses to read thousands of digits.
    if len(digits) < 20 and abs(number := int(digits)) <= LARGEST_NUMBER:
        return number
    raise ParseError(
        say(
            "The body holds a number with too many digits; {largest_number:,} is the largest. "
            "Write an amount as text, with its unit.",
            largest_number=LARGEST_NUMBER,
        )
    )


def _fraction(digits: str) -> float:
    number = float(digits)
    if math.isfinite(number):
        return number
    raise ParseError(
        say("The body holds the number {digits}, which is too large.", digits=shown(digits))
    )


def _refuse_constant(name: str) -> NoReturn:
    raise ParseError(
        say("The body holds {name}, which JSON does not know; send a number.", name=name)
    )
