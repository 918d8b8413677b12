"""An invented studio in another zone, at two sites, in the week in which its clocks go back.

Worked by hand from its notebook: Halifax leaves UTC-3 for UTC-4 on Sun 1 Nov 2026 at 02:00.
1 lb = 453.59237 g and 1 oz = 28.349523125 g (international pound, 1959).
"""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from django.db import transaction

from api.sheet import sheet
from inventory.models import Lot, Studio
from inventory.shelves import left_at
from sourcing.notebook.load import load_files
from sourcing.notebook.notebook import files_of
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at, week_at
from sourcing.week.checking import check
from sourcing.week.plan import Week
from tests.sourcing.week.worked import Told, answer_for, brief, held, line, told

LOFT = Path(__file__).parents[2] / "fixtures" / "kelpwick-loft"
HALIFAX = ZoneInfo("America/Halifax")
THURSDAY_SEVEN = datetime(2026, 10, 29, 7, tzinfo=HALIFAX)

pytestmark = pytest.mark.django_db


@pytest.fixture
def week() -> Week:
    files, problems = files_of(LOFT)
    assert problems == []
    load_files(files)
    return week_at(Studio.objects.get(name="Kelpwick Loft"), at=THURSDAY_SEVEN, days=7)


def test_answers_of_the_other_studio(week: Week) -> None:
    assert brief(week, zone=HALIFAX) == {
        "1": "yes, Thu 29 08:00, Fri 30 20:00",
        "2": "yes, Thu 29 08:00, Fri 30 15:00",
        "3": "yes, Fri 30 08:00, Mon 02 14:30",
        "4": "yes, Sat 31 12:00, Mon 02 16:30",
        "5": "no",
    }


def test_marigold_is_wetted_out_and_dyed_from_one_lot(week: Week) -> None:
    # 453.592 g x 25 = 11.34 L; x 4.186 x 70 / (2 x 0.6 x 60) = 46.1: 46 + 45 min from 10:00, cools
    # 2 h to 13:31, rinse 13.6 = 14 min from 13:40 in the tub that it was wetted out in, hung 14:00.
    # MG-1 has 340 g: too little alone.
    assert told(week, "1", zone=HALIFAX) == Told(
        "yes",
        "Thu 29 08:00",
        "Fri 30 20:00",
        hung="Thu 29 14:00",
        steps=(
            "wet out 1 | T1 | Thu 29 08:00 to Thu 29 10:00 | 10 min | 11.34 L | 453.592 g",
            "dye 1 | K1 E1 | Thu 29 10:00 to Thu 29 11:31 | 40 min | 11.34 L | 453.592 g"
            " | 10 to 80 °C, 46 + 45 min",
            "rinse 1 | T1 | Thu 29 13:40 to Thu 29 13:54 | 14 min | 11.34 L | 453.592 g",
        ),
        takes=("WL-1 453.592 g, 453.593 left", "MG-2 453.592 g, 453.593 left"),
    )


def test_marigold_is_rinsed_in_warm_water_so_that_its_wool_does_not_felt(week: Week) -> None:
    # In the pot to 13:31: 10 + 70 e^(-0.2 x 2) = 56.9 °C, lifted to 13:40: 50.4; water at 45 °C. In
    # rain water at 10 °C it would felt.
    assert answer_for(week, "1").warnings == ()


def test_fog_uses_the_second_bath_before_the_pot_is_wanted(week: Week) -> None:
    # 226.796 g x 20 = 4.536 L of the 6 kept; x 4.186 x 50 / 72 = 13.2: 13 + 30 min to 08:43; the
    # pot is clean 40 min later, before 10:00. Rinse 6.8 = 7 min from 08:50, hung 09:00.
    assert told(week, "2", zone=HALIFAX) == Told(
        "yes",
        "Thu 29 08:00",
        "Fri 30 15:00",
        hung="Thu 29 09:00",
        steps=(
            "second bath 1 | K1 E1 | Thu 29 08:00 to Thu 29 08:43 | 30 min | 4.536 L | 226.796 g"
            " | 10 to 60 °C, 13 + 30 min",
            "rinse 1 | Thu 29 08:50 to Thu 29 08:57 | 7 min | 226.796 g",
        ),
        takes=("SK-1 226.796 g, 0 left", "DB-1 4535.92 mL, 1464.08 left"),
    )


def test_bark_goes_through_two_rounds_and_the_hour_that_comes_twice(week: Week) -> None:
    # 1,814.369 g x 30 = 54.43 L in 40: two rounds of 27.216 L, a night each. x 4.186 x 85 /
    # (6 x 0.6 x 60) = 44.8: 45 + 60 min. Round 1 is hung Sat 08:30 summer time: 30 h are over on
    # Sun at 13:30 winter time. Round 2 is lifted Sun 08:00, hung 08:30, dry Mon 14:30.
    found = told(week, "3", zone=HALIFAX)
    first, first_rinse, second, second_rinse = found.steps

    assert first == (
        "dye 1 | M1 G1 | Fri 30 08:00 to Fri 30 09:45 | 45 min | 27.216 L | 907.184 g"
        " | 5 to 90 °C, 45 + 60 min"
    )
    assert first_rinse == "rinse 1 | Sat 31 08:00 to Sat 31 08:27 | 27 min | 907.184 g"
    assert second.startswith("dye 1 | M1 G1 | Sat 31 ")  # as soon as the pot is filled again
    assert second.endswith("45 min | 27.216 L | 907.185 g | 5 to 90 °C, 45 + 60 min")
    assert second_rinse == "rinse 1 | Sun 01 08:00 to Sun 01 08:27 | 27 min | 907.185 g"
    assert held(week, "3", "dye", zone=HALIFAX) == ["M1 Sat 31 08:00", "M1 Sun 01 08:00"]
    assert found.takes == ("CT-1 1814.369 g, 0 left", "WH-1 3628.738 g, 2381.361 left")
    assert found.hung == "Sun 01 08:30"


