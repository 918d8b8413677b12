"""Jobs the studio can do itself: putting a lot by, making a bath, dipping a jar."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from inventory.science.facts import ColdPlaceFacts
from inventory.science.figures import Figures
from sourcing.week.desk import Desk, desk_for
from sourcing.week.facts import Heat, Making, WeekFacts
from sourcing.week.jobs import book_put_by, dip_chores, keeps_from, make_bath, put_by_job
from sourcing.week.larder import Pick
from sourcing.week.moments import minute_of
from sourcing.week.plan import Job
from sourcing.week.wants import MakingWanted
from tests.sourcing.week.constraints.dyestuff import FRESH
from tests.sourcing.week.little import LITTLE, RULES, feb, hours, own, shelf

MONDAY, TUESDAY = date(2027, 2, 1), date(2027, 2, 2)
BATH = Making("nettle bath", "nettle", "dried", Decimal(50), (Heat(95, 25),), 40)


def desk(facts: WeekFacts = FRESH, *, room: int = 250_000, minutes: int = 0) -> Desk:
    place = ColdPlaceFacts("freezer", "freezer", room)
    rules = (*facts.figures.rows, own("onion skins", "put_by_min", str(minutes)))
    return desk_for(replace(facts, figures=Figures(rules),
                            shelf=replace(facts.shelf, cold_places=(place,))), days=7)  # fmt: skip


def freeze(where: Desk, mg: int = 250_000) -> Job | str:
    minute = minute_of(where.facts.at)
    pick = Pick("ON-1", "onion skins", mg, "mg", "dye", minute, MONDAY, "frozen")
    return put_by_job(pick, "K", where, [], wanted=TUESDAY)


def text(job: Job | str) -> str:
    return job if isinstance(job, str) else job.text


def test_a_lot_is_frozen_by_its_last_good_day() -> None:
    assert freeze(desk()) == Job("freeze ON-1", MONDAY, "freeze ON-1 today", "K", 0, "put by",
                                 "ON-1")  # fmt: skip


def test_a_part_of_a_lot_is_named_by_its_weight() -> None:
    assert text(freeze(desk(), 100_000)) == "freeze 100 g of ON-1 today"


def test_the_freezer_takes_it_to_the_gram() -> None:
    assert text(freeze(desk(room=250_000))) == "freeze ON-1 today"
    assert freeze(desk(room=249_000)) == "ON-1 ends Mon 1 Feb; no room to freeze it, 1 g over"


def test_hands_of_the_day_bound_it_to_the_minute() -> None:
    assert isinstance(freeze(desk(minutes=90)), Job)
    assert freeze(desk(minutes=91)) == "ON-1 ends Mon 1 Feb; nobody is in to put it by"


def test_what_cannot_be_put_by_says_so() -> None:
    where = desk()
    pick = Pick("ON-1", "onion skins", 1, "mg", "dye", where.now, MONDAY)

    assert put_by_job(pick, "K", where, [], wanted=TUESDAY) == (
        "ON-1 ends Mon 1 Feb and cannot be put by"
    )


def test_a_booked_putting_by_takes_its_hands() -> None:
    where = desk(minutes=20)
    job = freeze(where)
    assert isinstance(job, Job)
    pick = Pick("ON-1", "onion skins", 250_000, "mg", "dye", where.now, MONDAY, "frozen")
    book_put_by(job, pick, where, used=minute_of(feb(2, 9)))

    assert where.board.hands[""][:2] == [70, 90]


@pytest.mark.parametrize(("keeps", "day"), [("5", 4), ("0", 9)])
def test_a_bath_is_made_so_late_that_it_keeps(keeps: str, day: int) -> None:
    rules = [row for row in RULES if (row.item, row.name) != ("nettle bath", "keeps_days")]
    facts = replace(LITTLE, figures=Figures((*rules, own("nettle bath", "keeps_days", keeps))))

    assert keeps_from("nettle bath", minute_of(feb(9, 10)), desk_for(facts, days=7)) == date(
        2027, 2, day
    )


def test_a_bath_is_made_as_late_as_it_fits() -> None:
    # 5 L from 8 to 95 °C on 3 kW at 0.7: 5 x 4.186 x 87 / 126 = 14.45, 14 min and 25 of simmer.
    where = desk_for(shelf(vessels={"iron_pot": False}), days=7)
    made = make_bath(MakingWanted(BATH, 5_000_000, "dye"), "K", where, before=minute_of(feb(2, 9)),
                     not_before=MONDAY, site="")  # fmt: skip
    assert not isinstance(made, str)
    job, done = made

    assert job.text == "make 5 L of nettle bath today"
    assert where.calendar.moment(done.start) == feb(1, 16, 20)
    assert where.calendar.moment(done.end) == feb(1, 16, 59)
    assert where.board.hands[""][0] == 50


def test_a_bath_that_no_day_has_the_hands_for_is_not_made() -> None:
    where = desk_for(hours(1, shelf(vessels={"iron_pot": False}), hands_min=39), days=7)
    made = make_bath(MakingWanted(BATH, 5_000_000, "dye"), "K", where, before=minute_of(feb(2, 9)),
                     not_before=MONDAY, site="")  # fmt: skip

    assert made == "no time to make nettle bath before it is wanted"


def test_a_dip_takes_its_minutes_on_its_day_or_the_next_open_one() -> None:
    where = desk_for(hours(2, hands_min=0), days=7)
    dip_chores(where, [MONDAY, TUESDAY])

    assert where.house.dip == 5
    assert where.board.hands[""][:3] == [85, 85, 90]
