"""Times, power, lengths, warmth, percentages and bare numbers as a notebook has them."""

from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.measures import (
    read_duration,
    read_length,
    read_minutes,
    read_number,
    read_percent,
    read_power,
    read_temperature,
)
from inventory.science.unclear import (
    Missing,
    NotUnderstood,
    OtherKind,
    OutOfBounds,
    TwoReadings,
    Unclear,
    Vague,
)


@pytest.mark.parametrize(
    ("words", "minutes"),
    [
        ("40 min", 40),
        ("45 minutes", 45),
        ("0 min", 0),
        ("0 h", 0),
        ("24 h", 1440),
        ("24h", 1440),
        ("1 h 30 min", 90),
        ("1h30min", 90),
        ("1.5 h", 90),
        ("1,5 h", 90),
        ("1½ hours", 90),
        ("half an hour", 30),
        ("an hour and a half", 90),
        ("three quarters of an hour", 45),
        ("3 d", 4320),
        ("28 days", 40_320),
        ("2 weeks", 20_160),
        ("120 s", 2),
        ("1 d 6 h", 1800),
    ],
)
def test_a_time_is_read_to_the_minute(words: str, minutes: int) -> None:
    assert read_minutes(words) == minutes
    assert read_duration(words) == timedelta(minutes=minutes)


@pytest.mark.parametrize(
    ("words", "watts"), [("3.5 kW", 3500), ("3,5 kW", 3500), ("3500 W", 3500), ("3,000 W", 3000)]
)
def test_the_power_of_a_ring_is_read_in_watts(words: str, watts: int) -> None:
    assert read_power(words) == watts


@pytest.mark.parametrize(
    ("words", "mm"),
    [("2.5 m", 2500), ("2 m 40 cm", 2400), ("150 cm", 1500), ("1 yd", 914), ("2 ft 6 in", 762)],
)
def test_a_length_is_read_in_millimetres(words: str, mm: int) -> None:
    # Inch 25.4 mm, exact: NIST SP 811 (2008), App. B.8.
    assert read_length(words) == mm


@pytest.mark.parametrize(
    ("words", "celsius"),
    [
        ("8 °C", 8),
        ("8°C", 8),
        ("8 ℃", 8),
        ("8 ºC", 8),
        ("8 C", 8),
        ("8 deg C", 8),
        ("8 degrees Celsius", 8),
        ("0 °C", 0),
        ("-18 °C", -18),
        ("−18 °C", -18),
        ("minus 18 °C", -18),
        ("7,5 °C", Fraction(15, 2)),
        ("46 °F", Fraction(70, 9)),
        ("32 °F", 0),
        ("212 F", 100),
        ("-40 °F", -40),
        ("-40 °C", -40),
        ("150 °C", 150),
    ],
)
def test_a_warmth_is_read_in_celsius(words: str, celsius: int | Fraction) -> None:
    # °C = (°F - 32) x 5/9, definition of the scales.
    assert read_temperature(words) == celsius


@pytest.mark.parametrize(
    ("words", "part"),
    [
        ("150 %", Fraction(3, 2)),
        ("150%", Fraction(3, 2)),
        ("150 ％", Fraction(3, 2)),
        ("12 percent", Fraction(3, 25)),
        ("12 per cent", Fraction(3, 25)),
        ("12,5 %", Fraction(1, 8)),
        ("½ %", Fraction(1, 200)),
        ("12 % WOF", Fraction(3, 25)),
        ("10000 %", Fraction(100)),
    ],
)
def test_a_percentage_is_read_as_a_fraction(words: str, part: Fraction) -> None:
    assert read_percent(words) == part


def test_no_percent_is_read_only_where_it_may_be() -> None:
    assert read_percent("0 %", may_be_zero=True) == 0
    with pytest.raises(OutOfBounds):
        read_percent("0 %")


@pytest.mark.parametrize(
    ("words", "number"), [("7.4", "7.4"), ("7,4", "7.4"), ("22", "22"), ("0", "0"), ("½", "0.5")]
)
def test_a_bare_number_is_read_exactly(words: str, number: str) -> None:
    assert read_number(words) == Fraction(number)


Read = Callable[[str], object]

