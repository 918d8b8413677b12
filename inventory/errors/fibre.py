"""What can go wrong with fibre, its cloth and how it came out."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.errors.larder import LarderError
from inventory.errors.words import quoted
from inventory.science.saying import joined, say


class UnknownFibre(LarderError):
    """A fibre of which nobody knows anything."""

    code = "unknown_fibre"

    def __init__(self, fibre: str, *, known: Sequence[str]) -> None:
        self.fibre, self.known = fibre, tuple(known)
        super().__init__(
            say(
                "Nobody knows how {fibre} takes a dye. Known are {known}: say one of them, or "
                "write its scour loss in the studio's rules first.",
                fibre=quoted(fibre),
                known=joined(", ", known),
            )
        )


class UnknownQuality(LarderError):
    """Dyed fibre kept as something that nobody knows."""

    code = "unknown_quality"

    def __init__(self, quality: str, *, known: tuple[str, ...]) -> None:
        self.quality, self.known = quality, known
        super().__init__(
            say(
                "Fibre is kept as {known}, not as {quality}. Leave it out where the run came "
                "out as it was meant to.",
                known=joined(" or ", known),
                quality=quality[:40],
            )
        )


class NoFaultNamed(LarderError):
    """Dyed fibre kept as less than it was meant to be, and nobody says why."""

    code = "no_fault_named"

    def __init__(self, *, lot: str, quality: str) -> None:
        self.lot, self.quality = lot, quality
        super().__init__(
            say(
                "Lot {lot} is kept as {quality}, and it is not said why. Say how it came out: "
                "boiled brown, streaky, felted, too pale.",
                lot=lot,
                quality=quality,
            )
        )


class NotDyed(LarderError):
    """Something said of dyed fibre about a lot that is not dyed."""

    code = "not_dyed"

    def __init__(self, *, lot: str, what: str) -> None:
        self.lot, self.what = lot, what
        super().__init__(
            say(
                "Lot {lot}, {what}, is not dyed. Set it aside if something is wrong.",
                lot=lot,
                what=what,
            )
        )


class NoClothSize(LarderError):
    """Cloth asked for by the metre of which nobody knows what a metre weighs."""

    code = "no_cloth_size"

    def __init__(self, *, lot: str, what: str) -> None:
        self.lot, self.what = lot, what
        super().__init__(
            say(
                "Lot {lot}, {what}: nobody knows what a metre of it weighs. Write its g per m² "
                "and its width, or give the weight.",
                lot=lot,
                what=what,
            )
        )
