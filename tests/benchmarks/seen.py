"""What a phone on a slow line sees: the largest paint, what jumps, bytes and files, in Chromium."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median
from typing import Any
from urllib.parse import urlsplit

from api import suite
from tests.benchmarks.crowd import environment_of
from tests.benchmarks.doors import at
from tests.benchmarks.grown import times
from tests.benchmarks.rows import Row, ms, number
from tests.benchmarks.setting import Setting

PAINT_S, JUMPS = 1.0, 0.02
KB, REQUESTS = 60, 6
# A mobile line that is called slow: 150 ms there and back, 1.6 Mbit/s in, 0.75 Mbit/s out.
LINE = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_600_000 / 8,
    "uploadThroughput": 750_000 / 8,
}
SLOWER = 4
COUNTED = (
    "seen: Debian's Chromium as a phone, nothing kept from before, its processor {slower} times as "
    "slow, {latency} ms there and back, 1.6 Mbit/s; one page of each kind of the demo's studio, "
    "median of {rounds}. Largest paint and how far things jump; bytes and files as they came over "
    "the wire. Bare: a page of one line that nothing of ours answers, in the same browser."
)
WATCHING = """
window.paint = 0; window.jumps = 0;
new PerformanceObserver((list) => { for (const each of list.getEntries()) paint = each.startTime; })
  .observe({type: "largest-contentful-paint", buffered: true});
new PerformanceObserver((list) => { for (const each of list.getEntries()) jumps += each.value; })
  .observe({type: "layout-shift", buffered: true});
"""


@dataclass(frozen=True, slots=True)
class Visit:
    """One opening of a page."""

    paint_s: float
    jumps: float
    kb: float
    files: int


def seen(setting: Setting) -> Iterator[Row]:
    """Two rows for each kind of page; none where there is no browser."""
    if suite.chromium() is None:
        print("No Chromium here; the rows of `seen` are left out.", file=sys.stderr)
        return
    from sourcing.notebook.load import load_files
    from tests.api.web.browser.looks import opened_browser
    from tests.api.web.browser.server import BARE, serving

    if setting.larders.use("times 1"):
        load_files(times(1))
    rounds = setting.rounds(3, few=1)
    counted = COUNTED.format(slower=SLOWER, latency=LINE["latency"], rounds=rounds)
    with serving(environment_of(setting)) as service:
        # To find the pages each is read, which takes longer than to look at one.
        addresses = [at("/")] if setting.quick else _one_of_each(service)
        with opened_browser() as browser:
            bare = _median([_visit(browser, service, BARE) for _ in range(rounds)])
            for address in addresses:
                one = _median([_visit(browser, service, address) for _ in range(rounds)])
                yield from _rows(urlsplit(address).path, one, bare, counted)


def _one_of_each(service: str) -> list[str]:
    """The first page of each name in the address book."""
    from django.urls import Resolver404, resolve

    from tests.api.web.browser.addresses import pages

    found: dict[str, str] = {}
    for address in pages(service):
        try:
            found.setdefault(str(resolve(urlsplit(address).path).url_name), address)
        except Resolver404:
            found.setdefault("refused", address)
    return list(found.values())


def _visit(browser: Any, service: str, address: str) -> Visit:
    from tests.api.web.browser.looks import looked_at

    with looked_at(browser, "phone", service) as context:
        page = context.new_page()
        page.add_init_script(WATCHING)
        line = context.new_cdp_session(page)
        line.send("Network.enable")
        line.send("Network.emulateNetworkConditions", LINE)
        line.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        came: list[float] = []
        line.on("Network.loadingFinished", lambda said: came.append(said["encodedDataLength"]))
        page.goto(address)
        page.wait_for_timeout(300)  # what is painted or jumps after the last file came
        paint, jumps = page.evaluate("[paint, jumps]")
    return Visit(paint / 1000, jumps, sum(came) / 1000, len(came))


def _median(visits: list[Visit]) -> Visit:
    return Visit(
        median(one.paint_s for one in visits),
        median(one.jumps for one in visits),
        median(one.kb for one in visits),
        max(one.files for one in visits),
    )


def _rows(what: str, one: Visit, bare: Visit, counted: str) -> Iterator[Row]:
    yield Row(
        f"{what} paint", f"{ms(one.paint_s)}, jumps {one.jumps:.3f}", ms(bare.paint_s),
        ratio=one.paint_s / bare.paint_s, budget=f"≤ {PAINT_S} s, {JUMPS}",
        met=one.paint_s <= PAINT_S and one.jumps <= JUMPS, counted=counted,
    )  # fmt: skip
    yield Row(
        f"{what} wire", f"{number(one.kb)} kB in {one.files}", f"{number(bare.kb)} kB in 1",
        ratio=one.kb / bare.kb, budget=f"≤ {KB} kB in {REQUESTS}",
        met=one.kb <= KB and one.files <= REQUESTS, counted=counted,
    )  # fmt: skip
