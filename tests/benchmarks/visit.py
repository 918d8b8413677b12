"""A first visit to each page: bytes and requests, the page with every file that it names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from gzip import decompress
from urllib.parse import urljoin

from tests.benchmarks.doors import PAGES, Service, at
from tests.benchmarks.grown import times
from tests.benchmarks.rows import Row, number
from tests.benchmarks.setting import Setting

KB, REQUESTS = 60, 6
COUNTED = (
    "visit: bodies as served to a browser that takes gzip, of the demo's studio and, as said, at "
    "{many} times its data; the page, then every style sheet, picture, font and script that it or "
    "a style sheet names, nothing kept from before. A kB is 1,000 bytes. Bare: the page alone."
)
# What a browser fetches by itself: not where a link only leads.
FETCHED = re.compile(
    r"<link\b[^>]*\bhref=\"([^\"]+)\"|<(?:img|script|source|iframe|use|image)\b[^>]*"
    r"\b(?:src|href)=\"([^\"#][^\"]*)\""
)
IN_A_SHEET = re.compile(r"(?:url\(|@import\s+)[\"']?([^\"')#;]+)")


def visit(setting: Setting) -> Iterator[Row]:
    """Two rows for each page, then the longest page of one thing."""
    from sourcing.notebook.load import load_files

    many = 1 if setting.quick else 100
    service, counted = Service(), COUNTED.format(many=many)
    for size in sorted({1, many}):
        if setting.larders.use(f"times {size}"):
            load_files(times(size))
        for address in PAGES:
            yield from _rows(service, address, "" if size == 1 else f" at {size} times", counted)
    setting.larders.use("times 1")
    yield from _rows(service, _longest(service, quick=setting.quick), ", the longest", counted)


def _rows(service: Service, address: str, words: str, counted: str) -> Iterator[Row]:
    files = fetched(service, at(address))
    page, whole = next(iter(files.values())) / 1000, sum(files.values()) / 1000
    yield Row(
        f"{address}{words} kB", f"{number(whole)} kB", f"{number(page)} kB the page alone",
        ratio=whole / page, budget=f"≤ {KB} kB", met=whole <= KB, counted=counted,
    )  # fmt: skip
    yield Row(
        f"{address}{words} requests", str(len(files)), "1 the page alone", ratio=len(files),
        budget=f"≤ {REQUESTS}", met=len(files) <= REQUESTS, counted=counted,
    )  # fmt: skip


def fetched(service: Service, address: str) -> dict[str, int]:
    """Bytes over the wire of an address and of all that it makes a browser fetch, it first."""
    _, heads, body = service.get(address, gzip=True)
    files = {address: len(body)}
    plain = decompress(body) if heads.get("Content-Encoding") == "gzip" else body
    named = FETCHED if "html" in heads["Content-Type"] else IN_A_SHEET
    for found in named.finditer(plain.decode(errors="replace")):
        file = urljoin(address, next(filter(None, found.groups())))
        if file not in files and not file.startswith("data:"):
            files |= fetched(service, file)
    return files


def _longest(service: Service, *, quick: bool) -> str:
    """The address of the thing whose page has most to it."""
    text = service.get(at("/figures/"))[2].decode()
    found: list[str] = sorted(set(re.findall(r"href=\"(/figures/[a-z-]+/[a-z0-9-]+/)", text)))
    return max(found[:5] if quick else found, key=lambda address: len(service.get(at(address))[2]))
