"""*This week*: the page says what the JSON says, in words and marks, with its figures."""

from __future__ import annotations

import gzip
import re
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client

from inventory.models import Studio, StudioRule
from sourcing.models import Chore
from sourcing.week.words import day_in_words
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load, said, ticket, week_json

pytestmark = pytest.mark.django_db

# DESIGN.md 10: first visit.
BYTES, REQUESTS = 60_000, 6
QUERIES = 8


@pytest.fixture
def yard() -> Studio:
    load()
    return Studio.objects.get()


def own_figure(studio: Studio, item: str, name: str, value: str) -> None:
    """A figure that the studio has found on the Monday itself, so it beats its older one."""
    StudioRule.objects.of(studio).create(
        item=item,
        name=name,
        value=Decimal(value),
        basis="measured here",
        since=date(2026, 11, 23),
    )


def in_words(moment: str) -> str:
    at = datetime.fromisoformat(moment)
    return f"{day_in_words(at.date())} {at:%H:%M}"


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("days", ["1", "7", "28"])
def test_the_page_is_sound_whatever_the_period(client: Client, days: str) -> None:
    assert sound(client.get("/", {"at": MONDAY, "days": days})) == []


def test_the_page_of_another_studio_is_sound_too(client: Client) -> None:
    load("kelpwick-loft")

    page = client.get("/")

    assert page.status_code == 200
    assert sound(page) == []


def test_a_studio_with_nothing_written_down_has_a_page(client: Client) -> None:
    Studio.objects.create(name="Bare Loft", zone="Pacific/Auckland")

    page = client.get("/", {"at": MONDAY})

    assert page.status_code == 200
    assert "No run is asked for." in words(page)
    assert sound(page) == []


@pytest.mark.usefixtures("yard")
def test_every_answer_is_that_of_the_json_with_its_moments(client: Client) -> None:
    for run in week_json(client)["runs"]:
        text = ticket(client, run["code"])

        assert text.startswith(run["answer"]), run["code"]
        for moment in (run["first_step_at"], run["dry_at"]):
            assert moment is None or in_words(moment) in text, run["code"]
        for row in (
            *run["waits_for"], *run["short"], *run["jobs"], *run["enough"], *run["unlocks"],
        ):  # fmt: skip
            assert row["text"][1:] in text, run["code"]


@pytest.mark.usefixtures("yard")
def test_an_answer_has_a_mark_and_a_word_beside_its_colour(client: Client) -> None:
    tree = read(client.get("/", {"at": MONDAY}))
    heads = {row.attrs["id"]: row.query("p")[0] for row in tree.query("article")}

    marks = {name: (head.query("use")[0].attrs["href"], said(head)) for name, head in heads.items()}

    assert marks["run-A"] == ("#mark-yes", "yes, with a job")
    assert marks["run-E"] == ("#mark-wait", "not yet")
    assert marks["run-B"] == ("#mark-no", "no")


@pytest.mark.usefixtures("yard")
def test_blush_says_what_it_takes_and_leaves(client: Client) -> None:
    text = ticket(client, "A")

    assert "2,000 g of wool, due Mon 30 Nov 09:00" in text
    assert "2,105 g of W-88 wool, leaves 295 g" in text
    assert "1,820 g of AV-0911 avocado stones, leaves 80 g" in text
    assert "Freeze AV-1116 today" in text


@pytest.mark.usefixtures("yard")
def test_old_rose_says_how_much_is_short_and_what_it_waits_for(client: Client) -> None:
    text = ticket(client, "B")

    assert "Avocado stones short by 2,034 g = 49 stones" in text
    assert "Light card is on day 21 of 28, reading 3, 4 wanted" in text
    assert "First step" not in text


@pytest.mark.usefixtures("yard")
def test_what_is_not_yes_says_what_would_unlock_it(client: Client) -> None:
    """JOB.md 13.7: with 0.5 kg more line Oak Grey is dry Sun 29 Nov 15:00."""
    grey, rose, slate = (ticket(client, run) for run in "EBD")

    assert re.search(
        r"What would unlock it yes with: 0\.5 kg more line room on Friday[^,]*, "
        r"then first step Thu 26 Nov 13:00, dry Sun 29 Nov 15:00",
        grey,
    )
    assert (
        "What would unlock it yes with: All three together: 7 days more for the light card" in rose
    )
    assert "unlock" not in slate


def test_the_studios_own_loss_in_scouring_changes_the_answer_and_is_named(
    client: Client, yard: Studio
) -> None:
    """2,000 g scoured at a loss of 0.20: 2,000 / 0.80 = 2,500 g, more than the 2,400 g of W-88."""
    assert "2,105 g of W-88" in ticket(client, "A")

    own_figure(yard, "wool", "scour_loss_fraction", "0.20")

    text = ticket(client, "A")
    assert text.startswith("no")
    assert "Wool short by 100 g" in text
    assert "wool, lost in scouring: 20 % the studio's own, measured here Mon 23 Nov 2026" in text


