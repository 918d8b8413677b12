"""The form of a thank-you and of the totals: what was given, and what became of it."""

from __future__ import annotations

from api.contract.shapes import (
    CHANCE,
    COUNT,
    DAY,
    MOMENT,
    TEXT,
    YES,
    Shape,
    about,
    maybe,
    record,
    ref,
    rows,
)

MASS = ref("Amount")
FIBRE = rows(record(fibre=TEXT, amount=MASS))
BECAME: dict[str, Shape] = {
    "saved": about(MASS, "All that was given, by the best that is known of its weight."),
    "estimated": about(MASS, "Of it, what was counted and never weighed."),
    "kept": about(maybe(MASS), "What did not end in the bin; null where none is on record."),
    "became": about(
        record(
            dyed_with=MASS,
            made_into_baths=MASS,
            taken_by_hand=MASS,
            waits=MASS,
            lost_on_drying=MASS,
            tipped_out=MASS,
            spoiled=MASS,
            not_on_record=MASS,
        ),
        "Where it went; together it is what was saved.",
    ),
    "found_again": about(MASS, "More, or below zero less, when it was weighed or counted again."),
    "fibre_dyed": about(MASS, "Dry fibre that it dyed."),
}
BALANCE: dict[str, Shape] = {
    "dyestuff": TEXT,
    "hand_overs": COUNT,
    "pieces": maybe(COUNT),
    **BECAME,
    "tipped_out_to": rows(record(where=TEXT, amount=MASS)),
    "fibre": FIBRE,
}
GIVEN = record(on=DAY, amount=MASS, estimated=YES, pieces=maybe(COUNT), note=maybe(TEXT))
RUN = record(
    run=TEXT,
    shade=maybe(TEXT),
    on=DAY,
    took=MASS,
    share=about(CHANCE, "Of all the dyestuff that went into the run."),
    fibre=FIBRE,
)
GAVE = record(
    **BALANCE,
    given=about(rows(GIVEN), "The latest hundred hand-overs."),
    runs=about(rows(RUN), "The latest hundred runs."),
    runs_in_all=COUNT,
    cautions=rows(record(code=TEXT, mark=TEXT, text=TEXT)),
)
PAGED: dict[str, Shape] = {"page": COUNT, "rows_at_most": COUNT, "in_all": COUNT}
THANKS = record(
    studio=TEXT,
    since=DAY,
    at=MOMENT,
    **PAGED,
    sources=rows(
        record(
            source=TEXT,
            kind=maybe(TEXT),
            place=maybe(TEXT),
            made=COUNT,
            missed=COUNT,
            all=record(**BECAME),
            gave=rows(GAVE),
        )
    ),
)
TOTALS = record(
    studio=TEXT,
    since=DAY,
    at=MOMENT,
    **PAGED,
    all=record(**BECAME),
    totals=rows(record(source=TEXT, missed=COUNT, **BALANCE)),
)
