"""The catalogues are whole: every sentence of the code in every language, with the same holes."""

from __future__ import annotations

import gettext as reading
from functools import cache
from io import BytesIO

import pytest

from api.tongue.catalogue import po
from api.tongue.catalogue.faults import faults, stale
from api.tongue.catalogue.files import LANGUAGES, compiled_path
from api.tongue.catalogue.found import in_code, in_template
from api.tongue.catalogue.message import Entry, Message
from api.tongue.catalogue.mo import compiled

STILL_ENGLISH = 0
CODE = """
from inventory.science.saying import counted, say
def words():
    say("Lot {lot} " "is gone.", lot=1)
    counted("{count} jar", "{count} jars", count=2)
    print("not a sentence")
"""
TEMPLATE = """{% load i18n %}<p>{% translate "The shelves" %}</p>
{% blocktranslate with day=at trimmed %}As of
  {{ day }}.{% endblocktranslate %}
{% blocktranslate count jars=n %}{{ jars }} jar{% plural %}{{ jars }} jars{% endblocktranslate %}
{% translate "May" context "month" %}{% include "x.html" with said=_("A pot") %}"""


def test_sentences_of_the_code_are_found() -> None:
    assert list(in_code(CODE)) == [
        Message("Lot {lot} is gone."),
        Message("{count} jar", "{count} jars"),
    ]


def test_a_word_called_say_that_is_not_ours_is_no_sentence() -> None:
    assert list(in_code('say("Nothing was left out.")')) == []


def test_sentences_of_a_template_are_found() -> None:
    assert list(in_template(TEMPLATE)) == [
        Message("The shelves"),
        Message("As of %(day)s."),
        Message("%(jars)s jar", "%(jars)s jars"),
        Message("May", context="month"),
        Message("A pot"),
    ]


def test_a_file_is_read_as_it_was_written() -> None:
    entries = [
        Entry(Message('Say “a"b”\n\\'), ("Sag es",), ("api/rights.py",)),
        Entry(Message("{count} jar", "{count} jars", "shelf"), ("{count} Glas", "{count} Gläser")),
        Entry(Message("old"), ("alt",), fuzzy=True),
    ]

    assert po.read(po.written("# head", entries)) == ("# head", entries)


def test_a_line_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="no line of a catalogue: msgid broken"):
        po.read('# head\n\nmsgid broken\nmsgstr ""\n')


def test_what_is_compiled_is_read_by_the_library() -> None:
    whole = Entry(Message("{count} jar", "{count} jars"), ("{count} Glas", "{count} Gläser"))
    told_apart = Entry(Message("May", context="month"), ("Mai",))
    missing = Entry(Message("a pot"), ("",))

    read = reading.GNUTranslations(BytesIO(compiled("de", [whole, told_apart, missing])))

    assert read.ngettext("{count} jar", "{count} jars", 2) == "{count} Gläser"
    assert read.ngettext("{count} jar", "{count} jars", 1) == "{count} Glas"
    assert read.pgettext("month", "May") == "Mai"
    assert read.gettext("a pot") == "a pot"


@cache
def found(language: str) -> list[str]:
    """Every fault of a language; to read all of the code takes a while."""
    return list(faults(language))


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_the_service_reads_is_what_the_translations_say(language: str) -> None:
    assert list(stale(language)) == []
    assert compiled_path(language).exists()


@pytest.mark.parametrize("language", LANGUAGES)
def test_sentences_that_are_said_in_no_other_language_only_get_fewer(language: str) -> None:
    assert len([fault for fault in found(language) if "not said in" in fault]) <= STILL_ENGLISH


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_translation_has_the_holes_of_its_sentence(language: str) -> None:
    assert [fault for fault in found(language) if "not said in" not in fault] == []
