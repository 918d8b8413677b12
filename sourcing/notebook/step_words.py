"""How the heats, standing and hands of a step are written in a cell, and back again.

`fresh > 55 hold 60 min; 70 > 80 hold 45 min`, `12 to 48 h`, `30 min per load`.
"""

from __future__ import annotations

import re
from fractions import Fraction

from sourcing.notebook.problem import Unclear
from sourcing.notebook.saying import say
from sourcing.week.facts import Heat

HANDS_PER = ("load", "run", "kg", "dye load")
COLD = ("fresh", "mixed")  # from the cold water's warmth, or from the mix's
MOST_MINUTES = 60 * 24 * 60  # sixty days
WRITE_TIME = say("Write a time such as 30 min, 3 h or 2 d.")
WRITE_HEATS = say("Write heats such as fresh > 55 hold 60 min; 70 > 80 hold 45 min.")
WRITE_STANDS = say("Write a standing time such as 24 h, or 12 to 48 h.")
WRITE_HANDS = say("Write hands such as 30 min per load; per load, run, kg or dye load.")

_NUMBER = r"\d{1,6}(?:[.,]\d{1,3})?"
_UNITS = {"min": 1, "m": 1, "minute": 1, "minutes": 1, "h": 60, "hour": 60, "hours": 60,
          "hr": 60, "hrs": 60, "d": 1440, "day": 1440, "days": 1440, "week": 10080,
          "weeks": 10080}  # fmt: skip
_TIME = re.compile(rf"(?P<number>{_NUMBER}) ?(?P<unit>[a-z]+)", re.IGNORECASE | re.ASCII)
_HEAT = re.compile(
    r"(?:(?P<start>fresh|mixed|-?\d{1,3}) ?(?P<start_unit>°? ?[CF])? ?(?:>|→|to) ?)"
    r"(?P<goal>\d{1,3}) ?(?P<unit>°? ?[CF])?,? hold (?P<hold>.+)",
    re.IGNORECASE | re.ASCII,
)


def read_minutes(text: str) -> int:
    """Whole minutes of a written time: `30 min`, `3 h`, `1 h 30 min`, `2 d`."""
    minutes, at = Fraction(0), 0
    while at < len(text):
        found = _TIME.match(text, at)
        if found is None or found["unit"].casefold() not in _UNITS:
            raise Unclear(WRITE_TIME)
        number = Fraction(found["number"].replace(",", "."))
        minutes += number * _UNITS[found["unit"].casefold()]
        at = found.end()
        while at < len(text) and text[at] == " ":
            at += 1
    if not text or minutes.denominator != 1:
        raise Unclear(
            say("Minutes are whole. {write_time}", write_time=WRITE_TIME) if text else WRITE_TIME
        )
    if minutes > MOST_MINUTES:
        raise Unclear(say("That is longer than sixty days. Write a shorter time."))
    return int(minutes)


def write_minutes(minutes: int) -> str:
    """A time as a notebook shows it: whole hours from two on, else minutes."""
    return f"{minutes // 60} h" if minutes >= 120 and minutes % 60 == 0 else f"{minutes} min"


def read_heats(text: str) -> tuple[Heat, ...]:
    """The heatings of a step, in order."""
    return tuple(_heat(part.strip()) for part in text.strip("; ").split(";"))


def write_heats(heats: tuple[Heat, ...], *, mixed: bool = False) -> str:
    """Heatings as a notebook shows them; `mixed`: an extract has met cold water before."""
    return "; ".join(_write_heat(heat, "mixed" if mixed else "fresh") for heat in heats)


def read_stands(text: str) -> tuple[int, int | None]:
    """Minutes in the liquor without flame: at least, and at most where it has an end."""
    found = re.fullmatch(r"(.+?) ?(?:to|-|–) ?(.+)", text)
    if found is None:
        return _stand(text), None
    low, high = found[1].strip(), found[2].strip()
    if low.replace(".", "").replace(",", "").isdigit():
        low += " " + re.sub(r"[\d., ]", "", high)
    least, most = _stand(low), _stand(high)
    if most < least:
        raise Unclear(
            say(
                "The longest time is shorter than the shortest. {write_stands}",
                write_stands=WRITE_STANDS,
            )
        )
    return least, most


def write_stands(least: int, most: int | None) -> str:
    """A standing time as a notebook shows it."""
    if most is None:
        return write_minutes(least)
    if least % 60 == 0 and most % 60 == 0:
        return f"{least // 60} to {most // 60} h"
    return f"{least} to {most} min"


def read_hands(text: str) -> tuple[int, str]:
    """Minutes at the pots, and for each of what."""
    time, _, per = text.partition(" per ")
    if not per or per.strip().casefold() not in HANDS_PER:
        raise Unclear(WRITE_HANDS)
    try:
        return read_minutes(time.strip()), per.strip().casefold()
    except Unclear:
        raise Unclear(WRITE_HANDS) from None


def write_hands(minutes: int, per: str) -> str:
    """Hands as a notebook shows them."""
    return f"{minutes} min per {per}"


def _heat(text: str) -> Heat:
    found = _HEAT.fullmatch(text)
    if found is None:
        raise Unclear(WRITE_HEATS)
    unit = found["unit"] or "C"
    start = None
    if found["start"].casefold() not in COLD:
        start = _celsius(int(found["start"]), found["start_unit"] or unit)
    goal = _celsius(int(found["goal"]), unit)
    if not 0 < goal <= 100 or (start is not None and not 0 <= start < goal):
        raise Unclear(
            say("Heat goes up, and to 100 °C at most. {write_heats}", write_heats=WRITE_HEATS)
        )
    hold = found["hold"].strip()
    try:
        return Heat(goal, read_minutes(hold + " min" if hold.isdigit() else hold), start)
    except Unclear:
        raise Unclear(WRITE_HEATS) from None


def _celsius(degrees: int, unit: str) -> int:
    return round((degrees - 32) * 5 / 9) if unit.strip("° ").casefold() == "f" else degrees


def _write_heat(heat: Heat, cold: str) -> str:
    start = cold if heat.start_c is None else str(heat.start_c)
    return f"{start} > {heat.goal_c} hold {heat.hold_min} min"


def _stand(text: str) -> int:
    try:
        return read_minutes(text)
    except Unclear as unclear:
        raise Unclear(str(unclear) if "sixty" in str(unclear) else WRITE_STANDS) from None
