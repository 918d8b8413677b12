"""Entries about the chores of a day: done, and not done after all."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from api.entries.asked import Asked, Kept
from api.entries.fields import Day, Note, Said, Words
from api.entries.verb import Verb
from api.visitor import Right
from sourcing import chores
from sourcing.models import ChoreDone


class OfChore(Said):
    """An entry about one chore of one day."""

    what = Words(most=80, help_text="its name in the list of chores")
    day = Day(help_text="its day")
    note = Note()


def _said(verb: Callable[..., ChoreDone]) -> Callable[[Asked], Kept]:
    def run(asked: Asked) -> Kept:
        verb(asked.studio, day=asked["day"], what=asked["what"], **asked.posting)
        return Kept("chores-done", str(asked.entry))

    return run


def _verb(name: str, says: str, verb: Callable[..., ChoreDone], /, **example: Any) -> Verb:
    return Verb(name, "chores", says, Right.HELPER, OfChore, _said(verb), example)


VERBS = (
    _verb("chore-done", "A chore of a day done.", chores.chore_done,
          what="group prep", day="2026-11-27"),
    _verb("chore-not-done", "A chore not done after all.", chores.chore_not_done,
          what="group prep", day="2026-11-27"),
)  # fmt: skip
