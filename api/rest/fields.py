"""What is wrong with the fields of a body: each with its place (RFC 6901) and a sentence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from rest_framework.exceptions import ErrorDetail, ValidationError
from rest_framework.settings import api_settings

from inventory.science.saying import Said, say

ERRORS_AT_MOST = 100  # in one answer; who mends these and sends again is told of the next
# What the framework says by itself, so that it can be said again.
FRAMEWORK: dict[str, Said] = {
    sentence: sentence
    for sentence in (
        *(say("This field is required."), say("This field may not be null.")),
        *(say("This field may not be blank."), say("This list may not be empty.")),
        *(say("Not a valid string."), say("This selection may not be empty.")),
    )
}
Field = tuple[str, str]  # where it stands, and the sentence


class FieldsUnclear(Exception):
    """Fields that are well formed and say something that cannot be understood.

    `errors` are pairs of a pointer such as `/takes/0/amount` and the sentence about it.
    """

    code = "fields_unclear"

    def __init__(self, errors: Sequence[Field]) -> None:
        assert errors, "nothing is wrong with no field"
        self.errors = tuple(errors)
        super().__init__(gist_of(self.errors, say("not understood")))


class Reason(str):
    """A code with the sentence it stands for.

    The framework copies what it is told is wrong as plain text and keeps the code, so a sentence
    that can be said in another language rides on that.
    """

    __slots__ = ("sentence",)
    sentence: str


def unfit(sentence: str, code: str = "invalid") -> ValidationError:
    """The framework's refusal of a field, with a sentence that can be said in any language."""
    reason = Reason(code)
    reason.sentence = sentence
    return ValidationError([ErrorDetail(sentence, code=reason)])


def sentence_of(detail: object) -> str:
    """What a refusal says, as it was said first."""
    reason = getattr(detail, "code", None)
    text = str(detail)
    return reason.sentence if isinstance(reason, Reason) else FRAMEWORK.get(text, text)


def gist_of(errors: Sequence[Field], wrong: str) -> str:
    """The sentence over the errors: that of the only one, else how many there are."""
    if len(errors) == 1:
        where, sentence = errors[0]
        return say("{where}: {sentence}", where=where or say("The body"), sentence=sentence)
    return say("{count} fields are {wrong}: look at errors.", count=len(errors), wrong=wrong)


def errors_said(errors: Sequence[Field]) -> list[dict[str, str]]:
    """The member `errors` of a problem, of bounded length."""
    return [{"pointer": where, "detail": sentence} for where, sentence in errors[:ERRORS_AT_MOST]]


def pointed(detail: Any, where: str = "") -> Iterator[Field]:
    """The framework's refusals of fields, in dicts and lists of any depth, as pairs."""
    if isinstance(detail, dict):
        for name, inner in detail.items():
            whole = name == api_settings.NON_FIELD_ERRORS_KEY
            yield from pointed(inner, where if whole else f"{where}/{pointer_part(name)}")
    elif isinstance(detail, list | tuple):
        for place, inner in enumerate(detail):
            # A list holds the sentences about one field, or what is wrong in each of its rows.
            in_row = isinstance(inner, dict | list | tuple)
            yield from pointed(inner, f"{where}/{place}" if in_row else where)
    else:
        yield where, sentence_of(detail)


def pointer_part(name: object) -> str:
    """A name as a part of a pointer: its tildes and slashes escaped.

    >>> pointer_part("m~a/b")
    'm~0a~1b'
    """
    return str(name).replace("~", "~0").replace("/", "~1")