def test_slip_soaks_elapsed_hours_through_the_night_that_is_longer(week: Week) -> None:
    # 22 h from Sat 12:00 summer time end Sun 09:00 winter time. 6.804 L x 4.186 x 85 / 216 = 11.2:
    # 11 + 60 min; rinse 6.8 = 7 min from 10:20, hung 10:30.
    assert told(week, "4", zone=HALIFAX) == Told(
        "yes",
        "Sat 31 12:00",
        "Mon 02 16:30",
        hung="Sun 01 10:30",
        steps=(
            "soak 1 | Q1 | Sat 31 12:00 to Sun 01 09:00 | 10 min | 6.804 L | 226.796 g",
            "dye 1 | M1 G1 | Sun 01 09:00 to Sun 01 10:11 | 30 min | 6.804 L | 226.796 g"
            " | 5 to 90 °C, 11 + 60 min",
            "rinse 1 | Sun 01 10:20 to Sun 01 10:27 | 7 min | 226.796 g",
        ),
        takes=("CT-2 226.796 g, 0 left", "WH-1 113.398 g, 2267.963 left"),
    )


def test_the_big_order_is_short_of_wool_and_of_one_lot(week: Week) -> None:
    # 3 lb = 1,360.777 g; 453.593 g left of the wool and of the biggest lot: 907.184 short.
    found = [(row.kind, row.what, row.amount) for row in answer_for(week, "5").short]

    assert found == [("fibre", "wool", 907_184), ("dyestuff", "marigold", 907_184)]


def test_hands_and_lines_of_two_sites(week: Week) -> None:
    # Thu Ann 10 + 40 + 14 + 30 + 7; Fri Ben 45; Sat 27 + 45 + 10; Sun 27 + 30 + 7.
    used = {f"{day.day:%a}": day.hands_on_min for day in week.days}
    there = {f"{day.day:%a}": day.hands_available_min for day in week.days}

    assert used == {"Thu": 101, "Fri": 45, "Sat": 82, "Sun": 64, "Mon": 0, "Tue": 0, "Wed": 0}
    assert there == {"Thu": 300, "Fri": 660, "Sat": 540, "Sun": 240, "Mon": 660, "Tue": 300,
                     "Wed": 0}  # fmt: skip
    assert line(week, zone=HALIFAX) == [
        "Thu 29 00:00 0",
        "Thu 29 09:00 0.226796",
        "Thu 29 14:00 0.680388",
        "Fri 30 15:00 0.453592",
        "Fri 30 20:00 0",
        "Sat 31 08:30 0.907184",
        "Sun 01 08:30 1.814369",
        "Sun 01 10:30 2.041165",
        "Sun 01 13:30 1.133981",
        "Mon 02 14:30 0.226796",
        "Mon 02 16:30 0",
    ]


def test_two_buckets_of_cones_weigh_what_the_studio_has_weighed(week: Week) -> None:
    # Lots are counted by the bucket, 900 g each on the studio's own scale.
    cones = Lot.objects.of(Studio.objects.get(name=week.studio)).get(code="AC-1")

    assert left_at(cones.studio, "AC-1", at=THURSDAY_SEVEN).amount == 1_800_000


def written() -> dict[str, bytes]:
    studio = Studio.objects.get(name="Kelpwick Loft")
    return files_for(notebook_of(studio, at=THURSDAY_SEVEN))


def test_a_notebook_with_warm_rinses_and_streaky_wool_is_written_as_it_was_read() -> None:
    files, _ = files_of(LOFT)
    with suppress(_Undone), transaction.atomic():
        load_files(files)
        once = written()
        raise _Undone
    assert b"Low Sun,4,for re-dyeing,streaky" in once["fibre.csv"]
    assert ",45 °C," in once["steps.csv"].decode()
    assert ",60 g per m²,90 cm," in once["fibre.csv"].decode()

    load_files(once)

    assert written() == once
    facts = facts_at(Studio.objects.get(), at=THURSDAY_SEVEN, days=7)
    streaky = next(row for row in facts.shelf.fibre if row.code == "WL-2")
    assert (streaky.shade, streaky.depth, streaky.came_out) == ("Low Sun", 4, "streaky")
    assert streaky.quality == "for re-dyeing"


def test_metres_stand_beside_the_weight_of_measured_cloth(week: Week) -> None:
    # 226.796 g of silk at 60 g per m², 90 cm wide: 54 g a metre, 4.2 m. 1,814.369 g of cotton at
    # 4.4 oz on a square yard = 149.185 g per m², 60 in = 1.524 m wide: 227.36 g a metre, 7.98 m.
    found = {take.source: take.length_mm for run in "123" for take in answer_for(week, run).takes}

    assert found["SK-1"] == 4200
    assert found["CT-1"] == pytest.approx(7980, abs=2)
    assert found["WL-1"] is None
    assert "SK-1 227 g = 4.2 m (leaves 0 g)" in sheet(week)
    assert check(facts_at(Studio.objects.get(), at=THURSDAY_SEVEN, days=7), week) == []


class _Undone(Exception):
    """Leave nothing of a studio."""
