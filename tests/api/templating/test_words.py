"""Sentences of a template: looked up while it is compiled, and kept for each language."""

from __future__ import annotations

from datetime import date

import pytest
from django.template import Context, Engine
from django.utils import translation

from api.templating import words
from inventory.science.saying import Said, say

HAT = {
    "Nothing waits": "Nichts wartet",
    "%(left)s left of %(lot)s": "von %(lot)s sind %(left)s da",
    "50 %% sure": "zu 50 %% sicher",
    "%(number)s jar": "%(number)s Glas",
    "%(number)s jars": "%(number)s Gläser",
}


@pytest.fixture
def in_german(monkeypatch: pytest.MonkeyPatch) -> None:
    """A catalogue of five sentences, asked of only while German is read."""

    def one(sentence: str) -> str:
        return HAT[sentence] if translation.get_language() == "de" else sentence

    def counted(single: str, several: str, number: int) -> str:
        return one(single if number == 1 else several)

    monkeypatch.setattr(words, "gettext", one)
    monkeypatch.setattr(words, "ngettext", counted)


def engine(**templates: str) -> Engine:
    """An engine as the settings make it, with templates written here."""
    kept = "api.templating.by_language.KeptByLanguage"
    written = ("django.template.loaders.locmem.Loader", templates)
    return Engine(loaders=[(kept, [written])], builtins=["api.templating.words"])


def shown(template: str, language: str = "en-gb", **values: object) -> str:
    """A template with values, in a language."""
    with translation.override(language):
        return engine(page=template).get_template("page").render(Context(values))


def test_a_sentence_is_said_as_it_is_written() -> None:
    assert shown("<p>{% translate 'Nothing waits' %}</p>") == "<p>Nothing waits</p>"


@pytest.mark.usefixtures("in_german")
def test_a_sentence_is_said_in_the_language_of_the_reader() -> None:
    assert shown("{% translate 'Nothing waits' %}", "de") == "Nichts wartet"


@pytest.mark.usefixtures("in_german")
def test_values_stand_where_the_language_wants_them_and_are_escaped() -> None:
    template = (
        "{% blocktranslate with left=row.left %}{{ left }} left of {{ lot }}{% endblocktranslate %}"
    )
    row = {"left": "<40 g>"}

    assert shown(template, row=row, lot="L1") == "&lt;40 g&gt; left of L1"
    assert shown(template, "de", row=row, lot="L1") == "von L1 sind &lt;40 g&gt; da"


@pytest.mark.usefixtures("in_german")
def test_a_percent_sign_stays_one_sign() -> None:
    assert shown("{% translate '50 % sure' %}") == "50 % sure"
    assert shown("{% translate '50 % sure' %}", "de") == "zu 50 % sicher"
    assert shown("{% blocktranslate %}50 % sure{% endblocktranslate %}", "de") == "zu 50 % sicher"


@pytest.mark.usefixtures("in_german")
@pytest.mark.parametrize(
    ("jars", "english", "german"), [(1, "1 jar", "1 Glas"), (2, "2 jars", "2 Gläser")]
)
def test_the_number_chooses_the_form(jars: int, english: str, german: str) -> None:
    template = (
        "{% blocktranslate count number=jars|length %}{{ number }} jar"
        "{% plural %}{{ number }} jars{% endblocktranslate %}"
    )

    assert shown(template, jars="x" * jars) == english
    assert shown(template, "de", jars="x" * jars) == german


def test_a_word_of_two_meanings_is_asked_for_with_its_meaning(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(words, "pgettext", lambda about, word: f"{word} ({about})")

    assert shown("{% translate 'in' context 'a pot' %}") == "in (a pot)"


def test_a_sentence_with_a_name_of_its_own_can_be_handed_on() -> None:
    template = (
        "{% blocktranslate asvar said %}Begun on {{ day }}{% endblocktranslate %}[{{ said }}]"
    )

    assert shown(template, day="Mon & Tue") == "[Begun on Mon &amp; Tue]"


@pytest.mark.usefixtures("in_german")
def test_a_template_is_kept_once_for_each_language() -> None:
    one = engine(page="{% translate 'Nothing waits' %}")
    said = []
    for language in ("en-gb", "de", "en-gb", "de"):
        with translation.override(language):
            said.append(one.get_template("page"))

    assert [template.render(Context()) for template in said[:2]] == [
        "Nothing waits",
        "Nichts wartet",
    ]
    assert said[0] is said[2]
    assert said[1] is said[3]


def test_a_large_letter_in_front_leaves_a_sentence_to_be_said_again() -> None:
    large = words.capfirst(say("fresh since {day:%b}", day=date(2026, 11, 23)))

    assert large == "Fresh since Nov"
    assert isinstance(large, Said)
    assert shown("{{ word|capfirst }}", word="<b>") == "&lt;b&gt;"
