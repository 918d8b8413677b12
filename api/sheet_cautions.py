"""The cautions of a week for the text sheet: each sentence once, with the runs or jars it is of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from inventory.science.cautions import GRAVITY
from inventory.science.saying import joined, say
from sourcing.week.words import listed

# Said in a run's own note already, or once for all when a jar is made.
SAID_ELSEWHERE = frozenset({"fading", "coins"})
NAMED_AT_MOST = 12
Row = dict[str, Any]


@dataclass(slots=True)
class Line:
    """One sentence with all that it is said of."""

    mark: str
    kind: str
    text: str
    of: list[str] = field(default_factory=list)  # codes of runs and jars
    about: list[str] = field(default_factory=list)


def caution_lines(rows: Iterable[Row]) -> Iterator[tuple[str, str]]:
    """Mark and words of each caution, the gravest kind first.

    Parameters
    ----------
    rows : `cautions` of the week's sums
    """
    lines: dict[tuple[str, str], Line] = {}
    for row in rows:
        if row["code"] in SAID_ELSEWHERE:
            continue
        text, gas = _without_gas(row["text"])
        line = lines.setdefault((row["mark"], text), Line(row["mark"], row["kind"], text))
        who = [*row["runs"], *row["jars"]]
        line.of += [code for code in who if code not in line.of]
        said = (
            [say("{code} {gas}", code=code, gas=gas) for code in who] if gas else _worth_saying(row)
        )
        line.about += [about for about in said if about not in line.about]
    for line in sorted(lines.values(), key=lambda line: GRAVITY[line.kind]):
        about = say(" ({of})", of=_of(line.about)) if line.about else ""
        yield line.mark, say("{of}: {text}{about}", of=_of(line.of), text=line.text, about=about)


def _of(codes: list[str]) -> str:
    """Codes in words, of very many the first only."""
    if len(codes) <= NAMED_AT_MOST:
        return listed(codes)
    return say(
        "{codes} and {count} more",
        codes=joined(", ", codes[:NAMED_AT_MOST]),
        count=len(codes) - NAMED_AT_MOST,
    )


def _without_gas(text: str) -> tuple[str, str]:
    """A sentence, and the litres of gas at its end, which are each jar's own."""
    sentence, _, gas = text.partition("; up to ")
    return sentence, say("up to {gas}", gas=gas) if gas else ""


def _worth_saying(row: Row) -> list[str]:
    """What a caution is about, where its sentence does not say so."""
    about = row["about"] or ""
    if row["kind"] == "lifting":
        return [say("{run} {about}", run=run, about=about) for run in row["runs"]]
    return [about] if row["kind"] == "powder" else []
