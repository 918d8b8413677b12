"""What the doors themselves keep: who may come in, and letters on their way out."""

from api.models.accounts import Account, Membership, ProgramToken
from api.models.outbox import OutboxLetter, Sweep, Turn

__all__ = ["Account", "Membership", "OutboxLetter", "ProgramToken", "Sweep", "Turn"]
