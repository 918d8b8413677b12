"""What a row is called in an address: the cells of its key, one after the other.

A vessel is simply `P1`, a row of hours `dyer~Mon~~`: parts stand apart by ~, and the few signs that
an address could not carry are written as ! and a digit.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

APART = "~"
SIGNS = {"!": "!0", "~": "!1", "/": "!2", "\\": "!4"}
DOT = "!3"  # of a part that is nothing but dots: an address would go up a folder
_BACK = {code: sign for sign, code in (*SIGNS.items(), (".", DOT))}
_CODED = re.compile(r"!(.?)")


def key_text(cells: Iterable[str]) -> str:
    """The cells of a key as one text.

    >>> key_text(["dyer", "Mon", "", ""]), key_text(["a/b ~ c!"]), key_text([".."])
    ('dyer~Mon~~', 'a!2b !1 c!0', '!3!3')
    """
    return APART.join(_coded(cell) for cell in cells)


def key_cells_in(text: str) -> tuple[str, ...] | None:
    """The cells that a text was made of; None where it was made of none.

    >>> key_cells_in("dyer~Mon~~"), key_cells_in("a!2b !1 c!0"), key_cells_in("50!9")
    (('dyer', 'Mon', '', ''), ('a/b ~ c!',), None)
    """
    if any(f"!{digit}" not in _BACK for digit in _CODED.findall(text)):
        return None
    return tuple(_CODED.sub(lambda found: _BACK[found[0]], part) for part in text.split(APART))


def _coded(cell: str) -> str:
    if cell and not cell.strip("."):
        return cell.replace(".", DOT)
    return "".join(SIGNS.get(sign, sign) for sign in cell)
