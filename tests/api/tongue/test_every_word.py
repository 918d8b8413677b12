"""Every word that a page shows comes from a catalogue, or somebody wrote it down."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from django.test import Client

from tests.api.tongue.pseudo import WORD, outside, spoken
from tests.api.web.browser.addresses import walked
from tests.api.web.yard import load

pytestmark = pytest.mark.django_db
ROOT = Path(__file__).resolve().parents[3]
# Columns of shipped tables that say what somebody else wrote, in their own words, and properties
# that are names and numbers of science.
QUOTED = ("source",)
SIGNS = ("botanical_name", "cas", "iso_2076_code", "ghs_codes", "ghs_codes_oxalate_salts")
# What programs read, and what is written about it, is in English.
FOR_PROGRAMS = ("/api/",)
DAYS = "Mon|Tue|Wed|Thu|Fri|Sat|Sun|Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
# Signs of measures, which are the same in every language that we answer in, names of languages
# in their own, and our own name.
MEASURES = "g|kg|mg|L|mL|kWh|kW|W|h|min|pH|cm|mm|lb|oz|Dye|Larder|UTC|GB|GBP|Deutsch"
APART = re.compile(rf"\b(?:{DAYS}|{MEASURES})\b")


def _written_down() -> set[str]:
    """The words of the studio's own notebook, and of what others published, which is quoted."""
    cells: list[str] = []
    for file in sorted((ROOT / "fixtures" / "pellitory-yard").glob("*.csv")):
        cells += [cell for row in _rows(file) for cell in row.values()]
    for row in _rows(ROOT / "sourcing" / "starts" / "tables" / "recipes.csv"):
        cells.append(row["shade"])  # a name, the studio's own from then on
    for file in sorted((ROOT / "inventory" / "science" / "tables").rglob("*.csv")):
        cells += [row[name] for row in _rows(file) for name in QUOTED if row.get(name)]
        cells += [row.get("typical", "") for row in _rows(file) if row.get("property") in SIGNS]
    return {word.lower() for cell in cells for word in WORD.findall(cell)}


def _rows(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


def test_every_word_of_every_page_is_said_or_was_written_down(client: Client) -> None:
    load()
    known = _written_down()
    unsaid: dict[str, list[str]] = {}

    def page(address: str) -> str | None:
        answer = client.get(address, headers={"accept-language": "de"})
        kind = answer.get("Content-Type", "")
        if answer.status_code != 200 or not kind.startswith("text/html"):
            return None
        text = answer.content.decode()
        runs = [run for run in outside(text) if _unsaid(run, known)]
        if runs and not address.startswith(FOR_PROGRAMS):
            unsaid[address] = runs
        return text

    with spoken():
        addresses = walked(page, every_form=True)

    assert len(addresses) > 100
    assert unsaid == {}


def _unsaid(run: str, known: set[str]) -> bool:
    return bool({word.lower() for word in WORD.findall(APART.sub(" ", run))} - known)
