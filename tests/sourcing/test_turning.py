"""Fibre prepared, lots put by and baths made leave what runs were promised, or go along with it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4

import pytest

from inventory.entries import Place
from inventory.ledger import recount
from inventory.models import FibreState, Studio
from inventory.shelves import left_at
from sourcing.claims import claim, claimed, draw, release
from sourcing.errors import ClaimedSince, ClaimsWentBack, NoSuchRun, SpokenFor
from sourcing.kept import done_steps
from sourcing.models import Run
from sourcing.notebook.load import load_files
from sourcing.outlook import week_at
from sourcing.steps import begin_run
from sourcing.turned_back import correct
from sourcing.turning import make_bath, mordant, put_by, scour
from tests.once import once
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import MONDAY_0730, nov

pytestmark = pytest.mark.django_db
AT = MONDAY_0730
FREEZER = Place("freezer", "freezer")
G = 1000


made = once(lambda: load_files(yard_files()))


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def promise(studio: Studio, run: str, lot: str, grams: int) -> None:
    claim(studio, entry=uuid4(), at=AT, run=run, lot=lot, amount=grams * G)


def posting(**said: Any) -> dict[str, Any]:
    entry: UUID = said.pop("entry", None) or uuid4()
    return {"entry": entry, "at": nov(23, 8), **said}


def scoured(studio: Studio, grams: int | None, weighs: int, **said: Any) -> None:
    amount = None if grams is None else grams * G
    scour(studio, lot="W-88", amount=amount, weighs=weighs * G,
          code="W-88-S" if grams else "", **posting(**said))  # fmt: skip


def promised(studio: Studio, lot: str) -> tuple[tuple[str, int], ...]:
    return tuple((run, mg // G) for run, mg in claimed(studio, [lot])[lot].by_run)


def test_what_is_free_of_a_lot_of_fibre_is_scoured_and_not_a_gram_more(studio: Studio) -> None:
    # Blush takes 2,105 g of the 2,400 g: 295 g are anybody's.
    promise(studio, "A", "W-88", 2105)

    scoured(studio, 295, 280)
    with pytest.raises(SpokenFor) as refused:
        scour(studio, lot="W-88", amount=1 * G, weighs=1 * G, code="W-88-T", **posting())

    assert left_at(studio, "W-88-S", at=nov(30)).amount == 280 * G
    assert promised(studio, "W-88") == (("A", 2105),)
    assert refused.value.short == 1 * G


def test_a_refusal_names_the_run_and_a_way_out(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2105)

    with pytest.raises(SpokenFor) as refused:
        scoured(studio, None, 2280)

    assert str(refused.value) == (
        "Lot W-88, wool: 2,400 g asked for, 2,400 g left, of which 2,105 g are promised to A; "
        "short by 2,105 g. Take 295 g at most, say for which run it is, or release a claim."
    )


def test_where_nothing_is_free_no_amount_is_offered(studio: Studio) -> None:
    promise(studio, "C", "W-90", 600)

    with pytest.raises(SpokenFor, match=r"short by 600 g\. Say for which run it is, or release"):
        mordant(studio, lot="W-90", with_what="alum", percent=Decimal(12), **posting())


def test_fibre_scoured_for_its_own_run_keeps_the_claim_on_what_came_out(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2105)

    scoured(studio, 2105, 2000, run="A")

    assert promised(studio, "W-88") == ()
    assert promised(studio, "W-88-S") == (("A", 2000),)


def test_a_whole_lot_scoured_for_its_run_is_claimed_for_no_more_than_is_left(
    studio: Studio,
) -> None:
    promise(studio, "A", "W-88", 2400)

    scoured(studio, None, 2280, run="A")

    assert promised(studio, "W-88") == (("A", 2280),)


def test_fibre_that_was_scoured_before_is_scoured_once_more_whoever_has_it(studio: Studio) -> None:
    # W-85 is looked over for mould and scoured again on Monday; the group has 240 g of it.
    promise(studio, "F", "W-85", 240)

    scour(studio, lot="W-85", weighs=500 * G, **posting())

    assert FibreState.objects.of(studio).filter(lot__code="W-85").count() == 2
    assert promised(studio, "W-85") == (("F", 240),)


def test_fibre_scoured_once_more_does_not_shrink_below_what_is_promised(studio: Studio) -> None:
    promise(studio, "F", "W-85", 240)

    with pytest.raises(SpokenFor, match="260 g at most"):
        scour(studio, lot="W-85", weighs=239 * G, **posting())


def test_mordanting_leaves_the_alum_that_runs_were_promised(studio: Studio) -> None:
    # 900 g of alum, of which Blush has 240 g.
    promise(studio, "A", "alum", 240)

    with pytest.raises(SpokenFor, match="Lot alum"):
        mordant(studio, lot="S-12", with_what="alum", percent=Decimal(12),
                supplies=[("alum", 661 * G)], **posting())  # fmt: skip

    assert left_at(studio, "alum", at=nov(30)).amount == 900 * G


def test_alum_taken_for_a_run_is_off_its_claim(studio: Studio) -> None:
    promise(studio, "D", "S-12", 400)
    promise(studio, "D", "alum", 48)

    mordant(studio, lot="S-12", with_what="alum", percent=Decimal(12), run="D",
            supplies=[("alum", 48 * G)], **posting())  # fmt: skip

    assert promised(studio, "alum") == ()
    assert promised(studio, "S-12") == (("D", 400),)


def test_a_part_is_put_by_of_what_is_free(studio: Studio) -> None:
    promise(studio, "F", "CB-1121", 480)
    part: dict[str, Any] = {"lot": "CB-1121", "state": "frozen", "place": FREEZER}

    put_by(studio, amount=720 * G, code="CB-1121-F", **part, **posting())
    with pytest.raises(SpokenFor, match="promised to F"):
        put_by(studio, amount=480 * G, code="CB-1121-G", **part, **posting())

    assert promised(studio, "CB-1121") == (("F", 480),)


def test_a_part_put_by_for_a_run_takes_its_claim_into_the_freezer(studio: Studio) -> None:
    promise(studio, "F", "CB-1121", 480)

    put_by(studio, lot="CB-1121", state="frozen", place=FREEZER, amount=480 * G,
           code="CB-1121-F", run="F", **posting())  # fmt: skip

    assert promised(studio, "CB-1121-F") == (("F", 480),)
    assert promised(studio, "CB-1121") == ()


def test_a_whole_lot_is_frozen_whoever_was_promised_it(studio: Studio) -> None:
    # Blush asks for it itself: freeze AV-1116 today.
    promise(studio, "A", "AV-1116", 1180)

    put_by(studio, lot="AV-1116", state="frozen", place=FREEZER, **posting())

    assert promised(studio, "AV-1116") == (("A", 1180),)


def test_a_whole_lot_does_not_dry_to_less_than_is_promised(studio: Studio) -> None:
    promise(studio, "F", "CB-1121", 480)
    dry: dict[str, Any] = {"lot": "CB-1121", "state": "dried", "place": Place("dry store")}

    with pytest.raises(SpokenFor):
        put_by(studio, becomes=400 * G, **dry, **posting())
    put_by(studio, becomes=400 * G, run="F", **dry, **posting())

    assert promised(studio, "CB-1121") == (("F", 400),)


def test_a_bath_made_for_a_run_uses_its_plant_and_is_its_own(studio: Studio) -> None:
    promise(studio, "F", "NE-0620", 360)
    bath: dict[str, Any] = {"what": "nettle bath", "volume": 7_200_000, "temperature_c": 8.0}

    with pytest.raises(SpokenFor, match="promised to F"):
        make_bath(studio, code="J7", takes=[("NE-0620", 41 * G)], **bath, **posting())
    make_bath(studio, code="J8", takes=[("NE-0620", 360 * G)], run="F", **bath, **posting())

    assert promised(studio, "NE-0620") == ()
    assert claimed(studio, ["J8"])["J8"].by_run == (("F", 7_200_000),)


def test_an_entry_sent_again_turns_and_claims_once(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2105)
    entry = uuid4()

    scoured(studio, 2105, 2000, run="A", entry=entry)
    scoured(studio, 2105, 2000, run="A", entry=entry)

    assert promised(studio, "W-88-S") == (("A", 2000),)
    assert left_at(studio, "W-88-S", at=nov(30)).amount == 2000 * G


def test_work_for_a_run_that_there_is_not_is_refused_whole(studio: Studio) -> None:
    with pytest.raises(NoSuchRun):
        scoured(studio, 295, 280, run="Z")

    assert left_at(studio, "W-88", at=nov(30)).amount == 2400 * G


def test_the_week_goes_on_with_what_was_scoured_for_a_run(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2105)

    scoured(studio, 2105, 2000, run="A", damp=False)

    blush = next(row for row in week_at(studio, at=nov(23, 9), days=7).answers if row.run == "A")
    assert [take.source for take in blush.takes if take.what == "wool"] == ["W-88-S"]
    assert blush.answer == "yes"
    assert "scour" not in {row.step for row in blush.steps}


def test_a_begun_run_s_fibre_is_not_scoured_under_its_hands(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=nov(23, 7, 45), run="A")

    with pytest.raises(SpokenFor, match="promised to A"):
        scoured(studio, 2105, 2000)


# -- taken back: the claim is where it was ------------------------------------------------------


def take_back(studio: Studio, entry: UUID, **said: Any) -> None:
    correct(studio, entry=said.pop("by", None) or uuid4(), at=nov(23, 8, 5), corrects=entry)


def test_a_scour_taken_back_gives_its_run_the_same_claim_again(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2105)
    entry, by = uuid4(), uuid4()
    scoured(studio, 2105, 2000, run="A", entry=entry)
    assert promised(studio, "W-88-S") == (("A", 2000),)

    take_back(studio, entry, by=by)
    take_back(studio, entry, by=by)  # sent once more

    assert promised(studio, "W-88") == (("A", 2105),)
    assert promised(studio, "W-88-S") == ()
    assert Run.objects.of(studio).get(code="A").fibre_lot.code == "W-88"


def test_a_whole_lot_scoured_and_taken_back_is_promised_as_before(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2350)
    entry = uuid4()
    scoured(studio, None, 2280, run="A", entry=entry)
    assert promised(studio, "W-88") == (("A", 2280),)

    take_back(studio, entry)

    assert promised(studio, "W-88") == (("A", 2350),)


def test_alum_of_a_mordant_taken_back_is_promised_to_its_run_again(studio: Studio) -> None:
    promise(studio, "D", "S-12", 400)
    promise(studio, "D", "alum", 48)
    entry = uuid4()
    mordant(studio, lot="S-12", with_what="alum", percent=Decimal(12), amount=400 * G,
            code="S-12-M", supplies=[("alum", 48 * G)], run="D",
            **posting(entry=entry))  # fmt: skip
    assert (promised(studio, "alum"), promised(studio, "S-12-M")) == ((), (("D", 400),))

    take_back(studio, entry)

    assert (promised(studio, "alum"), promised(studio, "S-12")) == ((("D", 48),), (("D", 400),))


def test_a_part_put_by_and_taken_back_is_claimed_where_it_was(studio: Studio) -> None:
    promise(studio, "F", "CB-1121", 480)
    entry = uuid4()
    put_by(studio, lot="CB-1121", state="frozen", place=FREEZER, amount=480 * G, code="CB-F",
           run="F", **posting(entry=entry))  # fmt: skip

    take_back(studio, entry)

    assert (promised(studio, "CB-1121"), promised(studio, "CB-F")) == ((("F", 480),), ())


def test_a_bath_taken_back_is_to_be_made_again_of_the_same_plant(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=nov(23, 8), run="F")
    before = promised(studio, "NE-0620")
    entry = uuid4()
    make_bath(studio, code="J9", what="nettle bath", volume=7_200_000, takes=[("NE-0620", 360 * G)],
              temperature_c=8, run="F", **posting(entry=entry))  # fmt: skip
    assert promised(studio, "J9")
    assert promised(studio, "NE-0620") == ()

    take_back(studio, entry)

    assert (before, promised(studio, "NE-0620"), promised(studio, "J9")) == (
        (("F", 360),), (("F", 360),), (),
    )  # fmt: skip
    assert not done_steps(studio).filter(step="make nettle bath").exists()


def test_what_another_run_was_promised_since_is_not_taken_back(studio: Studio) -> None:
    entry = uuid4()
    scoured(studio, 2000, 1900, entry=entry)
    promise(studio, "G", "W-88-S", 500)

    with pytest.raises(ClaimedSince) as refused:
        take_back(studio, entry)

    assert str(refused.value) == (
        "Lot W-88-S, wool: this takes back 1,900 g, and 500 g are promised to G since. Release "
        "that claim first."
    )
    assert left_at(studio, "W-88-S", at=nov(30)).amount == 1900 * G


def test_what_the_dyer_gave_back_since_is_not_promised_anew(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2105)
    entry = uuid4()
    scoured(studio, 2105, 2000, run="A", entry=entry)
    release(studio, at=nov(23, 8, 2), run="A")

    take_back(studio, entry)

    assert promised(studio, "W-88") == ()


def test_where_the_same_is_promised_elsewhere_since_nothing_is_taken_back(studio: Studio) -> None:
    # 295 g were left beside the part; G has them, and a recount finds 200 g fewer of the rest.
    promise(studio, "A", "W-88", 2105)
    entry = uuid4()
    scoured(studio, 2105, 2000, run="A", entry=entry)
    promise(studio, "G", "W-88", 295)
    recount(studio, lot="W-88", found=95 * G, **posting(at=nov(23, 8, 1)))

    with pytest.raises(SpokenFor) as refused:
        take_back(studio, entry)

    assert "2,105 g asked for, 2,200 g left, of which 295 g are promised to G" in str(refused.value)
    assert promised(studio, "W-88-S") == (("A", 2000),)


def test_a_draw_for_a_run_taken_back_is_promised_to_it_again(studio: Studio) -> None:
    claim(studio, entry=uuid4(), at=AT, run="E", lot="J2", amount=450)
    entry = uuid4()
    draw(studio, takes=[("J2", 400)], run="E", **posting(entry=entry))
    assert claimed(studio, ["J2"])["J2"].by_run == (("E", 50),)

    take_back(studio, entry)

    assert claimed(studio, ["J2"])["J2"].by_run == (("E", 450),)


def test_a_taking_back_with_claims_is_not_taken_back_itself(studio: Studio) -> None:
    promise(studio, "A", "W-88", 2105)
    entry, by = uuid4(), uuid4()
    scoured(studio, 2105, 2000, run="A", entry=entry)
    take_back(studio, entry, by=by)

    with pytest.raises(ClaimsWentBack):
        take_back(studio, by)

    assert promised(studio, "W-88") == (("A", 2105),)
