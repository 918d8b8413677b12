"""*Fibre orders*: what to buy, the cheapest order, orders by their state, one order on paper."""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api import shopping
from api.web.orders import view
from inventory.models import Studio
from sourcing.models import Offer, OrderLine, Run, Supplier
from sourcing.notebook.writing import files_for, notebook_of
from tests.api.web.market import KG, MONDAY_0730, happened, order, with_suppliers
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load
from tests.once import once

pytestmark = pytest.mark.django_db
QUERIES_AT_MOST = 8


def _load() -> None:
    """Pellitory Yard with the far mill and the near shop."""
    load()
    with_suppliers(Studio.objects.get())


made = once(_load)


@pytest.fixture(autouse=True)
def yard(made: None, db: None) -> Studio:
    return Studio.objects.get()


def seen(client: Client, address: str = "/orders/", **asked: str) -> str:
    page = client.get(address, {"at": MONDAY, **asked})
    assert page.status_code == 200
    assert sound(page) == []
    return words(page)


def test_the_page_says_what_to_buy_by_when_for_which_run_and_from_whom(client: Client) -> None:
    text = seen(client)

    assert "wool yarn 3,720 g ready to dye" in text
    assert "3,916 g as it is bought, before scouring" in text
    assert "3,720 g by Mon 7 Dec for run G (as the run says)" in text
    assert "Order today from near shop: 4 kg for £112, there on Mon 30 Nov." in text
    assert "For far mill the order-by day was Thu 19 Nov, 2 working days ago." in text


def test_two_suppliers_stand_beside_each_other_in_one_table(client: Client) -> None:
    (table,) = read(client.get("/orders/", {"at": MONDAY})).query(".suppliers")
    rows = [" ".join(row.to_text().split()) for row in table.query("tbody tr")]

    assert rows == [
        "near shop in time Mon 30 Nov Mon 30 Nov 4 × 1 kg £112 , no carriage 84 g",
        "far mill late by 2 working days Wed 9 Dec was Thu 19 Nov 5 × 1 kg £110 , no carriage "
        "1,084 g",
    ]


def test_with_the_group_on_w_88_five_kilos_are_ordered(client: Client, yard: Studio) -> None:
    Run.objects.of(yard).filter(code="F").update(fibre_lot=None)

    text = seen(client)

    assert "Order today from near shop: 5 kg for £140, there on Mon 30 Nov." in text
    assert "4,168 g as it is bought, before scouring" in text


def test_the_cheapest_order_says_how_sure_it_is(client: Client) -> None:
    text = seen(client)

    assert "the cheapest there is: £112 with carriage" in text
    assert "No cheaper order exists." in text


