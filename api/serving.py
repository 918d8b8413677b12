"""How the pages are served for good: one process of gunicorn, to this machine or its network."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

# One process: SQLite has one writer, and the limits of requests are counted in it.
WORKERS, THREADS = 1, 16
# A phone that reads one page after the other greets once.
KEEP_ALIVE_S = 20
ALL_ADDRESSES, THIS_MACHINE = "0.0.0.0", "127.0.0.1"
ANY_OF_OURS = "DYE_LARDER_HOSTS"


def command(*, host: str, port: int, pem: Path | None = None) -> list[str]:
    """The words that start the server."""
    return [sys.executable, "-m", "gunicorn", *_options(host, port, pem), "api.wsgi:application"]


def _options(host: str, port: int, pem: Path | None) -> Iterator[str]:
    yield from ("--bind", f"{host}:{port}")
    yield from ("--workers", str(WORKERS), "--worker-class", "gthread", "--threads", str(THREADS))
    yield from ("--keep-alive", str(KEEP_ALIVE_S), "--log-level", "warning")
    yield from ("--config", "python:api.https.renewing")
    if pem is not None:
        yield from ("--certfile", str(pem), "--keyfile", str(pem))


def environment(
    names: Sequence[str], *, address: str, kept: Mapping[str, str] = os.environ
) -> dict[str, str]:
    """What the server is told: the names it answers to; whoever comes in from them signs in."""
    named = [name for name in kept.get(ANY_OF_OURS, "").split(",") if name.strip()]
    told = {**kept, ANY_OF_OURS: ",".join(dict.fromkeys((*named, *names)))}
    return {**told, "DYE_LARDER_ADDRESS": kept.get("DYE_LARDER_ADDRESS") or address}
