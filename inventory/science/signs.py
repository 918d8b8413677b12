"""Writing cut into numbers, words and marks, each with the place where it stands.

One pass from left to right. Full-width and other scripts' digits become plain ones; unseen
characters are refused.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import Literal

from inventory.science.saying import say
from inventory.science.unclear import NotUnderstood, Unclear

LONGEST = 200  # characters
SLASHES = "/\u2044\u2215"
MINUSES = "-\u2010\u2011\u2012\u2013\u2014\u2212"
APOSTROPHES = "'\u2019"
GROUP_SPACES = "\u00a0\u2007\u2009\u202f"  # set by machines between thousands, never by a thumb
POINTS = ".·"


@dataclass(frozen=True, slots=True)
class Token:
    """One number, vulgar fraction, word or mark, with its place in the writing."""

    kind: Literal["number", "fraction", "word", "mark", "end"]
    text: str  # as written
    folded: str  # plain form: ASCII digits, lower-case letters
    start: int  # from 0
    end: int  # not included
    spaced: bool = False  # a space stands before it


def tokens(words: str) -> tuple[Token, ...]:
    """What was written, cut into numbers, words and marks; the last one marks the end.

    Examples
    --------
    >>> [token.folded for token in tokens("2lb 3½ oz")]
    ['2', 'lb', '3', '1/2', 'oz', '']
    """
    if len(words) > LONGEST:
        raise Unclear(
            words,
            say(
                "it is {count} characters long, more than {longest}",
                count=len(words),
                longest=LONGEST,
            ),
            write=say("Write the amount alone, such as 2 kg 300 g."),
        )
    found: list[Token] = []
    place, spaced = 0, False
    while place < len(words):
        if _is_space(words[place]):
            place, spaced = place + 1, True
            continue
        token = _token_at(words, place, spaced)
        found.append(token)
        place, spaced = token.end, False
    found.append(Token("end", "", "", len(words), len(words), spaced))
    return tuple(found)


def _is_space(sign: str) -> bool:
    return sign in "\t\n\r" or unicodedata.category(sign) == "Zs"


def _token_at(words: str, start: int, spaced: bool) -> Token:
    sign = words[start]
    category = unicodedata.category(sign)
    if category.startswith("C"):
        raise NotUnderstood(
            words, part=sign, position=start + 1, write=say("Take that unseen character out.")
        )
    plain = _plain(sign)
    if category == "Nd" or (plain in POINTS and _digit_at(words, start + 1)):
        return _number_token(words, start, spaced)
    if category == "No":
        return _fraction_token(words, start, spaced)
    if category == "So" and _plain_letters(sign):  # “㎏”
        return Token("word", sign, _plain_letters(sign), start, start + 1, spaced)
    if category.startswith("L") and sign != "º":
        end = start
        while end < len(words) and unicodedata.category(words[end])[0] in "LM":
            end += 1
        text = words[start:end]
        folded = unicodedata.normalize("NFKC", text).casefold()
        return Token("word", text, folded, start, end, spaced)
    return Token("mark", sign, plain, start, start + 1, spaced)


def _plain_letters(sign: str) -> str:
    """The letters that a sign such as “㎏” is made of; empty if it is made of others."""
    letters = unicodedata.normalize("NFKC", sign).casefold()
    return letters if letters.isalpha() else ""


def _plain(sign: str) -> str:
    """The plain form of a mark: full-width and typographic kinds of one sign become one."""
    if sign in SLASHES:
        return "/"
    if sign in MINUSES:
        return "-"
    if sign in "º˚":
        return "°"
    folded = unicodedata.normalize("NFKC", sign)
    return folded.casefold() if len(folded) == 1 or folded.startswith("°") else sign


def _digit_at(words: str, place: int) -> bool:
    return place < len(words) and unicodedata.category(words[place]) == "Nd"


def _number_token(words: str, start: int, spaced: bool) -> Token:
    """Digits with what stands between them; spaces only where a machine grouped thousands."""
    plain: list[str] = []
    zero = None
    place = start
    while place < len(words):
        sign = words[place]
        if unicodedata.category(sign) == "Nd":
            zero = zero or ord(sign) - unicodedata.decimal(sign)
            if ord(sign) - unicodedata.decimal(sign) != zero:
                raise NotUnderstood(
                    words,
                    part=sign,
                    position=place + 1,
                    write=say("Write the number in one script."),
                )
            plain.append(str(unicodedata.decimal(sign)))
        elif (mark := _between_digits(words, place)) is not None:
            plain.append(mark)
        else:
            break
        place += 1
    return Token("number", words[start:place], "".join(plain), start, place, spaced)


def _between_digits(words: str, place: int) -> str | None:
    """What a sign between two digits stands for: point, comma, thousands; None: no part of it."""
    if not _digit_at(words, place + 1):
        return None
    sign = words[place]
    if _plain(sign) in POINTS:
        return "."
    if _plain(sign) == ",":
        return ","
    if sign in APOSTROPHES:
        return "'"
    if sign in GROUP_SPACES:
        three = all(_digit_at(words, place + ahead) for ahead in (1, 2, 3))
        return " " if three and not _digit_at(words, place + 4) else None
    return None


def _fraction_token(words: str, start: int, spaced: bool) -> Token:
    parts = unicodedata.normalize("NFKC", words[start]).split("\u2044")
    if len(parts) != 2 or not all(part.isdecimal() for part in parts):
        raise NotUnderstood(
            words,
            part=words[start],
            position=start + 1,
            write=say("Write the number in plain digits."),
        )
    return Token("fraction", words[start], "/".join(parts), start, start + 1, spaced)
