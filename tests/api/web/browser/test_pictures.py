"""The pictures of the README: all there, none left over, each small and with words beside it."""

from __future__ import annotations

import re

from tests.api.web.browser.pictures import FOLDER, LARGEST_KB, PICTURES
from tests.api.web.browser.server import ROOT


def test_the_readme_shows_every_picture_with_words_and_no_other_is_kept() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.findall(r"!\[([^\]]{20,})\]\(fixtures/pictures/([\w.-]+)\)", readme)

    made = sorted(picture.file for picture in PICTURES)
    assert sorted(file for _, file in shown) == made
    assert sorted(path.name for path in FOLDER.iterdir()) == made


def test_no_picture_is_heavier_than_a_page() -> None:
    sizes = {path.name: path.stat().st_size for path in FOLDER.iterdir()}

    assert {name: size for name, size in sizes.items() if size > LARGEST_KB * 1000} == {}
