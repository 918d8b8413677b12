"""Which pages say what happened, by which entries it is recorded, and what a row may not change.

A row about what stands or is planned may be written anew as often as wanted. What happened is
added to and corrected by entries; a page only brings rows of it that the studio does not have yet.
"""

from __future__ import annotations

from collections.abc import Mapping

# Page, and the entries that record it.
RECORDED_BY: Mapping[str, str] = {
    "lots": "receive, draw, put by, weigh again, recount or tip out",
    "stays": "put by",
    "verdicts": "judge",
    "jars": "begin, draw, recount or set aside",
    "jar_events": "top up, draw, strain, keep at, evaporate or recount",
    "dips": "dip",
    "baths": "make bath, use bath or tip out",
    "supplies": "receive, draw or recount",
    "fibre": "receive, scour, mordant, dry or recount",
    "pickups": "report, record or miss a pick-up",
    "tubs": "leave, fetch or lose tubs",
    "orders": "write order",
    "order_lines": "write order",
    "order_events": "send, confirm or call off",
    "deliveries": "receive delivery",
    "stops": "stop or begin reminders",
    "begun": "begin run",
    "begun_steps": "begin run",
    "begun_takes": "begin run",
    "begun_hangs": "begin run",
    "begun_jobs": "begin run",
    "steps_done": "step done",
    "steps_took": "step done",
    "taken": "take week",
    "taken_runs": "take week",
    "taken_waits": "take week",
    "claims": "begin run, claim or release",
}
# Columns of other pages that say what happened, and the entries that record it.
KEPT_COLUMNS: Mapping[str, Mapping[str, str]] = {
    "studio": {"studio": "", "begins": ""},
    "vessels": {"chipped": "chip", "iron on": "mark iron", "blank swatch passed": "clear"},
    "chores": {"done at": "chore done"},
    "runs": {"begun": "begin run"},
}


def is_history(page: str) -> bool:
    """Whether a page says what happened."""
    return page in RECORDED_BY
