"""One letter of a reminder, as it stands in the outbox and goes to the mail server."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Kind = Literal[
    "morning sheet",
    "day before",
    "dip",
    "last good day",
    "order-by day",
    "light test",
    "new password",  # no reminder: to an account, as its owner asked
]
NEW_PASSWORD: Kind = "new password"


@dataclass(frozen=True, slots=True)
class Letter:
    """Who is told what, and between which moments it is of use."""

    key: str  # the same for the same word on the same day to the same reader, for ever; 200 at most
    kind: Kind
    to: str  # an e-mail address
    at: datetime  # aware; not before this, quiet hours already counted
    until: datetime  # aware, after `at`; later it is of no use and is let go, counted
    subject: str  # one line
    text: str
    stop: str = ""  # path on which the reader can stop this kind; empty: none
