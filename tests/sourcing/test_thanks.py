"""What a source gave and what became of it, read from the ledger and the pick-ups."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from random import Random
from typing import Any
from uuid import uuid4

import pytest

from inventory import jars, ledger, lots
from inventory.corrections import correct
from inventory.entries import Place
from inventory.errors import LarderError, NoZone
from inventory.models import Lot, Movement, Studio
from inventory.shelves import left_at
from sourcing.errors import NoSourceThere, TooMuchGiven
from sourcing.models import Source
from sourcing.notebook.load import load_files
from sourcing.pickups import miss_pickup
from sourcing.sources import rename_source
from sourcing.thanks import Giver, thanks_at
from sourcing.tracing.balance import Balance
from tests.sourcing.lantern import (
    AT,
    CAFE,
    FIRST,
    FREEZER,
    GROCER,
    SINCE,
    STONE_MG,
    STONES,
    autumn,
    bring,
    dye,
    wool,
    yard,
)
from tests.sourcing.notebook.desk import yard_files

pytestmark = pytest.mark.django_db


@pytest.fixture
def studio() -> Studio:
    return yard()


def giver(studio: Studio, name: str = CAFE, **more: Any) -> Giver:
    key = Source.objects.of(studio).get(name=name).pk
    (found,) = thanks_at(studio, **{"at": AT, "since": SINCE, "source": key, **more}).givers
    return found


def stones(studio: Studio, **more: Any) -> Balance:
    (found,) = giver(studio, **more).balances
    return found


def test_612_stones_since_september_dyed_17_1_kg_of_wool(studio: Studio) -> None:
    """Design papers 12, no. 36: 612 stones = 25.7 kg → 17.1 kg of wool at 150 %."""
    codes = autumn(studio)
    wool(studio, 17_136_000)
    dye(studio, {code: 51 * STONE_MG for code in codes}, 17_136_000)

    found = stones(studio)
    assert (found.pieces, found.saved, found.kept) == (612, 25_704_000, 25_704_000)
    assert found.fibre == (("wool", Fraction(17_136_000)),)
    assert Fraction(found.dyed, 17_136_000) == Fraction(3, 2)
    assert found.estimated == 25_704_000
    assert giver(studio).made == 12


def test_a_missed_hand_over_is_counted_and_brings_nothing(studio: Studio) -> None:
    autumn(studio)
    miss_pickup(studio, at=FIRST + timedelta(days=2), source=CAFE, gives=STONES)

    assert giver(studio).missed == 1
    assert stones(studio).pieces == 612


def test_the_first_day_counts_and_the_day_before_does_not(studio: Studio) -> None:
    autumn(studio)

    assert stones(studio, since=FIRST.date()).pieces == 612
    assert stones(studio, since=FIRST.date() + timedelta(days=1)).pieces == 561


def test_what_happened_after_the_moment_is_not_counted(studio: Studio) -> None:
    autumn(studio)

    assert stones(studio, at=FIRST).pieces == 51
    assert giver(studio, at=FIRST - timedelta(seconds=1)).balances == ()
    with pytest.raises(NoZone):
        giver(studio, at=AT.replace(tzinfo=None))


def test_part_of_a_lot_dried_twice_over_is_traced_to_its_source(studio: Studio) -> None:
    bring(studio, "OS-1", source=GROCER, gives="onion skins", weight=1_000_000, state="fresh",
          place=Place("bench"))  # fmt: skip
    put = {"entry": uuid4(), "at": FIRST + timedelta(hours=1), "state": "dried",
           "place": Place("dry store")}  # fmt: skip
    ledger.put_by(studio, lot="OS-1", amount=600_000, becomes=500_000, code="OS-1a", **put)  # type: ignore[arg-type]
    again = {**put, "entry": uuid4(), "at": FIRST + timedelta(hours=2)}
    ledger.put_by(studio, lot="OS-1a", amount=200_000, becomes=190_000, code="OS-1b", **again)  # type: ignore[arg-type]
    wool(studio, 500_000)
    dye(studio, {"OS-1b": 190_000}, 380_000)

    (found,) = giver(studio, GROCER).balances
    assert found.saved - found.off_record == 1_000_000
    assert (found.lost, found.dyed) == (110_000, 190_000)
    assert found.there + found.spoiled == 700_000
    assert found.spoiled == 0  # onion skins keep dry as they come
    assert found.fibre == (("wool", Fraction(380_000)),)


def test_two_sources_in_one_bath_share_its_cloth(studio: Studio) -> None:
    bring(studio, "LS-1", pieces=50)
    Source.objects.of(studio).create(name="Two Bells", carrying_note="agreed")
    bring(studio, "TB-1", source="Two Bells", weight=1_050_000)
    wool(studio, 2_000_000)
    dye(studio, {"LS-1": 2_100_000, "TB-1": 1_050_000}, 2_000_000)

    assert stones(studio).fibre == (("wool", Fraction(4_000_000, 3)),)
    assert stones(studio, name="Two Bells").fibre == (("wool", Fraction(2_000_000, 3)),)


def test_a_bath_made_of_it_carries_it_into_the_cloth(studio: Studio) -> None:
    bring(studio, "NE-9", gives="nettle", weight=360_000, state="dried", place=Place("dry store"))
    jars.make_bath(studio, entry=uuid4(), at=FIRST + timedelta(hours=1), code="NB-9",
                   what="nettle bath", volume=7_200_000, temperature_c=8,
                   takes=[("NE-9", 360_000)])  # fmt: skip
    wool(studio, 500_000)
    dye(studio, {"NB-9": 3_600_000}, 240_000, at=FIRST + timedelta(hours=2))

    found = next(row for row in giver(studio).balances if row.dyestuff == "nettle")
    assert (found.saved, found.bathed) == (360_000, 360_000)
    assert (found.shared[0].mg, found.fibre) == (180_000, (("wool", Fraction(240_000)),))


def test_compost_and_spoiled_lots_were_not_kept_from_the_bin(studio: Studio) -> None:
    bring(studio, "LS-1", pieces=10)
    ledger.tip_out(studio, entry=uuid4(), at=FIRST + timedelta(days=1),
                   takes=[("LS-1", 100_000)], where_to="compost heap")  # fmt: skip
    bring(studio, "LS-2", at=FIRST + timedelta(days=4), pieces=10, state="fresh",
          place=Place("bench"))  # fmt: skip

    found = stones(studio)
    assert (found.tipped, found.spoiled, found.kept) == (100_000, 420_000, 320_000)
    assert found.where_to == (("compost heap", 100_000),)


def test_a_lot_judged_bad_is_spoiled_whatever_its_days(studio: Studio) -> None:
    bring(studio, "LS-1", pieces=10)
    lots.judge(studio, entry=uuid4(), at=FIRST + timedelta(days=3), lot="LS-1", sound=False)

    assert stones(studio).spoiled == 420_000


def test_what_was_taken_back_counts_nothing(studio: Studio) -> None:
    posted = bring(studio, "LS-1", pieces=50)
    bring(studio, "LS-2", at=FIRST + timedelta(days=4), pieces=10)
    wool(studio, 500_000)
    run = dye(studio, {"LS-2": 420_000}, 280_000)
    correct(studio, entry=uuid4(), corrects=posted.entry)
    correct(studio, entry=uuid4(), corrects=run)

    found = stones(studio)
    assert (found.pieces, found.saved, found.dyed, found.there) == (10, 420_000, 0, 420_000)
    assert found.shared == ()


def test_a_run_put_right_counts_what_it_took_in_truth(studio: Studio) -> None:
    bring(studio, "LS-1", pieces=50)
    wool(studio, 500_000)
    run = dye(studio, {"LS-1": 420_000}, 280_000)
    correct(studio, entry=uuid4(), corrects=run, amounts={"LS-1": 400_000})

    found = stones(studio)
    assert (found.dyed, found.there) == (400_000, 1_700_000)
    assert found.shared[0].mg == 400_000


def test_the_scale_replaces_the_guess_of_a_count(studio: Studio) -> None:
    """58 stones are 2,436 g at 42 g each; weighed they are 2,410 g (design papers 12, no. 1)."""
    bring(studio, "LS-1", pieces=58)
    ledger.weigh_again(studio, entry=uuid4(), at=FIRST + timedelta(hours=1), lot="LS-1",
                       found=2_410_000)  # fmt: skip

    found = stones(studio)
    assert (found.saved, found.received, found.found) == (2_410_000, 2_410_000, 0)


def test_a_source_that_is_renamed_keeps_what_it_gave(studio: Studio) -> None:
    autumn(studio)
    put = {"entry": uuid4(), "at": FIRST + timedelta(days=60), "state": "dried",
           "place": Place("dry store")}  # fmt: skip
    ledger.put_by(studio, lot="LS-01", amount=100_000, becomes=50_000, code="LS-01d", **put)  # type: ignore[arg-type]
    rename_source(studio, source=CAFE, name="Lantern Court")

    found = stones(studio, name="Lantern Court", at=AT + timedelta(days=20))
    # The café's counted hand-overs of November have no lots: they are saved, and not on record.
    assert found.saved - found.off_record == 25_704_000
    assert found.lost == 50_000


def test_hand_overs_without_a_lot_are_saved_and_not_on_record(studio: Studio) -> None:
    """The worked yard's café: 65, 48, 70, 55 and 62 stones in November, none traced."""
    found = stones(studio, at=AT + timedelta(days=22))

    assert found.pieces == 300
    assert found.saved == found.off_record == 300 * STONE_MG
    assert found.kept == 0


