"""Templates kept compiled, one copy a language, as their words are looked up while compiling.

In a language other than that of the templates, what a variable shows in the text of a page is said
too, when it is a word of the trade: `frozen`, `wool`. Inside a tag it stays as it is, as there a
program reads it: a value, a class, an address.
"""

from __future__ import annotations

import re

from django.template import Origin
from django.template.loaders.cached import Loader
from django.utils.translation import get_language

from api.templating.quick import QuickLoader

OWN = "en"  # what the templates are written in
VARIABLE = re.compile(r"\{\{\s*(.+?)\s*\}\}")
# What begins or ends a tag of the page, with what stands between braces left aside.
EDGE = re.compile(r"\{[{%#].*?[}%#]\}|<!--.*?-->|<(?=[/!a-zA-Z])|>", re.DOTALL)
# What a field is filled with, and sends back.
VALUE = re.compile(r'\bvalue="\{\{\s*(.+?)\s*\}\}"')
# Its own holes are said by its tag.
SENTENCE = re.compile(r"\{%\s*(?:end)?blocktranslate\b")
# What is typed there is nobody's word but the reader's.
TYPED = re.compile(r"<textarea\b")


class KeptByLanguage(Loader, QuickLoader):
    """Compiled templates by name and by the language of whoever reads."""

    def cache_key(self, template_name: str, skip: list[Origin] | None = None) -> str:
        """The name under which a template is kept."""
        return f"{get_language() or ''} {super().cache_key(template_name, skip)}"

    def get_contents(self, origin: Origin) -> str:
        """The text of a template, its variables said where another language is spoken."""
        text = with_values_plain(super().get_contents(origin))
        return text if (get_language() or OWN).startswith(OWN) else with_words_said(text)


def with_values_plain(text: str) -> str:
    """A template whose fields are filled as programs read them, whatever is spoken or weighed in.

    >>> with_values_plain('<input value="{{ row.amount }}">')
    '<input value="{{ row.amount|as_written }}">'
    """
    return VALUE.sub(r'value="{{ \1|as_written }}"', text)


def with_words_said(text: str) -> str:
    """A template whose variables are said where they stand in the text of the page.

    >>> with_words_said('<p class="{{ kind }}">{{ state }}</p>')
    '<p class="{{ kind }}">{{ state|aloud }}</p>'
    """
    if TYPED.search(text):
        return text
    said, at, in_tag, in_sentence = [], 0, False, False
    for edge in EDGE.finditer(text):
        mark = edge[0]
        if mark == "<":
            in_tag = True
        elif mark == ">":
            in_tag = False
        elif SENTENCE.match(mark):
            in_sentence = "endblocktranslate" not in mark
        elif not (in_tag or in_sentence) and (variable := VARIABLE.fullmatch(mark)):
            said += [text[at : edge.start()], f"{{{{ {variable[1]}|aloud }}}}"]
            at = edge.end()
    return "".join([*said, text[at:]])
