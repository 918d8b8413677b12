"""The pins: every package has its hashes, no address is named, and testing adds to running."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

DEPS = Path(__file__).resolve().parent.parent / ".deps"


def _pins(kind: str) -> dict[str, str]:
    """Name and marker of each pin, with everything that stands under it."""
    text = (DEPS / f"{kind}.txt").read_text(encoding="utf-8")
    blocks = re.split(r"\n(?=\S)", text.strip())
    return {block.split(" \\")[0].strip(): block for block in blocks}


def _asked(kind: str) -> set[str]:
    lines = (DEPS / f"{kind}.in").read_text(encoding="utf-8").splitlines()
    names = (re.match(r"[a-z0-9-]+", line) for line in lines if not line.startswith("-"))
    return {name.group() for name in names if name}


@pytest.mark.parametrize("kind", ["run", "test"])
def test_every_pin_is_one_version_with_its_hashes(kind: str) -> None:
    for pin, block in _pins(kind).items():
        assert re.match(r"[a-z0-9.-]+==\S+( ; .+)?$", pin), pin
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", block), pin


@pytest.mark.parametrize("kind", ["run", "test"])
def test_everything_that_is_asked_for_is_pinned(kind: str) -> None:
    names = {pin.split("==")[0] for pin in _pins(kind)}

    assert _asked(kind) <= names


def test_what_is_tested_is_what_runs() -> None:
    run, test = _pins("run"), _pins("test")

    assert {pin: test.get(pin) for pin in run} == run


def test_no_pin_names_an_address() -> None:
    for file in DEPS.iterdir():
        assert "://" not in file.read_text(encoding="utf-8"), file.name
