"""Another process that enters things in the larder which the environment names, and says how.

    python tests/faults/hands.py draw ENTRY
    python tests/faults/hands.py draws MANY [till] entries of its own, one after the other; each
                                                   once, or till it is recorded
    python tests/faults/hands.py promise           1 kg of the first lot, to the run that draws
    python tests/faults/hands.py ask ADDRESS [and] what a page answers; at once, or once it was
                                                   told to and once more

A draw takes 1 mg of each of three lots, the first of them off what its run was promised.
`asked ENTRY` is said before a draw, `recorded ENTRY` after it, `again ENTRY` when it had been.
"""

from __future__ import annotations

import os
import sys
import time
import uuid
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

AT = datetime(2026, 11, 23, 9, tzinfo=UTC)
LOTS = ("AV-0911", "ON-0801", "PR-1003")
RUN, PROMISED_MG = "A", 1_000_000
AGAIN_AFTER_S = 0.2


def main(what: str, *words: str) -> None:
    """Do one thing and say what came of it."""
    import django

    django.setup()
    if what == "draw":
        draw(uuid.UUID(words[0]))
    elif what == "draws":
        for _ in range(int(words[0])):
            entry = uuid.uuid4()
            while not draw(entry) and words[1:]:
                time.sleep(AGAIN_AFTER_S)  # nobody reads yet; a full pipe would stop the hand
    elif what == "promise":
        promise()
    elif words[1:]:
        ask_when_told(words[0])
    else:
        ask(words[0])


def say(*words: object) -> None:
    """One line, written at once, so that it is known even if the next moment is the last."""
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


def draw(entry: uuid.UUID) -> bool:
    """One draw with its claim; a refusal is said with how long it took to come."""
    from inventory.errors import LarderError
    from inventory.hindrance import said_in_words
    from inventory.models import Studio
    from sourcing import claims

    say("asked", entry)
    began = time.monotonic()
    takes = [(code, 1) for code in LOTS]
    try:
        with said_in_words():
            studio = Studio.objects.get(name="Pellitory Yard")
            posted = claims.draw(studio, entry=entry, at=AT, takes=takes, run=RUN)
    except LarderError as refusal:
        say("refused", f"{time.monotonic() - began:.2f}", refusal.code, refusal)
        return False
    say("again" if posted.again else "recorded", entry)
    return True


def promise() -> None:
    """What the run that draws may draw on."""
    from inventory.models import Studio
    from sourcing import claims

    studio = Studio.objects.get(name="Pellitory Yard")
    claims.claim(studio, entry=uuid.uuid4(), at=AT, run=RUN, lot=LOTS[0], amount=PROMISED_MG)


def ask(address: str) -> None:
    """A page as it is answered: status, when to come back, sentence."""
    from django.test import Client

    answer = Client(raise_request_exception=False).get(address, headers={"host": "127.0.0.1"})
    say(answer.status_code, answer.headers.get("Retry-After", "-"), answer.content.decode())


def ask_when_told(address: str) -> None:
    """With a connection that stays open meanwhile, as a worker's does; then once more."""
    from django.core import signals
    from django.db import close_old_connections, connection

    signals.request_started.disconnect(close_old_connections)
    connection.ensure_connection()
    say("connected")
    sys.stdin.readline()
    ask(address)
    close_old_connections()  # as a server does at the end of each request
    ask(address)


if __name__ == "__main__":
    main(*sys.argv[1:])
