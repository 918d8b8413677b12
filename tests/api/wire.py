"""The service on a port of this machine, and requests written byte by byte."""

from __future__ import annotations

import json
import re
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from email.parser import BytesParser
from typing import Any

from django.core.handlers.wsgi import WSGIHandler
from django.core.servers.basehttp import ThreadedWSGIServer, WSGIRequestHandler

PATIENCE_S = 60


class _Quiet(WSGIRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:
        pass


@dataclass(frozen=True)
class Heard:
    """What came back, read as one answer: as long as it says, else until the line was closed."""

    status: int
    headers: dict[str, str]
    body: bytes
    answers: int  # that begin in what came back

    @property
    def problem(self) -> dict[str, Any]:
        assert self.headers["content-type"] == "application/problem+json", self.body[:200]
        found: dict[str, Any] = json.loads(self.body)
        assert found["status"] == self.status
        return found


@dataclass(frozen=True)
class Wire:
    """A way to the service."""

    port: int

    def ask(self, head: str | bytes, body: bytes = b"", *, host: str = "127.0.0.1") -> Heard:
        """Send a head as it stands, its Host and an end after it, and hear all that comes."""
        first, _, more = (head if isinstance(head, bytes) else head.encode()).partition(b"\n")
        lines = [first, f"Host: {host}".encode(), *(more.split(b"\n") if more else [])]
        raw = b"\r\n".join(lines) + b"\r\nConnection: close\r\n\r\n" + body
        with socket.create_connection(("127.0.0.1", self.port), PATIENCE_S) as line:
            line.sendall(raw)
            heard = b""
            while not _is_whole(heard) and (piece := line.recv(65536)):
                heard += piece
        return _read(heard)


def _is_whole(heard: bytes) -> bool:
    """Whether an answer that says how long it is has come; any other ends with the line."""
    head, end, body = heard.partition(b"\r\n\r\n")
    length = re.search(rb"\r\nContent-Length: (\d+)", head)
    return bool(end) and length is not None and len(body) >= int(length[1])


def _read(heard: bytes) -> Heard:
    head, _, body = heard.partition(b"\r\n\r\n")
    first, _, rest = head.partition(b"\r\n")
    headers = BytesParser().parsebytes(rest)
    named = {name.lower(): value for name, value in headers.items()}
    return Heard(int(first.split()[1]), named, body, heard.count(b"HTTP/1.1 "))


@contextmanager
def served() -> Iterator[Wire]:
    """The service as the demo serves it, without a database of its own."""
    server = ThreadedWSGIServer(("127.0.0.1", 0), _Quiet)
    server.daemon_threads = True
    server.set_app(WSGIHandler())
    thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    try:
        yield Wire(server.server_port)
    finally:
        server.shutdown()
        server.server_close()
        thread.join(PATIENCE_S)
