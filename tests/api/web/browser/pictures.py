"""Pictures of the pages for the README, from the demo's Monday: all made anew by one command.

python -m tests.api.web.browser.pictures
"""

from __future__ import annotations

import os
import tempfile
from base64 import b64decode
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import django
from playwright.sync_api import Page

from tests.api.web.browser.looks import at, looked_at, opened_browser
from tests.api.web.browser.server import ROOT, kept_larder, served

FOLDER = ROOT / "fixtures" / "pictures"
LARGEST_KB = 60
QUALITIES = (80, 65, 50, 35, 20)


@dataclass(frozen=True, slots=True)
class Picture:
    """One page in one look, from its top or from one of its parts on."""

    name: str
    address: str
    look: str
    part: str = ""

    @property
    def file(self) -> str:
        return f"{self.name}-{self.look}.webp"


PICTURES = (
    Picture("week", "/", "phone"),
    Picture("nights", "/", "phone", "#days"),
    Picture("shelves", "/shelves/", "phone"),
    Picture("pick-up", "/note/pick-up/", "phone"),
    Picture("week", "/", "desk"),
    Picture("shelves", "/shelves/", "desk"),
)


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    django.setup()
    FOLDER.mkdir(exist_ok=True)
    for picture, bytes_of_it in taken():
        (FOLDER / picture.file).write_bytes(bytes_of_it)
        print(f"{picture.file}  {len(bytes_of_it) / 1000:.0f} kB")


def taken() -> Iterator[tuple[Picture, bytes]]:
    """Every picture with its bytes."""
    with (
        tempfile.TemporaryDirectory(prefix="dye-larder-pictures-") as folder,
        served(kept_larder(Path(folder))) as service,
        opened_browser() as browser,
    ):
        for picture in PICTURES:
            with looked_at(browser, picture.look, service, service_workers="block") as context:
                page = context.new_page()
                page.goto(at(picture.address))
                if picture.part:
                    page.locator(picture.part).first.evaluate("(node) => node.scrollIntoView()")
                yield picture, _webp(page)


def _webp(page: Page) -> bytes:
    """What is seen, as good as fits into the largest file that we keep."""
    line = page.context.new_cdp_session(page)
    for quality in QUALITIES:
        asked = {"format": "webp", "quality": quality}
        found = b64decode(line.send("Page.captureScreenshot", asked)["data"])
        if len(found) <= LARGEST_KB * 1000:
            break
    return found


if __name__ == "__main__":
    main()
