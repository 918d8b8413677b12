"""The id of an entry is a UUID as text, and cloth is measured within the sizes that it can have."""

from __future__ import annotations

from uuid import UUID

import pytest
from django.test import Client
from rest_framework.exceptions import ValidationError

from api.entries.fields import OwnId
from tests.api.entries.larder import enter, load

TEXT = "018f3c1e-7c1a-7000-8000-5a1d0f4c2b11"


@pytest.mark.parametrize("other", [False, True, 0, 7, None, [TEXT], "7"])
def test_nothing_but_the_text_of_a_uuid_is_an_id(other: object) -> None:
    assert OwnId().run_validation(TEXT) == UUID(TEXT)

    with pytest.raises(ValidationError):
        OwnId().run_validation(other)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("grams", "width", "status"),
    [("5", 1500, 201), ("4", 1500, 422), ("2000", 1500, 201), ("2001", 1500, 422)],
)
def test_cloth_is_as_heavy_as_cloth_can_be(
    client: Client, grams: str, width: int, status: int
) -> None:
    load()

    answer = enter(client, "measure", lot="L-31", g_per_m2=grams, width_mm=width)

    assert answer.status_code == status, answer.content