def test_where_the_time_is_out_the_page_says_that_it_bought_fibre_by_fibre(
    client: Client, yard: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two fibres are searched for; with no time to speak of only the quick order is left."""
    monkeypatch.setattr(shopping, "SECONDS", 1e-6)
    shopping.keep_nothing()
    Run.objects.of(yard).filter(code="D").update(fibre_lot=None, fibre="cotton")
    seller = Supplier.objects.of(yard).get(name="near shop")
    Offer.objects.of(yard).create(
        supplier=seller, fibre="cotton", form="yarn", pack_mg=KG // 4, tiers=[[0, 900]]
    )

    text = seen(client)
    shopping.keep_nothing()

    assert "fibre by fibre, not searched through" in text
    assert "that beats buying each fibre where it is cheapest" in text
    assert "python3 manage.py order --longer 60" in text


def test_fibres_that_the_page_has_no_room_for_are_counted_and_still_ordered(
    client: Client, yard: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    for place in (shopping, view):
        monkeypatch.setattr(place, "FIBRES_AT_MOST", 1)
    Run.objects.of(yard).filter(code="D").update(
        fibre_lot=None, fibre="cotton", fibre_needed_by=date(2026, 12, 10)
    )
    seller = Supplier.objects.of(yard).get(name="near shop")
    Offer.objects.of(yard).create(
        supplier=seller, fibre="cotton", form="yarn", pack_mg=KG // 4, tiers=[[0, 900]]
    )

    text = seen(client)

    assert "1 more fibre, needed later, not shown here; the order below counts all." in text
    assert "cotton yarn: 2 × 250 g = 500 g, £18" in text
    assert "£130 with carriage" in text


def test_no_supplier_at_all_is_told_and_what_to_do(client: Client, yard: Studio) -> None:
    Offer.objects.of(yard).delete()

    text = seen(client)

    assert "nobody brings it" in text
    assert "Nobody who is written down can bring it. Write a supplier and an offer" in text
    assert "not in it: 3,720 g wool yarn, as nobody asked sells so much of it" in text
    assert "no order: nobody who is written down sells what is lacking." in text
    assert "£0" not in text
    assert "cheapest there is" not in text


def test_nothing_lacking_is_said_in_a_sentence(client: Client, yard: Studio) -> None:
    Run.objects.of(yard).filter(code="G").update(weight_mg=280_000)

    text = seen(client)

    assert "what is on the shelf, in the post and on order is enough for every run" in text
    assert "Nothing is ordered at this moment." in text


def test_every_state_of_an_order_is_a_word_and_a_mark(client: Client, yard: Studio) -> None:
    comes = date(2026, 11, 30)
    rows = [order(yard, 2_026_000 + n) for n in range(1, 5)]
    for row in rows[1:]:
        happened(row, "sent", at=MONDAY_0730 - timedelta(minutes=5), arrives_on=comes)
    happened(rows[2], "confirmed", at=MONDAY_0730, arrives_on=date(2026, 12, 1))
    happened(rows[3], "called off", at=MONDAY_0730)

    page = client.get("/orders/", {"at": MONDAY})
    marks = {
        " ".join(word.to_text().split()): word.query("use")[0].attrs["href"]
        for word in read(page).query(".order .word")
    }

    assert marks == {
        "written": "#o-written", "sent": "#o-sent", "confirmed": "#o-confirmed",
        "called off": "#o-off",
    }  # fmt: skip
    assert "Confirmed Mon 23 Nov, comes Tue 1 Dec" in words(page)
    assert "Ask the supplier for a day; until then no run counts on it." in words(page)


@pytest.mark.parametrize(("day", "overdue"), [("2026-11-30", False), ("2026-12-01", True)])
def test_an_order_is_overdue_from_the_day_after_it_should_have_come(
    client: Client, yard: Studio, day: str, overdue: bool
) -> None:
    row = order(yard, 2_026_001)
    happened(row, "sent", at=MONDAY_0730, arrives_on=date(2026, 11, 30))

    text = words(client.get("/orders/", {"at": f"{day}T07:30"}))

    assert ("should have come on Mon 30 Nov" in text) is overdue


def test_an_order_on_paper_has_lines_prices_and_the_fibre_s_legal_name(
    client: Client, yard: Studio
) -> None:
    order(yard, 2_026_001)

    text = seen(client, "/orders/2026001/")

    assert "Order 2026-001" in text
    assert "To near shop" in text
    assert "wool yarn, not scoured Fibre name: wool WY 4/9 4 1 kg 4 kg £28.00 £112.00" in text
    assert "Fibre £112.00 Carriage £4.50 Total £116.50" in text
    assert "Wanted there by 7 Dec 2026" in text
    assert "For runs (own copy only) G" in text
    assert "Reg. (EU) 1007/2011" in text
    assert "Check your local rules." in text


def test_the_supplier_s_copy_names_no_run_no_note_and_nothing_that_came(
    client: Client, yard: Studio
) -> None:
    order(yard, 2_026_001)

    own, theirs = (seen(client, "/orders/2026001/", copy=copy) for copy in ("own", "supplier"))

    assert "ask for the softer yarn" in own
    assert "What has come" in own
    for private in ("ask for the softer yarn", "What has come", "own copy only"):
        assert private not in theirs
    assert "Please confirm the order with its number" in theirs
    assert "Total £116.50" in theirs


def test_an_order_as_csv_has_a_row_a_line_and_no_cell_that_is_a_formula(
    client: Client, yard: Studio
) -> None:
    row = order(yard, 2_026_001)
    OrderLine.objects.of(yard).create(
        order=row, number=2, fibre="silk", form="yarn", pack_mg=KG // 4, packs=2,
        pack_minor=123_456, scoured=True, code='=HYPERLINK("x"),1',
    )  # fmt: skip

    answer = client.get("/orders/2026001.csv", {"at": MONDAY})
    head, wool, silk = csv.reader(io.StringIO(answer.content.decode(), newline=""), strict=True)

    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert answer["Content-Disposition"] == 'attachment; filename="order-2026-001.csv"'
    assert answer.content.count(b"\r\n") == answer.content.count(b"\n") == 3
    assert wool == ["2026-001", "1", "wool", "yarn", "1,000 g", "4", "28.00", "no", "5 %", "WY 4/9"]
    assert silk[2:] == [
        "silk", "yarn", "250 g", "2", "1234.56", "yes", "", "'=HYPERLINK(\"x\"),1",
    ]  # fmt: skip
    assert len(head) == len(wool)


def test_the_csv_of_an_order_is_the_page_that_the_notebook_writes(
    client: Client, yard: Studio
) -> None:
    order(yard, 2_026_001)
    files = files_for(notebook_of(yard, at=MONDAY_0730))

    answer = client.get("/orders/2026001.csv", {"at": MONDAY})

    assert answer.content == files["order_lines.csv"]


def test_a_file_of_an_order_that_there_is_not(client: Client) -> None:
    assert client.get("/orders/2026009.csv", {"at": MONDAY}).status_code == 404


def test_an_order_that_there_is_not_and_a_copy_that_there_is_not(client: Client) -> None:
    missing = client.get("/orders/2026009/", {"at": MONDAY})
    copy = client.get("/orders/2026009/", {"at": MONDAY, "copy": "third"})
    long = client.get(f"/orders/{'9' * 5_000}/", {"at": MONDAY})

    assert (missing.status_code, copy.status_code, long.status_code) == (404, 400, 404)
    assert "No order has the number 2026009. Look for it among the fibre orders." in words(missing)
    assert "There is no copy “third” of an order. Ask for own or supplier." in words(copy)


@pytest.mark.parametrize("address", ["/orders/", "/orders/2026001/"])
def test_a_page_asks_as_few_questions_however_much_there_is(
    client: Client, yard: Studio, address: str
) -> None:
    order(yard, 2_026_001)
    few = queries(client, address)
    _grown(yard)

    assert queries(client, address) == few <= QUERIES_AT_MOST


def queries(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address, {"at": MONDAY}).status_code == 200
    return len(asked)


def _grown(studio: Studio) -> None:
    """A hundred times the suppliers, offers and orders."""
    for n in range(200):
        seller = Supplier.objects.of(studio).create(
            name=f"mill {n}", lead_days=3, weekdays=[0, 1, 2, 3, 4]
        )
        Offer.objects.of(studio).create(
            supplier=seller, fibre="wool", form="yarn", pack_mg=KG, tiers=[[0, 3_000 + n]]
        )
    for n in range(2, 102):
        order(studio, 2_026_000 + n)


def test_the_page_shows_so_many_orders_and_suppliers_and_counts_the_rest(
    client: Client, yard: Studio
) -> None:
    _grown(yard)

    page = client.get("/orders/", {"at": MONDAY})

    assert len(read(page).query(".order")) == 60
    assert "40 older ones are not shown here" in words(page)
