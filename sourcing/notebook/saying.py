"""Sentences about the cells of a notebook, to be said again in another language.

What fills their holes (a page, a column, a name, an example) is typed in as it stands, so no
language says it otherwise.
"""

from __future__ import annotations

from inventory.science import saying
from inventory.science.saying import Said, kept


def say(pattern: str, /, **values: object) -> Said:
    """A sentence whose values stay as they are, unless they are sentences themselves.

    Examples
    --------
    >>> say("Did you mean {page}?", page="lots")
    'Did you mean lots?'
    """
    return saying.say(pattern, **{name: _as_it_is(value) for name, value in values.items()})


def _as_it_is(value: object) -> object:
    if isinstance(value, Said) or not isinstance(value, str):
        return value
    return kept(value)
