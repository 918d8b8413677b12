"""Pellitory Yard with something under every noun: what its notebook has none of is entered."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from uuid import NAMESPACE_URL, UUID, uuid5

from inventory import ledger, lots
from inventory.cloth import measure
from inventory.entries import Fibre, Lost, Made, NewLot, Place, Weighed
from inventory.models import Site, Studio
from inventory.science.cloth import ClothSize
from inventory.seal import seal_all
from inventory.swatches import read_swatch
from sourcing import orders
from sourcing.chores import chore_done
from sourcing.claims import claim
from sourcing.models import Hanging, Offer, Weather
from sourcing.orders import Came, Ordered
from sourcing.put_by_wishes import wish_put_by
from sourcing.reminders import stop_reminders
from sourcing.runs import finish_run
from sourcing.snippets import record_snippet
from sourcing.steps import Otherwise, step_done
from sourcing.taken import take_week
from sourcing.tubs import leave_tubs
from tests.api.web.yard import load

TUESDAY = datetime(2026, 11, 24, 12, tzinfo=UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def full_yard() -> Studio:
    """The studio on its Tuesday, with a row under every noun."""
    load()
    studio = Studio.objects.get()
    _materials(studio)
    _dyed(studio)
    _ordered(studio)
    _planned(studio)
    seal_all(studio)
    return studio


def entry(name: str) -> UUID:
    """The same UUID for a name every time."""
    return uuid5(NAMESPACE_URL, f"https://pellitory-yard.example/{name}")


def _materials(studio: Studio) -> None:
    ledger.put_by(
        studio, entry=entry("dried"), at=TUESDAY, lot="CB-1121", state="dried",
        place=Place("dry store"), becomes=150_000,
    )  # fmt: skip
    lots.judge(studio, entry=entry("seen"), at=TUESDAY, lot="AV-1109", sound=False)
    lot = NewLot(code="AV-1124", what="avocado stones", state="fresh", place=Place("bench"))
    ledger.receive_count(
        studio, entry=entry("counted"), at=TUESDAY, lot=lot, pieces=12, piece_mg=42_000,
        words="12 stones",
    )  # fmt: skip
    ledger.weigh_again(
        studio, entry=entry("weighed"), at=TUESDAY + HOUR, lot="AV-1124",
        found=Weighed(510_000, words="510 g"),
    )  # fmt: skip
    measure(
        studio, entry=entry("measured"), at=TUESDAY, lot="L-31",
        size=ClothSize(Decimal(180), 1500),
    )  # fmt: skip
    leave_tubs(studio, entry=entry("tubs"), at=TUESDAY, source="Lantern Steps café", tubs=2)
    stop_reminders(studio, reader="Lantern Steps café", kind="day before", at=TUESDAY)


def _dyed(studio: Studio) -> None:
    record_snippet(
        studio, entry=entry("snippet"), at=TUESDAY, run="A", lot="W-88", good=False,
        looks="too pale",
    )  # fmt: skip
    read_swatch(
        studio, entry=entry("read"), at=TUESDAY + DAY, swatch=1, what="light", grade=Decimal(4),
        days=1,
    )  # fmt: skip
    claim(studio, entry=entry("claim"), at=TUESDAY, run="C", lot="W-90", amount=600_000)
    finish_run(
        studio, entry=entry("dyed"), at=TUESDAY + HOUR, run="D", takes=[("S-12", 400_000)],
        makes=[Made("S-12", "S-12 slate", 396_000, Fibre(scoured=True))],
        losses=[Lost("silk", 4_000, "rinse")],
    )  # fmt: skip


def _ordered(studio: Studio) -> None:
    offer = Offer.objects.of(studio).get(supplier__name="near shop")
    said = {"studio": studio, "at": TUESDAY}
    order = orders.write_order(
        entry=entry("order"), supplier="near shop", lines=[Ordered(offer.pk, packs=4)], runs=["G"],
        **said,
    )  # fmt: skip
    orders.send(entry=entry("sent"), order=order.number, **said)
    orders.receive_delivery(
        studio, entry=entry("came"), at=TUESDAY + DAY, order=order.number,
        came=[Came(1, 2, "W-91", 2_010_000)],
    )  # fmt: skip


def _planned(studio: Studio) -> None:
    wish_put_by(
        studio, code="winter olive", runs=3, each_mg=600_000, since=date(2027, 1, 1),
        last_on=date(2027, 3, 31), recipe="hedge-olive",
    )  # fmt: skip
    take_week(
        studio, entry=entry("taken"), at=TUESDAY, until=TUESDAY + 5 * DAY, order=("E", "A"),
        floors=[("E", "tannin", TUESDAY + DAY)], sites=[("E", "")],
        together=[("A", "G", "hot alum")], note="Oak Grey first",
    )  # fmt: skip
    step_done(
        studio, entry=entry("scoured"), at=TUESDAY + 3 * HOUR, run="A", step="scour", load=1,
        otherwise=Otherwise(volume_ul=34_000_000, minutes=35), note="the pot stood crooked",
    )  # fmt: skip
    chore_done(
        studio, entry=entry("prepared"), at=TUESDAY, day=date(2026, 11, 27), what="group prep",
        note="knots are tied",
    )  # fmt: skip
    Site.objects.of(studio).create(code="shed", name="behind the mill")
    Weather.objects.of(studio).create(day=date(2026, 11, 26), frost=True)
    Hanging.objects.of(studio).create(
        line="line", since=TUESDAY, until=TUESDAY + 2 * DAY, weight_mg=400_000, what="S-12 slate"
    )
