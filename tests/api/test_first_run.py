"""A bare Python makes its environment once, whole, and alone; inside one nothing is made."""

from __future__ import annotations

import base64
import hashlib
import importlib.util
import os
import runpy
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from api import first_run

ROOT = Path(__file__).resolve().parents[2]
BARE = sys._base_executable  # type: ignore[attr-defined]
# Stands in for the real package: it says which Python runs it and what was asked.
SAYING = "import sys\ndef execute_from_command_line(argv): print(sys.prefix, *argv[1:])\n"


def _wheel(folder: Path, name: str, files: dict[str, str]) -> str:
    """Make a package that pip installs from a file, and give its line for the pins."""
    info = f"{name}-1.dist-info"
    files = {
        **files,
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: 1\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    record = "".join(f"{path},{_digest(text)},{len(text)}\n" for path, text in files.items())
    folder.mkdir(parents=True, exist_ok=True)
    wheel = folder / f"{name}-1-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as packed:
        for path, text in {**files, f"{info}/RECORD": f"{record}{info}/RECORD,,\n"}.items():
            packed.writestr(path, text)
    return f"{name}==1 --hash=sha256:{hashlib.sha256(wheel.read_bytes()).hexdigest()}\n"


def _digest(text: str) -> str:
    digest = base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest())
    return f"sha256={digest.decode().rstrip('=')}"


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A clone with one package to run and one more to test; nothing is fetched from outside."""
    house = tmp_path / "house with a space"
    (house / "api").mkdir(parents=True)
    (house / "api" / "__init__.py").touch()
    shutil.copy(ROOT / "manage.py", house)
    shutil.copy(ROOT / "api" / "first_run.py", house / "api")
    wheels = tmp_path / "wheels"
    files = {
        "django/__init__.py": "",
        "django/conf.py": "class settings:\n    INSTALLED_APPS = ()\n",
        "django/core/__init__.py": "",
        "django/core/exceptions.py": "class ImproperlyConfigured(Exception):\n    pass\n",
    }
    run = _wheel(wheels, "django", {**files, "django/core/management.py": SAYING})
    test = _wheel(wheels, "pytest", {"pytest.py": ""})
    local = f"--no-index\n--find-links {wheels.as_uri()}\n"
    (house / ".deps").mkdir()
    (house / ".deps" / "run.txt").write_text(local + run, encoding="utf-8")
    (house / ".deps" / "test.txt").write_text(local + run + test, encoding="utf-8")
    return house


def _start(house: Path, *arguments: str) -> subprocess.Popen[str]:
    environ = {"PATH": os.environ["PATH"], "HOME": str(house)}
    return subprocess.Popen(
        [BARE, "manage.py", *arguments],
        cwd=house,
        env=environ,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def test_two_first_calls_make_one_environment_and_later_calls_grow_or_renew_it(
    house: Path,
) -> None:
    venv = house / ".venv"
    both = [_start(house, "week", "--days", "3"), _start(house, "week", "--days", "3")]
    ends = [call.communicate() for call in both]
    assert [out for out, _ in ends] == [f"{venv} week --days 3\n"] * 2
    assert sorted(err for _, err in ends) == [
        "Another call is making .venv; waiting for it.\n",
        "Making .venv from .deps/run.txt; this happens once.\n",
    ]

    again = _start(house, "week").communicate()
    assert again == (f"{venv} week\n", "")

    grown = _start(house, "test").communicate()
    assert grown == (f"{venv} test\n", "Making .venv from .deps/test.txt; this happens once.\n")

    pins = (house / ".deps" / "run.txt").read_text(encoding="utf-8")
    (house / ".deps" / "run.txt").write_text(f"{pins}# changed\n", encoding="utf-8")
    renewed = _start(house, "week").communicate()
    assert renewed == (f"{venv} week\n", "Making .venv from .deps/run.txt; this happens once.\n")
    assert not list(venv.rglob("pytest.py"))


def test_a_package_that_is_not_the_pinned_one_is_refused_and_leaves_no_stamp(house: Path) -> None:
    pins = house / ".deps" / "run.txt"
    text = pins.read_text(encoding="utf-8")
    pins.write_text(text[:-9] + "00000000\n", encoding="utf-8")

    refused = _start(house, "week")
    out, err = refused.communicate()

    assert refused.returncode == 1
    assert out == ""
    assert "THESE PACKAGES DO NOT MATCH THE HASHES" in err
    assert err.endswith(
        "Could not fetch the packages of .deps/run.txt (the first call needs the network). "
        "The next call begins afresh.\n"
    )
    assert not first_run.is_built(house / ".venv", house / ".deps", kind="run")


def test_an_environment_without_its_stamp_is_not_taken_for_built(tmp_path: Path) -> None:
    pins, venv = tmp_path / ".deps", tmp_path / ".venv"
    pins.mkdir()
    (pins / "run.txt").write_text("a==1\n", encoding="utf-8")
    python = first_run.interpreter(venv)
    python.parent.mkdir(parents=True)
    python.touch()
    assert not first_run.is_built(venv, pins, kind="run")

    (venv / "pins").write_text(f"{first_run._mark(pins, 'run')}\n", encoding="utf-8")
    assert first_run.is_built(venv, pins, kind="run")

    python.unlink()
    assert not first_run.is_built(venv, pins, kind="run")


@pytest.mark.parametrize(
    ("prefix", "environ", "answer"),
    [
        ("/usr", {}, False),
        ("/home/ann/venv", {}, True),
        ("/usr", {"VIRTUAL_ENV": "/home/ann/venv"}, False),
        ("/usr", {"CONDA_PREFIX": "/usr"}, True),
        ("/usr", {"CONDA_PREFIX": "/opt/conda"}, False),
    ],
)
def test_what_counts_as_inside_an_environment(
    prefix: str, environ: dict[str, str], answer: bool
) -> None:
    assert first_run.inside_environment(prefix, "/usr", environ) is answer


def test_inside_an_environment_nothing_is_made(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("built inside an environment")

    monkeypatch.setattr(first_run, "ensure_built", never)
    monkeypatch.setattr(sys, "prefix", "/home/ann/venv")

    first_run.enter_environment(["manage.py", "week"])


def test_an_environment_that_lacks_the_packages_is_told_how_to_get_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(sys, "prefix", "/home/ann/venv")
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)

    with pytest.raises(SystemExit) as caught:
        first_run.enter_environment(["manage.py", "test"])

    assert caught.value.code == (
        "The environment /home/ann/venv has no pytest: "
        "`python -m pip install --require-hashes -r .deps/test.txt` fills it, or leave it with "
        "`deactivate` and call again."
    )


def test_a_python_without_venv_is_told_in_one_sentence_what_to_install(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "run.txt").touch()
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == "ensurepip" else object()
    )

    with pytest.raises(SystemExit) as caught:
        first_run.ensure_built(tmp_path / ".venv", tmp_path, kind="run")

    version = f"{sys.version_info.major}.{sys.version_info.minor}"
    assert caught.value.code == (
        f"This Python {version} cannot make an environment: install python3-venv "
        f"(`apt install python{version}-venv` on Debian and Ubuntu) and call again."
    )


@pytest.mark.parametrize(("version", "fits"), [
    ((3, 10, 13), False), ((3, 11, 0), True), ((3, 13, 9), True), ((3, 14, 0), False),
])  # fmt: skip
def test_a_python_too_old_or_too_new_is_told_in_one_sentence(
    monkeypatch: pytest.MonkeyPatch, version: tuple[int, int, int], fits: bool
) -> None:
    door = runpy.run_path(str(ROOT / "manage.py"))
    monkeypatch.setattr(sys, "version_info", version)
    monkeypatch.setattr(first_run, "enter_environment", lambda argv: sys.exit("went on"))

    with pytest.raises(SystemExit) as caught:
        door["main"]()

    assert caught.value.code == (
        "went on"
        if fits
        else f"Dye Larder runs on Python 3.11 to 3.13 and this is Python 3.{version[1]}; "
        "call it with one of those, as in `python3.13 manage.py demo`."
    )
