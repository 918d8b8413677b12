"""Why a form was refused, in sentences, each with the question that it is about."""

from __future__ import annotations

from collections.abc import Iterable

from django.utils.translation import gettext
from rest_framework.exceptions import ValidationError

from api.rest.fields import FieldsUnclear, pointed
from api.web.note.form import Form
from inventory.errors import EntryUsed, LarderError, NotNow
from inventory.science.figures import NoFigure
from inventory.science.saying import first_large, say

REFUSALS = (LarderError, NoFigure, FieldsUnclear, ValidationError)
OURS = {
    "This field is required.": say("it is not said yet."),
    "This field may not be blank.": say("it is not said yet."),
    "This list may not be empty.": say("it is not said yet."),
    "Write a text.": say("write some words."),
}
AGAIN = say(
    "This form was sent before with other answers, and those are written down. If "
    "this happened as well, send it once more."
)


def faults_of(form: Form, error: Exception) -> tuple[str, ...]:
    """The sentences that refuse what was sent, each once."""
    if isinstance(error, FieldsUnclear):
        return _each(form, error.errors)
    if isinstance(error, ValidationError):
        return _each(form, pointed(error.detail))
    return (AGAIN,) if isinstance(error, EntryUsed) else (str(error),)


def is_passing(error: Exception) -> bool:
    """Whether the same may be sent again as it is in a while."""
    return isinstance(error, NotNow)


def _each(form: Form, errors: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """Each sentence behind the words of its question."""
    return tuple(dict.fromkeys(_one(form, where, sentence) for where, sentence in errors))


def _ours(sentence: str) -> str:
    """Our words for what the framework says, in whichever language it said it."""
    told = (ours for theirs, ours in OURS.items() if sentence in (theirs, gettext(theirs)))
    return next(told, sentence)


def _one(form: Form, where: str, sentence: str) -> str:
    sentence = _ours(sentence)
    names = [part for part in where.split("/") if part and not part.isdecimal()]
    for name in reversed(names):
        for ask in form.questions:
            if name == ask.name or (name in ask.names and ask.name != name):
                return say("{question} {why}", question=ask.words, why=first_large(sentence))
    return first_large(sentence)
