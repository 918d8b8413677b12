"""Every verb by its name: what may be entered at all."""

from __future__ import annotations

from api.entries.verb import Verb
from api.entries.verbs import (
    chores,
    corrections,
    fibre,
    jars,
    lots,
    orders,
    pickups,
    readers,
    runs,
    sources,
    steps,
    swatches,
    vessels,
    weeks,
)

NOUNS = (
    lots,
    jars,
    fibre,
    vessels,
    swatches,
    corrections,
    pickups,
    sources,
    orders,
    runs,
    steps,
    chores,
    readers,
    weeks,
)
VERBS: dict[str, Verb] = {verb.name: verb for noun in NOUNS for verb in noun.VERBS}
