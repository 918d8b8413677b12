"""What the doors themselves keep: letters on their way out."""

from api.models.outbox import OutboxLetter, Sweep, Turn

__all__ = ["OutboxLetter", "Sweep", "Turn"]
