"""The form of fibre orders and of what has to be bought."""

from __future__ import annotations

from api.contract.shapes import (
    AMOUNT,
    COUNT,
    DAY,
    DECIMAL,
    MOMENT,
    TEXT,
    WHOLE,
    YES,
    Shape,
    maybe,
    record,
    rows,
)

STUFF: dict[str, Shape] = {"fibre": TEXT, "form": TEXT, "legal_name": maybe(TEXT)}
HEAD: dict[str, Shape] = {"studio": TEXT, "at": MOMENT, "currency": TEXT}
MONEY: dict[str, Shape] = {"goods": DECIMAL, "carriage": DECIMAL, "total": DECIMAL}
LINE = record(
    number=WHOLE,
    **STUFF,
    code=maybe(TEXT),
    ready_to_dye=YES,
    pack=AMOUNT,
    packs=COUNT,
    pack_price=DECIMAL,
    price=DECIMAL,
    ordered=AMOUNT,
    packs_come=COUNT,
    weighed_in=AMOUNT,
    packs_to_come=COUNT,
)
DELIVERED = record(line=WHOLE, packs=COUNT, weighed=AMOUNT, lot=maybe(TEXT), over_packs=AMOUNT)
ORDER = record(
    number=WHOLE,
    label=TEXT,
    supplier=TEXT,
    state=TEXT,
    open=YES,
    overdue=YES,
    written_at=MOMENT,
    expected_on=maybe(DAY),
    confirmed_on=maybe(DAY),
    needed_by=maybe(DAY),
    runs=rows(TEXT),
    currency=TEXT,
    **MONEY,
    lines=rows(LINE),
    happened=rows(record(what=TEXT, at=MOMENT, arrives_on=maybe(DAY), note=maybe(TEXT))),
    deliveries=rows(record(at=MOMENT, note=maybe(TEXT), lines=rows(DELIVERED))),
    note=maybe(TEXT),
)
ORDERS = record(
    **HEAD,
    orders=rows(ORDER),
    counts=record(orders=COUNT),
    rows_at_most=COUNT,
    next=maybe(TEXT),
)

# -- what has to be bought -----------------------------------------------------------------------

WANTED = record(
    run=TEXT,
    shade=TEXT,
    **STUFF,
    ready_to_dye=AMOUNT,
    needed_by=maybe(DAY),
    whose_day=TEXT,
    takes=rows(record(from_=TEXT, ready_to_dye=AMOUNT)),
    short=AMOUNT,
)
NEED: dict[str, Shape] = {"by": maybe(DAY), "ready_to_dye": AMOUNT, "runs": rows(TEXT)}
LEFT_OUT = rows(record(supplier=TEXT, why=TEXT))
ASKED_LINE = record(
    **STUFF,
    code=maybe(TEXT),
    pack=AMOUNT,
    packs=COUNT,
    pack_price=DECIMAL,
    price=DECIMAL,
    scour_loss=DECIMAL,
)
ASKED: dict[str, Shape] = {
    "supplier": TEXT,
    "order_on": maybe(DAY),
    "arrives_on": maybe(DAY),
    "lines": rows(ASKED_LINE),
    **MONEY,
}
QUOTE = record(
    **ASKED,
    order_by=maybe(DAY),
    working_days_late=WHOLE,
    in_time=YES,
    proof=TEXT,
    left_over=AMOUNT,
    left_over_ready_to_dye=AMOUNT,
)
FIBRE = record(
    **STUFF,
    ready_to_dye=AMOUNT,
    by=maybe(DAY),
    needs=rows(record(**NEED)),
    suppliers=rows(QUOTE),
    not_counted=LEFT_OUT,
)
TOGETHER = record(
    ("total", "gap", "left_over", "late", "nobody_sells"),
    orders=rows(record(**ASKED)),
    total=DECIMAL,
    proof=maybe(TEXT),
    said=TEXT,
    gap=DECIMAL,
    left_over=rows(record(**STUFF, amount=DECIMAL, unit=TEXT)),
    late=rows(record(**STUFF, **NEED, earliest=maybe(DAY))),
    nobody_sells=rows(record(**STUFF, **NEED)),
    not_counted=LEFT_OUT,
)
NEEDS = record(
    **HEAD,
    runs=rows(WANTED),
    fibres=rows(FIBRE),
    together=TOGETHER,
    counts=record(runs=COUNT, fibres=COUNT),
    rows_at_most=COUNT,
)
