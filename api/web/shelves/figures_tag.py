"""`{% figures_table figures summary %}`: the table of figures behind something, folded away.

Fifty jars rest on the same few figures; their table is written once and stands under each.
"""

from __future__ import annotations

from functools import lru_cache

from django import template
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.utils.translation import get_language

from api.web.shelves.figures import FigureShown

TABLES_KEPT = 64  # the minute stands in their links, so those before are soon of no use

register = template.Library()


@register.simple_tag
def figures_table(figures: tuple[FigureShown, ...], summary: str) -> SafeString:
    """Nothing where there are no figures."""
    return _table(tuple(figures), str(summary), get_language())


@lru_cache(maxsize=TABLES_KEPT)
def _table(figures: tuple[FigureShown, ...], summary: str, language: str | None) -> SafeString:
    return render_to_string("shelves/figures.html", {"figures": figures, "summary": summary})
