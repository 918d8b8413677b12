"""Which style sheets there are, several of them as one text, and the address of that.

A phone on a slow line so asks for one. Nothing is built before serving: they are joined when first
asked for, in the order named and without what only readers of the code need, and the address
carries the content.
"""

from __future__ import annotations

import hashlib
import re
from functools import cache, lru_cache
from pathlib import Path

from django.conf import settings
from django.urls import reverse

FOLDER = Path(__file__).resolve().parents[2] / "static"
BETWEEN = "-"  # stands in no name of a sheet
MARK_LENGTH = 12
MOST_KEPT = 128  # of what somebody might put together; the pages ask for some thirty
# A comment goes and the space round a line; what stands in quotation marks stays as it is.
LEFT_OUT = re.compile(r"(\"[^\"\n]*\"|'[^'\n]*')|/\*.*?\*/|\s*\n\s*", re.DOTALL)


def are_sheets(names: tuple[str, ...]) -> bool:
    """True where each is a style sheet of ours and none is named twice."""
    return len(set(names)) == len(names) and _all_sheets().issuperset(names)


def joined(names: tuple[str, ...]) -> str:
    """The style sheets as one text."""
    # While typing, a file changes under the running service.
    return _read(names) if settings.DEBUG else _kept(names)


def mark_of(names: tuple[str, ...]) -> str:
    """The mark of their content."""
    return hashlib.sha256(joined(names).encode()).hexdigest()[:MARK_LENGTH]


def sheets_address(names: tuple[str, ...]) -> str:
    """Where they are as one; one that is not there is our own mistake and stops the page."""
    return _address(names) if settings.DEBUG else _kept_address(names)


@lru_cache(maxsize=MOST_KEPT)
def _kept(names: tuple[str, ...]) -> str:
    return _read(names)


@lru_cache(maxsize=MOST_KEPT)
def _kept_address(names: tuple[str, ...]) -> str:
    return _address(names)


def _address(names: tuple[str, ...]) -> str:
    if not are_sheets(names):
        raise ValueError(f"There are no style sheets {', '.join(names)}, or one is named twice.")
    return reverse("sheets", kwargs={"names": BETWEEN.join(names), "mark": mark_of(names)})


@cache
def _all_sheets() -> frozenset[str]:
    return frozenset(path.stem for path in FOLDER.glob("*.css"))


def _read(names: tuple[str, ...]) -> str:
    return "".join(
        without_comments((FOLDER / f"{name}.css").read_text(encoding="utf-8")) for name in names
    )


def without_comments(text: str) -> str:
    """A style sheet as a browser needs it.

    >>> without_comments('''/* Ink. */
    ... p {
    ...   content: "/* stays */";
    ... }
    ... ''')
    'p {\\ncontent: "/* stays */";\\n}\\n'
    """
    bare = LEFT_OUT.sub(lambda found: found[1] or ("\n" if found[0].isspace() else ""), text)
    return re.sub(r"\n+", "\n", bare).lstrip("\n")
