"""A hedge cut in the nesting season is kept with who looked for nests, or not kept at all."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest

from inventory.entries import Place
from inventory.errors import NotKept
from inventory.models import Lot, Studio, StudioRule
from inventory.posting import Posted
from inventory.shelves import shelf_at
from sourcing.errors import CutLater, NestCheckElsewhen, NoNestCheck
from sourcing.models import PickUp, Source
from sourcing.nests import NestCheck
from sourcing.notebook.load import NotebookRefused, load_files
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at
from sourcing.pickups import record_pickup, report_pickup
from sourcing.sources import agree
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import pages, sentences

pytestmark = pytest.mark.django_db
CORNER, PRIVET = "Hedge at the corner house", "privet"
MAY_4 = date(2026, 5, 4)
MONDAY_9 = datetime(2026, 5, 4, 8, tzinfo=UTC)  # 09:00 in summer time
GARDENER = NestCheck("the gardener", MAY_4)


@pytest.fixture
def studio() -> Studio:
    load_fixture()
    return Studio.objects.get()


def record(studio: Studio, **more: Any) -> Posted:
    said = {"source": CORNER, "gives": PRIVET, "lot": "PR-0504", "place": Place("bench")}
    usual: dict[str, Any] = {"entry": uuid4(), "at": MONDAY_9, "weight": 1_000_000, **said}
    return record_pickup(studio, **{**usual, **more})


def report(studio: Studio, **more: Any) -> PickUp:
    said = {"source": CORNER, "gives": PRIVET, "lot": "PR-0504", "place": Place("bench")}
    return report_pickup(studio, **{"at": MONDAY_9, "weight_mg": 1_000_000, **said, **more})


def region(studio: Studio, country: str, region: str = "") -> None:
    studio.country, studio.region = country, region
    studio.save()


def kept(studio: Studio) -> tuple[str, date | None]:
    row = PickUp.objects.of(studio).get(
        source__name=CORNER, at__lt=datetime(2026, 6, 1, tzinfo=UTC)
    )
    return row.nests_by, row.nests_on


def nest_checked(studio: Studio) -> bool | None:
    shelf = shelf_at(studio, at=MONDAY_9 + timedelta(hours=1))
    return next(lot.nest_checked for lot in shelf.lots if lot.code == "PR-0504")


def test_privet_cut_on_4_may_in_england_asks_for_the_nest_check(studio: Studio) -> None:
    with pytest.raises(NoNestCheck) as refused:
        record(studio)

    assert str(refused.value) == (
        "privet cut on 4 May 2026 was cut in the nesting season here (1 March to 31 August, risk "
        "season: no fixed dates for gardens; a nest in use or being built is protected all year; "
        "check your local rules). Say who looked the hedge over for nests before the cut, and on "
        "which day."
    )
    assert not Lot.objects.of(studio).filter(code="PR-0504").exists()


def test_with_the_check_it_is_kept_and_the_lot_says_so(studio: Studio) -> None:
    record(studio, nests=GARDENER)

    assert kept(studio) == ("the gardener", MAY_4)
    assert nest_checked(studio) is True


@pytest.mark.parametrize("looked_on", [date(2026, 5, 2), date(2026, 5, 4)])
def test_a_look_on_the_day_or_two_days_before_counts(studio: Studio, looked_on: date) -> None:
    record(studio, nests=NestCheck("the gardener", looked_on))

    assert kept(studio) == ("the gardener", looked_on)


@pytest.mark.parametrize("looked_on", [date(2026, 5, 1), date(2026, 5, 5)])
def test_a_look_too_early_or_after_the_cut_does_not_count(studio: Studio, looked_on: date) -> None:
    with pytest.raises(NestCheckElsewhen) as refused:
        record(studio, nests=NestCheck("the gardener", looked_on))

    assert str(refused.value) == (
        f"privet was cut on 4 May 2026, and nests were looked for on {looked_on.day} May 2026: a "
        "look counts before the cut, at most 2 days before it. Say when the hedge was last looked "
        "over."
    )


def test_the_studios_own_rule_says_how_long_a_look_counts(studio: Studio) -> None:
    StudioRule.objects.of(studio).create(
        item="nests", name="checked_before_days", value=Decimal(0), note="the same morning"
    )

    with pytest.raises(NestCheckElsewhen, match=r"a look counts before the cut, on the same day\."):
        record(studio, nests=NestCheck("the gardener", date(2026, 5, 3)))
    record(studio, nests=GARDENER)


def test_somebody_looked(studio: Studio) -> None:
    with pytest.raises(NotKept, match=r"^Nests looked for by: “ ” is empty\. Say who looked\.$"):
        record(studio, nests=NestCheck(" ", MAY_4))


@pytest.mark.parametrize(
    ("country", "cut_on", "asks"),
    [
        # Both sides of the season's ends; Germany: to 30 September (BNatSchG s.39(5), gronau.de).
        ("GB", date(2026, 2, 28), False),
        ("GB", date(2026, 3, 1), True),
        ("GB", date(2026, 8, 31), True),
        ("GB", date(2026, 9, 1), False),
        ("DE", date(2026, 9, 30), True),
        ("DE", date(2026, 10, 1), False),
    ],
)
def test_the_day_of_the_cut_decides(
    studio: Studio, country: str, cut_on: date, *, asks: bool
) -> None:
    region(studio, country)
    at = datetime(cut_on.year, cut_on.month, cut_on.day, 10, tzinfo=UTC)

    if asks:
        with pytest.raises(NoNestCheck):
            record(studio, at=at)
    else:
        record(studio, at=at)
        assert Lot.objects.of(studio).get(code="PR-0504").gathered_on == cut_on


def test_what_was_cut_before_the_season_and_fetched_in_it_asks_nothing(studio: Studio) -> None:
    fetched = datetime(2026, 3, 1, 10, tzinfo=UTC)

    record(studio, at=fetched, cut_on=date(2026, 2, 28))

    assert Lot.objects.of(studio).get(code="PR-0504").gathered_on == date(2026, 2, 28)
    assert kept(studio) == ("", None)


def test_what_came_was_cut_before(studio: Studio) -> None:
    with pytest.raises(CutLater) as refused:
        record(studio, cut_on=date(2026, 5, 5), nests=GARDENER)

    assert str(refused.value) == (
        "privet came on 4 May 2026 and cannot have been cut on 5 May 2026. Look at the dates again."
    )


def test_what_is_cut_from_no_hedge_asks_nothing(studio: Studio) -> None:
    record(studio, source="Lantern Steps café", gives="nettle")

    assert Lot.objects.of(studio).filter(code="PR-0504").exists()


def test_whatever_is_cut_from_a_hedge_asks(studio: Studio) -> None:
    with pytest.raises(NoNestCheck, match=r"^hawthorn cut on 4 May 2026 was cut in the nesting"):
        record(studio, gives="hawthorn")

    Source.objects.of(studio).filter(name=CORNER).update(kind="front garden")
    record(studio, gives="hawthorn")


def test_the_studios_own_season_decides(studio: Studio) -> None:
    for name, value in (("season_from_month", 6), ("season_to_month", 7)):
        StudioRule.objects.of(studio).create(item="nests", name=name, value=Decimal(value))

    record(studio)

    assert nest_checked(studio) is None


def test_a_check_said_with_the_report_is_the_check_of_the_pick_up(studio: Studio) -> None:
    report(studio, nests=GARDENER)
    report(studio, weight_mg=900_000)
    assert kept(studio) == ("the gardener", MAY_4)

    entry = uuid4()
    first, again = record(studio, entry=entry), record(studio, entry=entry)

    assert (first.again, again.again) == (False, True)
    assert kept(studio) == ("the gardener", MAY_4)
    assert nest_checked(studio) is True


def test_a_report_with_a_look_that_does_not_count_is_refused(studio: Studio) -> None:
    with pytest.raises(NestCheckElsewhen):
        report(studio, nests=NestCheck("the gardener", date(2026, 5, 1)))

    assert not PickUp.objects.of(studio).filter(lot_code="PR-0504").exists()


def why_not(studio: Studio, at: datetime) -> list[tuple[bool, str]]:
    rows = facts_at(studio, at=at, days=7).pick_ups
    return [(row.in_window, row.why_not) for row in rows if row.dyestuff == PRIVET][:1]


def test_the_week_says_that_a_hedge_pick_up_lacks_its_check(studio: Studio) -> None:
    agree(studio, source=CORNER, gives=PRIVET, days=(0,), hour=MONDAY_9.time(), likely_mg=2_000_000)
    early = MONDAY_9 - timedelta(hours=4)
    lacking = "nesting season, 1 March to 31 August: no nest check on record"

    assert why_not(studio, early) == [(False, lacking)]
    assert why_not(studio, datetime(2026, 8, 31, 18, tzinfo=UTC)) == [(True, "")]

    report(studio, at=MONDAY_9, nests=GARDENER)
    assert why_not(studio, early) == [(True, "")]


def test_a_reported_lot_without_its_check_does_not_count(studio: Studio) -> None:
    report(studio)
    early = MONDAY_9 - timedelta(hours=4)

    def checked() -> bool | None:
        lots = facts_at(studio, at=early, days=7).shelf.lots
        return next(lot.nest_checked for lot in lots if lot.code == "PR-0504")

    assert checked() is False
    report(studio, nests=GARDENER)
    assert checked() is True


def test_the_forecast_counts_on_no_hedge_in_the_nesting_season(studio: Studio) -> None:
    agree(studio, source=CORNER, gives=PRIVET, days=(0,), hour=MONDAY_9.time(), likely_mg=2_000_000)

    def stretches(at: datetime) -> list[tuple[date, date]]:
        streams = facts_at(studio, at=at, days=7).streams
        return [span for each in streams if each.gives == PRIVET for span in each.closed]

    in_autumn = [
        (date(2027, 3, 1), date(2027, 8, 31)),
        (date(2028, 3, 1), date(2028, 8, 31)),
    ]
    assert stretches(datetime(2026, 11, 23, 7, 30, tzinfo=UTC)) == in_autumn
    assert stretches(MONDAY_9)[0] == (MAY_4, date(2026, 8, 31))
    assert all(
        each.closed == () for each in facts_at(studio, at=MONDAY_9, days=7).streams
        if each.gives != PRIVET
    )  # fmt: skip


def test_the_notebook_keeps_who_looked_and_when(studio: Studio) -> None:
    report(studio, nests=GARDENER)
    at = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)
    written = files_for(notebook_of(studio, at=at))

    load_files(written)

    assert b"bench,the gardener,Mon 4 May 2026" in written["pickups.csv"]
    assert files_for(notebook_of(studio, at=at)) == written


@pytest.mark.parametrize(
    ("cells", "sentence"),
    [
        (
            "the gardener,",
            "column nests on: Write on which day the hedge was looked over for nests.",
        ),
        (",4 May 2026", "column nests by: Write by whom the hedge was looked over for nests."),
    ],
)
def test_the_notebook_asks_for_both(cells: str, sentence: str) -> None:
    files = pages(
        sources="source\nMoss Lane\n",
        pickups="source,gives,at,pick-up,amount,nests by,nests on\n"
        f"Moss Lane,privet,4 May 2026 09:00,made,1 kg,{cells}\n",
    )

    with pytest.raises(NotebookRefused) as refused:
        load_files(files)

    assert sentences(refused.value.problems) == [f"pickups.csv, line 2, {sentence}"]
