"""In tests a template that asks for a name which is not there fails, with the name."""

from __future__ import annotations

import pytest
from django.template import engines


class NotThere(str):
    """Django puts the name that is missing into this text."""

    __slots__ = ()

    def __mod__(self, name: object) -> str:
        raise AssertionError(f"A template asks for {name}, which is not there.")


@pytest.fixture(autouse=True)
def names_are_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engines["django"].engine, "string_if_invalid", NotThere("%s"))
