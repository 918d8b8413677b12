"""A page of ours printed to a PDF and read back: pages, their size, letters, square codes."""

from __future__ import annotations

import ctypes
from collections.abc import Container, Iterable
from dataclasses import dataclass
from math import hypot
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as raw
from playwright.sync_api import Browser

from tests.api.web.browser.looks import looked_at
from tests.api.web.drawing.printed import reads

MM = 72 / 25.4  # points


@dataclass(frozen=True, slots=True)
class Letter:
    """One letter where it stands on the page, from its left lower corner."""

    sign: str
    pt: float
    left: float
    lower: float
    right: float
    upper: float


@dataclass(frozen=True)
class Sheet:
    """One page of paper."""

    wide_mm: float
    high_mm: float
    letters: tuple[Letter, ...]
    picture: Any  # grey, at 300 dots an inch; None: not drawn

    def says(self, text: str, *, least_pt: float = 0) -> bool:
        """Whether words stand there one after another, all in letters of so many points or more."""
        signs = (row.sign for row in self.letters if row.pt >= least_pt - 0.05)
        return squeezed(text) in squeezed("".join(signs))

    def outside(self, *, margin_mm: float) -> list[str]:
        """Letters that stand nearer to an edge than a printer prints."""
        edge, wide, high = margin_mm * MM, self.wide_mm * MM, self.high_mm * MM
        return [
            row.sign
            for row in self.letters
            if row.sign.strip()
            and (row.left < edge or row.lower < edge or row.right > wide - edge
                 or row.upper > high - edge)
        ]  # fmt: skip

    @property
    def codes(self) -> list[str]:
        return reads(self.picture)


def printed_by(
    browser: Browser, yard: str, addresses: Iterable[str], *, drawn: Container[str] = ()
) -> dict[str, list[Sheet]]:
    """What comes out of the printer for each address; those of `drawn` as a picture too."""
    found = {}
    with looked_at(browser, "desk", yard) as context:
        page = context.new_page()
        for address in addresses:
            page.goto(address)
            found[address] = sheets_of(page.pdf(prefer_css_page_size=True), drawn=address in drawn)
    return found


def sheets_of(pdf: bytes, *, drawn: bool) -> list[Sheet]:
    """The pages of a PDF."""
    document = pdfium.PdfDocument(pdf)
    try:
        return [_sheet(page, drawn=drawn) for page in document]
    finally:
        document.close()


def _sheet(page: Any, *, drawn: bool) -> Sheet:
    wide, high = page.get_size()
    text = page.get_textpage()
    letters = tuple(_letter(text, place) for place in range(text.count_chars()))
    text.close()
    picture = page.render(scale=300 / 72, grayscale=True).to_numpy().copy() if drawn else None
    page.close()
    return Sheet(wide / MM, high / MM, letters, picture)


def _letter(text: Any, place: int) -> Letter:
    box = text.get_charbox(place)
    matrix = raw.FS_MATRIX()
    raw.FPDFText_GetMatrix(text, place, ctypes.byref(matrix))
    pt = raw.FPDFText_GetFontSize(text, place) * hypot(matrix.b, matrix.d)
    return Letter(text.get_text_range(place, 1), pt, *box)


def squeezed(text: str) -> str:
    """A text without its spaces, which a PDF does not keep."""
    return "".join(text.split())
