"""Templates kept compiled, one copy a language, as their words are looked up while compiling."""

from __future__ import annotations

from django.template import Origin
from django.template.loaders.cached import Loader
from django.utils.translation import get_language


class KeptByLanguage(Loader):
    """Compiled templates by name and by the language of whoever reads."""

    def cache_key(self, template_name: str, skip: list[Origin] | None = None) -> str:
        """The name under which a template is kept."""
        return f"{get_language() or ''} {super().cache_key(template_name, skip)}"
