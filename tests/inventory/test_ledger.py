"""The verbs that move amounts: what they answer, and what they say when they refuse."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid4

import pytest
from django.db import OperationalError, connection
from django.test.utils import CaptureQueriesContext

from inventory import fibre, jars, ledger, lots, posting, vessels
from inventory.entries import Fibre, Lost, Made, NewLot, Weighed
from inventory.errors import (
    BeforeItBegan,
    Busy,
    CodeTaken,
    EntryUsed,
    IsSetAside,
    LarderError,
    NamedTwice,
    NeedsACode,
    NoSuchLot,
    NoSuchSite,
    NoSuchVessel,
    NotAnAmount,
    NotAStrip,
    NotConserved,
    NotEnough,
    NotHereYet,
    NothingLeft,
    NotTaken,
    NoWhereTo,
    NoZone,
    WrongSort,
)
from inventory.models import Loss, Lot, Movement, Posting, Site, Studio
from inventory.posting import Moved, Posted
from inventory.shelves import left_at, shelf_at
from tests.inventory.larder import BENCH, DAY, FREEZER, FRIDGE, HOUR, MONDAY_NINE, G, stones


def _draw(
    studio: Studio, *takes: tuple[str, int], at: datetime = MONDAY_NINE, entry: UUID | None = None
) -> Posted:
    return ledger.draw(
        studio,
        entry=entry or uuid4(),
        at=at,
        takes=[(code, grams * G) for code, grams in takes],
    )


def _wool(studio: Studio, code: str = "W-88", grams: int = 2400) -> Posted:
    return fibre.receive(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        lot=NewLot(code, "wool"),
        amount=grams * G,
        form="yarn",
        fibre=Fibre(),
    )


def _left(studio: Studio, code: str) -> int:
    return left_at(studio, code, at=MONDAY_NINE + 99 * DAY).amount


def test_a_draw_says_what_it_took_and_what_is_left(studio: Studio) -> None:
    stones(studio)

    posted = _draw(studio, ("AV-1116", 180))

    assert posted.moved == (Moved("AV-1116", 2, -180 * G, 1000 * G, "mg"),)
    assert (posted.kind, posted.at) == ("draw", MONDAY_NINE)
    assert posted.recorded_at.tzinfo is not None


def test_a_draw_takes_a_lot_to_its_last_gram(studio: Studio) -> None:
    stones(studio, grams=640)

    assert _draw(studio, ("AV-1116", 640)).moved[0].left_after == 0


def test_a_draw_refuses_more_than_the_lot_holds(studio: Studio) -> None:
    stones(studio, "17", 640)

    with pytest.raises(NotEnough) as refusal:
        _draw(studio, ("17", 900))

    assert str(refusal.value) == (
        "Lot 17, avocado stones: 900 g asked for, 640 g left on 23 November 09:00, "
        "short by 260 g. Draw less or weigh again."
    )
    assert (refusal.value.code, refusal.value.short) == ("not_enough", 260 * G)


def test_a_refusal_names_the_moment_by_the_studio_s_clock(db: None) -> None:
    far = Studio.objects.create(name="Far Side", zone="Pacific/Auckland")
    stones(far, grams=1)

    with pytest.raises(NotEnough, match="left on 23 November 22:00"):
        _draw(far, ("AV-1116", 2))


def test_a_draw_from_several_lots_is_all_or_nothing(studio: Studio) -> None:
    stones(studio, "AV-1", 500)
    stones(studio, "AV-2", 100)

    with pytest.raises(NotEnough, match="Lot AV-2"):
        _draw(studio, ("AV-1", 400), ("AV-2", 101))
    _draw(studio, ("AV-2", 100), ("AV-1", 400))

    assert (_left(studio, "AV-1"), _left(studio, "AV-2")) == (100 * G, 0)
    assert Posting.objects.of(studio).count() == 3


def test_a_lot_named_twice_is_refused(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(NamedTwice, match="Lot AV-1116 is named twice"):
        _draw(studio, ("AV-1116", 1), ("AV-1116", 1))


def test_a_lot_of_another_studio_is_not_there(studio: Studio, other: Studio) -> None:
    stones(other)

    with pytest.raises(NoSuchLot, match="No lot has the code AV-1116"):
        _draw(studio, ("AV-1116", 1))


@pytest.mark.parametrize("amount", [0, -1, 10**12 + 1, 1.5, True, "5", None])
def test_what_is_no_amount_is_refused(studio: Studio, amount: object) -> None:
    lot = NewLot("AV-1", "avocado stones", state="fresh", place=BENCH)

    with pytest.raises(NotAnAmount, match="Give a whole number of mg or µL from 1 to 1,000,000"):
        ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=amount)  # type: ignore[arg-type]


@pytest.mark.parametrize("amount", [1, 10**12])
def test_the_least_and_the_most_are_amounts(studio: Studio, amount: int) -> None:
    lot = NewLot("AV-1", "avocado stones", state="fresh", place=BENCH)

    posted = ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=amount)

    assert posted.moved[0].left_after == amount


def test_a_moment_without_a_zone_is_refused(studio: Studio) -> None:
    with pytest.raises(NoZone, match="has no time zone"):
        stones(studio, at=MONDAY_NINE.replace(tzinfo=None))


def test_a_code_is_given_once(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(CodeTaken, match="There is a lot AV-1116 already"):
        stones(studio)


def test_nothing_is_drawn_before_the_lot_began(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(BeforeItBegan, match="began on 23 November 09:00, after 23 November 08:00"):
        _draw(studio, ("AV-1116", 1), at=MONDAY_NINE - HOUR)


def test_nothing_is_drawn_of_what_is_on_its_way(studio: Studio) -> None:
    comes = MONDAY_NINE + 8 * HOUR
    lot = NewLot("AV-1123", "avocado stones", state="fresh", place=FRIDGE, arrives_at=comes)
    ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=2436 * G)

    with pytest.raises(NotHereYet, match="comes on 23 November 17:00"):
        _draw(studio, ("AV-1123", 1), at=comes - HOUR)
    lots.arrive(studio, entry=uuid4(), at=comes - HOUR, lot="AV-1123")

    assert _draw(studio, ("AV-1123", 1), at=comes - HOUR).moved[0].left_after == 2435 * G


def test_what_is_set_aside_is_not_drawn_but_may_be_tipped_out(studio: Studio) -> None:
    stones(studio)
    lots.set_aside(studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1116", reason="furry")

    with pytest.raises(IsSetAside, match="is set aside: furry"):
        _draw(studio, ("AV-1116", 1))
    posted = ledger.tip_out(
        studio, entry=uuid4(), at=MONDAY_NINE, takes=[("AV-1116", None)], where_to="compost"
    )

    assert posted.moved[0].left_after == 0
    assert Posting.objects.of(studio).get(entry=posted.entry).where_to == "compost"


def test_what_was_checked_is_drawn_again(studio: Studio) -> None:
    stones(studio)
    lots.set_aside(studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1116", reason="damp")
    lots.use_again(studio, entry=uuid4(), at=MONDAY_NINE + HOUR, lot="AV-1116")

    assert _draw(studio, ("AV-1116", 1), at=MONDAY_NINE + HOUR).moved[0].amount == -G


def test_a_tip_out_without_a_place_is_refused(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(NoWhereTo, match="Say where it was tipped out"):
        ledger.tip_out(
            studio, entry=uuid4(), at=MONDAY_NINE, takes=[("AV-1116", None)], where_to=" "
        )


def test_an_entry_sent_again_gets_the_first_answer(studio: Studio) -> None:
    stones(studio)
    entry = uuid4()
    first = _draw(studio, ("AV-1116", 180), entry=entry)
    _draw(studio, ("AV-1116", 1000))

    again = _draw(studio, ("AV-1116", 180), entry=entry)

    assert again == first
    assert (first.again, again.again) == (False, True)
    assert Movement.objects.of(studio).count() == 3


def test_an_entry_sent_again_with_other_words_is_refused(studio: Studio) -> None:
    stones(studio)
    entry = uuid4()
    _draw(studio, ("AV-1116", 180), entry=entry)

    with pytest.raises(EntryUsed, match="already recorded as “draw” on 23 November 09:00"):
        _draw(studio, ("AV-1116", 181), entry=entry)


def test_a_twin_that_was_recorded_meanwhile_gets_the_first_answer(
    studio: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    stones(studio)
    entry = uuid4()
    first = _draw(studio, ("AV-1116", 1180), entry=entry)

    def empty_by_now(*_: object) -> Posted:
        raise LarderError("the lot is empty now")

    monkeypatch.setattr(posting, "_once", empty_by_now)

    assert _draw(studio, ("AV-1116", 1180), entry=entry) == first


@pytest.mark.parametrize("say", ["database is locked", "database table is locked"])
def test_a_locked_file_is_tried_again(db: None, monkeypatch: pytest.MonkeyPatch, say: str) -> None:
    tries: list[int] = []

    def record() -> Posted:
        tries.append(1)
        if len(tries) < 4:
            raise OperationalError(say)
        return Posted(uuid4(), "draw", MONDAY_NINE, MONDAY_NINE, ())

    monkeypatch.setattr(posting.time, "sleep", lambda _: None)

    posting._patiently(record, Studio(), uuid4(), "", inside=False)

    assert len(tries) == 4


def test_a_file_locked_for_ever_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    tries: list[int] = []

    def record() -> Posted:
        tries.append(1)
        raise OperationalError("database is locked")

    monkeypatch.setattr(posting.time, "sleep", lambda _: None)

    with pytest.raises(Busy, match="8 tries"):
        posting._patiently(record, Studio(), uuid4(), "", inside=False)
    assert len(tries) == posting.TRIES


def test_a_recount_sets_what_is_there(studio: Studio) -> None:
    stones(studio)

    up = ledger.recount(
        studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1116", found=Weighed(1200 * G, "1.2 kg")
    )
    down = ledger.recount(studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1116", found=0)

    assert (up.moved[0].amount, down.moved[0].amount) == (20 * G, -1200 * G)
    assert Movement.objects.of(studio).get(number=2).words == "1.2 kg"


def test_words_gross_and_tare_are_kept_beside_the_amount(studio: Studio) -> None:
    lot = NewLot("PR-1", "privet", state="dried", place=BENCH)
    said = Weighed(992_233, "2 lb 3 oz", container="blue tub", gross=1_100_233, tare=108_000)
    ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=said)

    row = Movement.objects.of(studio).get()

    assert (row.amount, row.words, row.container) == (992_233, "2 lb 3 oz", "blue tub")
    assert (row.gross, row.tare) == (1_100_233, 108_000)


def test_drying_keeps_the_mass_with_its_loss(studio: Studio) -> None:
    lot = NewLot("PR-1003", "privet", state="fresh", place=BENCH)
    ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=1400 * G)

    posted = ledger.put_by(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        lot="PR-1003",
        state="dried",
        place=BENCH,
        becomes=560 * G,
    )

    loss = Loss.objects.of(studio).get()
    assert posted.moved == (Moved("PR-1003", 2, -840 * G, 560 * G, "mg"),)
    assert (loss.material, loss.amount, loss.reason) == ("privet", 840 * G, "water")


def test_nothing_grows_heavier_by_drying(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(NotConserved, match="1,180 g taken, 1,181 g made and 0 g lost; 1 g too"):
        ledger.put_by(
            studio,
            entry=uuid4(),
            at=MONDAY_NINE,
            lot="AV-1116",
            state="dried",
            place=BENCH,
            becomes=1181 * G,
        )


def test_what_is_carried_to_another_site_is_weighed_at_both_ends(studio: Studio) -> None:
    Site.objects.of(studio).create(code="yard")
    stones(studio)

    posted = ledger.put_by(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        lot="AV-1116",
        state="fresh",
        place=BENCH,
        amount=640 * G,
        becomes=636 * G,
        code="AV-1116y",
        site="yard",
    )

    there = {lot.code: lot for lot in shelf_at(studio, at=MONDAY_NINE + DAY).lots}
    loss = Loss.objects.of(studio).get()
    assert [row.amount for row in posted.moved] == [-640 * G, 636 * G]
    assert (loss.material, loss.amount, loss.reason) == ("avocado stones", 4 * G, "water")
    assert (there["AV-1116y"].site, there["AV-1116y"].left_mg) == ("yard", 636 * G)
    assert (there["AV-1116"].site, there["AV-1116"].left_mg) == ("", 540 * G)
    # The life that it has used up goes with it.
    assert there["AV-1116y"].stays[0].since == there["AV-1116"].stays[0].since


def test_fibre_carried_to_another_site_stays_as_it_is(studio: Studio) -> None:
    Site.objects.of(studio).create(code="yard")
    _wool(studio, "W-7", 900)
    fibre.scour(studio, entry=uuid4(), at=MONDAY_NINE, lot="W-7", weighs=850 * G, damp=False)

    ledger.put_by(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        lot="W-7",
        state="fresh",
        place=BENCH,
        code="W-7y",
        site="yard",
    )

    (there,) = shelf_at(studio, at=MONDAY_NINE + DAY).fibre
    assert (there.code, there.site, there.left_mg, there.scoured) == ("W-7y", "yard", 850 * G, True)


def test_what_goes_to_another_site_needs_a_code_and_a_site_that_there_is(studio: Studio) -> None:
    stones(studio)
    kept = {"lot": "AV-1116", "state": "fresh", "place": BENCH, "site": "yard"}

    with pytest.raises(NeedsACode, match="What of AV-1116 goes to yard is a lot of its own"):
        ledger.put_by(studio, entry=uuid4(), at=MONDAY_NINE, **kept)
    with pytest.raises(NoSuchSite, match="No site has the code yard"):
        ledger.put_by(studio, entry=uuid4(), at=MONDAY_NINE, code="AV-1116y", **kept)


def test_a_part_put_by_needs_a_code(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(NeedsACode, match="Only a part of AV-1116 changes"):
        ledger.put_by(
            studio,
            entry=uuid4(),
            at=MONDAY_NINE,
            lot="AV-1116",
            state="frozen",
            place=FREEZER,
            amount=966 * G,
        )


def test_a_part_put_by_names_its_parent(studio: Studio) -> None:
    stones(studio)
    ledger.put_by(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        lot="AV-1116",
        state="frozen",
        place=FREEZER,
        amount=966 * G,
        code="AV-1116f",
    )

    part = Lot.objects.of(studio).get(code="AV-1116f")

    assert part.parent is not None
    assert (part.parent.code, part.what) == ("AV-1116", "avocado stones")
    assert (_left(studio, "AV-1116"), _left(studio, "AV-1116f")) == (214 * G, 966 * G)


def test_scouring_turns_2105_g_raw_into_2000_g_and_105_g_loss(studio: Studio) -> None:
    # 2,000 g ÷ 0.95 = 2,105 g to the gram; 2,400 − 2,105 = 295 g stay raw.
    _wool(studio)

    fibre.scour(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        lot="W-88",
        amount=2105 * G,
        weighs=2000 * G,
        code="W-88a",
    )

    assert (_left(studio, "W-88"), _left(studio, "W-88a")) == (295 * G, 2000 * G)
    assert Loss.objects.of(studio).get().amount == 105 * G


def test_mordanting_takes_alum_and_keeps_the_fibre(studio: Studio) -> None:
    _wool(studio)
    alum = NewLot("ALUM", "alum", kind="supply")
    ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=alum, amount=900 * G)

    fibre.mordant(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        lot="W-88",
        with_what="alum",
        percent=Decimal(12),
        amount=2000 * G,
        code="W-88m",
        supplies=[("ALUM", 240 * G)],
    )

    assert (_left(studio, "ALUM"), _left(studio, "W-88m")) == (660 * G, 2000 * G)


def test_a_run_dyed_is_one_posting_that_adds_up(studio: Studio) -> None:
    _wool(studio)
    stones(studio, grams=3000)

    posted = ledger.dye(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        takes=[("W-88", 2000 * G), ("AV-1116", 3000 * G)],
        makes=[Made("W-88", "BL-1", 1990 * G, Fibre(scoured=True, shade="Blush"))],
        losses=[Lost("wool", 10 * G, "fluff")],
    )

    assert {row.lot: row.amount for row in posted.moved} == {
        "W-88": -2000 * G,
        "AV-1116": -3000 * G,
        "BL-1": 1990 * G,
    }
    assert Lot.objects.of(studio).get(code="BL-1").parent == Lot.objects.of(studio).get(code="W-88")


def test_a_run_that_does_not_add_up_is_refused(studio: Studio) -> None:
    _wool(studio)

    with pytest.raises(NotConserved) as refusal:
        ledger.dye(
            studio,
            entry=uuid4(),
            at=MONDAY_NINE,
            takes=[("W-88", 2000 * G)],
            makes=[Made("W-88", "BL-1", 1990 * G, Fibre())],
        )

    assert str(refusal.value) == (
        "wool: 2,000 g taken, 1,990 g made and 0 g lost; 10 g missing. "
        "Weigh again or name the loss."
    )


def test_nothing_is_made_of_a_lot_that_was_not_taken(studio: Studio) -> None:
    _wool(studio)

    with pytest.raises(NotTaken, match="nothing was taken of it"):
        ledger.dye(
            studio,
            entry=uuid4(),
            at=MONDAY_NINE,
            takes=[],
            makes=[Made("W-88", "BL-1", 1990 * G, Fibre())],
        )


@pytest.mark.parametrize("grade", [0, 6, -1, True])
def test_a_strip_is_graded_from_1_to_5(studio: Studio, grade: int) -> None:
    with pytest.raises(NotAStrip, match="Give 1 \\(faint\\) to 5 \\(black\\)"):
        jars.dip(studio, entry=uuid4(), at=MONDAY_NINE, jar="J1", grade=grade)


def test_only_a_jar_is_dipped(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(
        WrongSort, match="AV-1116 is a lot of dyestuff, and this entry is for a jar"
    ):
        jars.dip(studio, entry=uuid4(), at=MONDAY_NINE, jar="AV-1116", grade=3)


def test_the_strength_shown_is_kept_with_the_draw(studio: Studio) -> None:
    jars.begin(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        code="J2",
        name="Iron 6",
        metal="iron",
        volume=900_000,
    )
    jars.draw(studio, entry=uuid4(), at=MONDAY_NINE, jar="J2", volume=200_000, metal_mg_per_l=7_700)

    assert Movement.objects.of(studio).get(number=2).metal_mg_per_l == 7_700
    assert _left(studio, "J2") == 700_000


def test_nothing_is_put_by_of_an_empty_lot(studio: Studio) -> None:
    stones(studio)
    _draw(studio, ("AV-1116", 1180))

    with pytest.raises(NothingLeft, match="Lot AV-1116, avocado stones: none left on 23 November"):
        ledger.put_by(
            studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1116", state="frozen", place=FREEZER
        )


def test_a_vessel_that_is_not_there_is_not_marked(studio: Studio) -> None:
    with pytest.raises(NoSuchVessel, match="No vessel has the code P9"):
        vessels.mark_iron(studio, entry=uuid4(), at=MONDAY_NINE, vessel="P9")


def test_a_lot_at_a_site_that_is_not_there_is_refused(studio: Studio) -> None:
    lot = NewLot("AV-1", "avocado stones", state="fresh", place=BENCH, site="barn")

    with pytest.raises(NoSuchSite, match="No site has the code barn"):
        ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=G)
    assert not Lot.objects.of(studio).exists()


def test_a_damp_lot_that_is_set_aside_can_be_dried(studio: Studio) -> None:
    lot = NewLot("ON-1114", "onion skins", state="damp", place=BENCH, set_aside="damp")
    ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=300 * G)
    dried = ledger.put_by(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        lot="ON-1114",
        state="dried",
        place=BENCH,
        becomes=110 * G,
    )

    assert dried.moved[0].left_after == 110 * G
    with pytest.raises(IsSetAside):
        _draw(studio, ("ON-1114", 1), at=MONDAY_NINE + DAY)


def test_a_draw_asks_the_database_as_often_whatever_went_before(studio: Studio) -> None:
    stones(studio, grams=1000)
    with CaptureQueriesContext(connection) as early:
        _draw(studio, ("AV-1116", 1))
    for _ in range(30):
        _draw(studio, ("AV-1116", 1))

    with CaptureQueriesContext(connection) as late:
        _draw(studio, ("AV-1116", 1))

    assert len(early) == len(late)
