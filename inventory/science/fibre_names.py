"""By what name the law wants a fibre to be called on paper that goes with it."""

from __future__ import annotations

from inventory.science.library import Row, library


def legal_name(fibre: str) -> Row | None:
    """What the catalogue says of a fibre's legal name, with its source; None where it is silent.

    Parameters
    ----------
    fibre : as a lot or an offer names it, any case; a plant may follow in the catalogue,
        `linen (flax)`

    References
    ----------
    Each row's own source. Names differ between countries: check your local rules.

    Examples
    --------
    >>> [row.words for name in ("wool", "Linen", "lyocell") if (row := legal_name(name))]
    ['wool', 'flax or linen', 'lyocell']
    >>> legal_name("moonlight") is None
    True
    """
    wanted = fibre.casefold().strip()
    for thing in library().of_kind("fibre"):
        if thing.name.casefold().partition(" (")[0] == wanted:
            return next(iter(thing.of("legal_name")), None)
    return None
