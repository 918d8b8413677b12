"""One order as the page that is printed: one copy for the studio, one for the supplier."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from api.web.orders.orders import LOOKS, happened, overdue_said, runs_named
from api.web.orders.words import (
    day_said,
    money_in_full,
    stuff_said,
    weight_said,
)
from inventory.science.fibre_names import legal_name
from inventory.science.saying import counted, say
from inventory.science.wording import mass_for_people
from sourcing.ordered import CameFacts, DeliveryFacts, LineFacts, OrderFacts, SupplierFacts
from sourcing.week.words import MONTHS, listed

COPIES = ("own", "supplier")
LINES_AT_MOST = 200
DELIVERIES_AT_MOST = 60


@dataclass(frozen=True, slots=True)
class PaperLine:
    """One line as it is ordered."""

    number: int
    name: str
    law: str  # the fibre by its legal name; empty where nobody knows it
    code: str
    packs: str
    pack: str
    weight: str
    pack_price: str
    price: str
    came: str  # empty where nothing has come


@dataclass(frozen=True, slots=True)
class PaperDelivery:
    """What came on one day, weighed in."""

    day: str
    lines: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Paper:
    """The whole sheet."""

    own: bool
    label: str
    supplier: str
    contact: str
    written: str
    state: str
    tone: str
    mark: str
    overdue: str
    happened: tuple[str, ...]
    wanted_by: str
    runs: str
    lines: tuple[PaperLine, ...]
    more: int
    weight: str
    goods: str
    carriage: str
    total: str
    note: str
    deliveries: tuple[PaperDelivery, ...]
    sources: tuple[str, ...]  # of the legal names


def paper_of(order: OrderFacts, supplier: SupplierFacts, *, on: date, copy: str) -> Paper:
    """An order on paper.

    Parameters
    ----------
    supplier : as known now
    copy : `own` with runs, note and what has come; `supplier` without them
    """
    tone, mark = LOOKS[order.state]
    own = copy == "own"
    lines = order.lines[:LINES_AT_MOST]
    return Paper(
        own=own,
        label=order.label,
        supplier=order.supplier,
        contact=supplier.contact,
        written=_in_full(order.written_at.date()),
        state=order.state,
        tone=tone,
        mark=mark,
        overdue=overdue_said(order, on),
        happened=tuple(happened(order, on)) if own else (),
        wanted_by=_in_full(order.needed_by) if order.needed_by is not None else "",
        runs=listed(runs_named(order.runs)) if own else "",
        lines=tuple(_line(line, order.currency) for line in lines),
        more=max(0, len(order.lines) - LINES_AT_MOST),
        weight=weight_said(sum(line.ordered_mg for line in order.lines)),
        goods=money_in_full(order.goods_minor, order.currency),
        carriage=money_in_full(order.carriage_minor, order.currency),
        total=money_in_full(order.minor, order.currency),
        note=order.note if own else "",
        deliveries=tuple(_deliveries(order, on)) if own else (),
        sources=tuple(dict.fromkeys(_sources(lines))),
    )


def _line(line: LineFacts, currency: str) -> PaperLine:
    named = legal_name(line.stuff.fibre)
    return PaperLine(
        number=line.number,
        name=say(
            "{stuff_said}, {which}",
            stuff_said=stuff_said(line.stuff),
            which=say("ready to dye") if line.scoured else say("not scoured"),
        ),
        law=named.words if named is not None else "",
        code=line.code,
        packs=f"{line.packs:,}",
        pack=weight_said(line.pack_mg),
        weight=weight_said(line.ordered_mg),
        pack_price=money_in_full(line.pack_minor, currency),
        price=money_in_full(line.minor, currency),
        came=say("{came_packs:,} of {packs:,}", came_packs=line.came_packs, packs=line.packs)
        if line.came_packs
        else "",
    )


def _deliveries(order: OrderFacts, on: date) -> Iterator[PaperDelivery]:
    stuffs = {line.number: stuff_said(line.stuff) for line in order.lines}
    for row in order.deliveries[:DELIVERIES_AT_MOST]:
        yield PaperDelivery(
            say("{day_said} {at:%H:%M}", day_said=day_said(row.at.date(), on), at=row.at),
            _came(row, stuffs),
            row.note,
        )


def _came(row: DeliveryFacts, stuffs: dict[int, str]) -> tuple[str, ...]:
    return tuple(
        counted(
            "{stuffs}: {count:,} pack, {mass_for_people} weighed{over}; lot {lot}",
            "{stuffs}: {count:,} packs, {mass_for_people} weighed{over}; lot {lot}",
            count=one.packs,
            stuffs=stuffs[one.line],
            mass_for_people=mass_for_people(one.net_mg),
            over=_over(one),
            lot=one.lot,
        )
        for one in row.lines
    )


def _over(one: CameFacts) -> str:
    """How far the scale and the packs disagree."""
    if not one.over_mg:
        return ""
    what = "more" if one.over_mg > 0 else "less"
    return say(
        ", {mass_for_people} {what} than the packs say",
        mass_for_people=mass_for_people(abs(one.over_mg)),
        what=what,
    )


def _sources(lines: tuple[LineFacts, ...]) -> Iterator[str]:
    for line in lines:
        named = legal_name(line.stuff.fibre)
        if named is not None:
            yield (
                named.source
                if named.basis != "memory"
                else say("{source} (from memory)", source=named.source)
            )


def _in_full(day: date) -> str:
    return say("{day} {months} {year}", day=day.day, months=MONTHS[day.month - 1], year=day.year)
