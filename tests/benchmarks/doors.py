"""Every address that shows something, asked as a server asks it, with all its middleware."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from io import BytesIO
from typing import Any

from api.templating import kept
from sourcing.remembered import forget

MOMENT = "at=2026-11-23T07:30"  # the Monday that the demo notebook was written for
THING = "/figures/dyestuff/avocado-stones/"
PAGES = (
    "/",
    "/shelves/",
    "/sources/",
    "/coming/",
    "/missed/",
    "/orders/",
    "/put-by/",
    "/totals/",
    "/reminders/",
    "/figures/",
    "/figures/cautions/",
    THING,
)
DOORS = (
    *PAGES,
    "/sheet.txt",
    "/api/v1/week/",
    "/api/v1/shelves/",
    "/api/v1/sources/",
    "/api/v1/orders/",
    "/api/v1/figures/",
)
Served = tuple[int, dict[str, str], bytes]


class Service:
    """The service without a socket: an address in, status, heads and body out."""

    def __init__(self) -> None:
        from django.conf import settings
        from django.core.wsgi import get_wsgi_application

        settings.ALLOWED_HOSTS = ["127.0.0.1"]
        settings.ROOT_URLCONF = "tests.benchmarks.plain"  # ours, and the bare ones beside them
        self._application = get_wsgi_application()

    def get(self, address: str, *, gzip: bool = False, token: str = "") -> Served:
        """What an address answers, its week worked out anew; anything but 200 stops the run."""
        forget()
        heads: dict[str, Any] = {}

        def start(
            status: str, pairs: list[tuple[str, str]], fault: Any = None, /
        ) -> Callable[[bytes], object]:
            heads.update(pairs)
            heads["status"] = int(status.split()[0])
            return lambda _: None

        found = self._application(_environ(address, gzip=gzip, token=token), start)
        body = b"".join(found)
        found.close()
        status = heads.pop("status")
        if status != 200:
            raise SystemExit(f"{address} answered {status}: {body[:400].decode(errors='replace')}")
        return status, heads, body

    def visit(self, address: str, *, token: str = "") -> Callable[[], Served]:
        """An action that asks for an address."""
        return lambda: self.get(address, token=token)

    def anew(self, address: str) -> Callable[[], Served]:
        """An action that asks for an address of which no piece is kept."""

        def ask() -> Served:
            kept.forget()
            return self.get(address)

        return ask

    def counted(self, address: str) -> tuple[int, float]:
        """How many questions one request for an address asks the database, and its seconds."""
        from django.db import connection
        from django.test.utils import CaptureQueriesContext

        with CaptureQueriesContext(connection) as asked:
            since = time.perf_counter()
            self.get(address)
            seconds = time.perf_counter() - since
        return len(asked), seconds


def at(address: str, **more: str) -> str:
    """An address seen from the demo's Monday."""
    return "&".join([f"{address}?{MOMENT}", *(f"{key}={value}" for key, value in more.items())])


def _environ(address: str, *, gzip: bool, token: str) -> dict[str, Any]:
    path, _, query = address.partition("?")
    environ = {
        "REQUEST_METHOD": "GET",
        "PATH_INFO": path,
        "QUERY_STRING": query,
        "REMOTE_ADDR": "127.0.0.1",
        "SERVER_NAME": "127.0.0.1",
        "SERVER_PORT": "80",
        "SERVER_PROTOCOL": "HTTP/1.1",
        "HTTP_HOST": "127.0.0.1",
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": "http",
        "wsgi.input": BytesIO(),
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": False,
        "wsgi.multiprocess": False,
        "wsgi.run_once": False,
    }
    shown = {"HTTP_AUTHORIZATION": f"Bearer {token}"} if token else {}
    return environ | shown | ({"HTTP_ACCEPT_ENCODING": "gzip"} if gzip else {})
