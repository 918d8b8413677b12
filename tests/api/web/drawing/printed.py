"""What a phone gets to see of a printed code: fields of ink, steam on the lens, a splash of dye."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import zxingcpp
from scipy.ndimage import gaussian_filter

from api.web.drawing.qr import QrDrawing

INK, GROUND, DYE = 20, 245, 90
DOTS_PER_MM = 300 / 25.4
BAR = re.compile(r"M(\d+) (\d+)h(\d+)v1h-\d+z")


def printed(code: QrDrawing, *, mm: float) -> Any:
    """A code at 300 dots an inch, so many millimetres wide with its margin."""
    fields = np.full((code.side, code.side), GROUND, dtype=np.uint8)
    for across, down, wide in (map(int, bar) for bar in BAR.findall(code.path)):
        fields[down, across : across + wide] = INK
    dots = np.arange(round(mm * DOTS_PER_MM))
    at = (dots * code.side // len(dots)).astype(int)
    return fields[np.ix_(at, at)]


def blurred(picture: Any, *, mm: float) -> Any:
    """Seen through steam: each dot spread over so many millimetres (one sigma)."""
    return gaussian_filter(picture.astype(float), mm * DOTS_PER_MM).round().astype(np.uint8)


def soiled(picture: Any, *, share: float, across: float = 0.72, down: float = 0.72) -> Any:
    """A round splash of dye over a share of the code, round a place of it."""
    high, wide = picture.shape
    rows, columns = np.ogrid[:high, :wide]
    reach = np.sqrt(share * high * wide / np.pi)
    splash = (rows - down * high) ** 2 + (columns - across * wide) ** 2 <= reach**2
    return np.where(splash, DYE, picture).astype(np.uint8)


def reads(picture: Any) -> list[str]:
    """What a reader that knows nothing of us makes of it."""
    return [found.text for found in zxingcpp.read_barcodes(picture)]
