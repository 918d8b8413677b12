"""Sentences of the floors in the language and the number form of their reader."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.template import engines
from django.utils.translation import override

from api.tongue.numbers import numbers_written
from api.tongue.speaking import aloud, in_language
from inventory.science.saying import counted, first_large, joined, say
from sourcing.week.words import priced

MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)


@pytest.fixture
def german(monkeypatch: pytest.MonkeyPatch) -> None:
    """A few sentences that no floor says, in German."""
    words = {
        "{lot}: {left:,} g left": "{lot}: noch {left:,} g",
        "{at:%a %d %b}": "{at:%a %d. %b}",
        "a jar": "ein Glas",
    }
    monkeypatch.setattr("api.tongue.speaking.gettext", lambda text: words.get(text, text))


@pytest.mark.usefixtures("german")
def test_a_sentence_is_said_in_the_language_of_the_reader() -> None:
    said = say("{lot}: {left:,} g left", lot="L17", left=Decimal("1180.5"))

    assert aloud(said) == "L17: 1,180.5 g left"
    assert in_language(said, "de") == "L17: noch 1.180,5 g"
    assert said == "L17: 1,180.5 g left"


@pytest.mark.usefixtures("german")
def test_what_fills_a_hole_is_said_too() -> None:
    inner = say("{lot}: {left:,} g left", lot=say("a jar"), left=2000)

    assert in_language("Halt! " + first_large(inner), "de") == "Halt! Ein Glas: noch 2.000 g"
    assert in_language(joined(", ", [inner, "L17"]), "de") == "ein Glas: noch 2.000 g, L17"


@pytest.mark.usefixtures("german")
def test_days_and_months_have_the_names_of_the_language() -> None:
    said = say("{at:%a %d %b}", at=MONDAY)

    assert (said, in_language(said, "de")) == ("Mon 23 Nov", "Mo 23. Nov.")


def test_a_count_chooses_the_pattern_in_each_language(monkeypatch: pytest.MonkeyPatch) -> None:
    words = {1: "{count} Glas", 2: "{count} Gläser"}
    monkeypatch.setattr("api.tongue.speaking.ngettext", lambda one, many, count: words[count])

    said = [counted("{count} jar", "{count} jars", count=count) for count in (1, 2)]

    assert [in_language(text, "de") for text in said] == ["1 Glas", "2 Gläser"]


def test_a_studio_with_a_decimal_comma_has_it_in_english_too() -> None:
    said = say("{left:,} g", left=Decimal("1180.5"))

    with numbers_written("comma"):
        assert aloud(said) == "1.180,5 g"
    with override("de"), numbers_written("point"):
        assert aloud(said) == "1,180.5 g"


@pytest.mark.usefixtures("german")
def test_a_page_says_it_and_makes_its_signs_harmless() -> None:
    template = engines["django"].from_string("{{ said }} {{ row|join:', ' }} {{ number }}")
    said = say("{lot}: {left:,} g left", lot="<b>", left=1000)

    with override("de"):
        page = template.render({"said": said, "row": [say("a jar"), "L17"], "number": 1.5})

    assert page == "&lt;b&gt;: noch 1.000 g ein Glas, L17 1.5"


def test_a_sentence_that_ends_with_a_shortened_month_has_one_stop() -> None:
    day = say("{day}", day="Nov.")

    assert in_language(say("{first}. {then}", first=day, then="A"), "de") == "Nov. A"
    assert in_language(say("{first}.", first=day), "de") == "Nov."
    assert in_language(say("and so on..."), "de") == "and so on..."


@pytest.mark.parametrize(
    ("minor", "currency", "english", "german"),
    [
        (1_913, "GBP", "£19.13", "19,13\u00a0£"),
        (125_000, "EUR", "€1,250", "1.250\u00a0€"),
        (125_050, "SEK", "SEK 1,250.50", "1.250,50\u00a0SEK"),
    ],
)
def test_a_sum_has_its_currency_where_its_reader_writes_it(
    minor: int, currency: str, english: str, german: str
) -> None:
    said = priced(minor, currency)

    assert said == english
    assert in_language(said, "de") == german
