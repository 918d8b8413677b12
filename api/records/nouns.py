"""All nouns whose records a program can read, floor by floor."""

from __future__ import annotations

from api.records import buying, fittings, history, ledger, plans, recipes, room, shelf, yard
from api.records.noun import Noun

NOUNS: tuple[Noun, ...] = (
    *shelf.NOUNS,
    *fittings.NOUNS,
    *ledger.NOUNS,
    *history.NOUNS,
    *yard.NOUNS,
    *buying.NOUNS,
    *recipes.NOUNS,
    *plans.NOUNS,
    *room.NOUNS,
)
