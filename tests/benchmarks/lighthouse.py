"""What the web's general audit says of our pages: Lighthouse as a phone, in Debian's Chromium.

Minutes, and Lighthouse comes from npm the first time, so only where it is asked for by its name.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from typing import Any

from api import suite
from tests.benchmarks.crowd import environment_of
from tests.benchmarks.doors import at
from tests.benchmarks.grown import times
from tests.benchmarks.rows import Row
from tests.benchmarks.setting import Setting

VERSION = "12.8.2"  # the last that Node 18 to 22 run
PAGES = ("/", "/today/", "/shelves/", "/note/", "/ask/", "/figures/")
LEAST = {"performance": 98, "accessibility": 100, "best-practices": 100}
COUNTED = (
    "lighthouse: Lighthouse {version} in Debian's Chromium as its phone, which it reckons at four "
    "times slower, 150 ms there and back, 1.6 Mbit/s; the demo's studio, a browser in which "
    "nothing was kept, median of {rounds}. Bare: a page of one line that nothing of ours answers."
)
FLAGS = "--headless=new --no-sandbox --disable-gpu --disable-quic --lang=en-GB"
TRIES = 4  # now and then the browser keeps no trace of a page, and Lighthouse asks to go on anew
Scores = dict[str, float]


def lighthouse(setting: Setting) -> Iterator[Row]:
    """Three rows for each page; none where there is no browser or no Node."""
    from sourcing.notebook.load import load_files
    from tests.api.web.browser.server import BARE, serving

    browser, program = suite.chromium(), _program()
    if browser is None or program is None:
        print("No Chromium or no Lighthouse here; its rows are left out.", file=sys.stderr)
        return
    if setting.larders.use("times 1"):
        load_files(times(1))
    rounds = setting.rounds(3, few=1)
    counted = COUNTED.format(version=VERSION, rounds=rounds)
    environment = {**environment_of(setting), "DYE_LARDER_LIMITS": "off"}
    with serving(environment) as service:
        command = [*program, browser]
        bare = _median(command, service + BARE, rounds)
        for page in PAGES[:1] if setting.quick else PAGES:
            scores = _median(command, service + at(page), rounds)
            yield from _rows(page, scores, bare, counted)


def cache_folder() -> Path:
    """Where Lighthouse is kept once it was fetched."""
    named = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(named) / "dye-larder" / f"lighthouse-{VERSION}"


def _program() -> list[str] | None:
    """Node with Lighthouse, fetched where it is not there yet; None without Node."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        return None
    folder = cache_folder()
    main = folder / "node_modules" / "lighthouse" / "cli" / "index.js"
    if not main.exists():
        folder.mkdir(parents=True, exist_ok=True)
        words = ["install", "--no-save", "--ignore-scripts", "--no-audit", "--no-fund"]
        asked = [npm, *words, "--prefix", str(folder), f"lighthouse@{VERSION}"]
        subprocess.run(asked, check=True, stdout=sys.stderr)
    return [node, str(main)]


def _median(command: list[str], address: str, rounds: int) -> Scores:
    """The median of each score of an address, 0 to 100."""
    found = [_scores(command, address) for _ in range(rounds)]
    return {name: median(each[name] for each in found) for name in LEAST}


def _scores(command: list[str], address: str) -> Scores:
    *program, browser = command
    with tempfile.TemporaryDirectory(prefix="dye-larder-lighthouse-") as folder:
        told = Path(folder) / "told.json"
        words = [address, "--quiet", "--output=json", f"--output-path={told}",
                 f"--only-categories={','.join(LEAST)}", f"--chrome-flags={FLAGS}"]  # fmt: skip
        environment = {**os.environ, "CHROME_PATH": browser, "TMPDIR": folder}
        for _ in range(TRIES):
            done = subprocess.run(
                [*program, *words], env=environment, capture_output=True, text=True, check=False,
                timeout=300,
            )  # fmt: skip
            if not done.returncode and told.exists():
                break
        else:
            raise SystemExit(f"{address}: {done.stderr[-2000:]}")
        report = json.loads(told.read_text(encoding="utf-8"))
    for line in _wants(report):
        print(f"  {address}: {line}", file=sys.stderr)
    return {name: round(report["categories"][name]["score"] * 100) for name in LEAST}


def _wants(report: dict[str, Any]) -> Iterator[str]:
    """What cost a page some of its score."""
    for name in LEAST:
        for part in report["categories"][name]["auditRefs"]:
            audit = report["audits"][part["id"]]
            if part["weight"] and audit["score"] is not None and audit["score"] < 0.9:
                yield f"{name}, {part['id']} {audit['score']:.2f} {audit.get('displayValue', '')}"


def _rows(page: str, scores: Scores, bare: Scores, counted: str) -> Iterator[Row]:
    for name, least in LEAST.items():
        yield Row(
            f"{page} {name}", f"{scores[name]:g}", f"{bare[name]:g}",
            ratio=scores[name] / bare[name], budget=f"≥ {least}", met=scores[name] >= least,
            counted=counted,
        )  # fmt: skip
