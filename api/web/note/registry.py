"""Every form by the name of its verb, and in which order they stand on the page of forms."""

from __future__ import annotations

from api.web.note.form import Form
from api.web.note.forms import jars, pickups

NOUNS = (pickups, jars)
FORMS: dict[str, Form] = {form.verb: form for noun in NOUNS for form in noun.FORMS}
# The first are those that a day is full of.
GROUPS = (
    ("Every day", ("pick-up", "dip", "miss-pick-up")),
    ("Pick-ups", ("report-pick-up",)),
)
