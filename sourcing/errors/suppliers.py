"""What can go wrong with a supplier and its offers."""

from __future__ import annotations

from datetime import date

from inventory.errors import LarderError, quoted
from inventory.science.saying import say
from sourcing.errors.words import day_said


class NoSuchSupplier(LarderError):
    """A name that no supplier of the studio has."""

    code = "no_such_supplier"

    def __init__(self, supplier: str) -> None:
        self.supplier = supplier
        super().__init__(
            say(
                "No supplier is called {supplier}. Look at the name, or add it first.",
                supplier=quoted(supplier),
            )
        )


class SupplierTaken(LarderError):
    """A name that another supplier already has."""

    code = "supplier_taken"

    def __init__(self, supplier: str) -> None:
        self.supplier = supplier
        super().__init__(
            say(
                "There is a supplier {supplier} already. Change that one, or give the new one "
                "a name of its own.",
                supplier=quoted(supplier),
            )
        )


class TermsUnclear(LarderError):
    """Terms of a supplier, or prices, that no sum could be made with."""

    code = "terms_unclear"

    def __init__(self, whose: str, why: str) -> None:
        self.whose = whose
        super().__init__(say("{whose}: {why}", whose=whose, why=why))


class OfferTaken(LarderError):
    """A price list with the same fibre, pack and first day as one that stands."""

    code = "offer_taken"

    def __init__(self, *, supplier: str, what: str) -> None:
        self.supplier, self.what = supplier, what
        super().__init__(
            say(
                "{supplier} has {what} with that first day already. Give the day from which "
                "the new price holds.",
                supplier=supplier,
                what=what,
            )
        )


class NoSuchOffer(LarderError):
    """An offer that the supplier does not have, or no longer."""

    code = "no_such_offer"

    def __init__(self, *, offer: int, supplier: str, day: date) -> None:
        self.offer, self.supplier, self.day = offer, supplier, day
        super().__init__(
            say(
                "{supplier} has no offer {offer} on {day_said}. Look at the price list of that "
                "day.",
                supplier=supplier,
                offer=offer,
                day_said=day_said(day),
            )
        )
