"""Another process that files letters in the larder which the environment names.

python tests/faults/letter_hands.py file MANY READER   MANY letters, due now, to READER-1@…; it
                                                       says the Message-ID of each
python tests/faults/letter_hands.py look MANY          MANY looks at the studio, one for each five
                                                       minutes, where one letter a minute is due
"""

from __future__ import annotations

import math
import sys
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from api.reminders.letter import Letter
    from inventory.models import Studio

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))


def main(what: str, *words: str) -> None:
    """Do one of the two."""
    import django

    django.setup()
    from inventory.models import Studio

    studio, _ = Studio.objects.get_or_create(name="Pellitory Yard", zone="Europe/London")
    if what == "file":
        file(studio, int(words[0]), words[1])
    else:
        look(studio, int(words[0]))


def file(studio: Studio, many: int, reader: str) -> None:
    """File letters and name them."""
    from django.utils import timezone

    from api.reminders import outbox
    from tests.api.reminders.postbox import DOMAIN, HOUR, letter

    now = timezone.now()
    letters = [
        letter(f"{reader}/{n}", to=f"{reader}-{n}@b.example", at=now, until=now + HOUR)
        for n in range(many)
    ]
    outbox.file_letters(studio, letters, at=now, domain=DOMAIN)
    for one in letters:
        print(outbox.message_id(studio.name, one.key, domain=DOMAIN))


def look(studio: Studio, many: int) -> None:
    """Look again and again, from where the last look ended."""
    from api.models import Sweep
    from api.reminders.sweep import EVERY, sweep
    from tests.api.reminders.postbox import AT, DOMAIN, HOUR, letter

    def due(studio: Studio, *, since: datetime, until: datetime) -> tuple[Letter, ...]:
        first = math.ceil((since - AT).total_seconds() / 60)
        last = math.ceil((until - AT).total_seconds() / 60)
        minutes = {n: AT + timedelta(minutes=n) for n in range(first, last)}
        return tuple(letter(str(n), at=at, until=at + HOUR) for n, at in minutes.items())

    for _ in range(many):
        mark = Sweep.objects.of(studio).first()
        sweep(studio, at=mark.until + EVERY if mark else AT, due=due, domain=DOMAIN)
        print("looked", flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
