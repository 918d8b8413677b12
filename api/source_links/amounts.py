"""How much somebody saved, as people write it on a phone: a count, a weight, or none this time."""

from __future__ import annotations

import re
from dataclasses import dataclass

from inventory.science.amounts import Amount
from inventory.science.custom import Custom
from inventory.science.saying import say
from inventory.science.unclear import Unclear, UnknownPiece

NONE = frozenset(("", "0", "no", "none", "none this time", "nothing", "nothing this time", "zero"))
NUMBER = re.compile(r"[0-9][0-9 .,]{0,11}", re.ASCII)
LONGEST = 80


class AmountUnclear(ValueError):
    """Writing that is no count and no weight; the sentence says what to write."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One thing that is given, and what one of it is called where the studio counts it."""

    name: str  # avocado stones
    piece: str = ""  # stone; empty: it is weighed
    pieces: str = ""  # stones

    @property
    def example(self) -> str:
        """How much of it may be written.

        >>> Kind("avocado stones", "stone", "stones").example, Kind("privet").example
        ('“58 stones” or “2 kg”', '“2 kg”')
        """
        return say("“58 {pieces}” or “2 kg”", pieces=self.pieces) if self.piece else "“2 kg”"


def amount_told(text: str, kind: Kind, *, custom: Custom) -> str:
    """What was written, with its unit; empty: none this time.

    A bare number counts pieces where the thing is counted.

    Raises
    ------
    AmountUnclear

    Examples
    --------
    >>> stones = Kind("avocado stones", "stone", "stones")
    >>> [amount_told(text, stones, custom=Custom()) for text in ("58", "2 kg", "None this time.")]
    ['58 stones', '2 kg', '']
    """
    words = " ".join(text.split())
    if words.casefold().rstrip(".!") in NONE:
        return ""
    if len(words) > LONGEST:
        raise AmountUnclear(say("Write it shorter, such as {example}.", example=kind.example))
    words = _with_its_piece(words, kind)
    amount = _read(words, kind, custom)
    if amount.value == 0:
        return ""
    _check_of(amount, kind)
    return words


def _with_its_piece(words: str, kind: Kind) -> str:
    """`58` and `58 avocado stones` as `58 stones`, where the thing is counted."""
    if not kind.piece:
        return words
    called = kind.name.casefold()
    head = words[: -len(called)].strip() if words.casefold().endswith(called) else words
    return (
        say("{head} {pieces}", head=head, pieces=kind.pieces) if NUMBER.fullmatch(head) else words
    )


def _read(words: str, kind: Kind, custom: Custom) -> Amount:
    own = (kind.piece,) if kind.piece else ()
    try:
        return custom.amount(words, pieces=own, may_be_zero=True)
    except (Unclear, UnknownPiece) as wrong:
        raise AmountUnclear(
            say("{wrong} Here that would be {example}.", wrong=wrong, example=kind.example)
        ) from None


def _check_of(amount: Amount, kind: Kind) -> None:
    """Refuse what nobody knows the weight of: buckets, and pieces of something else."""
    if amount.kind == "mass":
        return
    if amount.kind != "count" or amount.unit != kind.piece:
        raise AmountUnclear(
            say(
                "How much {understood} of {name} weigh is not known here. Write such as {example}.",
                understood=amount.understood,
                name=kind.name,
                example=kind.example,
            )
        )
