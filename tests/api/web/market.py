"""The two suppliers of Pellitory Yard, where its notebook has none yet, and orders to look at."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

from inventory.models import Studio
from sourcing.models import Offer, Order, OrderEvent, OrderLine, Supplier

KG = 1_000_000
MONDAY_0730 = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)


def with_suppliers(studio: Studio) -> None:
    """The far mill and the near shop of the project's design papers, 13.6."""
    if Supplier.objects.of(studio).exists():
        return
    _seller(studio, "far mill", 12, 2_200, least_mg=5 * KG)
    _seller(studio, "near shop", 5, 2_800)


def _seller(studio: Studio, name: str, lead: int, minor: int, *, least_mg: int = 0) -> None:
    seller = Supplier.objects.of(studio).create(
        name=name, lead_days=lead, weekdays=[0, 1, 2, 3, 4], country="GB", region="ENG"
    )
    Offer.objects.of(studio).create(
        supplier=seller, fibre="wool", form="yarn", pack_mg=KG, tiers=[[0, minor]],
        least_mg=least_mg,
    )  # fmt: skip


def order(studio: Studio, number: int, *, packs: int = 4, supplier: str = "near shop") -> Order:
    """An order of wool at £28 a kilo, written that Monday for run G."""
    row = Order.objects.of(studio).create(
        entry=uuid4(), body_sha256="0" * 64, number=number,
        supplier=Supplier.objects.of(studio).get(name=supplier),
        written_at=MONDAY_0730 - timedelta(minutes=10), currency="GBP", carriage_minor=450,
        runs=["G"], needed_by=date(2026, 12, 7), note="ask for the softer yarn",
    )  # fmt: skip
    OrderLine.objects.of(studio).create(
        order=row, number=1, fibre="wool", form="yarn", pack_mg=KG, packs=packs,
        pack_minor=2_800, scour_loss="0.05", code="WY 4/9",
    )  # fmt: skip
    return row


def happened(row: Order, what: str, *, at: datetime, arrives_on: date | None = None) -> None:
    """Something that happened to an order."""
    OrderEvent.objects.of(row.studio).create(
        order=row, entry=uuid4(), what=what, at=at, arrives_on=arrives_on
    )
