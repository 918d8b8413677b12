"""The form of the reminders: what goes out next, to whom, and what became of the last."""

from __future__ import annotations

from api.contract.shapes import COUNT, DAY, MOMENT, TEXT, YES, about, maybe, one_of, record, rows
from sourcing.reminding.facts import KINDS

KIND = one_of(*KINDS)
CLOCK = about(TEXT, "A time of day on the studio's clock, such as 07:30.")
NEXT = record(at=MOMENT, until=MOMENT, kind=KIND, subject=TEXT, reader=TEXT, to=TEXT)
READER = record(
    name=TEXT,
    to=TEXT,
    source=about(maybe(TEXT), "Where the reader is a source."),
    since=DAY,
    kinds=rows(record(kind=KIND, goes=about(YES, "Whether it was not stopped."))),
    sheet_at=maybe(CLOCK),
    quiet_from=maybe(CLOCK),
    quiet_until=maybe(CLOCK),
)
LETTER = record(
    due_at=MOMENT,
    kind=TEXT,
    subject=TEXT,
    to=TEXT,
    state=one_of("sent", "waits", "let go"),
    state_at=about(MOMENT, "When it was sent or let go, or when it is tried next."),
    why=about(maybe(TEXT), "Why it was let go."),
    tries=COUNT,
    perhaps_twice=YES,
)
REMINDERS = record(
    studio=TEXT,
    at=MOMENT,
    until=MOMENT,
    sender=about(maybe(TEXT), "Who letters come from; null where no mail is set up."),
    whole_addresses=about(YES, "Whether addresses stand in full; for the owner only."),
    next=rows(NEXT),
    next_left_out=COUNT,
    readers=rows(READER),
    readers_left_out=COUNT,
    letters=rows(LETTER),
)
