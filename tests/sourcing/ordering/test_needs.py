"""What has to be bought: wants by date, less the shelf, what is on order and the scour loss."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from inventory.science.unclear import OutOfRange
from sourcing.ordering.facts import Stuff, There, Wanted
from sourcing.ordering.needs import needs_of

WOOL, LINEN = Stuff("wool", "yarn"), Stuff("linen", "cloth")
LOSS = Fraction(1, 20)
MONDAY, FRIDAY = date(2026, 11, 23), date(2026, 11, 27)


def kg(weight: float) -> int:
    return round(weight * 1_000_000)


def test_the_earlier_want_takes_the_shelf_and_the_later_one_is_short() -> None:
    wanted = [Wanted("late", WOOL, kg(2), FRIDAY), Wanted("early", WOOL, kg(1), MONDAY)]

    (need,) = needs_of(wanted, [There("W", WOOL, kg(1.5))])

    assert (need.runs, need.by, need.scoured_mg) == (("late",), FRIDAY, kg(1.5))


def test_what_comes_on_the_day_serves_and_what_comes_a_day_later_does_not() -> None:
    wanted = [Wanted("run", WOOL, kg(1), MONDAY)]

    def coming(day: int) -> list[There]:
        return [There("on its way", WOOL, kg(1), arrives_on=date(2026, 11, day))]

    assert needs_of(wanted, coming(23)) == ()
    assert needs_of(wanted, coming(24))[0].scoured_mg == kg(1)


def test_unscoured_fibre_serves_by_what_scouring_leaves_of_it() -> None:
    wanted = [Wanted("run", WOOL, kg(1.9), MONDAY)]

    assert needs_of(wanted, [There("W", WOOL, kg(2), LOSS)]) == ()
    assert needs_of(wanted, [There("W", WOOL, kg(2) - 1, LOSS)])[0].scoured_mg == Fraction(19, 20)


def test_a_need_is_bought_with_what_scouring_will_take() -> None:
    (need,) = needs_of([Wanted("run", WOOL, kg(1.9), MONDAY)], [])

    assert need.bought_mg(LOSS) == kg(2)
    assert need.bought_mg(Fraction(0)) == kg(1.9)


def test_another_fibre_or_form_serves_nobody() -> None:
    wanted = [Wanted("run", WOOL, kg(1), MONDAY)]
    there = [There("L", LINEN, kg(9)), There("C", Stuff("wool", "cloth"), kg(9))]

    assert needs_of(wanted, there)[0].scoured_mg == kg(1)


def test_wants_of_one_day_make_one_need_and_the_order_of_the_lots_is_nothing_to_it() -> None:
    wanted = [Wanted(run, WOOL, kg(1), MONDAY) for run in ("B", "A")]
    wanted.append(Wanted("C", WOOL, kg(2), FRIDAY))
    there = [There("W1", WOOL, kg(0.5)), There("W2", WOOL, kg(3), arrives_on=FRIDAY)]

    needs = needs_of(wanted, there)

    assert [(need.runs, need.scoured_mg) for need in needs] == [(("A", "B"), kg(1.5))]
    assert needs_of(reversed(wanted), reversed(there)) == needs


def test_nothing_wanted_is_nothing_needed() -> None:
    assert needs_of([], [There("W", WOOL, kg(1))]) == ()


def test_amounts_below_nothing_are_refused() -> None:
    with pytest.raises(OutOfRange, match="the fibre of a run is 0; it must be 1 or more"):
        Wanted("run", WOOL, 0, MONDAY)
    with pytest.raises(OutOfRange, match="scour loss is 1; it must be 0 to 9/10"):
        There("W", WOOL, 1, Fraction(1))
