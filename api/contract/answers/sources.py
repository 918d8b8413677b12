"""The form of the sources, of what is put by, and of the figures."""

from __future__ import annotations

from api.contract.shapes import (
    AMOUNT,
    CHANCE,
    COUNT,
    DAY,
    DECIMAL,
    MOMENT,
    TEXT,
    WHOLE,
    YES,
    maybe,
    record,
    rows,
)

RECORD = record(
    times=COUNT,
    missed=COUNT,
    mean=maybe(AMOUNT),
    least=maybe(AMOUNT),
    mean_pieces=maybe(DECIMAL),
    least_pieces=maybe(COUNT),
)
SEASON = record(
    part=maybe(TEXT),
    dates=TEXT,
    kind=maybe(TEXT),
    words=TEXT,
    basis=TEXT,
    source=maybe(TEXT),
    own=YES,
    since=maybe(DAY),
)
EXPECTED = record(
    at=MOMENT,
    how=TEXT,
    why_not=maybe(TEXT),
    told_of=maybe(AMOUNT),
    likely=maybe(AMOUNT),
    worst=maybe(AMOUNT),
)
CAME = record(
    on=DAY, missed=YES, amount=maybe(AMOUNT), pieces=maybe(COUNT), lot=maybe(TEXT)
)  # fmt: skip
GIFT = record(
    what=TEXT,
    state=TEXT,
    weekdays=rows({"type": "integer", "minimum": 0, "maximum": 6}),
    days=rows(DAY),
    hour=TEXT,
    since=maybe(DAY),
    until=maybe(DAY),
    closed=rows(rows(DAY)),
    permission=maybe(TEXT),
    permission_ended=maybe(DAY),
    lately=RECORD,
    ever=RECORD,
    weekday_record=rows(record(weekday=COUNT, made=COUNT, missed=COUNT)),
    last_made=maybe(DAY),
    nobody_said=rows(DAY),
    next=rows(EXPECTED),
    came=rows(CAME),
    seasons=rows(SEASON),
    nesting=maybe(SEASON),
)
SOURCE = record(
    number=WHOLE,
    name=TEXT,
    kind=maybe(TEXT),
    place=maybe(TEXT),
    note=maybe(TEXT),
    carrying_note=maybe(TEXT),
    carrying_until=maybe(DAY),
    tubs=COUNT,
    gives=rows(GIFT),
    more_gives=COUNT,
)
SOURCES = record(
    studio=TEXT,
    at=MOMENT,
    rows_at_most=COUNT,
    in_all=COUNT,
    sources=rows(SOURCE),
    next=maybe(TEXT),
)

# -- put by --------------------------------------------------------------------------------------

SPAN = record(from_=DAY, to=DAY)
FALLEN = rows(record(run=TEXT, from_=DAY, to=DAY))
GAP = record(dyestuff=TEXT, from_=DAY, until=maybe(DAY), why=TEXT, if_agreed_anew=YES)
WISH = record(code=TEXT, shade=maybe(TEXT), runs=COUNT, each=AMOUNT, from_=DAY, to=DAY)
MONTH = record(
    from_=DAY,
    there=AMOUNT,
    likely_come=AMOUNT,
    wanted=AMOUNT,
    short=AMOUNT,
    nothing_comes=YES,
)
PLAN = record(
    dyestuff=TEXT,
    state=TEXT,
    asked=YES,
    wishes=rows(WISH),
    wanted=AMOUNT,
    there=AMOUNT,
    put_by=AMOUNT,
    put_by_fresh=maybe(AMOUNT),
    put_by_fresh_low=maybe(AMOUNT),
    put_by_fresh_high=maybe(AMOUNT),
    by=maybe(DAY),
    steps=rows(record(by=maybe(DAY), put_by=AMOUNT, fresh=maybe(AMOUNT), for_=rows(TEXT))),
    lots_to_put_by=rows(record(lot=TEXT, amount=AMOUNT, by=maybe(DAY))),
    left_out=rows(record(lot=TEXT, amount=AMOUNT, why=TEXT)),
    barred=rows(record(source=TEXT, why=TEXT)),
    pick_ups=rows(
        record(day=DAY, sources=rows(TEXT), likely=maybe(AMOUNT), said=maybe(AMOUNT))
    ),
    pick_ups_in_all=COUNT,
    chance=maybe(CHANCE),
    likely_short=AMOUNT,
    more_pick_ups=maybe(COUNT),
    open_till=maybe(DAY),
    runs_that_fall=FALLEN,
    runs_that_fall_nine_times_in_ten=FALLEN,
    runs_that_fall_likely=FALLEN,
    shade_gap=maybe(SPAN),
    gap=maybe(GAP),
    room=maybe(record(where=TEXT, needs=AMOUNT, free=maybe(AMOUNT), over=AMOUNT)),
    months=rows(MONTH),
    text=TEXT,
)  # fmt: skip
PUT_BY = record(studio=TEXT, at=MOMENT, plans=rows(PLAN), more_plans=COUNT, gaps=rows(GAP))

# -- figures -------------------------------------------------------------------------------------

FIGURE = record(
    kind=TEXT,
    item=TEXT,
    property=TEXT,
    low=maybe(DECIMAL),
    typical=maybe(DECIMAL),
    high=maybe(DECIMAL),
    words=maybe(TEXT),
    unit=maybe(TEXT),
    case=maybe(TEXT),
    basis=TEXT,
    source=maybe(TEXT),
    known_on=maybe(DAY),
    own=YES,
    since=maybe(DAY),
    in_use=maybe(YES),
)
FIGURES = record(
    studio=TEXT,
    at=MOMENT,
    page=COUNT,
    rows_at_most=COUNT,
    count=COUNT,
    next=maybe(TEXT),
    rows=rows(FIGURE),
    ranges=rows(record(unit=TEXT, low=maybe(DECIMAL), high=maybe(DECIMAL))),
)
