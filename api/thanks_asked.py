"""From which day on an address asks what was given; a year back where it names none."""

from __future__ import annotations

import re
from datetime import date, timedelta

from django.http import QueryDict

from api.asked import Unreadable, shown
from api.question import Question
from inventory.science.days import add_months
from inventory.science.saying import say

MORE = ("since",)
YEARS_AT_MOST = 10
DAY = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?", re.ASCII)


class SinceUnreadable(Unreadable):
    """No day, one that is still to come, or one too long ago."""

    code = "since_unreadable"


def since_asked(query: QueryDict, question: Question) -> date:
    """The first day of what is asked for, or of the month that is named."""
    today = question.at.date()
    text = query.get("since", "").strip()
    if not text:
        return add_months(today, -12) + timedelta(days=1)
    found = DAY.fullmatch(text)
    try:
        if found is None:
            raise ValueError(text)
        since = date(int(found[1]), int(found[2]), int(found[3] or 1))
    except ValueError:
        detail = say(
            "{shown} is no day. Write one as 2026-09-01, or a month as 2026-09.", shown=shown(text)
        )
        raise SinceUnreadable("since", text, detail) from None
    if since > today:
        detail = say("{shown} is still to come. Say an earlier day.", shown=shown(text))
        raise SinceUnreadable("since", text, detail)
    if since < add_months(today, -12 * YEARS_AT_MOST):
        detail = say(
            "{shown} is more than {years_at_most} years ago. Say a later day.",
            shown=shown(text),
            years_at_most=YEARS_AT_MOST,
        )
        raise SinceUnreadable("since", text, detail)
    return since
