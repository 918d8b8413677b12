"""A thank-you, the totals and their files: the autumn of Lantern Steps café."""

from __future__ import annotations

import csv
import io
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from inventory import ledger
from inventory.entries import Place
from inventory.models import Studio
from sourcing.models import Source
from tests.api.web.pages import read, sound, words
from tests.once import once
from tests.sourcing.lantern import (
    CAFE,
    FIRST,
    GROCER,
    STONE_MG,
    STONES,
    autumn,
    bring,
    dye,
    wool,
    yard,
)

pytestmark = pytest.mark.django_db
ASKED = {"at": "2026-10-31T09:00", "since": "2026-09-01"}


def _load() -> None:
    """612 stones, all of which dyed 17.136 kg of wool."""
    found = yard()
    codes = autumn(found)
    wool(found, 40_000_000)
    dye(found, {code: 51 * STONE_MG for code in codes}, 17_136_000)


made = once(_load)


@pytest.fixture(autouse=True)
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def key(name: str = CAFE) -> int:
    return Source.objects.of(Studio.objects.get()).get(name=name).pk


def slip(client: Client, name: str = CAFE, **more: str) -> Any:
    return client.get(f"/sources/{key(name)}/thanks/", {**ASKED, **more})


def rows(client: Client, address: str, **more: str) -> list[dict[str, str]]:
    answer = client.get(address, {**ASKED, **more})
    assert answer.status_code == 200
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    text = answer.content.decode()
    assert text.count("\n") == text.count("\r\n")
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_the_slip_says_what_612_stones_dyed(client: Client) -> None:
    """Design papers 12, no. 36: 612 stones = 25.7 kg → 17.1 kg of wool at 150 %."""
    page = slip(client)

    assert sound(page) == []
    said = words(page)
    assert "Thank you, Lantern Steps café" in said
    assert "612 stones = 25.7 kg → 17.1 kg of wool at 150 %" in said
    assert "in 12 hand-overs" in said
    assert "from 1 Sep 2026 to 31 Oct 2026" in said
    assert "Counted, not weighed: the weight is an estimate" in said
    assert "Kept from the bin in all: 25.7 kg" in said


def test_the_slip_makes_no_claim(client: Client) -> None:
    said = words(slip(client)).casefold()

    for claim in ("waste-free", "eco", "green", "natural", "sustainab", "non-toxic", "zero"):
        assert claim not in said.replace("greengrocer", "")


def test_what_became_of_it_stands_line_by_line_and_adds_up(client: Client, studio: Studio) -> None:
    bring(studio, "LS-20", at=FIRST + timedelta(days=50), pieces=10, state="fresh",
          place=Place("bench"))  # fmt: skip
    bring(studio, "LS-21", at=FIRST + timedelta(days=51), pieces=20)
    ledger.tip_out(studio, entry=uuid4(), at=FIRST + timedelta(days=52),
                   takes=[("LS-21", 140_000)], where_to="compost heap")  # fmt: skip

    sums = {
        row.query("dt")[0].to_text().strip(): row.query("dd")[0].to_text().strip()
        for row in read(slip(client)).query("dl.sums div")
    }
    assert sums == {
        "Saved": "27 kg",
        "Kept from the bin": "26.4 kg",
        "Dyed with": "25.7 kg",
        "Waits on the shelf": "700 g",
        "Tipped out (compost heap)": "140 g",
        "Spoiled, lies there still": "420 g",
    }


def test_cautions_follow_what_was_given(client: Client, studio: Studio) -> None:
    """All of privet is poisonous; red cabbage fades (design papers 10, 12 no. 24)."""
    hedge = "Hedge at the corner house"
    bring(studio, "PR-1", source=hedge, gives="privet", weight=2_000_000, state="dried",
          place=Place("dry store"))  # fmt: skip
    bring(studio, "CB-1", source=GROCER, gives="red cabbage", weight=1_000_000)

    assert "poison" in words(slip(client, hedge))
    assert "soon loses its colour" in words(slip(client, GROCER))
    assert "poison" not in words(slip(client))


def test_a_source_that_gave_nothing_is_thanked_for_nothing(client: Client) -> None:
    page = slip(client, "Hedge at the corner house")

    assert sound(page) == []
    assert "Nothing was handed over in that time." in words(page)


def test_a_year_back_is_meant_where_no_day_is_named(client: Client) -> None:
    said = words(client.get(f"/sources/{key()}/thanks/", {"at": ASKED["at"]}))

    assert "from 1 Nov 2025 to 31 Oct 2026" in said


