"""From a clone to the sheet: one command with a bare Python; minutes, so only where asked for."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.benchmarks.rows import Row
from tests.benchmarks.setting import Setting
from tests.inventory.scratch import ROOT

BUDGET_S = 60
OURS = ("DATABASE_URL", "REDIS_URL", "DYE_LARDER_STATE", "DJANGO_SETTINGS_MODULE", "PYTHONPATH",
        "VIRTUAL_ENV")  # fmt: skip
COUNTED = (
    "demo: the last commit cloned into an empty folder, then `python3 manage.py demo --no-serve` "
    "by the Python that this environment was made of, to the end of its sheet; the network as it "
    "is. Bare: an environment made and the same pins installed by hand, after it, so it may find "
    "packages that were kept on the way."
)


def demo(setting: Setting) -> Iterator[Row]:
    """One row, in a slow run."""
    if not setting.slow:
        return
    with tempfile.TemporaryDirectory(prefix="dye-larder-clone-") as folder:
        clone = Path(folder) / "clone"
        _timed(["git", "clone", "--quiet", str(ROOT), str(clone)], Path(folder))
        took = _timed([_bare_python(), "manage.py", "demo", "--no-serve"], clone)
        bare = _by_hand(clone, Path(folder) / "venv")
    yield Row(
        "demo from clone to sheet", f"{took:.1f} s", f"{bare:.1f} s pins by hand",
        ratio=took / bare, budget=f"≤ {BUDGET_S} s", met=took <= BUDGET_S, counted=COUNTED,
    )  # fmt: skip


def _by_hand(clone: Path, venv: Path) -> float:
    pins = str(clone / ".deps" / "run.txt")
    made = _timed([_bare_python(), "-m", "venv", str(venv)], clone)
    words = ["-m", "pip", "install", "--quiet", "--require-hashes", "-r", pins]
    return made + _timed([str(venv / "bin" / "python"), *words], clone)


def _timed(command: Sequence[str], folder: Path) -> float:
    """Seconds of a command in a folder, with nothing of our own environment."""
    environ = {name: value for name, value in os.environ.items() if name not in OURS}
    since = time.perf_counter()
    done = subprocess.run(command, cwd=folder, env=environ, capture_output=True, text=True,
                          check=False)  # fmt: skip
    if done.returncode:
        raise SystemExit(done.stdout + done.stderr)
    return time.perf_counter() - since


def _bare_python() -> str:
    """The Python outside the environment that runs this."""
    return str(Path(sys.base_prefix) / "bin" / "python3")
