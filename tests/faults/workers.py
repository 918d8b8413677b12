"""Real workers, a Redis of their own, a mail server: started, stopped, killed, emptied."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO

import redis

from tests.api.reminders.postbox import SENDER, MailServer
from tests.faults.places import Larder, printed
from tests.inventory.scratch import ROOT

LETTERS = Path(__file__).with_name("letter_hands.py")
# The command of the paper, with a pool of a size.
WORKER = ("-m", "celery", "-A", "api.celery", "worker", "--loglevel", "WARNING", "-c", "2")
PATIENCE_S = 300
WAIT_S = 2  # for the mail server: a letter in a killed hand is free again after twice as long
OPEN = "SELECT count(*) FROM api_outboxletter WHERE sent_at IS NULL AND let_go_at IS NULL"
SENT = "SELECT count(*) FROM api_outboxletter WHERE sent_at IS NOT NULL"
REPEATS = "SELECT message_id, repeats FROM api_outboxletter WHERE repeats > 0"


def until(true: Callable[[], bool], *, patience_s: int = PATIENCE_S) -> float:
    """Look often till something is true; how long it took."""
    began = time.monotonic()
    while not true():
        assert time.monotonic() < began + patience_s, "it did not get there"
        time.sleep(0.05)
    return time.monotonic() - began


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as free:
        return int(free.getsockname()[1])


@dataclass
class Broker:
    """A Redis of one test, which keeps nothing once it is ended."""

    folder: Path
    port: int = field(default_factory=free_port)
    process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return f"redis://127.0.0.1:{self.port}/0"

    def start(self) -> None:
        words = ["--port", str(self.port), "--bind", "127.0.0.1", "--save", ""]
        self.process = subprocess.Popen(
            ["redis-server", *words, "--appendonly", "no", "--dir", str(self.folder)],
            stdout=subprocess.DEVNULL,
        )
        until(self._answers)

    def _answers(self) -> bool:
        try:
            with redis.Redis(port=self.port, socket_timeout=1) as line:
                return bool(line.ping())
        except redis.RedisError:
            return False

    def end(self) -> None:
        if self.process is not None:
            self.process.kill()
            self.process.wait()
            self.process = None

    def mute(self, *, on: bool) -> None:
        """It takes connections and says nothing, or goes on."""
        assert self.process is not None
        self.process.send_signal(signal.SIGSTOP if on else signal.SIGCONT)

    def empty(self) -> int:
        """Everything thrown away; how many jobs lay there."""
        with redis.Redis(port=self.port) as line:
            jobs = int(line.llen("dye-larder"))  # type: ignore[arg-type]
            line.flushall()
        return jobs


@contextmanager
def broker(folder: Path) -> Iterator[Broker]:
    """A Redis of its own, ended afterwards."""
    one = Broker(folder)
    one.start()
    try:
        yield one
    finally:
        one.end()


def with_mail(place: Larder, server: MailServer, **more: str) -> Larder:
    """The same larder with mail set up; what is due is what the tests lay down."""
    return Larder(
        {
            **place.environment,
            "DYE_LARDER_MAIL": server.address,
            "DYE_LARDER_MAIL_FROM": SENDER,
            "DYE_LARDER_MAIL_WAIT": str(WAIT_S),
            "DJANGO_SETTINGS_MODULE": "tests.api.reminders.settings_of_tests",
            **more,
        }
    )


def file_letters(place: Larder, many: int, reader: str) -> set[str]:
    """Letters that are due now; the Message-ID of each."""
    return set(printed(place.hand_of(LETTERS, "file", str(many), reader)).splitlines())


@dataclass
class Crew:
    """Processes that bring letters out, each with all that it started, ended by SIGKILL."""

    place: Larder
    log: IO[bytes]
    words: tuple[str, ...]
    processes: list[subprocess.Popen[bytes]] = field(default_factory=list)

    def start(self, *words: str) -> None:
        self.processes.append(
            subprocess.Popen(
                [sys.executable, *self.words, *words],
                cwd=ROOT,
                env=self.place.environment,
                stdout=self.log,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        )

    def kill_oldest(self) -> None:
        process = self.processes.pop(0)
        assert process.poll() is None, "it ended by itself"
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()


@contextmanager
def crew(place: Larder, folder: Path, *words: str) -> Iterator[Crew]:
    """Nobody yet; whoever is started is ended afterwards."""
    with (folder / "log").open("wb") as log:
        team = Crew(place, log, words)
        try:
            yield team
        finally:
            while team.processes:
                process = team.processes.pop()
                if process.poll() is None:
                    os.killpg(process.pid, signal.SIGKILL)
                process.wait()


def surplus(place: Larder, server: MailServer, ids: set[str]) -> tuple[int, int]:
    """How many went out twice and how many perhaps did; the first are all among the second."""
    taken, repeats = server.taken(), dict(place.rows(REPEATS))
    assert {name for name in taken if name in ids} == ids, "a letter did not go out"
    more = {name: times - 1 for name, times in taken.items() if name in ids and times > 1}
    assert all(times <= repeats.get(name, 0) for name, times in more.items()), (more, repeats)
    return sum(more.values()), sum(times for name, times in repeats.items() if name in ids)
