"""The demo notebook with more of everything in it: lots, jars, fibre, hand-overs and runs."""

from __future__ import annotations

from datetime import date, timedelta

from tests.inventory.scratch import ROOT

LOTS, RUNS, JARS, HAND_OVERS = 9, 7, 5, 13  # of the notebook as it is
RECIPES = (("blush", "wool", "no", ""), ("hedge-olive", "wool", "yes", "alum 12 %"),
           ("slate", "silk", "yes", ""), ("oak-grey", "lyocell", "yes", ""))  # fmt: skip
DYESTUFFS = (("avocado stones", "frozen", "freezer"), ("privet", "dried", "dry store"),
             ("onion skins", "dried", "dry store"))  # fmt: skip
Pages = dict[str, str]


def times(many: int) -> dict[str, bytes]:
    """So many times the notebook."""
    return grown(LOTS * many, RUNS * many, jars=JARS * many, hand_overs=HAND_OVERS * many)


def grown(
    lots: int, runs: int, *, jars: int = JARS, hand_overs: int = HAND_OVERS
) -> dict[str, bytes]:
    """The demo notebook with so many lots and runs, each run with fibre of its own."""
    folder = ROOT / "fixtures" / "pellitory-yard"
    pages = {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.csv")}
    for number in range(lots - LOTS):
        _lot(pages, number)
    for number in range(runs - RUNS):
        _run(pages, number, runs)
    for number in range(jars - JARS):
        _jar(pages, number)
    for number in range(hand_overs - HAND_OVERS):
        _hand_over(pages, number)
    return {name: text.encode() for name, text in pages.items()}


def _lot(pages: Pages, number: int) -> None:
    dyestuff, state, place = DYESTUFFS[number % 3]
    permission = '"corner house, 1 Oct 2026"' if dyestuff == "privet" else ""
    pages["lots.csv"] += (
        f"L{number:05},{dyestuff},{400 + number % 7 * 100} g,{state},{place},"
        f"1 Oct 2026 09:00,1 Oct 2026,,{permission},,yes,,,\n"
    )


def _run(pages: Pages, number: int, runs: int) -> None:
    recipe, fibre, scoured, mordant = RECIPES[number % 4]
    grams = 200 + number % 5 * 100
    since = "3 Nov 2026" if mordant else ""
    state = f"{scoured},{mordant},no,{since}"
    pages["fibre.csv"] += f"W{number:05},{fibre},yarn,{2 * grams} g,{state},,no,yes,,yes,,\n"
    due = f"{1 + number * 27 // runs} Dec 2026 18:00"
    wanted = f"R{number:05},{recipe},{fibre},{grams} g,W{number:05},{due}"
    pages["runs.csv"] += f"{wanted},,,yes,,,no,\n"
    pages["gates.csv"] += f"R{number:05},shade card,,,,,yes\n"


def _jar(pages: Pages, number: int) -> None:
    begun = date(2026, 9, 1) + timedelta(days=number % 60)
    pages["jars.csv"] += (
        f"K{number:05},Iron K{number},iron,2 water : 1 vinegar,5 %,{begun:%d %b %Y} 09:00,"
        f"1.0 L,1.0 L,8 °C,,yes,,,\n"
    )
    pages["dips.csv"] += f"K{number:05},2 Nov 2026 09:00,{3 + number % 3},\n"


def _hand_over(pages: Pages, number: int) -> None:
    """One of the year before, at a minute that no other has."""
    day = date(2026, 10, 15) - timedelta(days=number % 300)
    clock = f"{8 + number // 300:02}:30"
    pages["pickups.csv"] += (
        f"Lantern Steps café,avocado stones,{day:%d %b %Y} {clock},made,"
        f"{40 + number % 30} stones,,,\n"
    )
