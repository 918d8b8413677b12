"""Words for the form of JSON: what each kind of value looks like, in JSON Schema 2020-12.

An answer may gain members, so a reader passes over those that it does not know; what comes in
may not hold any that we do not know, so `taken` closes an object and `record` does not.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

Shape = Mapping[str, object]

TEXT: Shape = {"type": "string"}
NAME: Shape = {"type": "string", "minLength": 1, "maxLength": 120}
WHOLE: Shape = {"type": "integer"}
COUNT: Shape = {"type": "integer", "minimum": 0}
YES: Shape = {"type": "boolean"}
NUMBER: Shape = {"type": "number"}
MOMENT: Shape = {"type": "string", "format": "date-time"}
DAY: Shape = {"type": "string", "format": "date"}
UUID: Shape = {"type": "string", "format": "uuid"}
DECIMAL: Shape = {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"}
CHANCE: Shape = {"type": "number", "minimum": 0, "maximum": 1}
DAYS_SHAPE: Shape = {"type": "integer", "minimum": 1, "maximum": 28, "default": 7}
ANYTHING: Shape = {}


def record(_optional: Iterable[str] = (), /, **members: Shape) -> Shape:
    """An object of an answer: all its members are there but those named as optional.

    >>> record(from_=TEXT)["required"]  # a word of Python's own is written with a stroke
    ['from']
    """
    said = {name.rstrip("_"): shape for name, shape in members.items()}
    left_out = set(_optional)
    return {
        "type": "object",
        "properties": said,
        "required": [name for name in said if name not in left_out],
    }


def taken(_optional: Iterable[str] = (), /, **members: Shape) -> Shape:
    """An object of a body: like a record, and nothing else may stand in it."""
    return {**record(_optional, **members), "additionalProperties": False}


def rows(of: Shape, *, at_most: int | None = None) -> Shape:
    """A list of things of one form."""
    bound = {} if at_most is None else {"maxItems": at_most}
    return {"type": "array", "items": of, **bound}


def or_empty(of: Shape) -> Shape:
    """The same, or an empty text: a field of a form that was left alone."""
    return {"anyOf": [of, {"type": "string", "maxLength": 0}]}


def named(of: Shape) -> Shape:
    """An object whose members are names of things."""
    return {"type": "object", "additionalProperties": of}


def maybe(of: Shape) -> Shape:
    """The same, or null.

    >>> maybe(TEXT)
    {'type': ['string', 'null']}
    """
    kind = of.get("type")
    if isinstance(kind, str) and "enum" not in of:
        return {**of, "type": [kind, "null"]}
    return {"anyOf": [of, {"type": "null"}]}


def one_of(*words: str) -> Shape:
    """One of these words."""
    return {"type": "string", "enum": list(words)}


def ref(name: str) -> Shape:
    """A form that is written down once, under `SHARED`."""
    return {"$ref": f"#/components/schemas/{name}"}


def about(of: Shape, words: str) -> Shape:
    """The same, with what it means."""
    return {**of, "description": words}


AMOUNT = ref("Amount")

SHARED: dict[str, Shape] = {
    "Amount": about(
        record(amount=DECIMAL, unit=TEXT),
        "An amount as we say it: a decimal string, never rounded, and its unit.",
    ),
    "AmountTaken": about(
        {
            "anyOf": [
                {"type": "string", "minLength": 1, "maxLength": 100},
                taken(
                    amount={**DECIMAL, "maxLength": 40},
                    unit={**TEXT, "minLength": 1, "maxLength": 20},
                ),
            ]
        },
        "An amount as you say it: a decimal string with its unit, or as a person writes it, such "
        "as `2 lb 3 oz` or `58 stones`. The answer says how it was understood.",
    ),
    "Problem": about(
        record(
            ("errors",),
            type={"type": "string", "format": "uri-reference"},
            title=TEXT,
            status={"type": "integer", "minimum": 400, "maximum": 599},
            detail=TEXT,
            code=TEXT,
            at=MOMENT,
            errors=rows(record(pointer=TEXT, detail=TEXT)),
        ),
        "Why not (RFC 9457): one stable type and code, one sentence, the moment, and the values "
        "that decided it. `errors` points into the body (RFC 6901) where fields are at fault.",
    ),
}
