"""The house stands: three floors, stairs go one way, the lowest rooms are pure."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.apps import apps
from django.db import migrations, models
from django.db.migrations.loader import MigrationLoader
from django.test.utils import isolate_apps

from tests import floors

ROOT = Path(__file__).resolve().parent.parent
TOP = {
    "README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml",
    "inventory", "sourcing", "api", "tests", "fixtures",
}  # fmt: skip
DOTTED = {".ci", ".deps", ".gitignore"}


def test_the_top_level_is_what_a_visitor_expects() -> None:
    ignored = {
        line.rstrip("/") for line in (ROOT / ".gitignore").read_text(encoding="utf-8").split()
    }
    names = {path.name for path in ROOT.iterdir()} - ignored - {".git"}

    assert {name for name in names if not name.startswith(".")} == TOP
    assert {name for name in names if name.startswith(".")} == DOTTED


def test_no_import_goes_up() -> None:
    assert floors.imports_up(ROOT) == []


def test_no_name_written_as_text_goes_up() -> None:
    assert floors.names_up(ROOT) == []


def test_no_signal_is_used_below_the_doors() -> None:
    assert floors.signals(ROOT) == []


def test_no_key_goes_up_and_none_that_crosses_a_floor_can_be_walked_back() -> None:
    assert floors.keys_up(apps) == []


def test_no_migration_waits_for_a_higher_floor() -> None:
    loader = MigrationLoader(None)

    assert floors.migrations_up(loader.disk_migrations.values()) == []


def test_the_pure_rooms_import_no_framework_and_read_no_clock_or_setting() -> None:
    assert floors.impurities(ROOT) == []


def _write(root: Path, name: str, *lines: str) -> None:
    file = root / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text("\n".join(lines), encoding="utf-8")


@pytest.mark.parametrize(
    ("file", "line", "found"),
    [
        ("inventory/lots.py", "import sourcing.runs", "inventory must not import sourcing.runs"),
        (
            "inventory/a/b.py",
            "from sourcing import runs",
            "inventory must not import sourcing.runs",
        ),
        ("sourcing/runs.py", "from api import suite", "sourcing must not import api.suite"),
        ("api/urls.py", "from tests import floors", "api must not import tests.floors"),
        (
            "inventory/migrations/0001.py",
            "def f(): import api.urls",
            "inventory must not import api.urls",
        ),
    ],
)
def test_an_import_that_goes_up_is_named_with_file_and_line(
    tmp_path: Path, file: str, line: str, found: str
) -> None:
    _write(tmp_path, file, '"""A room."""', "", line)

    assert floors.imports_up(tmp_path) == [f"{file}:3: {found}"]


@pytest.mark.parametrize(
    ("file", "line"),
    [
        ("sourcing/runs.py", "from inventory import ledger"),
        ("sourcing/week/place.py", "from . import plan"),
        ("sourcing/week/place.py", "from ..week.plan import Answer"),
        ("api/urls.py", "import sourcing, inventory"),
    ],
)
def test_an_import_that_goes_down_or_stays_is_let_be(tmp_path: Path, file: str, line: str) -> None:
    _write(tmp_path, file, line)

    assert floors.imports_up(tmp_path) == []


def test_a_name_written_as_text_that_goes_up_is_found(tmp_path: Path) -> None:
    _write(tmp_path, "inventory/lots.py", "", 'run = ForeignKey("sourcing.Run", CASCADE)')
    _write(tmp_path, "sourcing/runs.py", 'lot = ForeignKey("inventory.Lot", CASCADE)')

    assert floors.names_up(tmp_path) == [
        "inventory/lots.py:2: inventory must not name sourcing.Run"
    ]


def test_a_signal_below_the_doors_is_found(tmp_path: Path) -> None:
    _write(tmp_path, "sourcing/runs.py", "from django.db.models.signals import post_save")

    assert floors.signals(tmp_path) == [
        "sourcing/runs.py:1: sourcing must not use django.db.models.signals.post_save"
    ]


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("from django.db import models", "must not import django.db.models"),
        ("from inventory import ledger", "must not import inventory.ledger"),
        ("import os", "must not import os"),
        ("import numpy", "must not import numpy"),
        ("at = datetime.now(UTC)", "must not ask .now"),
        ("at = date.today()", "must not ask .today"),
        ("at: datetime = field(default_factory=datetime.now)", "must not ask .now"),
    ],
)
def test_an_impure_line_in_a_pure_room_is_found(tmp_path: Path, line: str, found: str) -> None:
    _write(tmp_path, "inventory/science/keeping.py", line)

    assert floors.impurities(tmp_path) == [
        f"inventory/science/keeping.py:1: inventory/science {found}"
    ]


def test_a_fact_that_is_named_today_is_let_be(tmp_path: Path) -> None:
    _write(tmp_path, "sourcing/week/flags.py", "late = lot.last_good < desk.today")

    assert floors.impurities(tmp_path) == []


def test_science_may_use_pint_and_the_week_may_not(tmp_path: Path) -> None:
    _write(tmp_path, "inventory/science/units.py", "import pint", "from decimal import Decimal")
    _write(tmp_path, "sourcing/week/place.py", "from inventory.science import facts", "import pint")

    assert floors.impurities(tmp_path) == [
        "sourcing/week/place.py:2: sourcing/week must not import pint"
    ]


def test_the_forecast_may_use_numpy_and_the_week_may_not(tmp_path: Path) -> None:
    _write(tmp_path, "sourcing/forecast/learn.py", "import numpy as np", "import scipy")
    _write(tmp_path, "sourcing/week/place.py", "import numpy as np")

    assert sorted(floors.impurities(tmp_path)) == [
        "sourcing/forecast/learn.py:2: sourcing/forecast must not import scipy",
        "sourcing/week/place.py:1: sourcing/week must not import numpy",
    ]


@isolate_apps("inventory", "sourcing")
def test_keys_that_go_up_or_can_be_walked_back_are_found() -> None:
    class Lot(models.Model):  # noqa: DJ008
        run = models.ForeignKey("sourcing.Run", models.PROTECT, related_name="+")

        class Meta:
            app_label = "inventory"

    class Run(models.Model):  # noqa: DJ008
        lot = models.ForeignKey(Lot, models.PROTECT)
        parent = models.ForeignKey("self", models.PROTECT)

        class Meta:
            app_label = "sourcing"

    found = floors.keys_up(Lot._meta.apps)

    assert found[0].endswith(
        f"test_floors.py:{_line('run = models')}: inventory must not point at sourcing"
    )
    assert found[1].endswith(f'test_floors.py:{_line("lot = models")}: write related_name="+"')
    assert len(found) == 2


def test_a_migration_that_waits_for_a_higher_floor_is_found() -> None:
    class Up(migrations.Migration):
        dependencies = [("sourcing", "0001_initial")]

    class Down(migrations.Migration):
        dependencies = [("inventory", "0001_initial")]

    found = floors.migrations_up([Up("0002_up", "inventory"), Down("0002_down", "sourcing")])

    assert len(found) == 1
    assert found[0].endswith(": inventory must not wait for sourcing")


def _line(start: str) -> int:
    lines = Path(__file__).read_text(encoding="utf-8").splitlines()
    return next(n for n, line in enumerate(lines, 1) if line.strip().startswith(start))
