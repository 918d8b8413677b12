"""A quick template shows to the letter what the framework's own shows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, NamedTuple

import pytest
from django.core.exceptions import ObjectDoesNotExist
from django.template import Context, Engine, Template
from django.utils import translation
from django.utils.functional import lazystr
from django.utils.safestring import mark_safe

from api.templating.quick import QuickTemplate
from api.tongue.measures import units_of
from api.tongue.numbers import numbers_written
from inventory.science.saying import measured, say

ENGINE = Engine(builtins=["api.templating.words", "api.templating.kept"])


class Pair(NamedTuple):
    left: str
    right: str


PAIR = Pair("a<", "b>")


@dataclass(frozen=True)
class Jar:
    code: object
    pair: Pair = PAIR

    @property
    def gone(self) -> str:
        raise ObjectDoesNotExist

    @property
    def broken(self) -> str:
        raise KeyError("here")

    def name(self) -> str:
        return "Iron & 7"


class Row(dict[str, object]):
    """A dictionary whose items are asked before its properties."""

    code = "as a property"


def both(text: str, /, **values: object) -> tuple[str, str]:
    """What the framework shows, and what a quick template shows."""
    return tuple(  # type: ignore[return-value]
        kind(text, engine=ENGINE).render(Context(values, use_l10n=False))
        for kind in (Template, QuickTemplate)
    )


@pytest.mark.parametrize(
    "value",
    [
        "<b>&'\"",
        mark_safe("<b>"),
        lazystr("<later>"),
        say("{mass} g < 1 kg", mass=Decimal("640.5")),
        measured(say("{mass} g", mass=640), 640_000, "mg"),
        None,
        True,
        7,
        1180.5,
        1e23,
        Decimal("1180.50"),
        date(2026, 11, 23),
        ("a", "<b>"),
        Jar,
        lambda: "<called>",
        Pair("<", ">"),
    ],
)
def test_a_value_of_any_kind_is_written_alike(value: object) -> None:
    text = "{{ value }} {{ jar.code }} {{ rows.0 }} {{ row.code }} {% if jar.code %}yes{% endif %}"
    values = {"value": value, "jar": Jar(value), "rows": [value], "row": {"code": value}}

    framework, quick = both(text, **values)

    assert quick == framework


@pytest.mark.parametrize(
    "path",
    [
        *("jar.name", "jar.pair.left", "jar.pair.1", "jar.gone", "jar.nothing", "nothing"),
        *("nothing.at.all", "row.code", "row.items", "row.none", "text.upper", "text.0", "jar.0"),
        *(
            "rows.0.code",
            "rows.9",
            "empty.code",
            "jar.pair.left|upper",
            '_("Jars")',
            "3.5",
            '"<b>"',
        ),
    ],
)
def test_a_way_of_any_kind_leads_to_the_same(path: str) -> None:
    values = {
        "jar": Jar("J1"), "row": Row(code="an item"), "text": "wool", "rows": [Jar("J2")],
        "empty": None,
    }  # fmt: skip
    shown = "{{ PATH }}{% if PATH %}yes{% endif %}{% with it=PATH %}{{ it }}{% endwith %}"

    framework, quick = both(shown.replace("PATH", path), **values)

    assert quick == framework


def test_without_escaping_nothing_is_escaped() -> None:
    text = "{% autoescape off %}{{ sign }}{{ said }}{% endautoescape %}{{ sign }}"

    framework, quick = both(text, sign="<&", said=say("a < {b}", b="b"))

    assert quick == framework == "<&a < b&lt;&amp;"


def test_a_fault_in_a_property_is_not_hidden() -> None:
    def shown(kind: Callable[..., Any]) -> str:
        return str(kind("{{ jar.broken }}", engine=ENGINE).render(Context({"jar": Jar("J1")})))

    for kind in (Template, QuickTemplate):
        with pytest.raises(KeyError, match="here"):
            shown(kind)


@pytest.mark.parametrize(
    ("language", "form", "units"),
    [("en-gb", "", ""), ("de", "", ""), ("en-gb", "comma", ""), ("en-gb", "", "imperial")],
)
def test_a_sentence_is_said_as_its_reader_has_it(language: str, form: str, units: str) -> None:
    template = QuickTemplate("{{ left }}", engine=ENGINE)
    left = measured(say("{mass:,} g", mass=1180), 1_180_000, "mg")

    with translation.override(language), numbers_written(form), units_of(units):
        shown = template.render(Context({"left": left}))
        assert shown == left.__html__()