def test_the_studios_own_drying_hours_change_when_a_run_is_dry(
    client: Client, yard: Studio
) -> None:
    """Slate is hung Tue 24 Nov 16:00: with 48 h dry Thu 26, with 24 h dry Wed 25."""
    assert "Dry Thu 26 Nov 16:00" in ticket(client, "D")

    own_figure(yard, "studio", "drying_h", "24")

    assert "Dry Wed 25 Nov 16:00" in ticket(client, "D")


def test_a_shipped_figure_says_on_what_it_rests(client: Client, yard: Studio) -> None:
    StudioRule.objects.of(yard).filter(item="wool", name="scour_loss_fraction").delete()

    text = ticket(client, "A")

    assert re.search(r"wool, lost in scouring: \d+ % \(\d+ to \d+ %\) [a-z]", text)
    assert "lost in scouring: 5 % the studio's own" not in text


@pytest.mark.usefixtures("yard")
def test_a_figure_leads_to_its_range_and_source(client: Client) -> None:
    page = read(client.get("/", {"at": MONDAY}))
    links = {str(link.attrs["href"]) for link in page.query(".figure a")}
    other = read(client.get(next(iter(links))))

    places = {link.partition("#")[2] for link in links}

    assert "wool-scour_loss_fraction" in places
    assert all(link.startswith("/figures/?at=2026-11-23T07%3A30#") for link in links)
    assert places <= {row.attrs["id"] for row in other.query("[id]")}


@pytest.mark.usefixtures("yard")
def test_flags_stand_in_their_order_with_word_and_day(client: Client) -> None:
    tree = read(client.get("/", {"at": MONDAY}))
    lines = [said(row) for row in tree.query(".flags > li")]

    assert [row["text"][1:] in line for row, line in
            zip(week_json(client)["flags"], lines, strict=True)] == [True] * len(lines)  # fmt: skip
    assert lines[0].startswith("use today Freeze or use AV-1116 today")
    assert lines[0].endswith("today")
    assert next(line for line in lines if line.startswith("promise")).endswith("Mon 30 Nov")


@pytest.mark.usefixtures("yard")
def test_a_jar_that_is_to_be_dipped_says_what_it_can_do(client: Client) -> None:
    tree = read(client.get("/", {"at": MONDAY}))
    iron_7, iron_3 = (said(row) for row in tree.query(".flags > li") if "Dip Iron" in said(row))

    assert "GAS iron in vinegar gives off hydrogen: lid loose, away from flame" in iron_7
    assert "HIGH SHELF" in iron_7
    assert "GAS" not in iron_3  # the same metal, said a line above


@pytest.mark.usefixtures("yard")
def test_cautions_stand_at_the_run_that_they_are_about(client: Client) -> None:
    olive, slate, rose = (ticket(client, run) for run in "CDB")

    assert "POISON all of privet is poisonous to people, horses and dogs (privet)" in olive
    assert "HOLD copper harms fish" in olive
    assert "TWO PEOPLE" in ticket(client, "A")
    assert "TWO PEOPLE" not in slate  # 12 L; the studio lifts up to 15 alone
    assert "copper" not in slate
    assert "POISON" not in rose
    assert "NOT FOOD" in words(client.get("/", {"at": MONDAY}))


@pytest.mark.usefixtures("yard")
def test_the_strip_has_a_text_equal_with_every_step_of_the_period(client: Client) -> None:
    tree = read(client.get("/", {"at": MONDAY}))
    days = next(row for row in tree.query("section") if row.attrs["aria-labelledby"] == "days")
    rows = [said(row) for row in days.query("details tbody tr")]

    steps = [
        (run["code"], step["step"], in_words(step["from"]))
        for run in week_json(client)["runs"]
        for step in run["steps"]
        if step["from"] < "2026-11-30"
    ]

    assert len(rows) == len(steps) > 10
    for code, step, since in steps:
        assert any(row.startswith(since) and f"{code} {step}" in row for row in rows), (code, step)
    assert "Hands 225 of 360 min; line 0 kg." in said(days)
    assert "Hands 200 of 600 min; line 0.4 kg, 2.4 kg from 10:00, 2 kg from 16:00." in said(days)


@pytest.mark.usefixtures("yard")
def test_every_drawing_has_a_name_and_says_where_it_stands_in_words(client: Client) -> None:
    drawings = read(client.get("/", {"at": MONDAY})).query("svg[role=img]")

    assert len(drawings) == 1 + 7
    for drawing in drawings:
        assert "days and nights" in said(drawing) or "hours downwards" in said(drawing)
        assert "in words below" in said(drawing)


