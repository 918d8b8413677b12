"""How much a source saved, as people write it on a phone."""

from __future__ import annotations

import pytest

from api.source_links.amounts import AmountUnclear, Kind, amount_told
from inventory.science.custom import Custom

STONES, PRIVET = Kind("avocado stones", "stone", "stones"), Kind("privet")


@pytest.mark.parametrize(
    ("text", "kind", "told"),
    [
        ("58 stones", STONES, "58 stones"),
        (" 58  stones ", STONES, "58 stones"),
        ("58", STONES, "58 stones"),
        ("58 avocado stones", STONES, "58 stones"),
        ("1 stone", STONES, "1 stone"),
        ("2 kg", STONES, "2 kg"),
        ("1½ kg", PRIVET, "1½ kg"),
        ("none", STONES, ""),
        ("None this time.", STONES, ""),
        ("0", STONES, ""),
        ("0", PRIVET, ""),
        ("0 stones", STONES, ""),
        ("0 kg", PRIVET, ""),
    ],
)
def test_a_count_a_weight_or_none_is_understood(text: str, kind: Kind, told: str) -> None:
    assert amount_told(text, kind, custom=Custom()) == told


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("2 buckets", STONES, "How much 2 buckets of avocado stones weigh is not known here. "
         "Write such as “58 stones” or “2 kg”."),
        ("3 skins", STONES, "How much 3 skins of avocado stones weigh is not known here. "
         "Write such as “58 stones” or “2 kg”."),
        ("3 stones", PRIVET, "How much 3 stones of privet weigh is not known here. "
         "Write such as “2 kg”."),
        ("2½ stones", STONES, "“2½ stones”: every stone is counted whole. Write a count such "
         "as 58 stones. Here that would be “58 stones” or “2 kg”."),
        ("58", PRIVET, "“58”: a unit is missing after “58”. Write 58 g, 58 mL or 58 stones. Here "
         "that would be “2 kg”."),
        ("x" * 81, STONES, "Write it shorter, such as “58 stones” or “2 kg”."),
    ],
)  # fmt: skip
def test_what_nobody_knows_the_weight_of_is_asked_for_again(
    text: str, kind: Kind, sentence: str
) -> None:
    with pytest.raises(AmountUnclear) as refused:
        amount_told(text, kind, custom=Custom())

    assert str(refused.value) == sentence


def test_eighty_signs_are_read_and_one_more_are_not() -> None:
    with pytest.raises(AmountUnclear) as read:
        amount_told("y" * 80, STONES, custom=Custom())

    assert "Write it shorter" not in str(read.value)
