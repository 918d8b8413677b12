"""What programs may count on of the records: shapes, words to ask with, examples."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from api.contract.shapes import (
    DAY,
    MOMENT,
    TEXT,
    UUID,
    WHOLE,
    Shape,
    about,
    maybe,
    one_of,
    record,
    ref,
    rows,
)
from api.records.columns import shape_of
from api.records.noun import Filter, Noun
from api.records.nouns import NOUNS
from api.rest.contract import Word

EXAMPLES = Path(__file__).with_name("examples.json")  # a record of each noun, by its name
NUMBER_AT_MOST = 999_999_999
YES_NO = one_of("yes", "no", "true", "false")
BACKWARDS = Word(
    "backwards", YES_NO, "yes: from the end of the list, as the latest of what happened.", "yes"
)


def shapes() -> dict[str, Shape]:
    """The record of each noun under its name in the contract."""
    return {shape_name(noun): _shape(noun) for noun in NOUNS}


def shape_name(noun: Noun) -> str:
    """What a record is called in the contract, as `ColdPlace`."""
    return "".join(word.capitalize() for word in noun.one.replace("-", " ").split())


def listed_shape(noun: Noun) -> Shape:
    """The answer of a list."""
    following = about(
        maybe({**TEXT, "format": "uri"}), "The address of the records that follow; null: none do."
    )
    return record(records=rows(ref(shape_name(noun)), at_most=200), next=following)


def words_of(noun: Noun) -> tuple[Word, ...]:
    """The words that narrow a list."""
    return tuple(Word(each.name, _asked(each), _about(each)) for each in noun.filters)


def key_of(noun: Noun) -> Word:
    """The last part of the address of a single record."""
    kinds: dict[str, Shape] = {"uuid": UUID, "number": {**WHOLE, "minimum": 0}, "day": DAY}
    shape = kinds.get(noun.key_kind, {**TEXT, "minLength": 1})
    column = key_column(noun)
    example = example_of(noun).get(column)
    return Word("key", shape, f"Its `{column}`.", example, place="path", required=True)


def key_column(noun: Noun) -> str:
    """Where a record holds its key."""
    return next(each.name for each in noun.columns if each.cells == (noun.key,))


def example_of(noun: Noun) -> dict[str, Any]:
    """A record as it may look."""
    found: dict[str, Any] = _examples()[noun.name]
    return found


def example_list(noun: Noun) -> dict[str, Any]:
    """A list as it may look."""
    return {"records": [example_of(noun)], "next": None}


@cache
def _examples() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(EXAMPLES.read_text(encoding="utf-8"))
    return found


def _shape(noun: Noun) -> Shape:
    parts = {
        part.name: about(rows(record(**shape_of(part.columns))), part.about) for part in noun.parts
    }
    return about(record(**shape_of(noun.columns), **parts), noun.about)


def _asked(each: Filter) -> Shape:
    if each.choices:
        return one_of(*each.choices)
    moment: Shape = {"anyOf": [MOMENT, DAY]}
    kinds: dict[str, Shape] = {
        "yes": YES_NO,
        "since": moment,
        "until": moment,
        "since day": DAY,
        "until day": DAY,
        "uuid": UUID,
        "number": {**WHOLE, "minimum": 0, "maximum": NUMBER_AT_MOST},
    }
    return kinds.get(each.kind, {**TEXT, "maxLength": 200})


def _about(each: Filter) -> str:
    return each.about or f"Only those whose `{each.name}` is this."
