"""Another process that enters things by the API of the larder which the environment names.

    python tests/faults/entry_hands.py same MANY THREADS   entries 1 to MANY, by many at once
    python tests/faults/entry_hands.py draws MANY          entries of its own, one after the other

`asked ENTRY` is said before an entry is sent, `STATUS ENTRY ANSWER` after it was answered.
"""

from __future__ import annotations

import os
import sys
import threading
import time
import uuid
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

AGAIN_AFTER_S = 0.05
SAME = uuid.UUID("5a0d5f1e-7c1a-4000-8000-000000000000")


def main(what: str, many: str, threads: str = "1") -> None:
    """Do one thing and say what came of it."""
    import django

    django.setup()
    if what == "draws":
        for _ in range(int(many)):
            enter(uuid.uuid4())
        return
    hands = [threading.Thread(target=all_of, args=(int(many),)) for _ in range(int(threads))]
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join()


def all_of(many: int) -> None:
    """Every entry until it is answered, whoever else sends the same."""
    from django.db import connections

    for number in range(1, many + 1):
        entry = uuid.UUID(int=SAME.int + number)
        while enter(entry) not in (200, 201):
            time.sleep(AGAIN_AFTER_S)
    connections.close_all()


def enter(entry: uuid.UUID) -> int:
    """One draw of 1 mg sent, and its answer said."""
    from django.test import Client

    say("asked", entry)
    body: dict[str, Any] = {
        "id": str(entry),
        "occurred_at": "2026-11-23T09:00:00+00:00",
        "takes": [{"lot": "AV-0911", "amount": "0.001 g"}],
    }
    answer = Client(raise_request_exception=False).post(
        "/api/v1/entries/draw/",
        body,
        content_type="application/json",
        headers={"host": "127.0.0.1"},
    )
    say(answer.status_code, entry, answer.content.decode())
    return answer.status_code


def say(*words: object) -> None:
    """One line, written at once, so that it is known even if the next moment is the last."""
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


if __name__ == "__main__":
    main(*sys.argv[1:])
