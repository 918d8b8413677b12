"""One order from the need to the shelf, as a studio does it at the desk; each step said twice."""

from __future__ import annotations

from io import StringIO
from uuid import UUID, uuid4

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from inventory.audit import audit
from inventory.models import Lot, Posting, Studio
from inventory.shelves import shelf_at
from sourcing.buying import buying_at
from sourcing.models import Delivery, DeliveryLine, Order, OrderEvent, Run
from tests.api.web.market import MONDAY_0730, with_suppliers
from tests.api.web.pages import sound, words
from tests.api.web.yard import MONDAY, load
from tests.once import once

pytestmark = pytest.mark.django_db
TUESDAY, WEDNESDAY = "2026-12-01T09:00", "2026-12-02T09:00"
TO_COME = "2026-001 near shop, £112: "


def _load() -> None:
    """Pellitory Yard with its two suppliers; the group's wool is dyed, so only G lacks any."""
    load()
    studio = Studio.objects.get()
    with_suppliers(studio)
    Run.objects.of(studio).filter(code="F").update(finished_at=MONDAY_0730)


made = once(_load)


@pytest.fixture(autouse=True)
def yard(made: None, db: None) -> Studio:
    return Studio.objects.get()


def said(*sentence: str, at: str, entry: UUID | None = None) -> str:
    """What the command answers."""
    out = StringIO()
    more = ["--entry", str(entry)] if entry else []
    call_command("order", *sentence, "--at", at, *more, stdout=out, stderr=StringIO())
    return out.getvalue()


def refused(*sentence: str, at: str) -> str:
    with pytest.raises(CommandError) as found:
        said(*sentence, at=at)
    assert found.value.returncode == 1
    return str(found.value)


def came(packs: str, weight: str, lot: str, *, at: str, entry: UUID | None = None) -> str:
    return said("came", "2026-001", "--line", "1", packs, weight, lot, at=at, entry=entry)


def ordered() -> None:
    """Written, sent and confirmed for Tuesday."""
    said("write", "--cheapest", at="2026-11-23T08:00")
    said("sent", "2026-001", at="2026-11-23T08:10")
    said("confirmed", "2026-001", "Tue 1 Dec 2026", at="2026-11-23T12:00")


def page(client: Client, at: str = MONDAY) -> str:
    found = client.get("/orders/", {"at": at})
    assert sound(found) == []
    return words(found)


def test_a_need_is_ordered_sent_confirmed_weighed_in_by_parts_and_then_gone(
    client: Client, yard: Studio
) -> None:
    assert "Order today from near shop: 4 kg for £112" in page(client)

    assert f"{TO_COME}WRITTEN" in said("write", "--cheapest", at="2026-11-23T08:00")
    assert f"{TO_COME}SENT" in said("sent", "2026-001", at="2026-11-23T08:10")
    confirmed = said("confirmed", "2026-001", "Tue 1 Dec 2026", at="2026-11-23T12:00")
    assert f"{TO_COME}CONFIRMED" in confirmed
    assert "Confirmed Mon 23 Nov, comes Tue 1 Dec" in confirmed
    assert f"{TO_COME}RECEIVED IN PART" in came("3", "3,112 g less 100 g", "W-101", at=TUESDAY)
    whole = came("1", "998 g", "W-102", at=WEDNESDAY)
    assert f"{TO_COME}RECEIVED\n" in whole
    assert "4 of 4 packs have come, 4,010 g weighed in" in " ".join(whole.split())

    later = buying_at(yard, at=Delivery.objects.of(yard).latest("at").at)
    lots = {row.code: row for row in shelf_at(yard, at=later.at).fibre}
    assert (lots["W-101"].left_mg, lots["W-102"].left_mg) == (3_012_000, 998_000)
    assert (lots["W-101"].fibre, lots["W-101"].form, lots["W-101"].scoured) == (
        "wool", "yarn", False,
    )  # fmt: skip
    assert later.needs == ()
    assert "is enough for every run asked for" in page(client, WEDNESDAY)
    assert audit() == []


def test_what_is_ordered_is_not_wanted_again_from_the_moment_it_is_written(
    client: Client,
) -> None:
    said("write", "--cheapest", at=MONDAY)

    assert "is enough for every run asked for" in page(client)
    assert refused("write", "--cheapest", at=MONDAY) == "Nothing has to be bought."


def test_the_order_names_its_run_and_its_day_and_the_paper_shows_them(client: Client) -> None:
    said("write", "--cheapest", at=MONDAY)

    text = words(client.get("/orders/2026001/", {"at": MONDAY}))

    assert "Wanted there by 7 Dec 2026" in text
    assert "For runs (own copy only) G" in text


def test_what_came_stands_on_the_studio_s_own_copy_with_what_the_scale_said(
    client: Client,
) -> None:
    ordered()
    came("3", "3,112 g less 100 g", "W-101", at=TUESDAY)

    text = words(client.get("/orders/2026001/", {"at": TUESDAY}))

    assert "Tue 1 Dec 09:00 wool yarn: 3 packs, 3,012 g weighed, 12 g more than the packs say" in (
        text
    )
    assert "lot W-101" in text
    assert "3 packs came Tue 1 Dec, lot W-101" in text


def test_a_page_seen_from_before_knows_nothing_of_what_came_later(client: Client) -> None:
    ordered()
    came("3", "3,012 g", "W-101", at=TUESDAY)

    before, on_its_way, half = (
        page(client, at) for at in ("2026-11-23T07:59", "2026-11-23T12:00", TUESDAY)
    )

    assert "Nothing is ordered at this moment." in before
    assert "Order today from near shop: 4 kg for £112" in before
    assert "confirmed Runs count on it from that day." in on_its_way
    assert "packs have come" not in on_its_way
    assert "received in part" in half


