"""What the doors themselves keep: who may come in, entries with their answers, letters to go."""

from api.models.accounts import Account, Membership, ProgramToken
from api.models.calendar_links import CalendarLink
from api.models.entries import Entry
from api.models.invitations import Invitation
from api.models.outbox import OutboxLetter, Sweep, Turn
from api.models.seeks import Seek
from api.models.source_links import SourceLink, SourceWord
from api.models.tries import RecoveryWish, Tries

__all__ = [
    "Account",
    "CalendarLink",
    "Entry",
    "Invitation",
    "Membership",
    "OutboxLetter",
    "ProgramToken",
    "RecoveryWish",
    "Seek",
    "SourceLink",
    "SourceWord",
    "Sweep",
    "Tries",
    "Turn",
]
