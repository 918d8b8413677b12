"""The form of the sums beside the week: what is there, claimed and spare; rooms, costs."""

from __future__ import annotations

from api.contract.shapes import DAY, DECIMAL, TEXT, WHOLE, YES, maybe, record, rows

SPARE = record(
    there_g=DECIMAL,
    spare_g=DECIMAL,
    spare_pieces=maybe(WHOLE),
    short_g=DECIMAL,
    short_pieces=maybe(WHOLE),
)
EXPECTED = record(date=DAY, source=TEXT, likely_g=DECIMAL, worst_g=DECIMAL)
AHEAD = record(
    by=DAY,
    needs=rows(record(run=TEXT, g=DECIMAL)),
    need_g=DECIMAL,
    pick_ups=rows(EXPECTED),
    likely=SPARE,
    one_missed=maybe(SPARE),
    worst=SPARE,
)
DYESTUFF = record(
    what=TEXT,
    usable_tonight_g=DECIMAL,
    lots=rows(record(lot=TEXT, g=DECIMAL)),
    left_out=rows(record(lot=TEXT, g=DECIMAL, why=TEXT)),
    claims=rows(record(run=TEXT, g=DECIMAL)),
    after_claims_g=DECIMAL,
    ahead=maybe(AHEAD),
)
EVENING = record(
    date=DAY,
    holds_g=DECIMAL,
    there_g=DECIMAL,
    comes_g=DECIMAL,
    likely_g=DECIMAL,
    put_by_g=DECIMAL,
    inside_g=DECIMAL,
    free_g=DECIMAL,
    over_g=DECIMAL,
    over_before_put_by_g=DECIMAL,
)
TO_DO = record(
    how=TEXT,
    lot=maybe(TEXT),
    source=maybe(TEXT),
    what=TEXT,
    g=DECIMAL,
    until=maybe(DAY),
    guess=YES,
    text=TEXT,
)
EVENING_OF_ROOM = record(
    date=DAY,
    there_g=DECIMAL,
    put_by_g=DECIMAL,
    comes_g=DECIMAL,
    likely_g=DECIMAL,
    free_g=maybe(DECIMAL),
    over_g=DECIMAL,
    over_if_likely_g=DECIMAL,
    todo=rows(TO_DO),
    todo_if_likely=rows(TO_DO),
)
ROOM = record(
    kind=TEXT,
    site=TEXT,
    places=rows(TEXT),
    holds_g=maybe(DECIMAL),
    evenings=rows(EVENING_OF_ROOM),
)
SUPPLY = record(
    what=TEXT,
    there_g=DECIMAL,
    runs=rows(record(run=TEXT, g=DECIMAL, left_g=DECIMAL, short_g=DECIMAL)),
    left_g=DECIMAL,
    second_scour=maybe(record(g=DECIMAL, short_g=DECIMAL)),
)
JAR = record(
    jar=TEXT,
    name=TEXT,
    there_ml=DECIMAL,
    claims=rows(record(run=TEXT, ml=DECIMAL, left_ml=DECIMAL)),
    left_ml=DECIMAL,
)
COST = record(
    run=TEXT,
    parts=rows(record(what=TEXT, money=DECIMAL)),
    total=DECIMAL,
    per_kg=DECIMAL,
    per_100g=DECIMAL,
    labour_percent=DECIMAL,
    kwh=DECIMAL,
    warming=rows(record(step=TEXT, kwh=DECIMAL)),
    holds=WHOLE,
    without_price=rows(TEXT),
    water_l=DECIMAL,
)
CAUTION = record(
    code=TEXT,
    kind=TEXT,
    mark=TEXT,
    about=maybe(TEXT),
    text=TEXT,
    basis=TEXT,
    source=maybe(TEXT),
    runs=rows(TEXT),
    jars=rows(TEXT),
)
DECIDED = record(run=TEXT, kind=TEXT, what=TEXT, text=TEXT, figure=maybe(TEXT), own=YES)
SUMS = record(
    dyestuffs=rows(DYESTUFF),
    freezer=rows(EVENING),
    rooms=rows(ROOM),
    supplies=rows(SUPPLY),
    jars=rows(JAR),
    costs=rows(COST),
    cautions=rows(CAUTION),
    decided_by=rows(DECIDED),
    notes=rows(record(run=TEXT, text=TEXT)),
)
