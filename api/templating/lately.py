"""What a process made lately of frozen facts, found again by equal ones."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, Generic, ParamSpec, TypeVar

T = TypeVar("T")
Asked = ParamSpec("Asked")
_all: list[Lately[Any]] = []


class Lately(Generic[T]):
    """So many of one sort of things; begun anew when it is full.

    Parameters
    ----------
    at_most : things kept
    """

    def __init__(self, at_most: int) -> None:
        self._at_most = at_most
        self._known: dict[Hashable, T] = {}
        _all.append(self)

    def of(
        self, key: Hashable, make: Callable[Asked, T], *args: Asked.args, **named: Asked.kwargs
    ) -> T:
        """What `make` gives; made once for equal keys.

        Parameters
        ----------
        key : everything that goes into it; values of one kind each, all frozen
        """
        found = self._known.get(key)
        if found is None:
            if len(self._known) >= self._at_most:
                self._known.clear()
            found = self._known[key] = make(*args, **named)
        return found


def forget() -> None:
    """Make everything anew, for whoever measures how long that takes."""
    for kept in _all:
        kept._known.clear()
