"""Another process that files letters in the larder which the environment names.

    python tests/faults/letter_hands.py MANY READER    MANY letters, due now, to READER-1@…

It says the Message-ID of each.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))


def main(many: int, reader: str) -> None:
    """File them and name them."""
    import django

    django.setup()
    from django.utils import timezone

    from api.reminders import outbox
    from inventory.models import Studio
    from tests.api.reminders.postbox import DOMAIN, HOUR, letter

    studio, _ = Studio.objects.get_or_create(name="Pellitory Yard", zone="Europe/London")
    now = timezone.now()
    letters = [
        letter(f"{reader}/{n}", to=f"{reader}-{n}@b.example", at=now, until=now + HOUR)
        for n in range(many)
    ]
    outbox.file_letters(studio, letters, at=now, domain=DOMAIN)
    for one in letters:
        print(outbox.message_id(studio.name, one.key, domain=DOMAIN))


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2])
