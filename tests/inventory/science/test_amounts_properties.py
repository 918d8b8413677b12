"""Whatever is written: read back as it was, or refused, in steps in proportion to its length."""

import sys
from decimal import Decimal
from fractions import Fraction
from types import FrameType
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science import signs
from inventory.science.amounts import Amount, read_amount, read_mass, read_volume
from inventory.science.unclear import Unclear
from inventory.science.wording import write_amount, write_count, write_volume

LB = Fraction("453592.37")  # mg, exact: NIST SP 811 (2008), App. B.8
OZ = LB / 16


@given(st.integers(1, 10**11))
def test_a_written_weight_reads_as_it_was(mg: int) -> None:
    assert read_mass(write_amount(mg)) == mg
    assert read_mass(write_amount(mg), country="DE") == mg
    assert read_mass(write_amount(mg, unit="kg")) == mg


@given(st.integers(1, 10**11))
def test_a_written_volume_reads_as_it_was(ul: int) -> None:
    assert read_volume(write_volume(ul)) == ul
    assert read_volume(write_volume(ul), country="FR") == ul


@given(st.integers(1, 10**6), st.sampled_from(["stone", "leaf", "berry"]))
def test_a_written_count_reads_as_it_was(count: int, noun: str) -> None:
    read = read_amount(write_count(count, noun))

    assert (read.pieces, read.unit) == (count, noun)


@given(st.fractions(Fraction(1, 999), 9999, max_denominator=999))
def test_a_written_measure_reads_as_it_was(number: Fraction) -> None:
    assert read_amount(write_count(number, "bucket")).value == number


@given(st.integers(0, 200), st.integers(0, 15))
def test_pounds_and_ounces_add_up(pounds: int, ounces: int) -> None:
    read = read_amount(f"{pounds} lb {ounces} oz", may_be_zero=True)

    assert read.value == pounds * LB + ounces * OZ


@given(st.decimals(Decimal("0.01"), 9999, places=2))
def test_point_and_comma_mean_the_same_with_two_decimals(number: Decimal) -> None:
    assert read_mass(f"{number} kg") == read_mass(f"{number}".replace(".", ",") + " kg")


WRITING = (
    "1 2 12 500 1,5 1,500 1.5 ½ ⅓ 1/2 / half quarter a an two dozen twenty - – to or and of , . "
    "kg g lb oz L mL pt fl cups stones buckets wet dry about ~ % ° ( ) x * ^ e + minus ² \u00a0 "
    "\u2009 ' \x00 \ud800 ㎏ ٣ １ nan inf per :"
)
PIECES_OF_WRITING = st.sampled_from(WRITING.split(" "))


def read_or_refused(words: str) -> Amount | Unclear:
    """What comes of a writing; any other exception is a fault."""
    try:
        return read_amount(words)
    except Unclear as trouble:
        return trouble


@given(st.one_of(st.text(max_size=60), st.lists(PIECES_OF_WRITING, max_size=12).map(" ".join),
                 st.lists(PIECES_OF_WRITING, max_size=12).map("".join)))  # fmt: skip
def test_whatever_is_written_is_read_or_refused_with_a_reason(words: str) -> None:
    found = read_or_refused(words)

    if isinstance(found, Amount):
        assert found.value > 0
        assert found.understood
    else:
        assert 1 <= found.position <= len(words) + 1
        assert found.problem
        assert str(found).isprintable()
        assert str(found).encode()


@pytest.mark.parametrize(
    "shape",
    ["x", " ", "1", "1,", "1 000", "½", "1/", "2 lb ", "half a ", "a ", ".", "twenty-", "e9", "('"],
)
def test_reading_takes_steps_in_proportion_to_the_length(
    shape: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(signs, "LONGEST", 10**9)

    # Eight times the length: about eight times the lines of Python, sixty-four if it were
    # quadratic. Numbers stay below the 4,300 digits that Python itself refuses.
    assert lines_run(shape, 4000) <= 10 * lines_run(shape, 500)


def lines_run(shape: str, length: int) -> int:
    """How many lines of Python a refusal takes: the same on a busy machine as on a quiet one."""
    count = 0

    def count_lines(frame: FrameType, event: str, argument: object) -> Any:
        nonlocal count
        count += event == "line"
        return count_lines

    before = sys.gettrace()
    sys.settrace(count_lines)
    try:
        with pytest.raises(Unclear):
            read_amount((shape * length)[:length])
    finally:
        sys.settrace(before)
    return count
