"""`aloud`: a plain trade word, such as a state or a fibre, in the language of whoever reads."""

from __future__ import annotations

from django import template

from api.tongue.speaking import aloud as said_aloud
from api.tongue.trade import trade

register = template.Library()


@register.filter
def aloud(value: object) -> object:
    """A word of the catalogues said; a name that somebody gave, or what is no text, as it is."""
    return said_aloud(trade(value)) if isinstance(value, str) else value
