"""A studio begins: its name, its clock, its money; everything else is written down later."""

from __future__ import annotations

import re
from zoneinfo import ZoneInfo

from django.db import transaction

from inventory.errors import NoSuchZone, NotMoney, StudioTaken
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_said

CURRENCY = re.compile(r"[A-Z]{3}", re.ASCII)  # ISO 4217


@said_in_words()
def begin_studio(name: str, *, zone: str, currency: str) -> Studio:
    """A studio with nothing on its shelves.

    Parameters
    ----------
    name : one line, 1 to 120 signs, its own
    zone : its clock, such as Europe/London
    currency : its money, three capital letters, such as GBP

    Raises
    ------
    StudioTaken, NoSuchZone, NotMoney
    """
    check_said({"name": name, "zone": zone})
    if not _is_zone(zone):
        raise NoSuchZone(zone)
    if not CURRENCY.fullmatch(currency):
        raise NotMoney(currency)
    with transaction.atomic():
        if Studio.objects.filter(name__iexact=name).exists():
            raise StudioTaken(name)
        studio, is_new = Studio.objects.get_or_create(
            name=name, defaults={"zone": zone, "currency": currency}
        )
    if not is_new:
        raise StudioTaken(name)
    return studio


def _is_zone(zone: str) -> bool:
    try:
        return ZoneInfo(zone).key == zone
    except (KeyError, ValueError, OSError):
        return False


def read_as(studio: Studio, *, language: str, number_form: str, units: str) -> None:
    """Have pages, sheets and letters of a studio said so; empty: as whoever reads has it.

    Parameters
    ----------
    number_form : point, comma or empty
    units : metric, imperial, us or empty
    """
    studio.language, studio.number_form, studio.units = language, number_form, units
    studio.save(update_fields=["language", "number_form", "units"])
