"""The form of an answer to how big a run can be."""

from __future__ import annotations

from api.contract.shapes import DECIMAL, MOMENT, TEXT, YES, about, maybe, record, rows

BINDS = about(
    record(kind=TEXT, what=TEXT, text=TEXT, would_do=maybe(TEXT)),
    "What one step more would lack, and what would do for that step.",
)
REACH = about(
    record(kind=TEXT, what=TEXT, enough_for_g=maybe(DECIMAL), enough=YES, text=TEXT),
    "How far one thing goes by itself, told for a weight; the hours decide too.",
)
HOW_BIG = record(
    studio=TEXT,
    at=MOMENT,
    until=MOMENT,
    how_big=maybe(
        record(
            run=TEXT,
            shade=TEXT,
            fits=about(YES, "False where not even the smallest step is a yes."),
            weight_g=DECIMAL,
            step_g=DECIMAL,
            first_step_at=maybe(MOMENT),
            dry_at=maybe(MOMENT),
            binds=rows(BINDS),
            told_for_g=DECIMAL,
            reaches=rows(REACH),
            no_yes_any_more=rows(TEXT),
        )
    ),
)
