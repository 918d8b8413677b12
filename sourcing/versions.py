"""Which versions of recipes are still wanted, and what each is called."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import Max, OuterRef, Q, QuerySet, Subquery

from inventory.models import Studio
from inventory.science.saying import say
from sourcing.models import Recipe, Run


def wanted_recipes(studio: Studio) -> QuerySet[Recipe]:
    """The last version of each recipe, and those that open runs were begun with."""
    rows = Recipe.objects.of(studio)
    last = (
        rows.filter(code=OuterRef("code"))
        .order_by()
        .values("code")
        .annotate(last=Max("version"))
        .values("last")
    )
    used = Run.objects.of(studio).filter(finished_at__isnull=True).values("recipe")
    return rows.filter(Q(version=Subquery(last)) | Q(pk__in=used))


def names_of(versions: Iterable[tuple[int, str, int]]) -> dict[int, str]:
    """What each version is called: the last by its code alone, an older one with its number.

    Parameters
    ----------
    versions : key, code and version number, any order
    """
    rows = tuple(versions)
    last: dict[str, int] = {}
    for _, code, version in rows:
        last[code] = max(version, last.get(code, 0))
    return {
        key: code
        if version == last[code]
        else say("{code} version {version}", code=code, version=version)
        for key, code, version in rows
    }
