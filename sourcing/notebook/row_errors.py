"""What can go wrong with one row of a notebook: one class each, with what can be done."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.errors import LarderError, quoted
from sourcing.notebook.saying import say


class NoSuchPage(LarderError):
    """A name that no page of a notebook has."""

    code = "no_such_page"

    def __init__(self, page: str, *, nearest: str = "") -> None:
        self.page = quoted(page)
        note = (
            say("Did you mean {nearest}? Write that.", nearest=nearest)
            if nearest
            else say("Look in the list of pages.")
        )
        super().__init__(say("A notebook has no page {page}. {note}", page=self.page, note=note))


class NoSuchRow(LarderError):
    """A key that no row of a page has."""

    code = "no_such_row"

    def __init__(self, page: str, key: str) -> None:
        self.page, self.key = page, quoted(key)
        super().__init__(
            say(
                "The page {page} has no row {key}. Look in the list of its rows.",
                page=page,
                key=self.key,
            )
        )


class RowIsHistory(LarderError):
    """A row that says what happened was to be written or taken out."""

    code = "row_is_history"

    def __init__(self, page: str, *, by: str) -> None:
        self.page, self.by = page, by
        super().__init__(
            say(
                "The page {page} says what happened, so no row of it is written or taken out one "
                "by one. Record it: {by}.",
                page=page,
                by=by,
            )
        )


class RowPointedAt(LarderError):
    """A row that others name was to be taken out."""

    code = "row_pointed_at"

    def __init__(self, page: str, key: str, by: Iterable[str]) -> None:
        self.page, self.key, self.by = page, quoted(key), tuple(by)
        super().__init__(
            say(
                "The row {key} of the page {page} cannot go: {join}. Change that first, or leave "
                "the row.",
                key=self.key,
                page=page,
                join="; ".join(self.by),
            )
        )


class StudioStays(LarderError):
    """The studio's own row was to be taken out or made anew."""

    code = "studio_stays"

    def __init__(self, studio: str) -> None:
        self.studio = studio
        super().__init__(
            say(
                "{studio} has one row of its own, which is changed and never taken out. "
                "Write the whole notebook out to take the studio elsewhere.",
                studio=studio,
            )
        )
