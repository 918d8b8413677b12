"""Whatever the floors below can write, a program can enter."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from django.test import Client

from tests.api.entries.larder import enter

ROOT = Path(__file__).resolve().parents[3]
FLOORS = {
    "inventory": "ledger jars fibre lots vessels swatches corrections cloth dyeings",
    "sourcing": "pickups sources tubs suppliers orders runs claims put_by_wishes reminders "
    "snippets steps chores turned_back",
}
# Entered by another name, as part of something larger.
WITHIN = {
    "dye": "finish-run",
    "claim_anew": "begin-run, all that the run takes",
    "use_claim": "draw, scour, mordant, put-by and make-bath, for a run",
    "receive_count": "receive",
    "write_plan": "write-order, once for each order of the plan that /api/v1/needs/ shows",
    "leave_tubs": "leave-tubs, by move_tubs",
    "fetch_tubs": "fetch-tubs, by move_tubs",
    "lose_tubs": "lose-tubs, by move_tubs",
}


def _written() -> set[str]:
    """Public functions of the floors below that write: they take an entry, or guard their words."""
    found = set()
    for floor, names in FLOORS.items():
        for name in names.split():
            tree = ast.parse((ROOT / floor / f"{name}.py").read_text(encoding="utf-8"))
            found |= {row.name for row in tree.body if _writes(row)}
    return found


def _writes(row: ast.stmt) -> bool:
    if not isinstance(row, ast.FunctionDef) or row.name.startswith("_"):
        return False
    takes_entry = "entry" in {argument.arg for argument in row.args.kwonlyargs}
    guarded = any("said_in_words" in ast.unparse(one) for one in row.decorator_list)
    return (takes_entry or guarded) and not row.name.startswith(("check_", "swatch_of"))


def test_every_verb_of_the_floors_below_can_be_entered() -> None:
    folder = ROOT / "api" / "entries"
    texts = "\n".join(file.read_text(encoding="utf-8") for file in folder.rglob("*.py"))
    called = {
        node.attr if isinstance(node, ast.Attribute) else node.id
        for node in ast.walk(ast.parse(texts.replace("from __future__ import annotations", "")))
        if isinstance(node, ast.Attribute | ast.Name)
    }

    assert len(_written()) > 60
    assert sorted(_written() - called - set(WITHIN)) == []


@pytest.mark.usefixtures("yard")
def test_cloth_is_drawn_by_its_length_once_it_was_measured(client: Client) -> None:
    two = {"takes": [{"lot": "L-31", "length": "2 m"}]}

    before = enter(client, "draw", **two)
    enter(client, "measure", lot="L-31", g_per_m2="180", width_mm=1500)
    after = enter(client, "draw", occurred_at="2026-11-23T08:40+00:00", **two)
    both = enter(client, "draw", takes=[{"lot": "L-31", "length": "2 m", "amount": "9 g"}])

    assert (before.status_code, before.json()["code"]) == (409, "no_cloth_size")
    # 2 m x 1.5 m x 180 g/m² = 540 g
    assert after.json()["moved"][0]["change"] == {"amount": "-540", "unit": "g"}
    assert [row["pointer"] for row in both.json()["errors"]] == ["/takes/0/length"]
