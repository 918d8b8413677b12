"""Numbers as a notebook writes them: the comma that groups and the comma that is a point."""

from __future__ import annotations

from decimal import Decimal

import pytest

from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import Counted, read_number, read_weight_or_count


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("1,500", "1500"),
        ("12,500", "12500"),
        ("0,500", "0.500"),
        ("-0,250", "-0.250"),
        ("−0,250", "-0.250"),
        ("1,5", "1.5"),
        ("0,05", "0.05"),
        ("1,500.25", "1500.25"),
        ("7.4", "7.4"),
    ],
)
def test_a_comma_groups_thousands_unless_a_nought_stands_before_it(text: str, number: str) -> None:
    assert read_number(text) == Decimal(number)


def test_buckets_count_like_pieces() -> None:
    assert read_weight_or_count("3 buckets", "GB") == Counted(3, "bucket")
    assert read_weight_or_count("a bucket", "GB") == Counted(1, "bucket")


def test_a_part_of_a_bucket_is_weighed() -> None:
    with pytest.raises(Unclear, match=r"^Write whole buckets, or a weight such as 500 g\.$"):
        read_weight_or_count("half a bucket", "GB")
