"""What is left, in which order it is used, and what does not count."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta

from inventory.science.facts import LotFacts, Stay
from sourcing.week.desk import desk_for
from sourcing.week.facts import Chore, Dose, WeekFacts
from sourcing.week.larder import Larder, serves
from tests.sourcing.week.little import LITTLE, RUN, SKINS, ZONE, feb, run, shelf

SKINS_DOSE = Dose("onion skins", "dyestuff", "dye", state="dried")


def lot(code: str, grams: int, since: date, **more: object) -> LotFacts:
    stay = Stay(datetime.combine(since, time(9), tzinfo=ZONE), "dried", "dry store", "dry store")
    return replace(SKINS, code=code, left_mg=grams * 1000, stays=(stay,), gathered_on=since, **more)  # type: ignore[arg-type]


def larder(*lots: LotFacts, facts: WeekFacts = LITTLE) -> Larder:
    shelf = replace(facts.shelf, lots=lots) if lots else facts.shelf
    return desk_for(replace(facts, shelf=shelf), days=7).larder


def picked(here: Larder, grams: int, *, one_lot: bool = False) -> tuple[list[str], int]:
    picks, short, _ = here.pick_lots(SKINS_DOSE, RUN, grams * 1000, one_lot=one_lot,
                                     without=frozenset(), site="")  # fmt: skip
    return [f"{pick.code} {pick.amount // 1000}" for pick in picks], short // 1000


NEW, OLD = lot("A", 100, date(2026, 9, 2)), lot("B", 150, date(2026, 9, 1))


def test_the_lot_that_ends_first_is_used_whole_before_the_next_is_opened() -> None:
    assert picked(larder(NEW, OLD), 150) == (["B 150"], 0)
    assert picked(larder(NEW, OLD), 151) == (["B 150", "A 1"], 0)
    assert picked(larder(NEW, OLD), 251) == (["B 150", "A 100"], 1)


def test_where_the_shade_must_match_one_lot_serves_or_none() -> None:
    assert picked(larder(NEW, OLD), 150, one_lot=True) == (["B 150"], 0)
    assert picked(larder(NEW, OLD), 151, one_lot=True) == ([], 151)


def test_what_arrives_later_stands_behind_what_is_here() -> None:
    coming = lot("C", 100, date(2026, 8, 1), arrives_at=feb(1, 12))

    assert picked(larder(coming, NEW), 150) == (["A 100", "C 50"], 0)


def test_what_comes_in_is_first_usable_next_morning() -> None:
    here = larder(lot("C", 100, date(2026, 9, 1), arrives_at=feb(1, 17)), NEW)
    usable = {row.lot.code: here.moment(row.usable_from) for row in here.ranked}

    assert usable == {"A": feb(1, 7, 30), "C": feb(2, 9)}


def test_a_claim_leaves_less_for_the_next_run() -> None:
    here = larder(OLD)
    picks, _, _ = here.pick_lots(SKINS_DOSE, RUN, 100_000, one_lot=False, without=frozenset(),
                                 site="")  # fmt: skip
    here.claim(picks)

    assert here.left["B"] == 50_000
    assert picked(here, 51) == (["B 50"], 1)


def test_a_lot_set_aside_counts_from_the_day_somebody_clears_it() -> None:
    bad = lot("B", 150, date(2026, 9, 1), set_aside="damp")
    clears = replace(LITTLE, chores=(Chore(feb(3).date(), "dry and weigh B", 10, clears="B"),))

    assert larder(bad).ranked[0].left_out == "B is set aside: damp"
    (row,) = larder(bad, facts=clears).ranked
    assert (row.left_out, larder(facts=clears).moment(row.usable_from)) == ("", feb(3, 9))


def test_the_last_good_day_itself_counts_and_the_day_after_does_not() -> None:
    # Dried skins keep twelve months here.
    assert larder(lot("B", 1, date(2026, 2, 1))).ranked[0].left_out == ""
    assert larder(lot("B", 1, date(2026, 1, 31))).ranked[0].left_out == (
        "B is past its last good day by 1 day"
    )


def test_damp_fibre_counts_for_its_days() -> None:
    damp = shelf(fibre={"damp": True, "since": feb(1).date() - timedelta(3)})
    longer = shelf(fibre={"damp": True, "since": feb(1).date() - timedelta(4)})

    assert larder(facts=damp).fibre_left_out(damp.shelf.fibre[0]) == ""
    assert larder(facts=longer).fibre_left_out(longer.shelf.fibre[0]) == (
        "W-1 has been damp for 4 days: check for mould"
    )


def test_a_run_meant_for_one_lot_of_fibre_takes_no_other() -> None:
    other = run(fibre_lot="W-9")

    assert larder().fibre_groups(RUN, depth=3, without=frozenset(), site="") == [
        [LITTLE.shelf.fibre[0]]
    ]
    assert (
        larder(facts=other).fibre_groups(other.runs[0], depth=3, without=frozenset(), site="") == []
    )


def test_a_thing_without_a_place_serves_every_site() -> None:
    assert serves("", "barn")
    assert serves("barn", "barn")
    assert serves("barn", "")
    assert not serves("yard", "barn")
