"""What moved is told in a dyer's words, whatever happened."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from api.web.shelves.moved import SENTENCES, moved_in_words
from inventory.models import Kind
from sourcing.moved import Moved, Part

AT = datetime(2026, 11, 23, 9, tzinfo=UTC)


def part(code: str, amount: int, left: int, *, what: str = "", unit: str = "mg") -> Part:
    return Part(code, what or "avocado stones", amount, left, unit, "dyestuff")


def told(kind: str, *parts: Part, **more: object) -> str:
    return moved_in_words(Moved(AT, kind, parts, **more))  # type: ignore[arg-type]


JAR = part("J2", -200_000, 700_000, what="iron liquor", unit="µL")


def test_every_kind_of_entry_has_a_sentence_of_its_own() -> None:
    assert set(SENTENCES) == set(Kind.values)


@pytest.mark.parametrize("kind", [*Kind.values, "something new"])
def test_no_entry_breaks_the_page_even_with_nothing_in_it(kind: str) -> None:
    assert told(kind)
    assert told(kind, part("A", -5000, 0), part("B", 5000, 5000), about=("P1",))


@pytest.mark.parametrize(
    ("sentence", "row"),
    [
        (
            "200 mL of J2 (iron liquor) drawn, 700 mL left",
            Moved(AT, "draw", (JAR,)),
        ),
        (
            "640 g of AV-1109 (avocado stones) tipped out, to the compost heap; none left",
            Moved(AT, "tip out", (part("AV-1109", -640_000, 0),), where_to="the compost heap"),
        ),
        (
            "480 g of CB-1121F (red cabbage) put by frozen, to the drawer, from CB-1121",
            Moved(
                AT,
                "put by",
                (
                    part("CB-1121", -480_000, 720_000, what="red cabbage"),
                    part("CB-1121F", 480_000, 480_000, what="red cabbage"),
                ),
                state="frozen",
                place="drawer",
            ),
        ),
        (
            "AV-1116 put by frozen, to the freezer",
            Moved(AT, "put by", about=("AV-1116",), state="frozen", place="freezer"),
        ),
        ("J1 dipped: strip 4 of 5", Moved(AT, "dip", about=("J1",), grade=4)),
        (
            "J1: test strip read 5,000 mg/L",
            Moved(AT, "dip", about=("J1",), reading_mg_per_l=5000.0),
        ),
        ("W-85 set aside: mould?", Moved(AT, "set aside", about=("W-85",), set_aside="mould?")),
        ("P1 failed its blank swatch", Moved(AT, "clear", about=("P1",), use="blank failed")),
        ("AV-1030 looked bad", Moved(AT, "judge", about=("AV-1030",), sound=False)),
        (
            "W-101 looked over again, kept as second quality: streaky",
            Moved(AT, "judge", about=("W-101",), quality="second quality", came_out="streaky"),
        ),
        (
            "dyed: 400 g of W-101 (wool), kept as for re-dyeing: boiled brown; "
            "took 400 g of W-90 (wool)",
            Moved(
                AT,
                "dye",
                (
                    part("W-90", -400_000, 200_000, what="wool"),
                    part("W-101", 400_000, 400_000, what="wool"),
                ),
                quality="for re-dyeing",
                came_out="boiled brown",
            ),
        ),
        ("W-101 has a swatch in the book", Moved(AT, "swatch", about=("W-101",))),
        (
            "an entry put right: J2 +50 mL",
            Moved(AT, "correct", (part("J2", 50_000, 750_000, unit="µL"),)),
        ),
    ],
)
def test_it_reads_as_it_would_be_said(sentence: str, row: Moved) -> None:
    assert moved_in_words(row) == sentence


def test_many_lots_in_one_entry_are_summed() -> None:
    lots = [part(f"L-{number}", -1000, 0) for number in range(9)]

    assert told("draw", *lots).startswith("1 g of L-0 (avocado stones), 1 g of L-1")
    assert "5 more drawn" in told("draw", *lots)