@pytest.mark.usefixtures("yard")
def test_how_far_things_go_is_said_in_the_words_of_the_sheet(client: Client) -> None:
    text = words(client.get("/", {"at": MONDAY}))

    assert "Avocado stones: 6,966 g tonight, 3,966 g after claims; G and B want 12,000 g" in text
    assert "Alum: run B wants 450 g, 132 g left by then: short by 318 g" in text


@pytest.mark.usefixtures("yard")
def test_the_page_asks_the_database_no_more_than_the_week_itself(
    client: Client, django_assert_max_num_queries: Any
) -> None:
    with django_assert_max_num_queries(QUERIES):
        assert client.get("/", {"at": MONDAY}).status_code == 200


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    "address",
    [
        "/",
        "/today/",
        "/shelves/",
        "/note/",
        "/ask/",
        "/coming/",
        "/missed/",
        "/rules/",
        "/recipes/",
    ],
)
def test_a_first_visit_is_small(client: Client, address: str) -> None:
    packed = {"headers": {"accept-encoding": "gzip"}}
    page = client.get(address, {"at": MONDAY}, **packed)  # type: ignore[arg-type]
    text = gzip.decompress(page.content).decode()
    linked = r'<link rel="(?:icon|stylesheet|manifest)" href="([^"]+)"|<script [^>]*src="([^"]+)"'
    files = [link or script for link, script in re.findall(linked, text)]
    answers = [client.get(file, **packed) for file in files]  # type: ignore[arg-type]

    sizes = [len(page.content), *(len(b"".join(a)) for a in answers)]  # type: ignore[call-overload]

    assert len(files) == 4  # mark, manifest, style sheets as one, script
    assert len(sizes) <= REQUESTS
    assert sum(sizes) <= BYTES


@pytest.mark.usefixtures("yard")
def test_a_day_earlier_and_later_keep_the_rest_of_the_question(client: Client) -> None:
    tree = read(client.get("/", {"at": MONDAY, "days": "3"}))
    earlier, later = (tree.query(f"a[rel={rel}]")[0].attrs["href"] for rel in ("prev", "next"))

    assert earlier == "/?at=2026-11-22T07%3A30%2B00%3A00&days=3"
    assert "as of Tue 24 Nov 2026, 07:30" in words(client.get(later))


def test_what_a_studio_writes_is_shown_as_written(client: Client, yard: Studio) -> None:
    Chore.objects.of(yard).create(day=date(2026, 11, 24), what="<img src=x onerror=1>", hands_min=5)

    page = client.get("/", {"at": MONDAY})

    assert "&lt;img src=x onerror=1&gt;" in page.content.decode()
    assert sound(page) == []


@pytest.mark.usefixtures("yard")
def test_freezer_and_fridge_are_told_with_what_helps_and_what_is_a_guess(client: Client) -> None:
    # 13.6: 966 g over tonight; with Thursday's 2,100 and the cabbage 546; after Blush 2,034 free.
    tree = read(client.get("/", {"at": MONDAY}))
    freezer, fridge = [said(node) for node in tree.query("div.room-of")]

    assert freezer.startswith(
        "Freezer for 6,000 g Over by 966 g tonight "
        "Keep 966 g of AV-1123 in the fridge, last good Mon 30 Nov "
        "Likely over by 546 g on Thu 26 Nov, a guess "
        "Keep 546 g of the avocado stones that Lantern Steps café brings in the fridge, "
        "last good Thu 3 Dec"
    )
    assert "Today 3,350 g 1,180 g 2,436 g over by 966 g Tue 24 Nov 3,966 g 2,034 g free" in freezer
    assert "Thu 26 Nov 3,966 g 480 g 2,100 g likely over by 546 g, a guess" in freezer
    assert fridge.startswith("Fridge without limit Holds ")


@pytest.mark.usefixtures("yard")
def test_the_rooms_of_the_page_are_those_of_the_json(client: Client) -> None:
    rooms = week_json(client)["sums"]["rooms"]

    assert [(row["kind"], row["holds_g"]) for row in rooms] == [
        ("freezer", "6000"),
        ("fridge", None),
    ]
    tonight, thursday = rooms[0]["evenings"][0], rooms[0]["evenings"][3]
    assert (tonight["over_g"], thursday["over_g"], thursday["over_if_likely_g"]) == (
        "966", "0", "546",
    )  # fmt: skip
    assert tonight["todo"][0]["lot"] == "AV-1123"
    assert thursday["todo"] == []
    assert (thursday["todo_if_likely"][0]["source"], thursday["todo_if_likely"][0]["guess"]) == (
        "Lantern Steps café", True,
    )  # fmt: skip
