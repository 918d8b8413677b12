"""Something in a form that is missing or cannot be; the sentence says what to write instead."""

from __future__ import annotations

from api.asked import Unreadable


class FormUnclear(Unreadable):
    """A field of a page's form that cannot be understood."""

    code = "form_unclear"
