"""Letters and a mail server for the tests of what goes out."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from api.environment import Mail
from api.reminders.letter import Letter

AT = datetime(2026, 11, 23, 7, tzinfo=UTC)
HOUR = timedelta(hours=1)
SENDER = "larder@yard.example"
DOMAIN = "yard.example"


def letter(key: str = "dip/FE-1102/2026-11-23", **other: Any) -> Letter:
    """A letter that is due at seven and of use till noon."""
    known: dict[str, Any] = {
        "kind": "dip",
        "to": "mara@yard.example",
        "at": AT,
        "until": AT + 5 * HOUR,
        "subject": "Jar FE-1102 can be dipped",
        "text": "Jar FE-1102 is ready for a strip today.",
    }
    return Letter(key=key, **{**known, **other})


@dataclass(frozen=True)
class MailServer:
    """A running server, and the letters that it took."""

    port: int
    file: Path

    @property
    def mail(self) -> Mail:
        return Mail(sender=SENDER, wait_s=5, host="127.0.0.1", port=self.port)

    @property
    def address(self) -> str:
        return f"smtp://127.0.0.1:{self.port}"

    def taken(self) -> Counter[str]:
        """How often each Message-ID was taken."""
        return Counter(line.split()[0] for line in self._lines())

    def readers(self) -> Counter[str]:
        """How often a letter for each reader was taken."""
        return Counter(line.split()[1] for line in self._lines())

    def _lines(self) -> list[str]:
        return self.file.read_text("utf-8").splitlines() if self.file.exists() else []


@contextmanager
def mail_server(folder: Path, *words: str) -> Iterator[MailServer]:
    """A mail server in a process of its own, ended afterwards."""
    file = folder / "taken"
    program = Path(__file__).with_name("mail_server.py")
    with subprocess.Popen(
        [sys.executable, str(program), str(file), *words], stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        try:
            yield MailServer(int(process.stdout.readline()), file)
        finally:
            process.kill()
