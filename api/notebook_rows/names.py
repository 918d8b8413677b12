"""What the columns of a page are called in JSON."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from sourcing.notebook.merge import OF_A_RECIPE
from sourcing.notebook.page import Column, Page
from sourcing.notebook.yard_pages import BY_NAME


def member(column: str) -> str:
    """A column's heading as the name of a member.

    >>> member("client's own"), member("per m2"), member("pick-up")
    ('clients_own', 'per_m2', 'pick_up')
    """
    return column.replace("'", "").replace(" ", "_").replace("-", "_")


@cache
def members_of(page: Page) -> Mapping[str, Column]:
    """The columns of a page by the names of their members."""
    return {member(column.name): column for column in page.columns}


def parts_of(page: Page) -> tuple[Page, ...]:
    """The pages whose rows stand within a row of this one: steps and doses in a recipe."""
    return tuple(BY_NAME[name] for name in OF_A_RECIPE) if page.name == "recipes" else ()


@cache
def members_within(part: Page) -> Mapping[str, Column]:
    """The columns of a step or a dose within its recipe, which it does not name again."""
    return {name: column for name, column in members_of(part).items() if name != "recipe"}