REFUSED: list[tuple[Read, str, type[Unclear], str]] = [
    (read_minutes, "", Missing, "“”: nothing is written. Write a time such as 40 min."),
    (read_minutes, "40", Missing,
     "“40”: a unit is missing after “40”. Write a time such as 40 min."),
    (read_minutes, "2 to 3 days", Vague,
     "“2 to 3 days”: “to” at character 3 makes it a range. Write a time such as 40 min."),
    (read_minutes, "1:30", NotUnderstood,
     "“1:30”: “:” at character 2 was not understood. Write a time such as 40 min."),
    (read_minutes, "1 h 30", Missing,
     "“1 h 30”: a unit is missing after “30”. Write a time such as 40 min."),
    (read_minutes, "overnight", NotUnderstood,
     "“overnight”: “overnight” at character 1 was not understood. Write a time such as 40 min."),
    (read_minutes, "2 mo", TwoReadings,
     "“2 mo”: “mo” at character 3 may mean months or minutes. Write months or minutes."),
    (read_minutes, "90 s", OutOfBounds,
     "“90 s”: it is no whole number of minutes. Write 40 min."),
    (read_minutes, "2 kg", OtherKind,
     "“2 kg”: a weight was written. Write a time such as 40 min."),
    (read_minutes, "-3 h", OutOfBounds,
     "“-3 h”: it is below zero. Write how much there is, without a sign."),
    (read_minutes, "1,500 h", TwoReadings,
     "“1,500 h”: “1,500” at character 1 may mean 1500 h or 1.5 h. Write 1500 h or 1.5 h."),
    (read_duration, "3661 days", OutOfBounds,
     "“3661 days”: it is more than ten years. Write a time such as 40 min."),
    (read_power, "3.5", Missing,
     "“3.5”: a unit is missing after “3.5”. Write a power such as 3.5 kW."),
    (read_power, "0 kW", OutOfBounds, "“0 kW”: it is nothing. Write a power such as 3.5 kW."),
    (read_power, "3,500 kW", TwoReadings,
     "“3,500 kW”: “3,500” at character 1 may mean 3500 kW or 3.5 kW. Write 3500 kW or 3.5 kW."),
    (read_length, "2 kg", OtherKind,
     "“2 kg”: a weight was written. Write a length such as 2.5 m."),
    (read_temperature, "8", TwoReadings,
     "“8”: “8” at character 1 may mean 8 °C or 8 °F. Write 8 °C or 8 °F."),
    (read_temperature, "-8", TwoReadings,
     "“-8”: “8” at character 2 may mean -8 °C or -8 °F. Write -8 °C or -8 °F."),
    (read_temperature, "8 K", NotUnderstood,
     "“8 K”: “K” at character 3 was not understood. Write 8 °C."),
    (read_temperature, "10 to 12 °C", Vague,
     "“10 to 12 °C”: “to” at character 4 makes it a range. Write 8 °C."),
    (read_temperature, "150.1 °C", OutOfBounds,
     "“150.1 °C”: it lies outside -40 to 150 °C. Write a warmth such as 8 °C."),
    (read_temperature, "-41 °C", OutOfBounds,
     "“-41 °C”: it lies outside -40 to 150 °C. Write a warmth such as 8 °C."),
    (read_percent, "150", Missing, "“150”: a unit is missing at the end. Write 150 %."),
    (read_percent, "10-15 %", Vague,
     "“10-15 %”: “-” at character 3 makes it a range. Write 150 %."),
    (read_percent, "1,500 %", TwoReadings,
     "“1,500 %”: “1,500” at character 1 may mean 1500 or 1.5. Write 1500 or 1.5."),
    (read_percent, "10001 %", OutOfBounds, "“10001 %”: it is more than 10,000 %. Write 150 %."),
    (read_percent, "12 % alum", NotUnderstood,
     "“12 % alum”: “alum” at character 6 was not understood. Write 150 %."),
    (read_number, "7.4.1", NotUnderstood,
     "“7.4.1”: “7.4.1” at character 1 was not understood. Write 7.4."),
    (read_number, "nan", NotUnderstood,
     "“nan”: “nan” at character 1 was not understood. Write 7.4."),
    (read_number, "1e3", NotUnderstood, "“1e3”: “e” at character 2 was not understood. Write 7.4."),
]  # fmt: skip


@pytest.mark.parametrize(("read", "words", "trouble", "message"), REFUSED)
def test_unclear_measures_are_refused(
    read: Read, words: str, trouble: type[Unclear], message: str
) -> None:
    with pytest.raises(Unclear) as refused:
        read(words)

    assert type(refused.value) is trouble
    assert str(refused.value) == message


@given(st.integers(0, 10**6))
def test_minutes_read_as_they_were_written(minutes: int) -> None:
    assert read_minutes(f"{minutes} min") == minutes


@given(st.integers(-40, 150))
def test_celsius_reads_as_it_was_written(warmth: int) -> None:
    assert read_temperature(f"{warmth} °C") == warmth
    assert read_temperature(f"{warmth * 9 / 5 + 32:.1f} °F") == warmth