def test_every_step_said_twice_with_the_same_number_counts_once(yard: Studio) -> None:
    entries = [uuid4() for _ in range(4)]
    for _ in range(2):
        said("write", "--cheapest", at="2026-11-23T08:00", entry=entries[0])
        said("sent", "2026-001", at="2026-11-23T08:10", entry=entries[1])
        said("confirmed", "2026-001", "Tue 1 Dec 2026", at="2026-11-23T12:00", entry=entries[2])
        came("3", "3,012 g", "W-101", at=TUESDAY, entry=entries[3])

    assert Order.objects.of(yard).count() == 1
    assert OrderEvent.objects.of(yard).count() == 2
    assert DeliveryLine.objects.of(yard).count() == 1
    assert Lot.objects.of(yard).filter(code="W-101").count() == 1


def test_an_order_written_twice_with_the_same_number_is_one_order(yard: Studio) -> None:
    entry = uuid4()

    first, again = (
        said("write", "near shop", "4 x wool yarn", "--run", "G", at=MONDAY, entry=entry)
        for _ in range(2)
    )

    assert first == again
    assert Order.objects.of(yard).count() == 1


def test_a_delivery_cut_off_half_way_leaves_nothing_and_comes_whole_the_next_time(
    yard: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    ordered()
    entry, before = uuid4(), Posting.objects.of(yard).count()

    def cut(*args: object, **named: object) -> None:
        raise SystemExit("the light went out")

    with monkeypatch.context() as dark:
        dark.setattr(DeliveryLine, "save", cut)
        with pytest.raises(SystemExit):
            came("4", "4,010 g", "W-101", at=TUESDAY, entry=entry)
    assert Posting.objects.of(yard).count() == before
    assert not Delivery.objects.of(yard).exists()

    assert f"{TO_COME}RECEIVED\n" in came("4", "4,010 g", "W-101", at=TUESDAY, entry=entry)
    assert Posting.objects.of(yard).count() == before + 1
    assert audit() == []


def test_an_order_that_is_called_off_is_wanted_again(client: Client) -> None:
    ordered()

    off = said("off", "2026-001", "--note", "too dear", at="2026-11-23T13:00")

    assert f"{TO_COME}CALLED OFF" in off
    assert "Called off Mon 23 Nov (too dear)" in " ".join(off.split())
    assert "Order today from near shop: 4 kg for £112" in page(client, "2026-11-23T13:00")


@pytest.mark.parametrize(
    ("sentence", "answer"),
    [
        (("sent", "2026-009"), "No order has the number 2026-009."),
        (("sent", "nine"), "“nine” is no number of an order. Write 2026-003, as stands on it."),
        (("confirmed", "2026-001", "soon"), "“soon”: "),
        (("write", "near shop"), "Name the supplier and at least one line, such as: near shop"),
        (("write", "moon", "1 x wool yarn"), "No supplier is called “moon”."),
        (("write", "near shop", "wool"), "“wool” is no line of an order. Write 4 x 1 kg wool yarn"),
        (("write", "near shop", "2 x silk yarn"),
         "Nothing of theirs is called “silk yarn”. They have “1 kg wool yarn”."),
        (("write", "far mill", "4 x wool yarn"), "far mill, wool yarn: 4,000 g asked for, "
         "5,000 g is the least that is sold."),
        (("write", "near shop", "4 x wool yarn", "--run", "Z"), "No run has the code Z."),
        (("write", "near shop", "4 x wool yarn", "--by", "never"), "“never”: "),
        (("write", "near shop", "--cheapest"), "The cheapest order names its suppliers"),
        (("write", "near shop", "1 x wool yarn", "--entry", "7"),
         "“7” is no number of an entry."),
        (("came", "2026-001", "--line", "1", "five", "5 kg", "W-101"),
         "“five” is no number of packs. Write 1."),
        (("came", "2026-001", "--line", "1", "5", "5 kg", "W-101"),
         "Order 2026-001, wool yarn: 5 packs weighed in, 4 ordered."),
        (("came", "2026-001", "--line", "2", "1", "1 kg", "W-101"),
         "Order 2026-001 has 1 line, and no line 2."),
        (("came", "2026-001", "--line", "1", "1", "some", "W-101"), "“some”: "),
        (("came", "2026-001", "--line", "1", "1", "100 g less 100 g", "W-101"),
         "“100 g less 100 g” leaves nothing"),
    ],
    ids=str,
)  # fmt: skip
def test_every_refusal_is_one_sentence_and_writes_nothing(
    yard: Studio, sentence: tuple[str, ...], answer: str
) -> None:
    ordered()
    before = _counts(yard)

    assert refused(*sentence, at=TUESDAY).startswith(answer)
    assert _counts(yard) == before


def _counts(studio: Studio) -> list[int]:
    tables = (Order, OrderEvent, Delivery, DeliveryLine, Posting, Lot)
    return [table.objects.of(studio).count() for table in tables]


def test_a_day_of_arrival_before_the_day_it_was_said_is_refused() -> None:
    said("write", "--cheapest", at=MONDAY)
    said("sent", "2026-001", at=MONDAY)

    text = refused("confirmed", "2026-001", "Sun 22 Nov 2026", at=MONDAY)

    assert text.startswith("Order 2026-001: 22 November 2026 was confirmed on 23 November 2026")
