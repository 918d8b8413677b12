"""A piece of a page is written once for equal values, and shown only to whom it is said so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from types import SimpleNamespace

import pytest
from django.template import Context, Engine, Template, TemplateSyntaxError
from django.utils import translation

from api.templating import kept
from api.tongue.measures import units_of
from api.tongue.numbers import numbers_written
from inventory.science.saying import measured, say

PAGE = '{% for jar in jars %}{% kept "jar" jar=jar look="wide" %}{% endfor %}'
PIECE = '<b class="{{ look }}">{{ jar.code }}</b> {{ jar.left }} {{ jar.level }}{{ frame }};'


@dataclass(frozen=True)
class Jar:
    code: str
    left: str
    level: float = 0.5


class Counting(Engine):
    """An engine that notes which templates it is asked for."""

    asked: list[str]

    def get_template(self, template_name: str) -> Template:
        self.asked.append(template_name)
        return super().get_template(template_name)


@pytest.fixture
def engine(monkeypatch: pytest.MonkeyPatch) -> Iterator[Counting]:
    """A page of jars and the piece of one, of which nothing is kept yet."""
    pages = ("django.template.loaders.locmem.Loader", {"page": PAGE, "jar": PIECE})
    made = Counting(
        loaders=[("api.templating.by_language.KeptByLanguage", [pages])],
        builtins=["api.templating.words", "api.templating.kept"],
    )
    made.asked = []
    monkeypatch.setattr(kept, "engines", {"django": SimpleNamespace(engine=made)})
    kept.forget()
    yield made
    kept.forget()


def shown(
    engine: Engine, *jars: Jar, language: str = "en-gb", form: str = "", units: str = ""
) -> str:
    with translation.override(language), numbers_written(form), units_of(units):
        return engine.get_template("page").render(Context({"jars": jars, "frame": "not told"}))


def test_a_piece_is_written_once_for_equal_values(engine: Counting) -> None:
    first = shown(engine, Jar("J1", "1 L"), Jar("J2", "1 L"))
    again = shown(engine, Jar("J1", "1 L"), Jar("J2", "2 L"))

    assert first == '<b class="wide">J1</b> 1 L 0.5;<b class="wide">J2</b> 1 L 0.5;'
    assert again == '<b class="wide">J1</b> 1 L 0.5;<b class="wide">J2</b> 2 L 0.5;'
    assert engine.asked == ["page", "jar", "jar", "page", "jar"]


def test_signs_are_made_harmless_in_it_too(engine: Counting) -> None:
    assert shown(engine, Jar("<J1>", "")).startswith('<b class="wide">&lt;J1&gt;</b>')


def test_each_language_and_each_form_of_numbers_has_its_own(engine: Counting) -> None:
    jar = Jar("J1", say("{left:,} g", left=1180))

    assert "1,180 g" in shown(engine, jar)
    assert "1.180 g" in shown(engine, jar, language="de")
    assert "1.180 g" in shown(engine, jar, form="comma")
    assert "1,180 g" in shown(engine, jar)


def test_what_is_equal_in_english_alone_is_not_equal_to_another_reader(engine: Counting) -> None:
    """A jar that somebody called `1,180 jars` keeps its name; a count is written as German does."""
    counted, called = say("{count:,} jars", count=1180), say("{name}", name="1,180 jars")
    assert counted == called

    first = shown(engine, Jar("J1", counted), language="de")
    second = shown(engine, Jar("J1", called), language="de")

    assert "1.180 jars" in first
    assert "1,180 jars" in second


def test_a_studio_that_weighs_in_pounds_has_its_own(engine: Counting) -> None:
    """453.59237 g are a pound by definition (International Yard and Pound, 1959)."""
    pound = Jar("J1", measured("453.6 g", Fraction("453592.37"), "mg"))
    two = Jar("J1", measured("453.6 g", Fraction("453592.37") * 2, "mg"))

    assert "453.6 g" in shown(engine, pound)
    assert "1 lb" in shown(engine, pound, units="imperial")
    assert "2 lb" in shown(engine, two, units="imperial")


@pytest.mark.parametrize(
    "written", ["{% kept jar jar=jar %}", '{% kept "jar" %}', '{% kept "j" 1 %}']
)
def test_a_piece_without_its_values_stops_the_page(engine: Counting, written: str) -> None:
    with pytest.raises(TemplateSyntaxError, match="kept"):
        engine.from_string(written)
