"""Rules ready to show: the figure in use, whose it is, and the shipped one behind it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.urls import reverse

from api.question import Question
from api.web.figures.standing import StandingShown, standing_shown
from inventory.science.saying import say
from sourcing.figures import Standing
from sourcing.notebook.row_key import key_text
from sourcing.notebook.rules import figure_of

RULES_AT_MOST = 60  # on one page; a search finds the others
OF_THE_STUDIO = "studio"


@dataclass(frozen=True, slots=True)
class RuleLine:
    """One rule of the list."""

    shown: StandingShown
    address: str


@dataclass(frozen=True, slots=True)
class RuleList:
    """The studio's own first, then those that are shipped."""

    own: tuple[RuleLine, ...]
    shipped: tuple[RuleLine, ...]
    more: int  # that the page has no room for


@dataclass(frozen=True, slots=True)
class RuleShown:
    """One rule with both its figures."""

    used: StandingShown
    shipped: StandingShown | None
    own: StandingShown | None
    value: str  # in use, as it is written in the field
    learnt: bool  # from what was counted and weighed


def listed_rules(rows: Iterable[Standing], question: Question, *, find: str) -> RuleList:
    """Rules by item; without a search those of the studio's own ways and its own figures."""
    found = [row for row in rows if _is_wanted(row, find)]
    own = [row for row in found if row.own is not None]
    shipped = [row for row in found if row.own is None]
    return RuleList(
        own=tuple(_line(row, question) for row in own[:RULES_AT_MOST]),
        shipped=tuple(_line(row, question) for row in shipped[:RULES_AT_MOST]),
        more=max(0, len(own) - RULES_AT_MOST) + max(0, len(shipped) - RULES_AT_MOST),
    )


def rule_shown(row: Standing, question: Question) -> RuleShown:
    """A rule as it stands."""
    used = row.used
    figure = figure_of(row.name, used.value)
    shipped = None if row.shipped is None else Standing(row.item, row.name, None, row.shipped)
    own = None if row.own is None else row
    return RuleShown(
        used=_shown(row),
        shipped=None if shipped is None else _shown(shipped),
        own=None if own is None else _shown(own),
        value=say(
            "{normalize:f} {unit}", normalize=figure.value.normalize(), unit=figure.unit
        ).rstrip(),
        learnt=row.own is not None and row.own.source.endswith(" weighed"),
    )


def rule_address(item: str, name: str) -> str:
    """Where a rule has its page."""
    return reverse("rule", args=[key_text([item, name])])


def _is_wanted(row: Standing, find: str) -> bool:
    if not find:
        return row.own is not None or row.item == OF_THE_STUDIO
    shown = _shown(row)
    said = say(
        "{item} {words} {replace} {note}",
        item=row.item,
        words=shown.words,
        replace=row.name.replace("_", " "),
        note=row.note,
    ).casefold()
    return all(word in said for word in find.casefold().split())


def _line(row: Standing, question: Question) -> RuleLine:
    return RuleLine(_shown(row), rule_address(row.item, row.name) + question.carried)


def _shown(row: Standing) -> StandingShown:
    return standing_shown([row])[0]
