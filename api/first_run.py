"""What a bare Python does on the first call: make `.venv` from the pinned packages and go on in it.

It runs before anything is installed, so it uses the standard library only.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# These settings of pip would send the packages somewhere else than into `.venv`.
MISLEADING = ("PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_REQUIRE_VIRTUALENV")


def enter_environment(argv: Sequence[str]) -> None:
    """Return at once inside an environment; else make `.venv` when needed and start anew in it.

    A bare Python always goes through `.venv`, even one that has Django of its own, so that what
    runs is what is pinned.
    """
    kind = "test" if list(argv[1:2]) == ["test"] else "run"
    if inside_environment(sys.prefix, sys.base_prefix, os.environ):
        _stop_when_bare(kind)
        return
    ensure_built(ROOT / ".venv", ROOT / ".deps", kind=kind)
    _start_anew(interpreter(ROOT / ".venv"), argv)


def inside_environment(prefix: str, base_prefix: str, environ: Mapping[str, str]) -> bool:
    """True in a virtual environment of any make."""
    return prefix != base_prefix or environ.get("CONDA_PREFIX") == prefix


def interpreter(venv: Path) -> Path:
    """The Python inside an environment."""
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def ensure_built(venv: Path, pins: Path, *, kind: str) -> None:
    """Leave `venv` holding what the pins ask for; the second of two callers waits for the first."""
    if is_built(venv, pins, kind=kind):
        return
    with _alone(pins / "run.txt") as lock:
        # Asked again: the one we waited for may have done it.
        if not is_built(venv, pins, kind=kind):
            _build(venv, pins, kind=kind, lock=lock)


def is_built(venv: Path, pins: Path, *, kind: str) -> bool:
    """True when the stamp in `venv` names the pins as they are today."""
    stamp = venv / "pins"
    if not interpreter(venv).exists() or not stamp.exists():
        return False
    return _mark(pins, kind) in stamp.read_text(encoding="utf-8").splitlines()


def _build(venv: Path, pins: Path, *, kind: str, lock: int) -> None:
    file = pins / f"{kind}.txt"
    # The test pins hold the run pins, so they go on top of an environment that is only run-ready.
    fresh = not is_built(venv, pins, kind="run")
    print(f"Making {venv.name} from {pins.name}/{file.name}; this happens once.", file=sys.stderr)
    if fresh:
        _stop_without_venv()
        (venv / "pins").unlink(missing_ok=True)
        _call([sys.executable, "-m", "venv", "--clear", str(venv)], lock, "make the environment")
    wanted = ["install", "--quiet", "--no-input", "--disable-pip-version-check", "--require-hashes"]
    _call(
        [str(interpreter(venv)), "-m", "pip", *wanted, "-r", str(file)],
        lock,
        f"fetch the packages of {pins.name}/{file.name} (the first call needs the network)",
    )
    # Written last: a build that was cut short has no stamp and is begun afresh.
    kinds = ["run", "test"] if kind == "test" else ["run"]
    stamp = "".join(f"{_mark(pins, each)}\n" for each in kinds)
    beside = venv / "pins.new"
    beside.write_text(stamp, encoding="utf-8")
    beside.replace(venv / "pins")


def _mark(pins: Path, kind: str) -> str:
    return f"{kind} {hashlib.sha256((pins / f'{kind}.txt').read_bytes()).hexdigest()}"


def _stop_without_venv() -> None:
    if all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        return
    version = f"{sys.version_info.major}.{sys.version_info.minor}"
    sys.exit(
        f"This Python {version} cannot make an environment: install python3-venv "
        f"(`apt install python{version}-venv` on Debian and Ubuntu) and call again."
    )


def _stop_when_bare(kind: str) -> None:
    needed = "pytest" if kind == "test" else "django"
    if importlib.util.find_spec(needed) is None:
        sys.exit(
            f"The environment {sys.prefix} has no {needed}: "
            f"`python -m pip install --require-hashes -r .deps/{kind}.txt` fills it, or leave it "
            "with `deactivate` and call again."
        )


def _call(command: list[str], lock: int, purpose: str) -> None:
    environ = {name: value for name, value in os.environ.items() if name not in MISLEADING}
    # The child holds the lock too: should we be killed, nobody starts while it still writes.
    held = (lock,) if os.name != "nt" else ()
    try:
        done = subprocess.run(
            command, env=environ, pass_fds=held, capture_output=True, text=True, check=False
        )
    except KeyboardInterrupt:
        sys.exit("Stopped half way; the next call begins afresh.")
    if done.returncode:
        said = (done.stderr.strip() or done.stdout.strip()).splitlines()[-8:]
        sys.exit("\n".join([*said, f"Could not {purpose}. The next call begins afresh."]))


@contextmanager
def _alone(path: Path) -> Iterator[int]:
    """Hold the one lock of the first call; where the system has none, go on without."""
    with path.open("rb") as file:
        try:
            import fcntl
        except ImportError:
            yield file.fileno()
            return
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            print("Another call is making .venv; waiting for it.", file=sys.stderr)
            fcntl.flock(file, fcntl.LOCK_EX)
        yield file.fileno()


def _start_anew(python: Path, argv: Sequence[str]) -> None:
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name == "nt":  # Windows has no exec that keeps the console.
        sys.exit(subprocess.call([str(python), *argv]))
    os.execv(python, [str(python), *argv])
