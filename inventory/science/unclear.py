"""What can be wrong with an amount as somebody wrote it, one class for each kind of trouble.

Each names what was written, the part that stopped the reading, where it stands, what to write.
"""

from __future__ import annotations

from inventory.science.saying import kept, say

SHOWN_AT_MOST = 60  # characters of the writing that a message repeats


class Unclear(ValueError):
    """What was written cannot be read as one amount.

    `words` is the whole writing, `part` the piece that stopped the reading, `position` its place
    counted from 1, `write` what to write instead.
    """

    def __init__(
        self, words: str, problem: str, *, part: str = "", position: int = 1, write: str
    ) -> None:
        problem, write = _printable(problem), _printable(write)
        self.words, self.problem, self.write = words, problem, write
        self.part, self.position = part, position
        super().__init__(
            say("“{shown}”: {problem}. {write}", shown=shown(words), problem=problem, write=write)
        )


class NotUnderstood(Unclear):
    """A part of it means nothing here."""

    def __init__(self, words: str, *, part: str, position: int, write: str) -> None:
        where = say(
            "“{shown}” at character {position} was not understood",
            shown=shown(part),
            position=position,
        )
        super().__init__(words, where, part=part, position=position, write=write)


class Missing(Unclear):
    """A number, a unit or everything is left out."""


class TwoReadings(Unclear):
    """It can be read in two ways; both are named."""

    def __init__(
        self, words: str, first: str, second: str, *, part: str, position: int, write: str = ""
    ) -> None:
        self.readings = (first, second)
        super().__init__(
            words,
            say(
                "“{shown}” at character {position} may mean {first} or {second}",
                shown=shown(part),
                position=position,
                first=first,
                second=second,
            ),
            part=part,
            position=position,
            write=write or say("Write {first} or {second}.", first=first, second=second),
        )


class Vague(Unclear):
    """A range or a guess, where one amount is asked for."""


class OutOfBounds(Unclear):
    """Too much, too little, below zero or none at all."""


class WetWeight(Unclear):
    """A weight of wet fibre; doses are worked out from the dry weight only."""

    def __init__(self, words: str, *, part: str, position: int) -> None:
        super().__init__(
            words,
            say(
                "“{shown}” at character {position} says that it was weighed wet",
                shown=shown(part),
                position=position,
            ),
            part=part,
            position=position,
            write=say("Write the dry weight: weigh it dry, or take it from the ticket."),
        )


class NotOneAmount(Unclear):
    """Several numbers with units that do not make one amount together."""


class OtherKind(Unclear):
    """A volume where a weight is asked for, and the like."""


class UnknownPiece(LookupError):
    """Nobody has said yet what one of these weighs or holds."""

    def __init__(self, noun: str, words: str) -> None:
        self.noun, self.words = noun, words
        super().__init__(
            say(
                "“{shown}”: no weight is known for one {noun}. Weigh it, or write what one "
                "{noun} weighs in the studio's rules.",
                shown=shown(words),
                noun=noun,
            )
        )


class OutOfRange(ValueError):
    """A figure lies outside the range in which the sum holds."""

    def __init__(self, name: str, value: object, allowed: str) -> None:
        self.name, self.value, self.allowed = name, value, allowed
        super().__init__(
            say("{name} is {value}; it must be {allowed}.", name=name, value=value, allowed=allowed)
        )


def shown(words: str) -> str:
    """Writing that is safe to repeat, as it was written: short, unprintable ones by their number.

    Examples
    --------
    >>> shown("2 kg" + chr(0))
    '2 kg[U+0000]'
    """
    words = words.strip()
    return kept(_printable(words if len(words) <= SHOWN_AT_MOST else words[:SHOWN_AT_MOST] + "…"))


def _printable(words: str) -> str:
    """Spaces of every kind as plain ones, other unprintable characters by their number."""
    if words.isprintable():
        return words  # A sentence stays one that can be said again.
    return "".join(
        sign
        if sign.isprintable()
        else " "
        if sign.isspace()
        else say("[U+{sign:04X}]", sign=ord(sign))
        for sign in words
    )
