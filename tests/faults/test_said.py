"""What nobody can have weighed, seen or meant is refused by every verb, in a sentence."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest

from inventory.audit import audit
from inventory.entries import Weighed
from inventory.errors import LarderError
from inventory.models import Studio, StudioRule
from tests.faults.verbs import AT, VERBS, rows, shelves
from tests.inventory.larder import studio_of
from tests.once import once

NAN, INF = float("nan"), float("inf")
NAIVE = datetime(2026, 11, 23, 9)  # noqa: DTZ001
TOO_EARLY = datetime(1, 1, 1, tzinfo=timezone(timedelta(hours=12)))
TOO_LATE = datetime(9999, 12, 31, 23, tzinfo=timezone(timedelta(hours=-12)))
AMOUNTS = (
    *(("receive", "amount"), ("draw", "amount"), ("draw past claims", "amount")),
    *(("tip_out", "amount"), ("begin a jar", "volume"), ("top_up", "volume")),
    *(("draw from a jar", "volume"), ("make_bath", "volume"), ("receive fibre", "amount")),
    *(("receive_count", "pieces"), ("receive_count", "piece_mg"), ("record_pickup", "weight")),
    *(("report_pickup", "weight_mg"), ("report_pickup", "pieces"), ("claim", "amount")),
    ("ask_run", "weight_mg"),
)
FOUND = (("recount", "found"), ("weigh_again", "found"), ("evaporate", "left"))
MOMENTS = (
    *((name, "at") for name in VERBS if name != "ask_run"),
    *(("receive", "since"), ("receive", "arrives_at"), ("arrive", "arrives_at")),
    *(("begin a jar", "begun_at"), ("make_bath", "made_at"), ("ask_run", "due")),
)
WORDS = (
    *(("receive", "code"), ("receive", "what"), ("receive", "state"), ("receive", "site")),
    *(("receive", "source"), ("receive", "permission"), ("receive", "set_aside")),
    *(("draw", "lot"), ("draw", "note"), ("draw past claims", "lot"), ("draw past claims", "run")),
    *(("tip_out", "where_to"), ("set_aside", "reason"), ("begin a jar", "name")),
    *(("begin a jar", "looks"), ("receive fibre", "form")),
    *(("mark_iron", "vessel"), ("record_pickup", "source"), ("record_pickup", "gives")),
    *(("record_pickup", "lot"), ("report_pickup", "lot"), ("miss_pickup", "gives")),
    *(("move_tubs", "source"), ("move_tubs", "note")),
    *(("claim", "run"), ("claim", "lot"), ("claim", "step"), ("release", "run")),
    *(("ask_run", "code"), ("ask_run", "recipe"), ("ask_run", "for_whom")),
)
# As the entry has it, where that is another word than the verb's.
NAMED = {("draw", "lot"): "Takes", ("set_aside", "reason"): "Set aside"}


made = once(lambda: shelves(studio_of()))


@pytest.fixture
def yard(made: None, db: None) -> Studio:
    return Studio.objects.get()


def refusal(studio: Studio, verb: str, **said: Any) -> str:
    """The sentence by which a verb refuses, having written nothing."""
    (sentence,) = refusals(studio, verb, [said])
    return sentence


def refusals(studio: Studio, verb: str, all_said: Iterable[dict[str, Any]]) -> list[str]:
    """The sentence by which a verb refuses each of several, having written nothing of any."""
    before, sentences = rows(), []

    for said in all_said:
        with pytest.raises(LarderError) as refused:
            VERBS[verb](studio, said)
        sentences.append(str(refused.value))

    assert rows() == before
    assert audit(studio) == []
    return sentences


@pytest.mark.parametrize(("verb", "part"), AMOUNTS)
def test_no_verb_takes_an_amount_that_nobody_weighed(yard: Studio, verb: str, part: str) -> None:
    amounts = (0, -5, 10**12 + 1, 10**30, "lots", NAN, INF, 1.5, True)

    assert refusals(yard, verb, [{part: amount} for amount in amounts]) == [
        f"{amount!r} is no amount. Give a whole number of mg or µL from 1 to 1,000,000,000,000."
        for amount in amounts
    ]


@pytest.mark.parametrize(("verb", "part"), FOUND)
@pytest.mark.parametrize("amount", [-1, 10**12 + 1, "lots", NAN])
def test_what_is_found_may_be_nothing_but_no_less(
    yard: Studio, verb: str, part: str, amount: object
) -> None:
    assert refusal(yard, verb, **{part: amount}) == (
        f"{amount!r} is no amount. Give a whole number of mg or µL from 0 to 1,000,000,000,000."
    )
    assert VERBS[verb](yard, {part: 0})


@pytest.mark.parametrize(("verb", "part"), MOMENTS)
def test_no_verb_takes_a_moment_of_nowhere_or_never(yard: Studio, verb: str, part: str) -> None:
    other = {"weight": 5} if verb == "record_pickup" else {}
    other = {"weight_mg": 5} if verb == "report_pickup" else other
    other = {"grade": 4} if verb == "dip" else other

    said = {when: refusal(yard, verb, **{**other, part: when}) for when in (NAIVE, TOO_EARLY)}
    late = refusal(yard, verb, **{**other, part: TOO_LATE})

    outside = "lies outside the years 1901 to 2198. Look at the date again."
    assert said[NAIVE] == "23 November 2026 09:00 has no time zone. Say where it was that time."
    assert said[TOO_EARLY].endswith(f": “01 January 1” {outside}")
    assert late.endswith(f": “31 December 9999” {outside}")


@pytest.mark.parametrize(("verb", "part"), WORDS)
def test_no_verb_takes_words_that_no_table_keeps(yard: Studio, verb: str, part: str) -> None:
    other: dict[str, Any] = {"weight": 5} if verb == "record_pickup" else {}
    other = {"weight_mg": 5} if verb == "report_pickup" else other

    named = NAMED.get((verb, part)) or part.replace("_", " ").capitalize()
    signs = {"\x00": "U+0000", "\ud800": "U+D800"}
    said = refusals(yard, verb, [{**other, part: f"A{sign}B"} for sign in signs])
    assert said == [
        f"{named}: “A\N{REPLACEMENT CHARACTER}B” holds {shown}, which cannot be seen or kept. "
        "Leave it out."
        for shown in signs.values()
    ]


@pytest.mark.parametrize(
    ("verb", "part", "most", "named"),
    [
        ("receive", "code", 40, "Lot code"),
        ("receive", "what", 80, "Lot what"),
        ("receive", "set_aside", 200, "Standing set aside"),
        ("draw", "note", 400, "Posting note"),
        ("tip_out", "where_to", 200, "Posting where to"),
        ("begin a jar", "name", 80, "Jar name"),
        ("ask_run", "code", 40, "Run code"),
        ("claim", "step", 80, "Claim step"),
    ],
)
def test_words_are_kept_whole_or_refused(
    yard: Studio, verb: str, part: str, most: int, named: str
) -> None:
    assert refusal(yard, verb, **{part: "x" * (most + 1)}) == (
        f"{named}: “{'x' * 40}…” has {most + 1} characters. Say it in at most {most}."
    )
    assert VERBS[verb](yard, {part: "x" * most})


@pytest.mark.parametrize("words", ["", "   ", "\n"])
@pytest.mark.parametrize("part", ["code", "what", "state"])
def test_a_lot_without_a_label_is_refused(yard: Studio, part: str, words: str) -> None:
    table = "stay" if part == "state" else "lot"

    assert refusal(yard, "receive", **{part: words}) == (
        f"{table.capitalize()} {part}: “{words.replace(chr(10), chr(0xFFFD))}” is empty. Say it."
    )


@pytest.mark.parametrize(
    ("verb", "part", "value", "sentence"),
    [
        ("begin a jar", "acid_percent", Decimal(-1), "from 0 to 100."),
        ("begin a jar", "acid_percent", Decimal(101), "from 0 to 100."),
        ("begin a jar", "vinegar_parts", -1, "from 0 to 1,000."),
        ("begin a jar", "temperature_c", 111, "from -60 to 110."),
        ("keep_at", "temperature_c", -61, "from -60 to 110."),
        ("make_bath", "temperature_c", 10**30, "from -60 to 110."),
        ("make_bath", "times_used", -1, "whole number from 0 to 2,147,483,647."),
        ("make_bath", "depth", 1.5, "whole number from 0 to 32,767."),
        ("make_bath", "alum_left_mg", 10**12 + 1, "whole number from 0 to 1,000,000,000,000."),
        ("receive fibre", "mordant_percent", Decimal(101), "from 0 to 100."),
        ("draw from a jar", "metal_mg_per_l", -1, "whole number from 0 to 1,000,000."),
    ],
)
def test_a_number_out_of_reason_is_refused_with_its_range(
    yard: Studio, verb: str, part: str, value: object, sentence: str
) -> None:
    said = refusal(yard, verb, **{part: value})

    assert f": “{value}” cannot be. Give a" in said
    assert said.endswith(sentence)


@pytest.mark.parametrize(
    ("verb", "part", "edges"),
    [
        ("begin a jar", "acid_percent", (Decimal(0), Decimal(100))),
        ("keep_at", "temperature_c", (-60, 110)),
        ("make_bath", "alum_left_mg", (0, 10**12)),
        ("dip", "grade", (1, 5)),
        ("dip", "metal_mg_per_l", (0, 1_000_000)),
    ],
)
def test_a_number_at_the_edge_of_its_range_is_kept(
    yard: Studio, verb: str, part: str, edges: tuple[object, ...]
) -> None:
    for number, edge in enumerate(edges):
        other = {"code": f"X{number}"} if "metal_mg" not in part and verb != "dip" else {}
        other = {} if verb == "keep_at" else other
        assert VERBS[verb](yard, {part: edge, **other})


@pytest.mark.parametrize("value", ["lots", NAN, INF, True])
@pytest.mark.parametrize(
    ("verb", "part"),
    [
        ("begin a jar", "acid_percent"),
        ("begin a jar", "vinegar_parts"),
        ("begin a jar", "temperature_c"),
        ("begin a jar", "metal_put_in_mg"),
        ("keep_at", "temperature_c"),
        ("make_bath", "temperature_c"),
        ("receive fibre", "iron_percent"),
    ],
)
def test_what_is_no_number_is_refused(yard: Studio, verb: str, part: str, value: object) -> None:
    if (part, value) == ("vinegar_parts", True):
        return  # one part
    assert refusal(yard, verb, **{part: value}).endswith(".")


@pytest.mark.parametrize("grade", [0, 6, -1, "lots", 1.5, True, Decimal(5)])
def test_a_strip_has_one_of_five_grades(yard: Studio, grade: object) -> None:
    assert refusal(yard, "dip", grade=grade) == (
        f"{grade!r} is no strip grade. Give 1 (faint) to 5 (black), or mg/L."
    )


@pytest.mark.parametrize("reading", [-0.1, NAN, INF, 1_000_001, "lots", True])
def test_a_reading_is_a_number_that_a_test_strip_can_show(yard: Studio, reading: object) -> None:
    assert refusal(yard, "dip", metal_mg_per_l=reading).startswith(f"{reading!r} is no strip grade")


def test_a_fibre_that_nobody_knows_is_refused_until_the_studio_knows_it(yard: Studio) -> None:
    known = "cotton, linen, lyocell, silk, wool"

    assert refusal(yard, "receive fibre", what="milkweed floss") == (
        f"Nobody knows how “milkweed floss” takes a dye. Known are {known}: say one of them, or "
        "write its scour loss in the studio's rules first."
    )

    StudioRule.objects.of(yard).create(
        item="milkweed floss", name="scour_loss_fraction", value=Decimal("0.1"), note="own scale"
    )
    assert VERBS["receive fibre"](yard, {"what": "milkweed floss"})


def test_a_lot_of_no_known_kind_is_refused(yard: Studio) -> None:
    assert refusal(yard, "receive", kind="sack") == (
        "Lot kind: “sack” is not known here. Say one of: dyestuff, supply, jar, bath, fibre."
    )


@pytest.mark.parametrize(("verb", "part"), [("begin a jar", "begun_at"), ("make_bath", "made_at")])
def test_what_is_begun_tomorrow_is_not_there_today(yard: Studio, verb: str, part: str) -> None:
    code, what = ("J9", "iron liquor") if verb == "begin a jar" else ("B9", "alum bath")

    said = refusal(yard, verb, **{part: AT + timedelta(minutes=1)})

    assert said == (
        f"Lot {code}, {what}, began on 23 November 09:01, after 23 November 09:00. "
        "Look at the date again."
    )
    assert VERBS[verb](yard, {part: AT})


def test_the_words_of_a_weighing_are_kept_whole_or_refused(yard: Studio) -> None:
    long, heavy = Weighed(5, words="x" * 201), Weighed(5, gross=10**12 + 1)

    assert refusal(yard, "receive", amount=long) == (
        f"Movement words: “{'x' * 40}…” has 201 characters. Say it in at most 200."
    )
    assert refusal(yard, "draw", amount=heavy) == (
        f"Movement gross: “{10**12 + 1}” cannot be. "
        "Give a whole number from -1,000,000,000,000 to 1,000,000,000,000."
    )


@pytest.mark.parametrize("entry", [None, "", "not an id", 5])
def test_an_entry_has_an_id_of_its_own(yard: Studio, entry: object) -> None:
    assert refusal(yard, "draw", entry=entry) == (f"Entry: “{entry}” is no id. Make a UUID for it.")


@pytest.mark.parametrize("at", [None, "Monday", 5])
def test_an_entry_has_a_moment(yard: Studio, at: object) -> None:
    assert refusal(yard, "draw", at=at) == f"At: “{at}” is no moment. Give day, time and zone."


def test_lines_of_a_note_and_letters_of_any_script_are_kept(yard: Studio) -> None:
    note = "left in the rain\nשלום, 紅花, ½ kg"

    assert VERBS["draw"](yard, {"note": note})
