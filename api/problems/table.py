"""What each problem is called, with which status it is answered, what it means, what to do.

One row a code in `problems.csv`, beside this file; a code is the last part of the address under
which a program finds all that (RFC 9457, `type`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from http import HTTPStatus
from importlib.resources import files

from inventory.science.saying import Said, say
from inventory.science.table import Line, lines_of

FILE = "problems.csv"
COLUMNS = ("code", "status", "title", "means", "do", "example")


@dataclass(frozen=True, slots=True)
class Problem:
    """A kind of thing that can go wrong, in words for people, each to be said in their language."""

    code: str
    status: HTTPStatus
    title: Said
    means: Said
    do: Said
    example: Said  # a sentence as it may be answered

    @property
    def slug(self) -> str:
        """The code as it stands in an address."""
        return self.code.replace("_", "-")


def problem_called(code: str) -> Problem | None:
    """The problem that has a code; None where nobody wrote down what the code means."""
    return problems().get(code)


@cache
def problems() -> dict[str, Problem]:
    """Every problem by its code, in the order of the alphabet."""
    rows = lines_of(FILE, COLUMNS, folder=files("api.problems"))
    return {row["code"]: _problem(row) for row in rows}


def _problem(row: Line) -> Problem:
    return Problem(
        code=row.must("code"),
        status=HTTPStatus(int(row.must("status"))),
        title=say(row.must("title")),
        means=say(row.must("means")),
        do=say(row.must("do")),
        example=say(row.must("example")),
    )
