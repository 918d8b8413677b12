"""Codes for what is new on the shelves, so that nobody with wet hands has to make one up.

A lot of dyestuff is called by its dyestuff and the day, AV-1127; a jar, a bath or a lot of fibre by
the next number of its letter, J7; a part by the lot that it came from, AV-1116-F.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from datetime import date

from inventory.models import Jar, Lot, Studio

ROWS_AT_MOST = 2_000  # that are looked through for the highest number of a letter
LONGEST_CODE = 40
NUMBERED = re.compile(r"(?P<letters>[^\W\d_]{1,4})(?P<dash>-?)(?P<number>\d{1,6})")
DATED = re.compile(r"(?P<letters>[^\W\d_]{1,6})-\d{4}(-.*)?")
TAPED = re.compile(r"\D{1,40} (?P<number>\d{1,6})")
LETTERS = {"jar": "J", "bath": "J"}


def dated_code(studio: Studio, what: str, *, on: date, taken: Collection[str] = ()) -> str:
    """A free code for a lot of a dyestuff gathered on a day: its letters and the day.

    Parameters
    ----------
    taken : codes that are given away already and stand in no row yet
    """
    rows = Lot.objects.of(studio).filter(what=what, kind="dyestuff").order_by("-pk")
    last = next((found for code in rows.values_list("code", flat=True)[:20]
                 if (found := DATED.fullmatch(code))), None)  # fmt: skip
    letters = last["letters"] if last else letters_of(what)
    return free_code(studio, f"{letters}-{on:%m%d}", taken=taken)


def numbered_code(studio: Studio, kind: str, what: str, *, taken: Collection[str] = ()) -> str:
    """A free code for a jar, a bath or a lot of fibre: its letter and the next number."""
    kinds = ("jar", "bath") if kind in LETTERS else (kind,)
    rows = Lot.objects.of(studio).filter(kind__in=kinds).order_by("-pk")
    if kind not in LETTERS:
        rows = rows.filter(what=what)
    codes = [*rows.values_list("code", flat=True)[:ROWS_AT_MOST], *taken]
    found = [match for code in codes if (match := NUMBERED.fullmatch(code))]
    letters = found[0]["letters"] if found else LETTERS.get(kind, what[:1].upper())
    dash = found[0]["dash"] if found else ("" if kind in LETTERS else "-")
    same = [int(match["number"]) for match in found if match["letters"] == letters]
    return free_code(studio, f"{letters}{dash}{max(same, default=0) + 1}", taken=taken)


def part_code(studio: Studio, lot: str, mark: str, *, taken: Collection[str] = ()) -> str:
    """A free code for a part of a lot: that of the lot with a letter for what was done to it."""
    room = LONGEST_CODE - len(mark) - 4
    return free_code(studio, f"{lot[:room]}-{mark}", taken=taken)


def free_code(studio: Studio, wish: str, *, taken: Collection[str] = ()) -> str:
    """The code wished for, or the next that is free: AV-1127, AV-1127-2, AV-1127-3."""
    used = Lot.objects.of(studio).filter(code__startswith=wish).values_list("code", flat=True)
    gone = {*used[:ROWS_AT_MOST], *taken}
    number, code = 1, wish
    while code in gone:
        number += 1
        code = f"{wish}-{number}"
    return code


def letters_of(what: str) -> str:
    """Two letters for a dyestuff that has no lot yet.

    >>> letters_of("avocado stones"), letters_of("œil")
    ('AV', 'ŒI')
    """
    return "".join(sign for sign in what if sign.isalpha())[:2].upper() or "LT"


def next_name(studio: Studio, metal: str) -> str:
    """What the tape of the next jar of a metal says: Iron 8 after Iron 7."""
    names = Jar.objects.of(studio).filter(metal=metal).order_by("-pk")
    found = [int(match["number"]) for name in names.values_list("name", flat=True)[:ROWS_AT_MOST]
             if (match := TAPED.fullmatch(name))]  # fmt: skip
    return f"{metal.capitalize()} {max(found, default=0) + 1}"