def test_a_source_of_another_studio_is_not_there(studio: Studio) -> None:
    with pytest.raises(NoSourceThere, match="No source of this studio is kept there"):
        thanks_at(studio, at=AT, since=SINCE, source=0)


def test_all_sources_come_by_name_with_what_each_gave(studio: Studio) -> None:
    autumn(studio)

    found = thanks_at(studio, at=AT, since=SINCE)
    assert [row.name for row in found.givers] == [
        "Hedge at the corner house", CAFE, GROCER,
    ]  # fmt: skip
    assert [row.made for row in found.givers] == [0, 12, 3]


def test_the_questions_are_as_many_for_a_hundred_hand_overs(
    studio: Studio, django_assert_num_queries: Any
) -> None:
    bring(studio, "LS-0", pieces=1)
    with django_assert_num_queries(5):
        thanks_at(studio, at=AT, since=SINCE)
    for n in range(1, 60):
        bring(studio, f"LS-{n}", at=FIRST + timedelta(hours=n), pieces=5)
    with django_assert_num_queries(5):
        thanks_at(studio, at=AT, since=SINCE)


@pytest.mark.parametrize("seed", [3, 11])
def test_any_life_of_the_shelves_adds_up_to_the_milligram(studio: Studio, seed: int) -> None:
    """Sixty entries at random, corrections among them; then every milligram is looked for."""
    chance = Random(seed)
    wool(studio, 500_000_000)
    entries: list[Any] = []
    for n in range(60):
        _anything(studio, chance, FIRST + timedelta(hours=n), n, entries)
    at = FIRST + timedelta(hours=70)

    rows = [row for each in thanks_at(studio, at=at, since=SINCE).givers for row in each.balances]
    mine = Lot.objects.of(studio).filter(kind="dyestuff", code__startswith="Z")
    left = sum(left_at(studio, lot.code, at=at).amount for lot in mine)
    assert len(entries) > 30
    for row in rows:
        used = row.dyed + row.bathed + row.drawn + row.other
        away = row.tipped + row.lost + row.spoiled + row.off_record
        assert row.saved == used + row.there + away
        assert row.other == 0
    assert sum(row.there + row.spoiled for row in rows) == left
    assert Movement.objects.of(studio).filter(lot__in=mine).count() > 40


