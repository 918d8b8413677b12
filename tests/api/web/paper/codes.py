"""The square codes on a page, read as a phone reads them."""

from __future__ import annotations

import re

from django.http import HttpResponse

from api.web.drawing.qr import QrDrawing
from tests.api.web.drawing.printed import printed, reads

CODE = re.compile(
    r'<svg class="qr" viewBox="0 0 (\d+) \d+"[^>]*><path class="qr-ground"[^>]*/>'
    r'<path class="qr-field" d="([^"]+)"'
)


def codes_of(page: HttpResponse) -> list[str]:
    """Where each code of a page leads, in order."""
    drawn = CODE.findall(page.content.decode())
    return [
        text
        for side, path in drawn
        for text in reads(printed(QrDrawing(int(side), path, ""), mm=22))
    ]
