"""What a door refuses by itself, before any shelf is asked: code, sentence, headers, values."""

from __future__ import annotations

from collections.abc import Mapping


class Refused(Exception):
    """A request that its door does not let in; the row of `code` has the status."""

    code = "refused"

    def __init__(
        self, detail: str, *, headers: Mapping[str, str] | None = None, **values: object
    ) -> None:
        self.headers, self.values = dict(headers or {}), values
        super().__init__(detail)
