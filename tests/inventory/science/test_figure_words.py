"""Figures of the sums in plain words: every name has some, and a fraction is said in per cent."""

from __future__ import annotations

from decimal import Decimal

from inventory.science.catalogue import shipped
from inventory.science.figure_words import bounds, shipped_words, shown_value, words_for
from inventory.science.figures import Figure

NAMES = {row.name for row in shipped().rows}


def test_every_shipped_figure_has_plain_words_in_the_table() -> None:
    assert NAMES - set(shipped_words()) == set()


def test_the_table_has_no_words_for_a_figure_that_is_gone() -> None:
    assert set(shipped_words()) - NAMES == set()


def test_no_words_hold_the_dashes_of_a_column() -> None:
    assert [name for name, found in shipped_words().items() if "_" in found.words] == []


def test_a_fraction_is_said_in_per_cent_with_its_bounds() -> None:
    row = Figure("wool", "scour_loss_fraction", Decimal("0.050"), Decimal("0.01"), Decimal("0.06"))

    assert str(shown_value(row.name, row.value)) == "5"
    assert bounds(row) == (Decimal(1), Decimal(6))


def test_a_figure_that_is_no_fraction_stays_as_it_is() -> None:
    assert str(shown_value("spoils_q10", Decimal("2.50"))) == "2.5"
    assert str(shown_value("keeps_dried_days", Decimal("1095"))) == "1095"
    assert bounds(Figure("studio", "hands_rate_per_h", Decimal(16))) == (None, None)


def test_a_name_that_is_in_no_table_is_still_read_without_its_dashes() -> None:
    assert words_for("sleeps_in_dew_h").words == "sleeps in dew h"
