"""A shipped start written into a studio's own recipes, through the notebook's own door."""

from __future__ import annotations

from datetime import datetime

from inventory.models import Studio
from sourcing.errors import RecipeThere
from sourcing.notebook.recipe_cells import RecipeCells, write_recipe
from sourcing.starts.starts import Start


def take_over(studio: Studio, start: Start, *, at: datetime) -> bool:
    """The start as a recipe of the studio, unless one of its code is there; whether it is new."""
    try:
        write_recipe(studio, RecipeCells(start.cells, start.steps, start.doses), at=at)
    except RecipeThere:
        return False
    return True
