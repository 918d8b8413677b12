"""The form of the week's answer, of what will come and of a missed visit."""

from __future__ import annotations

from api.contract.answers.sums import SUMS
from api.contract.shapes import (
    CHANCE,
    COUNT,
    DAY,
    DECIMAL,
    MOMENT,
    TEXT,
    WHOLE,
    YES,
    about,
    maybe,
    one_of,
    record,
    rows,
)

ANSWERED = about(
    one_of("yes", "not yet", "no"),
    "yes: it can be begun within the period; not yet: waiting is enough; no: something is lacking.",
)
BY_DAYS = rows(record(chance=CHANCE, by=maybe(DAY)))
STEP = record(
    step=TEXT,
    load=COUNT,
    vessel=maybe(TEXT),
    ring=maybe(TEXT),
    from_=MOMENT,
    to=MOMENT,
    hands_on_min=COUNT,
    done_at=maybe(MOMENT),
    late_since=maybe(MOMENT),
    shared_with=about(rows(TEXT), "Runs whose cloth is in the same vessel."),
)
TAKE = record(
    from_=TEXT,
    amount=DECIMAL,
    unit=TEXT,
    length_m=maybe(DECIMAL),
    carried=maybe(record(from_=TEXT, to=TEXT, way=COUNT)),
)
WAIT = record(kind=TEXT, what=TEXT, until=maybe(MOMENT), text=TEXT)
SHORT = record(what=TEXT, amount=DECIMAL, unit=TEXT, pieces=maybe(COUNT), text=TEXT)
JOB = record(what=TEXT, by=DAY, text=TEXT)
ENOUGH = record(
    what=TEXT, amount=DECIMAL, unit=TEXT, by=DAY, chance=CHANCE, days=BY_DAYS, text=TEXT
)
CHANGE = record(
    kind=TEXT,
    what=TEXT,
    amount=DECIMAL,
    unit=TEXT,
    pieces=maybe(WHOLE),
    from_=maybe(MOMENT),
    until=maybe(MOMENT),
    text=TEXT,
)
UNLOCK = about(
    record(
        text=TEXT,
        together=YES,
        changes=rows(CHANGE),
        first_step_at=maybe(MOMENT),
        dry_at=maybe(MOMENT),
        no_yes_any_more=rows(TEXT),
    ),
    "The smallest change that would turn the answer, and which other runs it would cost.",
)
WARNING = record(kind=TEXT, what=TEXT, text=TEXT, figure=maybe(TEXT), own=YES)
RUN = record(
    code=TEXT,
    shade=TEXT,
    answer=ANSWERED,
    first_step_at=maybe(MOMENT),
    dry_at=maybe(MOMENT),
    begun_at=maybe(MOMENT),
    steps=rows(STEP),
    takes=rows(TAKE),
    waits_for=rows(WAIT),
    short=rows(SHORT),
    jobs=rows(JOB),
    enough=rows(ENOUGH),
    unlocks=rows(UNLOCK),
    unlocks_all_tried=about(YES, "False where a limit ended the looking for unlocks."),
    top_up_l=DECIMAL,
    warnings=rows(WARNING),
)
LOADED = record(from_=MOMENT, kg=DECIMAL)
DAY_ROW = record(
    date=DAY, hands_on_min=COUNT, hands_available_min=COUNT, line=rows(LOADED)
)  # fmt: skip
WEEK = record(
    studio=TEXT,
    at=MOMENT,
    until=MOMENT,
    runs=rows(RUN),
    flags=rows(record(kind=TEXT, what=TEXT, by=maybe(DAY), text=TEXT)),
    days=rows(DAY_ROW),
    sums=SUMS,
)

# -- what will come ------------------------------------------------------------------------------

PICK_UP = record(
    source=TEXT,
    at=MOMENT,
    state=one_of("reported", "likely", "missed", "not_fetched"),
    reported_g=maybe(DECIMAL),
    likely_g=DECIMAL,
    worst_g=DECIMAL,
    why_not=maybe(TEXT),
)
RESTS_ON = record(source=TEXT, visits=COUNT, missed=COUNT, promised=YES, thin=YES, text=TEXT)
LACKING = record(run=TEXT, shade=TEXT, short_g=DECIMAL, by=DAY, chance=CHANCE, days=BY_DAYS)
COMING = record(
    studio=TEXT,
    at=MOMENT,
    first=DAY,
    last=DAY,
    is_=about(TEXT, "What kind of answer this is: a forecast, not on the shelf."),
    dyestuffs=rows(
        record(
            dyestuff=TEXT,
            text=TEXT,
            pick_ups=rows(PICK_UP),
            more_pick_ups=COUNT,
            rests_on=rows(RESTS_ON),
            will_have_come=rows(
                record(by=DAY, at_least=rows(record(chance=CHANCE, g=DECIMAL)))
            ),
            short=rows(LACKING),
        )
    ),
    others=rows(TEXT),
)  # fmt: skip

# -- a missed visit ------------------------------------------------------------------------------

SIDE = record(
    answer=ANSWERED,
    first_step_at=maybe(MOMENT),
    dry_at=maybe(MOMENT),
    chances=rows(record(what=TEXT, chance=CHANCE, by=DAY)),
)
BALANCE = record(there_g=DECIMAL, spare_g=DECIMAL, short_g=DECIMAL, pieces=maybe(WHOLE))
STRUCK = record(
    source=TEXT,
    gives=TEXT,
    at=MOMENT,
    reported_g=maybe(DECIMAL),
    likely_g=DECIMAL,
    worst_g=DECIMAL,
)
MOVED = record(
    code=TEXT,
    shade=TEXT,
    before=SIDE,
    after=SIDE,
    changes=rows(record(kind=TEXT, before=TEXT, after=TEXT, text=TEXT)),
    stays=rows(TEXT),
)
SUM_MOVED = record(
    what=TEXT,
    by=DAY,
    runs=rows(TEXT),
    need_g=DECIMAL,
    before=maybe(BALANCE),
    after=BALANCE,
    text=TEXT,
)
RIPPLE = {
    "missed": rows(STRUCK),
    "runs": rows(MOVED),
    "stay": rows(TEXT),
    "sums": rows(SUM_MOVED),
    "rooms": rows(record(room=TEXT, evening=DAY, before=TEXT, after=TEXT, text=TEXT)),
}
MISSED = {
    "oneOf": [
        about(record(studio=TEXT, **RIPPLE), "The visit that was asked for."),
        about(
            record(studio=TEXT, visits=rows(record(**RIPPLE)), left_out=COUNT),
            "Every visit, where none was asked for; what hurts most first.",
        ),
    ]
}
