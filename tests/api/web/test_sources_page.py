"""*Sources*: all of them, and one; the JSON beside them."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from inventory.models import Studio, StudioRule
from sourcing.models import Agreement, PickUp, Source, TubMove
from sourcing.sources import add_source, close_days, note_carrying, withdraw_permission
from sourcing.sources_seen import CAME_AT_MOST, SOURCES_AT_MOST
from sourcing.tubs import fetch_tubs, leave_tubs
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load, said
from tests.once import once
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.django_db
CAFE, GROCER, CORNER = "Lantern Steps café", "Three Crates greengrocer", "Hedge at the corner house"
STONES = "avocado stones"


made = once(load)


@pytest.fixture(autouse=True)
def _yard(made: None, db: None) -> None:
    """Pellitory Yard."""


@pytest.fixture
def studio() -> Studio:
    return Studio.objects.get()


def ask(client: Client, **asked: str) -> Any:
    return client.get("/sources/", {"at": MONDAY, **asked})


def one(client: Client, studio: Studio, name: str = CAFE, **asked: str) -> Any:
    key = Source.objects.of(studio).get(name=name).pk
    return client.get(f"/sources/{key}/", {"at": MONDAY, **asked})


def ticket(client: Client, name: str, **asked: str) -> str:
    tree = read(ask(client, **asked))
    return next(text for row in tree.query("article") if name in (text := said(row)))


def as_json(client: Client, **asked: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get("/api/v1/sources/", {"at": MONDAY, **asked}).json()
    return found


def gift(client: Client, name: str, what: str, **asked: str) -> dict[str, Any]:
    rows = as_json(client, **asked)["sources"]
    gives = next(row["gives"] for row in rows if row["name"] == name)
    found: dict[str, Any] = next(row for row in gives if row["what"] == what)
    return found


def test_the_page_is_sound_and_names_every_source(client: Client, studio: Studio) -> None:
    page = ask(client)

    assert sound(page) == []
    assert [said(row) for row in read(page).query("h2.source-name")] == [CORNER, CAFE, GROCER]
    for name in (CORNER, CAFE, GROCER):
        assert sound(one(client, studio, name)) == []


def test_the_cafe_of_the_worked_week(client: Client) -> None:
    # 62, 55, 70, 48, 0 and 65: mean 50 (2,100 g), worst 0, missed 1 in 6.
    text = ticket(client, CAFE)

    assert "Lately: mean 50 stones, 2,100 g; least 0 stones; missed 1 in 6." in text
    assert "Latest first: 62, 55, 70, 48, missed and 65." in text
    assert "Mon and Thu, 17:00" in text
    assert "Next: Mon 23 Nov 17:00, told of: 58 stones, 2,436 g" in text


def test_the_greengrocer_and_the_hedge_of_the_worked_week(client: Client) -> None:
    grocer, hedge = ticket(client, GROCER), ticket(client, CORNER)

    assert "mean 170 g; least 0 g; missed 1 in 6." in grocer
    assert "Next: Sat 28 Nov 09:00, expected: nobody has said how much" in grocer
    assert "not yet: window opens 27 November 2026" in hedge
    assert "Next: Fri 27 Nov 09:00, expected: likely 2,000 g, at worst 0 g: a guess" in hedge
    assert "Nothing has come yet." in hedge


def test_one_source_says_all_that_is_known_of_it(client: Client, studio: Studio) -> None:
    text = words(one(client, studio))

    assert "by-product agreement of 2 Sep 2026 kept in the notebook" in text
    assert "the café, 2 Sep 2026" in text
    assert "In all: mean 50 stones, 2,100 g; missed 1 in 6; over a year it came on" in text
    assert "it came on Mon 3 of 3 and Thu 2 of 3." in text
    assert "Came last Thu 19 Nov 2026" in text
    assert "Thu 5 Nov 2026 missed" in text
    assert "Mon 9 Nov 2026 came 48 stones, 2,016 g" in text
    assert "No tub was left here." in text


def test_the_hedge_says_its_season_and_when_birds_nest(client: Client, studio: Studio) -> None:
    text = words(one(client, studio, CORNER))

    assert (
        "leaves and soft shoots: 1 September to the end of February; now, until Sun 28 Feb 2027"
    ) in text
    assert (
        "Birds nest in it 1 March to 31 August, risk season: no fixed dates for gardens; a nest in "
        "use or being built is protected all year; check your local rules."
    ) in text
    assert "corner house, 1 Oct 2026" in text


def test_a_season_says_what_it_rests_on(client: Client, studio: Studio) -> None:
    rows = read(one(client, studio, CORNER)).query("main details li")
    privet, nests = (said(row) for row in rows)

    assert privet == "leaves and soft shoots, common practice"
    assert nests == (
        "nesting season, published: Wildlife and Countryside Act 1981 s.1 with the season of the "
        "RSPB, as quoted at wisboroughgreen.org; in force since 28 September 1982: from memory; "
        "holds from Tue 28 Sep 1982 on"
    )

    for name, value in (("season_from_month", 2), ("season_to_month", 9)):
        StudioRule.objects.of(studio).create(item="nests", name=name, value=Decimal(value))
    own = [said(row) for row in read(one(client, studio, CORNER)).query("main details li")][1]
    assert own == "nesting season, the studio's own rule"


def test_a_source_leads_to_its_thank_you(client: Client, studio: Studio) -> None:
    links = {said(row): row.attrs["href"] for row in read(one(client, studio)).query("p.ways a")}

    key = Source.objects.of(studio).get(name=CAFE).pk
    assert links["Thank-you slip"] == f"/sources/{key}/thanks/?at=2026-11-23T07%3A30"
    assert client.get(links["Thank-you slip"]).status_code == 200
    assert client.get(links["If a visit is missed"]).status_code == 200


def test_tubs_stand_where_they_stood_at_the_moment(client: Client, studio: Studio) -> None:
    leave_tubs(studio, entry=uuid4(), at=nov(19, 17), source=CAFE, tubs=3, note="the blue ones")
    fetch_tubs(studio, entry=uuid4(), at=nov(23, 17), source=CAFE, tubs=2)

    assert "Our tubs there 3 tubs" in ticket(client, CAFE)
    assert "Our tubs there 1 tub" in ticket(client, CAFE, at="2026-11-23T17:00")
    text = words(one(client, studio, at="2026-11-23T18:00"))
    assert "Mon 23 Nov 2026: 2 tubs fetched Thu 19 Nov 2026: 3 tubs left (the blue ones)" in text


def test_a_day_that_went_by_without_a_word_is_shown_and_not_counted(
    client: Client, studio: Studio
) -> None:
    PickUp.objects.of(studio).filter(at=nov(12, 17)).delete()
    note = "Nobody has said what became of Thu 12 Nov: not counted as missed."

    text = ticket(client, CAFE)

    assert note in text
    assert "missed 1 in 5" in text
    assert gift(client, CAFE, STONES)["nobody_said"] == ["2026-11-12"]


def test_what_was_told_of_and_never_followed_is_asked_for(client: Client) -> None:
    before, after = "2026-11-23T17:00", "2026-11-23T17:01"

    assert "Nobody has said" not in ticket(client, CAFE, at=before)
    assert "what became of Mon 23 Nov" in ticket(client, CAFE, at=after)


def test_closed_days_are_not_asked_for(client: Client, studio: Studio) -> None:
    PickUp.objects.of(studio).filter(at=nov(12, 17)).delete()

    close_days(studio, source=CAFE, first=date(2026, 11, 12), last=date(2026, 11, 12))

    assert "Nobody has said" not in ticket(client, CAFE)


@pytest.mark.parametrize(
    ("at", "said_of_it", "tone"),
    [
        ("2026-11-26T07:30", "lower tier; runs out Thu 26 Nov 2026, today", "yes"),
        ("2026-11-25T07:30", "lower tier; runs out Thu 26 Nov 2026, in 1 day", "yes"),
        ("2026-11-27T07:30", "lower tier; ran out Thu 26 Nov 2026", "no"),
    ],
)
def test_a_carrying_note_says_its_last_day(
    client: Client, studio: Studio, at: str, said_of_it: str, tone: str
) -> None:
    note_carrying(studio, source=CAFE, note="lower tier", until=date(2026, 11, 26))

    page = one(client, studio, at=at)

    (found,) = read(page).query(f"dd.is-{tone}")
    assert said(found) == said_of_it


def test_what_may_not_be_fetched_says_so_with_a_mark(client: Client, studio: Studio) -> None:
    withdraw_permission(studio, source=CAFE, gives=STONES, ended_on=date(2026, 11, 23))

    text = ticket(client, CAFE)

    assert "not to be fetched: permission withdrawn 23 November 2026" in text
    assert "Next: Mon 23 Nov 17:00, closed: permission withdrawn 23 November 2026" in text


def test_a_hedge_in_the_nesting_season_asks_to_look_first(client: Client, studio: Studio) -> None:
    agreed = Agreement.objects.of(studio).filter(gives="privet")
    agreed.update(since=None, last_on=None, days=[0])

    text = ticket(client, CORNER, at="2026-05-04T07:30")

    assert "look for nests before each cut" in text
    assert "closed: nesting season, 1 March to 31 August: no nest check on record" in text


def test_a_studio_without_sources_says_so(client: Client) -> None:
    call_command("load", "fixtures/kelpwick-loft", verbosity=0)

    page = ask(client, studio="Kelpwick Loft")

    assert sound(page) == []
    assert "No source is written down yet." in words(page)
    assert "Nothing is agreed yet." not in words(page)


def test_a_source_that_agreed_to_nothing_is_there(client: Client, studio: Studio) -> None:
    add_source(studio, name="Moss Lane bakery")

    assert "Nothing is agreed yet." in ticket(client, "Moss Lane bakery")
    assert sound(one(client, studio, "Moss Lane bakery")) == []


def test_an_unknown_number_and_another_studios_source_are_not_here(
    client: Client, studio: Studio
) -> None:
    load("kelpwick-loft")
    key = Source.objects.of(studio).get(name=CAFE).pk

    for studio_name, number in (("Pellitory Yard", 999_999), ("Kelpwick Loft", key)):
        page = client.get(f"/sources/{number}/", {"studio": studio_name})
        assert page.status_code == 404
        assert (
            f"{studio_name} has no source with the number {number}. Look through all sources."
        ) in words(page)


@pytest.mark.parametrize("number", ["0", "10001", "x", "-1", "1.5"])
def test_a_page_that_cannot_be_is_refused(client: Client, number: str) -> None:
    page = ask(client, page=number)

    assert page.status_code == 400
    assert "is no page here. Ask for one from 1 to 10,000." in words(page)


def test_sources_go_on_behind_the_last_one_whatever_is_added_meanwhile(
    client: Client, studio: Studio
) -> None:
    for number in range(SOURCES_AT_MOST):
        Source.objects.of(studio).create(name=f"N{number:02}")
    before = set(Source.objects.of(studio).values_list("name", flat=True))

    first = as_json(client)
    Source.objects.of(studio).create(name="A barrow")
    second = client.get(first["next"]).json()

    shown = [row["name"] for row in (*first["sources"], *second["sources"])]
    assert len(first["sources"]) == SOURCES_AT_MOST
    assert (sorted(shown), second["next"]) == (sorted(before), None)
    other = client.get(first["next"].replace(MONDAY.replace(":", "%3A"), "2026-11-24T07%3A30"))
    assert (other.status_code, other.json()["code"]) == (400, "cursor_unreadable")


def test_so_many_sources_fill_a_page_and_one_more_the_next(client: Client, studio: Studio) -> None:
    for number in range(SOURCES_AT_MOST - 3):
        add_source(studio, name=f"Stall {number:02}")
    assert read(ask(client)).query("nav.turning") == []

    add_source(studio, name="Stall 99")

    assert f"1 to {SOURCES_AT_MOST} of {SOURCES_AT_MOST + 1} Next" in words(ask(client))
    second = ask(client, page="2")
    assert sound(second) == []
    assert [said(row) for row in read(second).query("h2.source-name")] == [GROCER]
    assert "No source is written down on this page." in words(ask(client, page="3"))
    assert as_json(client)["in_all"] == SOURCES_AT_MOST + 1


def years_of(studio: Studio, many: int) -> None:
    """So many hand-overs more of each thing, in the years before."""
    rows = [
        PickUp(studio=studio, source=each.source, gives=each.gives,
               at=nov(1) - timedelta(days=n, hours=1), how="made", weight_mg=1_000)
        for each in Agreement.objects.of(studio).select_related("source")
        for n in range(many)
    ]  # fmt: skip
    PickUp.objects.of(studio).bulk_create(rows)
    cafe = Source.objects.of(studio).get(name=CAFE)
    TubMove.objects.of(studio).bulk_create(
        TubMove(source=cafe, at=nov(1) - timedelta(days=n), how="left", tubs=1, entry=uuid4())
        for n in range(many)
    )


def asked_by(client: Client, address: str) -> int:
    """How many questions to the database a page asks."""
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address, {"at": MONDAY}).status_code == 200
    return len(asked)


def test_a_page_asks_as_much_of_a_hundred_times_the_data(client: Client, studio: Studio) -> None:
    cafe = Source.objects.of(studio).get(name=CAFE).pk
    addresses = ("/sources/", f"/sources/{cafe}/", "/api/v1/sources/")

    before = [asked_by(client, address) for address in addresses]
    years_of(studio, 600)
    after = [asked_by(client, address) for address in addresses]

    assert before == after
    assert max(after) <= 8


def test_large_numbers_are_read_in_thousands(client: Client, studio: Studio) -> None:
    years_of(studio, 1_000)

    assert "missed 1 in 1,006; over a year" in words(one(client, studio))


def test_what_came_is_cut_and_sums_are_over_all(client: Client, studio: Studio) -> None:
    years_of(studio, 600)

    rows = read(one(client, studio)).query("tbody tr")
    found = gift(client, CAFE, STONES)

    assert len(rows) == CAME_AT_MOST
    assert (found["ever"]["times"], found["ever"]["missed"]) == (606, 1)
    # 300 stones of 42 g and 600 times 1 g, over 606.
    assert found["ever"]["mean"] == {"amount": "21.782", "unit": "g"}


def test_the_json_holds_the_worked_week(client: Client) -> None:
    found = gift(client, CAFE, STONES)

    assert found["lately"] == {
        "times": 6,
        "missed": 1,
        "mean": {"amount": "2100", "unit": "g"},
        "least": {"amount": "0", "unit": "g"},
        "mean_pieces": "50",
        "least_pieces": 0,
    }
    assert (found["weekdays"], found["hour"], found["state"]) == ([0, 3], "17:00", "may be fetched")
    assert found["next"][0] == {
        "at": "2026-11-23T17:00:00+00:00",
        "how": "told of",
        "why_not": None,
        "told_of": {"amount": "2436", "unit": "g"},
        "likely": None,
        "worst": None,
    }
    assert found["came"][0] == {
        "on": "2026-11-19",
        "missed": False,
        "amount": {"amount": "2604", "unit": "g"},
        "pieces": 62,
        "lot": None,
    }
    hedge = gift(client, CORNER, "privet")
    assert hedge["nesting"]["dates"] == "1 March to 31 August"
    assert hedge["seasons"][0]["dates"] == "1 September to the end of February"


def test_the_navigation_leads_here(client: Client) -> None:
    links = [said(row) for row in read(client.get("/", {"at": MONDAY})).query("nav.places a")]

    assert "Sources" in links
