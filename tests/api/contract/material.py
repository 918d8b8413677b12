"""What is handed to the contract at length: moments, bundles, and the way there."""

from __future__ import annotations

import io
import random
import zipfile
from datetime import UTC, datetime
from typing import Any

import schemathesis
from hypothesis import strategies
from schemathesis.transport.wsgi import WSGITransport

ZIP = "application/zip"
STUDIOS = ("Pellitory Yard", "Kelpwick Loft", "Wash House", "pellitory yard", "=1+1", "")
POWERS = ("3.5 kW", "4 kW", "0 kW", "hot", "", "1e9 kW", "3.5")


def prepare() -> None:
    """Tell schemathesis, once in a process."""
    moments()
    bundles()
    in_process()


def moments() -> None:
    """Moments of the years that a studio can ask for; the form of the contract knows no years."""
    found = strategies.datetimes(
        min_value=datetime(1900, 1, 2),  # noqa: DTZ001
        max_value=datetime(2199, 12, 30),  # noqa: DTZ001
        timezones=strategies.just(UTC),
    )
    schemathesis.openapi.format(
        "date-time", found.map(lambda at: at.replace(microsecond=0).isoformat())
    )


def bundles() -> None:
    """A zip file goes out as its bytes, and a text stands for one."""

    @schemathesis.serializer(ZIP)
    def packed(context: object, value: object) -> bytes:
        if isinstance(value, bytes):
            return value
        return bundle_of(value) if isinstance(value, str) and value else str(value or "").encode()


def bundle_of(text: str) -> bytes:
    """Always the same notebook of some pages, sound or not, whole, cut short, or none at all."""
    chance = random.Random(text)
    pages = {"studio.csv": f"studio,zone\n{chance.choice(STUDIOS)},Europe/London\n"}
    if chance.random() < 0.7:
        pages["notebook/rings.csv"] = f"ring,power\nR1,{chance.choice(POWERS)}\n"
    if chance.random() < 0.3:
        pages["sites.csv"] = f"site\n{text[:40]}\n"
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w") as bundle:
        for name, page in pages.items():
            bundle.writestr(name, page.encode(errors="replace"))
    whole = raw.getvalue()
    return chance.choice((whole, whole, whole, whole[:50], text.encode(errors="replace")))


def in_process() -> None:
    """Leave out what only a network could be told; this release hands it on and stumbles."""
    send = WSGITransport.send

    def sent(self: Any, case: Any, *, session: Any = None, **told: Any) -> Any:
        for name in ("max_redirects", "verify", "cert", "proxies"):
            told.pop(name, None)
        return send(self, case, session=session, **told)

    WSGITransport.send = sent  # type: ignore[method-assign]
