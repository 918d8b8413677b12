"""What can go wrong with a letter: one class each, with its values and what can be done."""

from __future__ import annotations

from inventory.errors import LarderError, quoted


class NotALetter(LarderError):
    """A letter that no mail server may be given as it is written."""

    code = "not_a_letter"

    def __init__(self, key: str, what: str, said: object, wrong: str, write: str) -> None:
        self.key, self.what, self.said = key, what, quoted(said)
        super().__init__(f"Letter {quoted(key)}: its {what} {self.said} {wrong}. {write}")


class NoMail(LarderError):
    """Reminders asked for where no way out of the house was named."""

    code = "no_mail"

    def __init__(self) -> None:
        super().__init__(
            "No mail is set up here, so no reminder goes out. Name the mail server in "
            "DYE_LARDER_MAIL and the sender in DYE_LARDER_MAIL_FROM, then call again."
        )


class NotTaken(Exception):
    """The mail server did not take a letter; `said` is its word, without any secret of ours."""

    def __init__(self, said: str) -> None:
        self.said = said
        super().__init__(said)


class NotTakenYet(NotTaken):
    """Not now, certainly not taken: it may be tried again."""


class NeverTaken(NotTaken):
    """Refused for good: this reader or this letter, whoever tries."""


class PerhapsTaken(NotTaken):
    """The whole letter went over, and the answer was lost."""


class OutOfHand(Exception):
    """Another has the letter in hand by now; its text was not handed over."""
