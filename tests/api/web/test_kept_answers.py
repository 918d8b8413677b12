"""What a process keeps of its sums and words changes no answer, in whatever order it is asked."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Any

import pytest
from django.test import Client

from api.templating import kept
from api.templating.lately import Lately
from inventory.science.figures import Figures
from tests.api.web.yard import load

FIRST = datetime(2026, 11, 20, 5, 10, tzinfo=UTC)
# A day and some hours apart: jars mature and lots pass their last day meanwhile.
MOMENTS = [FIRST + timedelta(minutes=1_597 * number) for number in range(12)]
ADDRESSES = ("/shelves/", "/api/v1/shelves/")


def answers(client: Client) -> dict[tuple[str, datetime], bytes]:
    """The shelves at each moment, the moments in no order."""
    asked = [(address, at) for at in MOMENTS for address in ADDRESSES]
    Random(20261120).shuffle(asked)
    return {(address, at): _said(client, address, at) for address, at in asked}


def _said(client: Client, address: str, at: datetime) -> bytes:
    answer = client.get(address, {"at": at.isoformat(timespec="minutes")})
    assert answer.status_code == 200
    return re.sub(rb'name="csrfmiddlewaretoken" value="[^"]*"', b"", answer.content)


@pytest.mark.django_db
def test_nothing_that_is_kept_changes_an_answer(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def made_anew(self: object, key: object, make: Callable[..., Any], *of: Any, **by: Any) -> Any:
        return make(*of, **by)

    load()
    with_what_is_kept = answers(client)
    kept.forget()
    monkeypatch.setattr(Figures, "once", made_anew)
    monkeypatch.setattr(Lately, "of", made_anew)

    assert answers(client) == with_what_is_kept
    assert len(set(with_what_is_kept.values())) == len(with_what_is_kept)  # time does go by
