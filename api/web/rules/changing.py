"""Another figure for a rule: looked at in this week, kept from a day on, or taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.http import QueryDict

from api.asked import day_asked
from api.question import Question, moment_now
from api.tongue.customs import custom_of
from api.web.ask.view import TOLD_FIRST, RunMovedShown
from api.web.form_unclear import FormUnclear
from api.web.runs.address import run_address
from api.web.this_week.flags import begun_large
from api.web.this_week.runs import LOOKS
from inventory.models import Studio
from inventory.science import unclear
from inventory.science.custom import Custom
from inventory.science.figures import Figures
from inventory.science.saying import say
from sourcing.figures import Standing
from sourcing.notebook.one_row import Wanted, put_row
from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import read_figure
from sourcing.notebook.row_key import key_text
from sourcing.notebook.rules import value_of
from sourcing.notebook.take_out import delete_row
from sourcing.notebook.yard_pages import BY_NAME
from sourcing.outlook import facts_and_otherwise
from sourcing.remembered import week_of
from sourcing.week.what_if import RunMoved, check, moved_runs, week_if
from sourcing.week.what_if.figure import AnotherFigure, with_figures

LONGEST = 400


@dataclass(frozen=True, slots=True)
class FigureLooked:
    """What becomes of the week with another figure."""

    moved: tuple[RunMovedShown, ...]
    in_between: int
    runs: int


def rule_asked(standing: Standing, said: str, *, custom: Custom) -> Decimal:
    """The value that somebody wrote, in the unit of its rule."""
    try:
        custom.check_marks(said[:LONGEST])
        return value_of(standing.name, read_figure(said[:LONGEST]))
    except (Unclear, unclear.Unclear) as wrong:
        raise FormUnclear("value", said, str(wrong)) from None


def looked_at(question: Question, standing: Standing, value: Decimal) -> FigureLooked:
    """The answers that another value moves.

    Raises
    ------
    CannotBe
        If the sums cannot work with it.
    """
    change = AnotherFigure(standing.item, standing.name, value)
    today = question.at.date()

    def otherwise(held: Figures) -> Figures:
        return with_figures(held, [change], on=today)

    facts, then = facts_and_otherwise(
        question.studio,
        at=question.at,
        days=question.days,
        otherwise=otherwise,
        check=lambda facts: check(facts, [change]),
    )
    before = week_of(facts, days=question.days)
    rows = [row for row in moved_runs(before, week_if(then, [], days=question.days), facts)]
    moved = [row for row in rows if row.moved]
    told = [shown for row in moved if (shown := _moved(row, question.carried)).texts]
    return FigureLooked(tuple(told), len(moved) - len(told), len(rows))


def keep(studio: Studio, standing: Standing, post: QueryDict, at: datetime) -> None:
    """The studio's own figure from a day on."""
    rule_asked(standing, post.get("value", ""), custom=custom_of(studio))
    said = post.get("since", "")
    since = day_asked("since", said) if said else at.date()
    day = f"{since:%Y-%m-%d}"
    cells = {
        "item": standing.item,
        "rule": standing.name.replace("_", " "),
        "value": post.get("value", "").strip(),
        "since": day,
        "note": post.get("note", "").strip()[:LONGEST],
    }
    key = key_text([cells["item"], cells["rule"], day])
    put_row(studio, BY_NAME["rules"], key, Wanted(cells), at=moment_now(), look=_whatever)


def to_shipped(studio: Studio, standing: Standing, post: QueryDict, at: datetime) -> None:
    """The studio's own figure taken out, so that the one before it holds again, or the shipped."""
    own = standing.own
    if own is None:
        raise FormUnclear("do", "", say("The shipped figure holds already."))
    if own.source.endswith(" weighed"):
        detail = say("This figure was learnt from what was counted and weighed, so it stays.")
        raise FormUnclear("do", "", detail)
    since = "" if own.since is None else f"{own.since:%Y-%m-%d}"
    key = key_text([standing.item, standing.name.replace("_", " "), since])
    delete_row(studio, BY_NAME["rules"], key, at=moment_now(), look=_whatever)


def _moved(row: RunMoved, carried: str) -> RunMovedShown:
    after = row.after or row.before
    assert after is not None, "a run is in one of the weeks"
    texts = tuple(begun_large(shift.text) for shift in row.shifts if shift.kind in TOLD_FIRST)
    return RunMovedShown(row.run, row.shade, run_address(row.run, carried), LOOKS[after.answer],
                         after.answer, texts)  # fmt: skip


def _whatever(mark: str | None) -> None:
    """Whatever stands there: the page has shown it a moment ago."""
