"""The sheet's cautions: each sentence once, with what it is of, the gravest first."""

from __future__ import annotations

from typing import Any

from api.sheet_cautions import caution_lines


def row(**values: Any) -> dict[str, Any]:
    """One caution of the sums, a food rule of run A where nothing else is said."""
    plain: dict[str, Any] = {
        "code": "food", "kind": "food", "mark": "NOT FOOD", "about": None, "jars": [],
        "text": "pots never see food again", "basis": "memory", "source": None, "runs": ["A"],
    }  # fmt: skip
    return {**plain, **values}


def test_a_sentence_stands_once_with_all_its_runs() -> None:
    rows = [row(), row(about="P1", runs=["C", "A"])]

    assert list(caution_lines(rows)) == [("NOT FOOD", "A and C: pots never see food again")]


def test_poison_stands_before_food_and_food_before_the_law() -> None:
    rows = [row(kind="duty", mark="LABEL"), row(), row(kind="poison", mark="POISON")]

    assert [mark for mark, _ in caution_lines(rows)] == ["POISON", "NOT FOOD", "LABEL"]


def test_jars_that_give_gas_share_a_sentence_and_keep_their_own_litres() -> None:
    said = "lid loose; up to {} L of gas"
    rows = [
        row(runs=[], jars=[code], kind="gas", code="iron-gas", mark="GAS", text=said.format(litres))
        for code, litres in (("J1", "10.0"), ("J2", "2.7"))
    ]

    ((_, text),) = caution_lines(rows)
    assert text == "J1 and J2: lid loose (J1 up to 10.0 L of gas and J2 up to 2.7 L of gas)"


def test_a_heavy_pot_is_named_by_its_run_and_litres() -> None:
    rows = [
        row(runs=["A", "B"], kind="lifting", about="40 L"),
        row(runs=["C"], kind="lifting", about="18 L"),
    ]

    ((_, text),) = caution_lines(rows)
    assert text.startswith("A, B and C: ")
    assert text.endswith("(A 40 L, B 40 L and C 18 L)")


def test_what_a_run_s_own_note_says_is_not_said_again() -> None:
    rows = [row(code="fading"), row(code="coins", runs=[], jars=["J4"])]

    assert list(caution_lines(rows)) == []


def test_of_very_many_runs_the_first_are_named() -> None:
    runs = [f"R{number}" for number in range(14)]

    ((_, all_named),) = caution_lines([row(runs=runs[:12])])
    ((_, more),) = caution_lines([row(runs=runs)])
    assert "R10 and R11: pots" in all_named
    assert "R11 and 2 more: pots" in more
