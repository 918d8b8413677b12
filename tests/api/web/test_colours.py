"""The colours of the style sheet can be read by day, by night and on paper.

The sum is WCAG 2.2's: relative luminance, then (lighter + 0.05) / (darker + 0.05); 4.5 for text
(1.4.3), 3 for what a drawing needs to be understood (1.4.11).
"""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest

SHEETS = Path(__file__).resolve().parents[3] / "api" / "static"
CSS = (SHEETS / "larder.css").read_text(encoding="utf-8")
DYES = ("rose", "gold", "olive", "verdigris", "slate")
TEXT, DRAWN = 4.5, 3.0


def tokens(block: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z-]+):\s*(#[0-9a-f]{3,6})\b", block))


def palettes() -> dict[str, dict[str, str]]:
    """By day, by night and on paper; what a later one does not say it takes from the first."""
    day, night = (tokens(block) for block in re.findall(r":root \{(.*?)\n\s*\}", CSS, re.S)[:2])
    paper = tokens(re.findall(r"@media print \{(.*)", CSS, re.S)[0])
    return {"day": day, "night": {**day, **night}, "paper": {**day, **paper}}


def luminance(colour: str) -> float:
    digits = colour.removeprefix("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_the_sum_gives_the_published_values() -> None:
    """Black on white 21:1; #767676 on white 4.54:1 (WebAIM's page on contrast)."""
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("light", ["day", "night", "paper"])
def test_text_can_be_read_on_every_ground(light: str) -> None:
    found = palettes()[light]
    pairs = [
        *product(("ink", "soft", *DYES), ("paper", "cloth")),
        *product(("ink",), (f"{dye}-wash" for dye in DYES)),
        ("tape-ink", "tape"),
        ("paper", "ink"),  # the button, and the way past the head
        ("soft", "gold-wash"), ("soft", "verdigris-wash"),
    ]  # fmt: skip

    weak = {pair: round(contrast(found[pair[0]], found[pair[1]]), 2) for pair in pairs}

    assert {pair: ratio for pair, ratio in weak.items() if ratio < TEXT} == {}


@pytest.mark.parametrize("light", ["day", "night", "paper"])
def test_the_edge_of_a_bar_is_seen_on_its_wash_and_on_paper(light: str) -> None:
    found = palettes()[light]
    pairs = [*((dye, f"{dye}-wash") for dye in DYES), *((dye, "paper") for dye in DYES)]

    weak = {pair: round(contrast(found[pair[0]], found[pair[1]]), 2) for pair in pairs}

    assert {pair: ratio for pair, ratio in weak.items() if ratio < DRAWN} == {}


def test_every_colour_that_a_sheet_names_is_a_colour_of_the_palette() -> None:
    """A sheet takes its colours by name, so night and paper come by themselves."""
    known = set(re.findall(r"--([a-z-]+):", CSS))

    for sheet in sorted(SHEETS.glob("*.css")):
        text = sheet.read_text(encoding="utf-8")
        used = set(re.findall(r"var\(--([a-z-]+)", text))
        assert used <= known | set(re.findall(r"--([a-z-]+):", text)), sheet.name
        if sheet.name != "larder.css":
            assert not re.findall(r"#[0-9a-f]{3,8}\b(?![^{]*\{)", text), sheet.name