@pytest.mark.parametrize(
    ("since", "detail"),
    [
        ("2026-11-01", "“2026-11-01” is still to come. Say an earlier day."),
        ("2016-10-30", "“2016-10-30” is more than 10 years ago. Say a later day."),
        ("autumn", "“autumn” is no day. Write one as 2026-09-01, or a month as 2026-09."),
        ("2026-02-30", "“2026-02-30” is no day. Write one as 2026-09-01, or a month as 2026-09."),
    ],
)
def test_a_day_that_cannot_be_is_said_in_a_sentence(
    client: Client, since: str, detail: str
) -> None:
    page = slip(client, since=since)

    assert page.status_code == 400
    assert detail in words(page)


def test_the_first_and_the_last_day_that_can_be_asked_for(client: Client) -> None:
    assert slip(client, since="2026-10-31").status_code == 200
    assert slip(client, since="2016-10-31").status_code == 200
    assert "612 stones" in words(slip(client, since="2026-09"))


def test_a_source_that_is_not_there_is_not_here(client: Client) -> None:
    for address in ("/sources/999999/thanks/", "/sources/999999/thanks.csv"):
        page = client.get(address, ASKED)
        assert page.status_code == 404
        assert "No source of this studio is kept there." in words(page)


def test_another_studio_s_source_is_not_there_either(client: Client, studio: Studio) -> None:
    other = Studio.objects.create(name="Quillet Barn", zone="Europe/London")
    theirs = Source.objects.of(other).create(name="Two Bells").pk

    page = client.get(f"/sources/{theirs}/thanks/", {**ASKED, "studio": studio.name})
    assert page.status_code == 404


def test_the_totals_name_every_source_with_a_way_to_its_slip(client: Client) -> None:
    page = client.get("/totals/", ASKED)

    assert sound(page) == []
    said = words(page)
    assert (
        "26.3 kg saved, 25.7 kg of it kept from the bin; "
        "of 630 g nobody wrote down what became of it." in said
    )
    assert "Nothing in that time from Hedge at the corner house." in said
    links = [node.attrs["href"] or "" for node in read(page).query("tbody th a")]
    assert any(link.startswith(f"/sources/{key()}/thanks/?at=") for link in links)


def test_what_is_not_on_record_is_not_said_to_have_gone_to_the_bin(client: Client) -> None:
    """The worked yard's greengrocer: 630 g of skins by the end of October, without lots."""
    said = words(slip(client, GROCER))

    assert "what became of it is not on record 630 g" in said
    assert "Kept from the bin" not in said


def test_every_hand_over_has_description_quantity_parties_and_date(client: Client) -> None:
    found = rows(client, f"/sources/{key()}/thanks.csv")

    assert len(found) == 12
    assert found[0] == {
        "date": "2026-09-03",
        "from": CAFE,
        "to": "Pellitory Yard",
        "description": STONES,
        "quantity": "2.142",
        "unit": "kg",
        "pieces": "51",
        "how": "counted, weight estimated",
        "note": "",
    }


def test_the_file_of_all_holds_every_source_in_order_of_days(client: Client) -> None:
    found = rows(client, "/hand-overs.csv")

    assert {row["from"] for row in found} == {CAFE, GROCER}
    assert [row["date"] for row in found] == sorted(row["date"] for row in found)


def test_the_totals_as_a_file_add_up(client: Client) -> None:
    stones = next(row for row in rows(client, "/totals.csv") if row["dyestuff"] == STONES)

    assert stones["saved kg"] == stones["dyed kg"] == stones["kept from the bin kg"] == "25.704"
    assert (stones["pieces"], stones["fibre dyed kg"]) == ("612", "17.136")


def test_a_name_that_a_spreadsheet_would_work_out_is_inert(client: Client) -> None:
    Source.objects.of(Studio.objects.get()).filter(name=CAFE).update(name="=HYPERLINK(1)")

    found = rows(client, "/totals.csv")
    assert "'=HYPERLINK(1)" in {row["source"] for row in found}


def test_a_page_asks_no_more_than_eight_questions(
    client: Client, django_assert_max_num_queries: Any
) -> None:
    for address in (f"/sources/{key()}/thanks/", "/totals/", "/totals.csv"):
        with django_assert_max_num_queries(8):
            client.get(address, ASKED)


def test_rows_beyond_those_shown_stand_in_the_file(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("api.web.thanks.view.ROWS_SHOWN", 1)

    page = client.get("/totals/", ASKED)
    assert sound(page) == []
    assert "1 more row stands in the file." in words(page)
    assert len(rows(client, "/totals.csv")) == 2
