"""The pages about buying fibre: read, checked, loaded, written back."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.models import Studio
from sourcing.buying import buying_at
from sourcing.notebook.load import load_files
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.writing import files_for, notebook_of
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import MONDAY_0730, nov

SUPPLIERS = (
    "supplier,lead,works on,closed,country,region,carriage,free from,least order,contact,note"
)
MILL = (
    'hill mill,8,"Mon, Tue, Wed",Thu 24 Dec 2026 to Mon 4 Jan 2027,GB,ENG,6.50,150.00,30.00,'
    "by post,slow"
)
OFFERS = (
    "supplier,fibre,form,pack,prices,least,scoured,scour loss,packs there,code,since,until,note"
)
WOOL = (
    'hill mill,wool,yarn,500 g,"12.50; from 10,000 g 11.00","1,000 g",no,4.5 %,40,WY-2,'
    "Tue 1 Sep 2026,Sun 28 Feb 2027,grey"
)
SILK = "hill mill,silk,yarn,100 g,9.00,,yes,,,,,,"
ORDERS = "order,supplier,written,currency,carriage,runs,needed by,note"
ORDER = "2026-001,hill mill,Mon 16 Nov 2026 09:00,GBP,6.50,G,Mon 7 Dec 2026,two lots will do"
LINES = "order,no,fibre,form,pack,packs,price,scoured,scour loss,code"
LINE = "2026-001,1,wool,yarn,500 g,8,12.50,no,4.5 %,WY-2"
EVENTS = "order,what,at,arrives,note"
SENT = "2026-001,sent,Mon 16 Nov 2026 10:00,Mon 7 Dec 2026,"
SAID = "2026-001,confirmed,Tue 17 Nov 2026 10:00,Tue 1 Dec 2026,by telephone"
CAME = "order,at,no,packs,net,lot,note"
PART = '2026-001,Fri 20 Nov 2026 11:00,1,3,"1,490 g",W-88,one cone wet'

pytestmark = pytest.mark.django_db


def bought(**other: str) -> dict[str, bytes]:
    """The demo studio that has ordered wool of a mill; rows may be exchanged by page."""
    rows = {
        "suppliers": f"{SUPPLIERS}\n{MILL}",
        "offers": f"{OFFERS}\n{SILK}\n{WOOL}",
        "orders": f"{ORDERS}\n{ORDER}",
        "order_lines": f"{LINES}\n{LINE}",
        "order_events": f"{EVENTS}\n{SENT}\n{SAID}",
        "deliveries": f"{CAME}\n{PART}",
        **other,
    }
    return {**yard_files(), **{f"{name}.csv": text.encode() for name, text in rows.items()}}


def refused(page: str, old: str, new: str) -> list[str]:
    """What is said when one cell of the ordered wool is written otherwise."""
    files = bought()
    text = files[f"{page}.csv"].decode()
    assert old in text
    with pytest.raises(NotebookRefused) as refusal:
        load_files({**files, f"{page}.csv": text.replace(old, new, 1).encode()})
    return [str(problem) for problem in refusal.value.problems]


def test_everything_about_buying_comes_back_to_the_byte() -> None:
    load_files(bought())

    pages = files_for(notebook_of(Studio.objects.get(), at=MONDAY_0730))

    for name in ("suppliers", "offers", "orders", "order_lines", "order_events", "deliveries"):
        assert (
            pages[f"{name}.csv"].decode().splitlines()
            == bought()[f"{name}.csv"].decode().splitlines()
        ), name


def test_a_second_loading_changes_nothing() -> None:
    load_files(bought())

    assert str(load_files(bought())) == "Pellitory Yard: nothing new."


def test_a_loaded_order_stands_as_one_that_was_recorded() -> None:
    load_files(bought())

    (order,) = buying_at(Studio.objects.get(), at=MONDAY_0730).orders

    assert (order.label, order.state, order.confirmed_on, order.minor) == (
        "2026-001", "received in part", date(2026, 12, 1), 106_50,
    )  # fmt: skip
    assert (order.lines[0].to_come_packs, order.deliveries[0].lines[0].over_mg) == (5, -10_000)
    (way,) = buying_at(Studio.objects.get(), at=nov(24)).coming
    assert (way.arrives_on, way.confirmed) == (date(2026, 12, 1), True)


def test_terms_and_prices_may_change_and_what_was_ordered_may_not() -> None:
    load_files(bought())

    changed = load_files(bought(suppliers=f"{SUPPLIERS}\n{MILL.replace(',8,', ',9,')}"))
    assert str(changed) == "Pellitory Yard: changed: 1 of suppliers."
    with pytest.raises(NotebookRefused) as refusal:
        load_files(bought(order_lines=f"{LINES}\n{LINE.replace(',8,', ',9,')}"))
    assert [str(row) for row in refusal.value.problems] == [
        'order_lines.csv, line 2, column order: "2026-001" stands there. This was loaded before '
        "with other words or amounts, and what was ordered is not changed. Write it as it was."
    ]


@pytest.mark.parametrize(
    ("page", "old", "new", "words"),
    [
        (
            "suppliers", ",8,", ",401,",
            'suppliers.csv, line 2, column lead: "401" stands there. Write a number from 0 to 400.',
        ),
        (
            "suppliers", "Mon, Tue, Wed", "Mon, Mon",
            'suppliers.csv, line 2, column works on: "Mon, Mon" stands there. '
            "Write days of the week, each once, such as Mon, Tue, Wed.",
        ),
        (
            "suppliers", "6.50", "6.505",
            'suppliers.csv, line 2, column carriage: "6.505" stands there. '
            "Write money such as 28.00.",
        ),
        (
            "offers", "11.00", "13.00",
            'offers.csv, line 3, column prices: "12.50; from 10,000 g 13.00" stands there. '
            "Weights rise from tier to tier, and prices do not. Write the price of a pack, such as "
            "22.00; from 10 kg 20.00.",
        ),
        (
            "offers", "no,4.5 %", "yes,4.5 %",
            "offers.csv, line 3, column scour loss: "
            "It is sold scoured and loses nothing. Leave it out.",
        ),
        (
            "orders", "2026-001", "26/1",
            'orders.csv, line 2, column order: "26/1" stands there. '
            "Write year and number of the order, such as 2026-001.",
        ),
        (
            "order_events", "Mon 16 Nov 2026 10:00", "Mon 16 Nov 2026 08:00",
            "order_events.csv, line 2, column at: "
            "The order was written later. Look at the day and hour again.",
        ),
        (
            "deliveries", ",3,", ",9,",
            'deliveries.csv, line 2, column packs: "9" stands there. '
            "That makes 9 packs, 8 ordered.",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_with_its_cell(page: str, old: str, new: str, words: Any) -> None:
    assert words in refused(page, old, new)
