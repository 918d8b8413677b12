"""Whose row it is: no listing of any app goes across studios."""

from __future__ import annotations

import pytest
from django.apps import apps

from inventory.models import Ring, Studio
from inventory.models.scope import NoStudioNamed, OfStudio
from tests.inventory.larder import stones

SCOPED = [model for model in apps.get_models() if issubclass(model, OfStudio)]


@pytest.mark.parametrize("model", SCOPED, ids=lambda model: model.__name__)
def test_a_table_cannot_be_listed_without_a_studio(model: type[OfStudio]) -> None:
    for ask in (model.objects.all, model.objects.count, model.objects.first):
        with pytest.raises(NoStudioNamed, match=f"Write {model.__name__}.objects.of"):
            ask()


@pytest.mark.parametrize("model", SCOPED, ids=lambda model: model.__name__)
def test_a_table_lists_only_its_studio_s_rows(
    model: type[OfStudio], studio: Studio, other: Studio
) -> None:
    stones(studio)

    assert not model.objects.of(other).exists()


def test_a_row_made_through_a_studio_belongs_to_it(studio: Studio, other: Studio) -> None:
    made = Ring.objects.of(studio).filter(watts=1).create(code="R1", watts=3500)

    assert made.studio == studio
    assert not Ring.objects.of(other).exists()


def test_rows_made_together_belong_to_the_studio(studio: Studio) -> None:
    Ring.objects.of(studio).bulk_create([Ring(code="R1", watts=1), Ring(code="R2", watts=2)])

    assert Ring.objects.of(studio).count() == 2