def _anything(studio: Studio, chance: Random, at: Any, n: int, entries: list[Any]) -> None:
    """One entry of any sort; one that the ledger refuses is none."""
    codes = list(
        Lot.objects.of(studio).filter(kind="dyestuff", code__startswith="Z").values_list("code")
    )
    if not codes or chance.random() < 0.25:
        source = chance.choice([CAFE, GROCER])
        entries.append(bring(studio, f"Z{n}", at=at, source=source,
                             weight=chance.randint(1, 3_000_000)).entry)  # fmt: skip
        return
    code = chance.choice(codes)[0]
    mg = chance.randint(1, 1_000_000)
    key = uuid4()
    try:
        match chance.choice(["put by", "dye", "tip", "draw", "recount", "back"]):
            case "put by":
                ledger.put_by(studio, entry=key, at=at, lot=code, state="frozen", place=FREEZER,
                              amount=mg, becomes=chance.randint(1, mg), code=f"Z{n}")  # fmt: skip
            case "dye":
                dye(studio, {code: mg}, chance.randint(1, 500_000), at=at, entry=key)
            case "tip":
                ledger.tip_out(studio, entry=key, at=at, takes=[(code, mg)], where_to="compost")
            case "draw":
                ledger.draw(studio, entry=key, at=at, takes=[(code, mg)])
            case "recount":
                ledger.recount(studio, entry=key, at=at, lot=code, found=mg)
            case _:
                correct(studio, entry=key, corrects=chance.choice(entries))
    except LarderError:
        return
    entries.append(key)


def test_the_day_is_the_studio_s_own(studio: Studio) -> None:
    """A hand-over at half past midnight in London summer time lies on the new day."""
    bring(studio, "LS-1", at=FIRST.replace(day=1, hour=0, minute=30), pieces=1)

    assert stones(studio, since=date(2026, 9, 1)).pieces == 1
    assert giver(studio, since=date(2026, 9, 2)).balances == ()


def test_more_than_one_answer_holds_is_refused_and_just_enough_is_not(
    studio: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    autumn(studio)
    monkeypatch.setattr("sourcing.thanks.HAND_OVERS_AT_MOST", 12)
    assert stones(studio).pieces == 612

    monkeypatch.setattr("sourcing.thanks.HAND_OVERS_AT_MOST", 11)
    with pytest.raises(TooMuchGiven) as refusal:
        stones(studio)

    assert str(refusal.value) == "More than 11 hand-overs since 1 September 2026. Say a later day."


def test_a_lot_loaded_with_what_was_left_of_it_is_traced_from_there() -> None:
    """The notebook says 58 stones came as AV-1030, and that 1,450 g of them are left."""
    files = yard_files()
    pickups = files["pickups.csv"].decode().rstrip()
    row = "Lantern Steps café,avocado stones,Fri 30 Oct 2026 08:00,made,58 stones,AV-1030,freezer,"
    load_files({**files, "pickups.csv": f"{pickups}\n{row}\n".encode()})

    found = stones(Studio.objects.get())
    assert (found.saved, found.off_record, found.there) == (2_436_000, 986_000, 1_450_000)
