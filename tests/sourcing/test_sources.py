"""Sources and agreements: made, renamed, permitted, closed, carried."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from typing import Any

import pytest

from inventory.errors import LarderError, NotAnAmount, NotKept
from inventory.models import Studio
from sourcing.errors import (
    NoPermission,
    NoSuchAgreement,
    NoSuchSource,
    SourceTaken,
    TooManyDays,
    TwoAmounts,
    WrongWayRound,
)
from sourcing.models import Agreement, PickUp, Source
from sourcing.notebook.load import NotebookRefused, load_files
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at
from sourcing.sources import (
    add_source,
    agree,
    close_days,
    joined,
    note_carrying,
    note_permission,
    open_days,
    rename_source,
    withdraw_permission,
    without,
)
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import pages, sentences
from tests.sourcing.week.pellitory import MONDAY_0730, nov

pytestmark = pytest.mark.django_db
CAFE, STONES = "Lantern Steps café", "avocado stones"
CORNER, PRIVET = "Hedge at the corner house", "privet"
NEW = {"source": CAFE, "gives": "coffee grounds", "days": (2,), "hour": time(8)}


@pytest.fixture
def studio() -> Studio:
    load_fixture()
    return Studio.objects.get()


def agreement(studio: Studio, source: str = CAFE, gives: str = STONES) -> Agreement:
    return Agreement.objects.of(studio).get(source__name=source, gives=gives)


def why_not(studio: Studio, gives: str) -> list[tuple[int, str]]:
    """Days of November on which something may or may not be fetched, and why not."""
    found = facts_at(studio, at=MONDAY_0730, days=7).pick_ups
    return [(row.at.day, row.why_not) for row in found if row.dyestuff == gives][:3]


def test_a_new_source_is_there_under_its_name(studio: Studio) -> None:
    add_source(studio, name="Moss Lane bakery", kind="bakery", place="Ottersill", note="side door")

    row = Source.objects.of(studio).get(name="Moss Lane bakery")
    assert (row.kind, row.place, row.note, row.carrying_note) == (
        *("bakery", "Ottersill", "side door"),
        "",
    )


def test_a_name_is_given_once(studio: Studio) -> None:
    taken = rf"^There is a source called {CAFE} already\. Give the new one a name of its own\.$"

    with pytest.raises(SourceTaken, match=taken):
        add_source(studio, name=CAFE)
    with pytest.raises(SourceTaken, match=taken):
        rename_source(studio, source=CORNER, name=CAFE)
    with pytest.raises(NotKept, match=r"^Source name: “ ” is empty\. Say it\.$"):
        add_source(studio, name=" ")


def test_what_a_renamed_source_gave_stays_with_it(studio: Studio) -> None:
    rename_source(studio, source=CAFE, name="Lantern Steps bistro")
    rename_source(studio, source="Lantern Steps bistro", name="Lantern Steps bistro")

    assert PickUp.objects.of(studio).filter(source__name="Lantern Steps bistro").count() == 7
    with pytest.raises(NoSuchSource, match=rf"^No source is called {CAFE}\."):
        rename_source(studio, source=CAFE, name="elsewhere")


def test_what_is_agreed_is_expected_on_its_days(studio: Studio) -> None:
    row = agree(studio, **{**NEW, "days": (date(2026, 11, 26), 2, 2)}, likely_mg=800_000)

    assert row.days == [2, "2026-11-26"]
    assert row.likely_mg == 800_000
    assert [day for day, _ in why_not(studio, "coffee grounds")] == [25, 26, 2]


def test_what_is_agreed_again_holds_and_keeps_leave_and_closed_days(studio: Studio) -> None:
    close_days(studio, source=CAFE, first=date(2026, 12, 24), last=date(2027, 1, 4))

    agree(studio, source=CAFE, gives=STONES, days=(1,), hour=time(16), likely_pieces=40)

    row = agreement(studio)
    assert (row.days, row.at, row.likely_pieces, row.hands_min) == ([1], time(16), 40, 0)
    assert (row.permission_by, row.closed) == ("the café", [["2026-12-24", "2027-01-04"]])
    assert Agreement.objects.of(studio).filter(source__name=CAFE).count() == 1


@pytest.mark.parametrize(
    ("said", "kind", "sentence"),
    [
        ({"days": (7,)}, NotKept, "Day: “7” is no day. Give 0 Monday to 6 Sunday, or a date."),
        ({"days": (-1,)}, NotKept, "Day: “-1” is no day. Give 0 Monday to 6 Sunday, or a date."),
        (
            {"days": (True,)},
            NotKept,
            "Day: “True” is no day. Give 0 Monday to 6 Sunday, or a date.",
        ),
        ({"gives": " "}, NotKept, "Gives: “ ” is empty. Say what the source gives."),
        ({"hour": "8"}, NotKept, "Hour: “8” is no hour of a day. Give one such as 17:00."),
        (
            {"since": date(1800, 1, 1)},
            NotKept,
            "Since: “1800-01-01” lies outside the years 1901 to 2198. Look at the date again.",
        ),
        (
            {"last_on": datetime(2026, 1, 1, tzinfo=UTC)},
            NotKept,
            "Until: “2026-01-01 00:00:00+00:00” is no day. Give a date without a time.",
        ),
        (
            {"since": date(2026, 12, 2), "last_on": date(2026, 12, 1)},
            WrongWayRound,
            "1 December 2026 comes before 2 December 2026. "
            "Give the earlier day first, or look at the years.",
        ),
        (
            {"likely_mg": 1, "likely_pieces": 1},
            TwoAmounts,
            "Say what is likely to come by weight or by count: one of the two.",
        ),
        (
            {"likely_mg": 0},
            NotAnAmount,
            "0 is no amount. Give a whole number of mg or µL from 1 to 1,000,000,000,000.",
        ),
        (
            {"source": "Nobody"},
            NoSuchSource,
            "No source is called Nobody. Look at its name, or add it first.",
        ),
    ],
)
def test_an_agreement_that_cannot_be_is_refused(
    studio: Studio, said: dict[str, Any], kind: type[LarderError], sentence: str
) -> None:
    with pytest.raises(kind) as refused:
        agree(studio, **{**NEW, **said})

    assert str(refused.value) == sentence
    assert not Agreement.objects.of(studio).filter(gives="coffee grounds").exists()


def test_a_window_of_one_day_is_a_window(studio: Studio) -> None:
    day = date(2026, 11, 25)

    agree(studio, **NEW, since=day, last_on=day, likely_mg=1)

    assert [each for each, why in why_not(studio, "coffee grounds") if "window" not in why] == [25]


def test_without_permission_a_hedge_is_not_cut_and_with_it_it_is(studio: Studio) -> None:
    assert why_not(studio, PRIVET) == [(27, "")]

    withdraw_permission(studio, source=CORNER, gives=PRIVET, ended_on=nov(27).date())
    assert why_not(studio, PRIVET) == [(27, "permission withdrawn 27 November 2026")]

    withdraw_permission(studio, source=CORNER, gives=PRIVET, ended_on=nov(28).date())
    assert why_not(studio, PRIVET) == [(27, "")]

    note_permission(studio, source=CORNER, gives=PRIVET, by="her son", given_on=nov(20).date())
    row = agreement(studio, CORNER, PRIVET)
    assert (row.permission_by, row.permission_on, row.permission_ended) == (
        *("her son", nov(20).date()),
        None,
    )


def test_a_permission_ends_no_earlier_than_it_was_given(studio: Studio) -> None:
    with pytest.raises(WrongWayRound, match=r"^30 September 2026 comes before 1 October 2026\."):
        withdraw_permission(studio, source=CORNER, gives=PRIVET, ended_on=date(2026, 9, 30))

    withdraw_permission(studio, source=CORNER, gives=PRIVET, ended_on=date(2026, 10, 1))


def test_what_nobody_permitted_or_agreed_to_cannot_be_withdrawn(studio: Studio) -> None:
    agree(studio, **NEW)

    with pytest.raises(NoPermission, match=r"^No permission is on record for coffee grounds from"):
        withdraw_permission(studio, source=CAFE, gives="coffee grounds", ended_on=nov(20).date())
    with pytest.raises(NoSuchAgreement, match=rf"^{CAFE} has not agreed to give moss\. Agree what"):
        note_permission(studio, source=CAFE, gives="moss", by="x", given_on=nov(20).date())
    with pytest.raises(NotKept, match=r"^Permission by: “ ” is empty\. Say who said yes\.$"):
        note_permission(studio, source=CORNER, gives=PRIVET, by=" ", given_on=nov(20).date())


def test_a_carrying_note_holds_to_its_last_day(studio: Studio) -> None:
    note_carrying(studio, source=CAFE, note="carrier of waste, lower tier", until=nov(26).date())
    assert why_not(studio, STONES)[:2] == [(23, ""), (26, "")]

    note_carrying(studio, source=CAFE, note="carrier of waste, lower tier", until=nov(25).date())
    assert why_not(studio, STONES)[:2] == [(23, ""), (26, "carrying note ran out 25 November 2026")]

    note_carrying(studio, source=CAFE, note="")
    assert why_not(studio, STONES)[0] == (23, "no carrying note on record")
    with pytest.raises(NotKept, match=r"^Carrying note: “” is empty\. Say what it is that holds"):
        note_carrying(studio, source=CAFE, note="", until=nov(25).date())


def test_nothing_is_promised_beyond_a_permission_or_a_carrying_note(studio: Studio) -> None:
    note_carrying(studio, source=CAFE, note="lower tier", until=date(2026, 12, 9))
    withdraw_permission(studio, source=CAFE, gives=STONES, ended_on=date(2026, 12, 9))

    (stream,) = (each for each in facts_at(studio, at=MONDAY_0730, days=7).streams
                 if each.source == CAFE)  # fmt: skip

    assert stream.last_on == date(2026, 12, 8)


def test_closed_days_of_all_that_a_source_gives_or_of_one_thing(studio: Studio) -> None:
    grocer = "Three Crates greengrocer"
    close_days(studio, source=grocer, first=nov(28).date(), last=nov(28).date())
    close_days(
        studio, source=grocer, first=nov(29).date(), last=nov(30).date(), gives="red cabbage"
    )

    assert agreement(studio, grocer, "onion skins").closed == [["2026-11-28", "2026-11-28"]]
    assert agreement(studio, grocer, "red cabbage").closed == [["2026-11-28", "2026-11-30"]]
    assert why_not(studio, "onion skins")[0] == (28, "closed till 28 November 2026")

    open_days(studio, source=grocer, first=nov(28).date(), last=nov(29).date())
    assert agreement(studio, grocer, "onion skins").closed == []
    assert agreement(studio, grocer, "red cabbage").closed == [["2026-11-30", "2026-11-30"]]


def test_closed_days_that_cannot_be_are_refused(studio: Studio) -> None:
    with pytest.raises(WrongWayRound, match=r"^28 November 2026 comes before 29 November 2026\."):
        close_days(studio, source=CAFE, first=nov(29).date(), last=nov(28).date())
    add_source(studio, name="Moss Lane bakery")
    with pytest.raises(NoSuchAgreement, match=r"^Moss Lane bakery has not agreed to give anything"):
        close_days(studio, source="Moss Lane bakery", first=nov(28).date(), last=nov(28).date())


def test_an_agreement_holds_sixty_stretches_of_closed_days_and_not_one_more(
    studio: Studio,
) -> None:
    row = agreement(studio)
    row.closed = [[f"{year}-12-24", f"{year}-12-25"] for year in range(2030, 2089)]
    row.save()
    close_days(studio, source=CAFE, first=date(2026, 12, 24), last=date(2026, 12, 24))

    with pytest.raises(
        TooManyDays, match=r"^That makes 61 days or stretches of days; an agreement"
    ):
        close_days(studio, source=CAFE, first=date(2026, 12, 28), last=date(2026, 12, 28))

    close_days(studio, source=CAFE, first=date(2026, 12, 25), last=date(2026, 12, 25))
    assert len(agreement(studio).closed) == 60


def test_stretches_that_touch_are_one_and_a_day_between_keeps_them_apart() -> None:
    first, second = (date(2026, 12, 1), date(2026, 12, 2)), (date(2026, 12, 3), date(2026, 12, 5))
    later = (date(2026, 12, 4), date(2026, 12, 5))

    assert joined([second, first]) == [(date(2026, 12, 1), date(2026, 12, 5))]
    assert joined([later, first]) == [first, later]
    assert without([first, second], date(2026, 12, 2), date(2026, 12, 4)) == [
        (date(2026, 12, 1), date(2026, 12, 1)),
        (date(2026, 12, 5), date(2026, 12, 5)),
    ]


def test_the_notebook_keeps_the_last_days_of_permission_and_carrying_note(studio: Studio) -> None:
    note_carrying(studio, source=CAFE, note="lower tier", until=date(2029, 9, 1))
    withdraw_permission(studio, source=CORNER, gives=PRIVET, ended_on=date(2027, 3, 1))
    written = files_for(notebook_of(studio, at=MONDAY_0730))

    load_files(written)

    assert b"lower tier,Sat 1 Sep 2029" in written["sources.csv"]
    assert b"Thu 1 Oct 2026,Mon 1 Mar 2027" in written["agreements.csv"]
    assert files_for(notebook_of(studio, at=MONDAY_0730)) == written


def test_the_notebook_asks_for_what_is_to_end() -> None:
    files = pages(
        sources="source,carrying until\nMoss Lane bakery,1 Sep 2029\n",
        agreements="source,gives,at,permission by,permission on,permission ended\n"
        "Moss Lane bakery,moss,09:00,,,1 Sep 2029\n"
        "Moss Lane bakery,nettle,09:00,the baker,2 Sep 2029,1 Sep 2029\n",
    )

    with pytest.raises(NotebookRefused) as refused:
        load_files(files)

    assert sentences(refused.value.problems) == [
        "agreements.csv, line 2, column permission by: Write who had said yes.",
        'agreements.csv, line 3, column permission ended: "01 Sep 2029" stands there. '
        "Write a day after the one in permission on.",
        "sources.csv, line 2, column carrying note: Write what it says until that day.",
    ]
