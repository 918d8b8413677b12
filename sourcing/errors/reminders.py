"""What can go wrong with who is written to."""

from __future__ import annotations

from inventory.errors import LarderError, quoted
from inventory.science.saying import joined, say


class NoSuchReader(LarderError):
    """A name that no reader of the studio has."""

    code = "no_such_reader"

    def __init__(self, reader: str) -> None:
        self.reader = reader
        super().__init__(
            say("No reader is called {reader}. Look at the name, or add it first.", reader=reader)
        )


class ReaderTaken(LarderError):
    """A name, an address or a source that another reader has."""

    code = "reader_taken"

    def __init__(self, *, what: str, reader: str) -> None:
        self.what, self.reader = what, reader
        super().__init__(
            say(
                "{what} is written to already, as {reader}. Change what {reader} wants.",
                what=what,
                reader=reader,
            )
        )


class TooManyReaders(LarderError):
    """More readers than a studio writes to."""

    code = "too_many_readers"

    def __init__(self, most: int) -> None:
        self.most = most
        super().__init__(
            say(
                "The studio writes to {most} readers, as many as it can. Let several read "
                "under one address.",
                most=most,
            )
        )


class NoAddress(LarderError):
    """An address that no letter reaches."""

    code = "no_address"

    def __init__(self, address: str) -> None:
        self.address = address
        super().__init__(
            say(
                "{address} is no e-mail address. Write one such as dyer@example.org.",
                address=quoted(address),
            )
        )


class NotForReader(LarderError):
    """A kind of letter that is not for this reader, or none at all."""

    code = "not_for_reader"

    def __init__(self, *, reader: str, asked: tuple[str, ...], may: tuple[str, ...]) -> None:
        self.reader, self.asked, self.may = reader, asked, may
        said = (
            say("{reader} cannot be sent {asked}", reader=reader, asked=joined(" and ", asked))
            if asked
            else say("{reader}: nothing", reader=reader)
        )
        said += "" if asked else " is asked for"
        super().__init__(say("{said}. Choose among {may}.", said=said, may=joined(", ", may)))


class NoAgreement(LarderError):
    """A source that has agreed to nothing, so that there is no day to be told of."""

    code = "no_agreement"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say(
                "{source} has no agreement, so there is no pick-up to be told of. Write one first.",
                source=source,
            )
        )


class NoLeaveToWrite(LarderError):
    """A source that nobody asked whether it may be written to."""

    code = "no_leave_to_write"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say(
                "{source} has not said that it may be written to. Ask, and write down who said "
                "so and when.",
                source=source,
            )
        )


class NoHours(LarderError):
    """A morning sheet without its hour, or quiet hours without both ends."""

    code = "no_hours"

    def __init__(self, *, reader: str, what: str, wanted: str) -> None:
        self.reader, self.what = reader, what
        super().__init__(say("{reader}: {what}. {wanted}", reader=reader, what=what, wanted=wanted))
