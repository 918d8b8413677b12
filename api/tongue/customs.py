"""How amounts are read that somebody wrote: one answer for every form, address and entry."""

from __future__ import annotations

from django.utils.translation import get_language

from api.tongue import numbers
from inventory.models import Studio
from inventory.science.custom import METRIC, Custom


def custom_of(studio: Studio) -> Custom:
    """How amounts are written in a studio, and by whoever reads a page of it just now.

    A point may group thousands where the studio or the reader writes a decimal comma; the country
    decides where neither said anything.
    """
    commas = numbers.form_wanted(get_language() or "en") == numbers.COMMA
    if commas or studio.number_form:
        groups: bool | None = commas or studio.number_form == numbers.COMMA
    else:
        groups = None
    return Custom(studio.country, groups, studio.units or METRIC)
