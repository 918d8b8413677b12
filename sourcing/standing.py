"""Pick-ups that stand: those whose lot was not taken back as written down by mistake."""

from __future__ import annotations

from inventory.models import Kind, Posting, Studio
from inventory.models.scope import StudioRows
from sourcing.models import PickUp


def standing_pickups(studio: Studio) -> StudioRows[PickUp]:
    """Pick-ups of a studio but those that were taken back; a taking back may be taken back too."""
    undoing = Posting.objects.of(studio).filter(kind=Kind.CORRECT, undoes=True).order_by()
    stands = undoing.exclude(pk__in=undoing.values("corrects"))
    rows: StudioRows[PickUp] = PickUp.objects.of(studio).exclude(
        posting__in=stands.values("corrects")
    )
    return rows
