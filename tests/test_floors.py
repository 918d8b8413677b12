"""The house stands: its top level is what DESIGN.md 3 lists."""

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def test_settings_and_url_map_live_in_api() -> None:
    assert (ROOT / "api" / "settings.py").is_file()
    assert (ROOT / "api" / "urls.py").is_file()
