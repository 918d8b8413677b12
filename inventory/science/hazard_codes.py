"""Hazard codes of a substance taken together: where suppliers differ the stricter one wins.

Codes are hazard statements of the GHS, `H302` and the like.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

CODE = re.compile(r"\bH[2-4]\d\d\b")

# A graver statement of the same kind makes the milder ones say nothing more (GHS Annex 1 of
# Regulation (EC) 1272/2008, Articles 26 to 28 and Annex I 3.2.4, 3.3.4 and 4.1.4).
OUTDOES: dict[str, frozenset[str]] = {
    "H314": frozenset({"H315", "H318", "H319"}),
    "H318": frozenset({"H319"}),
    "H300": frozenset({"H301", "H302"}),
    "H301": frozenset({"H302"}),
    "H410": frozenset({"H400", "H411", "H412", "H413"}),
    "H411": frozenset({"H412", "H413"}),
    "H412": frozenset({"H413"}),
}

WORDS: dict[str, str] = {
    "H220": "extremely flammable gas",
    "H226": "flammable liquid and vapour",
    "H280": "gas under pressure",
    "H302": "harmful if swallowed",
    "H312": "harmful in contact with skin",
    "H314": "burns skin and eyes severely",
    "H315": "irritates skin",
    "H318": "damages eyes seriously",
    "H319": "irritates eyes seriously",
    "H332": "harmful if breathed in",
    "H335": "may irritate the airways",
    "H400": "very harmful to life in water",
    "H410": "very harmful to life in water, for long",
    "H411": "harmful to life in water, for long",
}


def codes_in(text: str) -> tuple[str, ...]:
    """The codes that a cell names, in its order.

    Examples
    --------
    >>> codes_in("H302 H315"), codes_in("not classified")
    (('H302', 'H315'), ())
    """
    return tuple(CODE.findall(text))


def strictest(cells: Iterable[str]) -> tuple[str, ...]:
    """Every code that any source names, without those that a graver one outdoes.

    Parameters
    ----------
    cells : one a source, any order

    Examples
    --------
    >>> strictest(["H302 H315 H319 H400 H411", "H302 H314 H410"])
    ('H302', 'H314', 'H410')
    >>> strictest(["not classified", "H319"])
    ('H319',)
    """
    named = {code for cell in cells for code in codes_in(cell)}
    outdone = {mild for code in named for mild in OUTDOES.get(code, ())}
    return tuple(sorted(named - outdone))


def in_words(code: str) -> str:
    """What a code says; the code itself where it is not known here."""
    return WORDS.get(code, code)
