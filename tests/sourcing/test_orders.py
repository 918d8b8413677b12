"""Orders written, sent, confirmed, weighed in and called off: every verb and each refusal."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from typing import Any
from uuid import UUID, uuid4

import pytest

from inventory.entries import Weighed
from inventory.errors import CodeTaken, EntryUsed, LarderError, NotKept
from inventory.models import Lot, Studio
from inventory.shelves import shelf_at
from sourcing.buying import buying_at
from sourcing.errors import (
    AlreadySent,
    ArrivesBeforeSaid,
    BeforeTheOrder,
    BelowLeastOfLine,
    BelowLeastOfOrder,
    LineTwice,
    MoreThanOffered,
    MoreThanOrdered,
    NoSuchLine,
    NoSuchOffer,
    NoSuchOrder,
    NoSuchRun,
    NoSuchSupplier,
    NothingOrdered,
    NotWholePacks,
    OfferTaken,
    OrderNotSent,
    OrderOver,
    SupplierTaken,
    TermsUnclear,
    TooManyOrders,
)
from sourcing.models import DeliveryLine, Offer, Order
from sourcing.notebook.load import load_files
from sourcing.ordered import OrderFacts
from sourcing.ordering.facts import Stuff
from sourcing.orders import (
    Came,
    Ordered,
    call_off,
    confirm,
    order_of,
    receive_delivery,
    send,
    write_order,
    write_plan,
)
from sourcing.outlook import facts_at, week_at
from sourcing.suppliers import add_offer, add_supplier, change_supplier, end_offer
from tests.once import once
from tests.sourcing.notebook.desk import without_suppliers
from tests.sourcing.week.pellitory import MONDAY, MONDAY_0730, nov

pytestmark = pytest.mark.django_db
KG = 1_000_000
WOOL = Stuff("wool", "yarn")
MILL, SHOP = "upland mill", "corner shop"


def _load() -> None:
    load_files(without_suppliers())
    studio = Studio.objects.get()
    add_supplier(studio, name=MILL, lead_days=12, country="GB", region="ENG", carriage_minor=650)
    add_supplier(studio, name=SHOP, lead_days=5, country="GB", region="ENG", least_minor=3_000)
    wool: dict[str, Any] = {"fibre": "wool", "form": "yarn", "pack_mg": KG}
    add_offer(studio, supplier=MILL, **wool, tiers=[(0, 2_200)], least_mg=5 * KG)
    add_offer(studio, supplier=SHOP, **wool, tiers=[(0, 2_800), (6 * KG, 2_500)], most_packs=8)


made = once(_load)


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def offer(studio: Studio, supplier: str) -> int:
    key: int = Offer.objects.of(studio).get(supplier__name=supplier, fibre="wool").pk
    return key


def write(studio: Studio, packs: int = 4, *, supplier: str = SHOP, **more: Any) -> OrderFacts:
    values: dict[str, Any] = {
        "entry": uuid4(),
        "at": MONDAY_0730,
        "supplier": supplier,
        **more,
    }
    lines = values.pop("lines", None)
    if lines is None:
        lines = [Ordered(offer(studio, supplier), packs)]
    return write_order(studio, lines=lines, **values)


def sent(studio: Studio, packs: int = 4, **more: Any) -> OrderFacts:
    order = write(studio, packs, **more)
    return send(studio, entry=uuid4(), at=MONDAY_0730, order=order.number)


def weigh_in(studio: Studio, order: OrderFacts, *came: Came, **more: Any) -> OrderFacts:
    values: dict[str, Any] = {"entry": uuid4(), "at": nov(30, 11), **more}
    return receive_delivery(studio, order=order.number, came=came, **values)


def refused(error: type[LarderError], words: str, verb: Any, *args: Any, **values: Any) -> None:
    with pytest.raises(error) as refusal:
        verb(*args, **values)
    assert str(refusal.value) == words


# -- written ---------------------------------------------------------------------------------


def test_an_order_has_a_number_of_its_year_and_keeps_price_and_carriage(studio: Studio) -> None:
    first, second = write(studio), write(studio, 5, supplier=MILL, runs=["G"], needed_by=MONDAY)

    assert (first.label, first.state, first.minor) == ("2026-001", "written", 112_00)
    assert (second.label, second.goods_minor, second.carriage_minor) == ("2026-002", 11_000, 650)
    assert (second.runs, second.needed_by) == (("G",), MONDAY)
    change_supplier(studio, name=MILL, carriage_minor=900)
    assert order_of(studio, second.number).minor == 11_650


def test_the_whole_line_has_the_price_of_its_tier(studio: Studio) -> None:
    # All-unit price tiers: 13.7, "Orders", of the project's design papers.
    assert write(studio, 5).goods_minor == 5 * 2_800
    assert write(studio, 6).goods_minor == 6 * 2_500


def test_an_order_by_weight_is_of_whole_packs(studio: Studio) -> None:
    key = offer(studio, SHOP)

    assert write(studio, lines=[Ordered(key, weight_mg=4 * KG)]).lines[0].packs == 4
    refused(
        NotWholePacks,
        "wool yarn: 4,500 g asked for, a pack holds 1,000 g. Order 4 or 5 packs.",
        write, studio, lines=[Ordered(key, weight_mg=4_500_000)],
    )  # fmt: skip


def test_the_same_entry_is_one_order_and_with_other_words_none(studio: Studio) -> None:
    entry = uuid4()

    assert write(studio, entry=entry) == write(studio, entry=entry)
    assert Order.objects.of(studio).count() == 1
    with pytest.raises(EntryUsed):
        write(studio, 5, entry=entry)


@pytest.mark.parametrize(
    ("error", "words", "more"),
    [
        (
            NoSuchSupplier,
            "No supplier is called “dream mill”. Look at the name, or add it first.",
            {"supplier": "dream mill", "lines": [Ordered(1, 1)]},
        ),
        (
            NoSuchOffer,
            "corner shop has no offer 0 on 23 November 2026. Look at the price list of that day.",
            {"lines": [Ordered(0, 1)]},
        ),
        (NoSuchRun, "No run has the code Z. Ask for it first.", {"runs": ["Z"]}),
        (
            NothingOrdered,
            "An order without a line says nothing. Name one at least.",
            {"lines": []},
        ),
        (
            BelowLeastOfLine,
            "upland mill, wool yarn: 4,000 g asked for, 5,000 g is the least that is sold. "
            "Order 5 packs, or ask another supplier.",
            {"supplier": MILL, "packs": 4},
        ),
        (
            MoreThanOffered,
            "corner shop, wool yarn: 9 packs asked for, 8 there. Order fewer, or ask another "
            "supplier.",
            {"packs": 9},
        ),
        (
            BelowLeastOfOrder,
            "corner shop takes orders from GBP 30.00 on, this one comes to GBP 28.00. Order more "
            "at once, or ask another supplier.",
            {"packs": 1},
        ),
    ],
)
def test_what_the_supplier_does_not_sell_so_is_refused(
    error: type[LarderError], words: str, more: dict[str, Any], studio: Studio
) -> None:
    with pytest.raises(error) as refusal:
        write(studio, **more)
    assert str(refusal.value) == words
    assert not Order.objects.of(studio).exists()


def test_the_borders_of_an_order_are_let_in(studio: Studio) -> None:
    assert write(studio, 5, supplier=MILL).state == "written"
    assert write(studio, 8).state == "written"
    assert write(studio, 2).state == "written"


def test_an_offer_named_twice_is_refused(studio: Studio) -> None:
    key = offer(studio, SHOP)
    words = "wool yarn is named twice. Name it once, with all its packs."
    refused(LineTwice, words, write, studio, lines=[Ordered(key, 2), Ordered(key, 3)])


def test_a_year_has_999_numbers(studio: Studio) -> None:
    order = write(studio)
    Order.objects.of(studio).filter(number=order.number).update(number=2026998)

    assert write(studio).label == "2026-999"
    with pytest.raises(TooManyOrders):
        write(studio)
    assert write(studio, at=nov(23) + timedelta(days=365)).label == "2027-001"


def test_a_plan_is_written_whole_with_the_runs_it_serves(studio: Studio) -> None:
    buying = buying_at(studio, at=MONDAY_0730)

    (order,) = write_plan(
        studio, entry=uuid4(), at=MONDAY_0730, plan=buying.plan(), needs=buying.needs
    )

    assert (order.supplier, order.runs, order.needed_by) == (SHOP, ("G",), date(2026, 12, 7))
    assert (order.lines[0].packs, order.minor) == (4, 112_00)


# -- sent, confirmed, called off --------------------------------------------------------------


def test_a_sent_order_comes_on_the_day_that_its_supplier_counts(studio: Studio) -> None:
    order = sent(studio)

    assert (order.state, order.expected_on) == ("sent", date(2026, 11, 30))
    words = "Order 2026-001 was sent on 23 November 07:30. For more of the fibre write a new order."
    refused(AlreadySent, words, send, studio, entry=uuid4(), at=nov(24), order=order.number)


def test_sent_twice_with_one_entry_is_sent_once(studio: Studio) -> None:
    order, entry = write(studio), uuid4()

    once = send(studio, entry=entry, at=MONDAY_0730, order=order.number)

    assert send(studio, entry=entry, at=MONDAY_0730, order=order.number) == once
    with pytest.raises(EntryUsed):
        send(studio, entry=entry, at=nov(24), order=order.number)


def test_the_last_word_of_the_supplier_holds(studio: Studio) -> None:
    order = sent(studio)
    for day in (1, 3):
        order = confirm(
            studio, entry=uuid4(), at=nov(24), order=order.number, day=date(2026, 12, day)
        )

    assert (order.state, order.confirmed_on) == ("confirmed", date(2026, 12, 3))


def test_what_was_not_sent_is_neither_confirmed_nor_received(studio: Studio) -> None:
    order = write(studio)
    words = (
        "Order 2026-001 has not been sent, so it cannot be confirmed. Say first when it was sent."
    )

    refused(
        OrderNotSent, words, confirm,
        studio, entry=uuid4(), at=nov(24), order=order.number, day=nov(30).date(),
    )  # fmt: skip
    with pytest.raises(OrderNotSent):
        weigh_in(studio, order, Came(1, 4, "W-99", 4 * KG))


def test_a_day_before_it_was_said_is_no_day_of_arrival(studio: Studio) -> None:
    order = sent(studio)
    values: dict[str, Any] = {"entry": uuid4(), "at": nov(24, 9), "order": order.number}

    refused(
        ArrivesBeforeSaid,
        "Order 2026-001: 23 November 2026 was confirmed on 24 November 2026, which is later. "
        "Look at the day again.",
        confirm, studio, **values, day=nov(23).date(),
    )  # fmt: skip
    assert confirm(studio, **values, day=nov(24).date()).confirmed_on == nov(24).date()


def test_nothing_happens_to_an_order_before_it_was_written(studio: Studio) -> None:
    order = write(studio)
    words = (
        "Order 2026-001 was written on 23 November 07:30; 22 November 00:00 is before that. Look "
        "at the day and the hour again."
    )
    refused(BeforeTheOrder, words, send, studio, entry=uuid4(), at=nov(22), order=order.number)


def test_an_order_called_off_is_over(studio: Studio) -> None:
    order = sent(studio)
    order = call_off(studio, entry=uuid4(), at=nov(24), order=order.number)

    assert order.state == "called off"
    words = "Order 2026-001 is called off: nothing more is to come of it. Write a new order."
    refused(OrderOver, words, call_off, studio, entry=uuid4(), at=nov(24), order=order.number)
    with pytest.raises(OrderOver):
        weigh_in(studio, order, Came(1, 4, "W-99", 4 * KG))


def test_an_order_that_nobody_wrote_is_named_as_it_would_be_written(studio: Studio) -> None:
    words = "No order has the number 2026-007. Look at its number, or write it first."
    refused(NoSuchOrder, words, send, studio, entry=uuid4(), at=nov(24), order=2026007)


# -- weighed in ------------------------------------------------------------------------------


def test_a_delivery_becomes_fibre_on_the_shelf_from_its_supplier(studio: Studio) -> None:
    order = sent(studio)
    weight = Weighed(3_985_000, "3,985 g", gross=4_105_000, tare=120_000)

    order = weigh_in(studio, order, Came(1, 4, "W-99", weight))

    assert order.state == "received"
    (came,) = order.deliveries[0].lines
    assert (came.lot, came.net_mg, came.over_mg) == ("W-99", 3_985_000, -15_000)
    (lot,) = [row for row in shelf_at(studio, at=nov(30, 12)).fibre if row.code == "W-99"]
    assert (lot.fibre, lot.form, lot.left_mg, lot.scoured) == ("wool", "yarn", 3_985_000, False)
    assert Lot.objects.of(studio).get(code="W-99").source == "corner shop, order 2026-001"


def test_a_part_delivery_leaves_the_rest_to_come(studio: Studio) -> None:
    order = weigh_in(studio, sent(studio), Came(1, 3, "W-99", 3 * KG))

    assert (order.state, order.lines[0].to_come_packs) == ("received in part", 1)
    refused(
        MoreThanOrdered,
        "Order 2026-001, wool yarn: 2 packs weighed in, 4 ordered, of which 3 have come before. "
        "Count the packs again; what nobody ordered goes on the shelf as fibre received by itself.",
        weigh_in, studio, order, Came(1, 2, "W-100", 2 * KG),
    )  # fmt: skip
    order = weigh_in(studio, order, Came(1, 1, "W-100", KG), at=nov(30, 15))
    assert (order.state, len(order.deliveries)) == ("received", 2)


def test_the_rest_called_off_makes_an_order_received(studio: Studio) -> None:
    order = weigh_in(studio, sent(studio), Came(1, 3, "W-99", 3 * KG))

    order = call_off(studio, entry=uuid4(), at=nov(30, 12), order=order.number)

    assert (order.state, order.rest_called_off) == ("received", True)


def test_a_delivery_sent_twice_is_weighed_in_once(studio: Studio) -> None:
    order, entry = sent(studio), uuid4()
    came = Came(1, 4, "W-99", 4 * KG)

    once = weigh_in(studio, order, came, entry=entry)

    assert weigh_in(studio, order, came, entry=entry) == once
    assert DeliveryLine.objects.of(studio).count() == 1
    with pytest.raises(EntryUsed):
        weigh_in(studio, order, Came(1, 4, "W-99", 3 * KG), entry=entry)


def test_a_delivery_that_is_refused_leaves_nothing_behind(studio: Studio) -> None:
    order = sent(studio)

    with pytest.raises(CodeTaken):
        weigh_in(studio, order, Came(1, 4, "W-88", 4 * KG))
    words = "Order 2026-001 has 1 line, and no line 2. Look at the order again."
    refused(NoSuchLine, words, weigh_in, studio, order, Came(2, 1, "W-99", KG))
    words = "A delivery without a line says nothing. Name one at least."
    refused(NothingOrdered, words, weigh_in, studio, order)
    assert order_of(studio, order.number).state == "sent"


# -- suppliers and prices --------------------------------------------------------------------


def test_a_supplier_has_a_name_of_its_own_and_terms_that_can_be_counted(studio: Studio) -> None:
    with pytest.raises(SupplierTaken):
        add_supplier(studio, name=MILL, lead_days=1)
    words = "x: lead time is 401; it must be 0 to 400 working days."
    refused(TermsUnclear, words, add_supplier, studio, name="x", lead_days=401)
    with pytest.raises(TermsUnclear, match="No public holidays are known for “XX”"):
        add_supplier(studio, name="x", lead_days=4, country="XX")
    with pytest.raises(TermsUnclear, match="one or more of 0 to 6"):
        change_supplier(studio, name=MILL, weekdays=[])


def test_of_two_price_lists_the_later_holds_and_an_ended_one_does_not(studio: Studio) -> None:
    wool: dict[str, Any] = {"supplier": SHOP, "fibre": "wool", "form": "yarn", "pack_mg": KG}
    with pytest.raises(OfferTaken):
        add_offer(studio, **wool, tiers=[(0, 1)])
    new = add_offer(studio, **wool, tiers=[(0, 2_900)], since=MONDAY)

    def prices(at: Any) -> list[int]:
        offers = buying_at(studio, at=at).offers
        return [row.offer.tiers[0].pack_minor for row in offers if row.offer.supplier == SHOP]

    assert (prices(nov(22, 9)), prices(MONDAY_0730)) == ([2_800], [2_900])
    end_offer(studio, offer=new.pk, last_on=MONDAY)
    assert prices(nov(24, 9)) == [2_800]


def test_prices_that_rise_with_the_quantity_are_refused(studio: Studio) -> None:
    with pytest.raises(TermsUnclear, match="in rising quantities, never at a higher price"):
        add_offer(
            studio, supplier=MILL, fibre="silk", form="yarn", pack_mg=KG,
            tiers=[(0, 100), (KG, 101)],
        )  # fmt: skip


# -- in the week -----------------------------------------------------------------------------


def test_only_what_is_confirmed_counts_in_the_week(studio: Studio) -> None:
    # Promise 5 of the project's design papers: a yes rests on what is there and confirmed.
    order = sent(studio)
    assert not [
        row for row in facts_at(studio, at=nov(24), days=7).shelf.fibre if "order" in row.code
    ]

    confirm(studio, entry=uuid4(), at=nov(24), order=order.number, day=nov(30).date())

    (row,) = [
        row for row in facts_at(studio, at=nov(24), days=7).shelf.fibre if "order" in row.code
    ]
    assert (row.code, row.left_mg, row.arrives_at) == ("order 2026-001", 4 * KG, nov(30, 18))


def test_the_reorder_can_be_dyed_once_its_wool_is_confirmed(studio: Studio) -> None:
    before = {row.run: row for row in week_at(studio, at=MONDAY_0730, days=7).answers}
    order = sent(studio)
    confirm(studio, entry=uuid4(), at=MONDAY_0730, order=order.number, day=nov(30).date())

    after = {row.run: row for row in week_at(studio, at=MONDAY_0730, days=7).answers}

    assert [row.kind for row in before["G"].short if row.kind == "fibre"] == ["fibre"]
    assert [row.kind for row in after["G"].short if row.kind == "fibre"] == []
    assert {run: row.answer for run, row in after.items() if run != "G"} == {
        run: row.answer for run, row in before.items() if run != "G"
    }


def test_what_is_on_its_way_is_not_bought_again(studio: Studio) -> None:
    assert buying_at(studio, at=MONDAY_0730).needs
    order = write(studio)

    buying = buying_at(studio, at=MONDAY_0730)

    assert buying.needs == ()
    assert [(row.code, row.state) for row in buying.coming] == [("order 2026-001", "written")]
    call_off(studio, entry=uuid4(), at=MONDAY_0730, order=order.number)
    assert buying_at(studio, at=MONDAY_0730).needs


def test_what_came_serves_the_run_and_the_need_is_gone(studio: Studio) -> None:
    weigh_in(studio, sent(studio), Came(1, 4, "W-99", 4 * KG), at=nov(23, 11))

    buying = buying_at(studio, at=nov(23, 12))

    assert (buying.coming, buying.needs) == ((), ())
    (run,) = [row for row in buying.wanted if row.run == "G"]
    # 4,000 g ready to dye: what run A leaves of W-88, then of the new lot, each less 5 %.
    assert dict(run.takes) == {"W-88": 280_000, "W-99": 3_720_000}


def test_an_order_that_has_not_come_on_its_day_is_overdue(studio: Studio) -> None:
    sent(studio)

    on_the_day, after = (buying_at(studio, at=at) for at in (nov(30, 9), nov(30, 9) + timedelta(1)))

    assert [row.is_overdue for row in on_the_day.coming] == [False]
    assert [(row.is_overdue, row.arrives_on) for row in after.coming] == [(True, date(2026, 12, 1))]


def test_another_studio_sees_none_of_it(studio: Studio) -> None:
    order = write(studio)
    other = Studio.objects.create(name="Wash House", zone="Europe/London")

    assert buying_at(other, at=MONDAY_0730).orders == ()
    with pytest.raises(NoSuchOrder):
        send(other, entry=UUID(int=1), at=MONDAY_0730, order=order.number)


def test_a_scour_loss_is_one_that_can_be_written_in_percent(studio: Studio) -> None:
    silk: dict[str, Any] = {"supplier": MILL, "fibre": "silk", "form": "yarn", "pack_mg": KG}
    with pytest.raises(NotKept, match="cannot be written in percent"):
        add_offer(studio, **silk, tiers=[(0, 100)], scour_loss=Fraction(1, 3))

    row = add_offer(studio, **silk, tiers=[(0, 100)], scour_loss=Fraction(425, 10_000))
    assert row.scour_loss == Fraction(17, 400)
