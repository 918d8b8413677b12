"""Every word that a page shows comes from a catalogue, or somebody wrote it down."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from django.test import Client

from tests.api.tongue.pseudo import WORD, outside, spoken
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db
ROOT = Path(__file__).resolve().parents[3]
PAGES = (
    *("/", "/today/", "/shelves/", "/ask/", "/coming/", "/missed/", "/orders/", "/put-by/"),
    *("/sources/", "/totals/", "/reminders/", "/runs/A/sheet/", "/runs/F/group/", "/runs/F/slips/"),
    *("/runs/A/", "/recipes/blush/", "/note/", "/note/pick-up/", "/note/dip/", "/note/draw/"),
)
# Columns of shipped tables that say what somebody else wrote, in their own words.
QUOTED = ("source", "typical")
DAYS = "Mon|Tue|Wed|Thu|Fri|Sat|Sun|Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
# Signs of measures, which are the same in every language that we answer in, and our own name.
MEASURES = "g|kg|mg|L|mL|kWh|kW|W|h|min|pH|cm|mm|lb|oz|Dye|Larder|UTC|GB|GBP"
APART = re.compile(rf"\b(?:{DAYS}|{MEASURES})\b")


@pytest.fixture(scope="module")
def written_down() -> set[str]:
    """The words of the studio's own notebook, and of what others published, which is quoted."""
    cells: list[str] = []
    for file in sorted((ROOT / "fixtures" / "pellitory-yard").glob("*.csv")):
        cells += [cell for row in _rows(file) for cell in row.values()]
    for file in sorted((ROOT / "inventory" / "science" / "tables").rglob("*.csv")):
        cells += [row[name] for row in _rows(file) for name in QUOTED if row.get(name)]
    return {word.lower() for cell in cells for word in WORD.findall(cell)}


def _rows(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


@pytest.mark.parametrize("address", PAGES)
def test_every_word_is_said_or_was_written_down(
    client: Client, written_down: set[str], address: str
) -> None:
    load()

    with spoken():
        page = client.get(address, {"at": MONDAY}, headers={"accept-language": "de"})

    assert page.status_code == 200
    assert [run for run in outside(page.content.decode()) if _unsaid(run, written_down)] == []


def _unsaid(run: str, written_down: set[str]) -> bool:
    return bool({word.lower() for word in WORD.findall(APART.sub(" ", run))} - written_down)
