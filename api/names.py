"""Names and e-mails of those who come in, as they are kept."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from api.models.accounts import LONGEST_EMAIL, LONGEST_NAME, email_key
from api.rest.refused import Refused
from inventory.science.saying import say


class NotAnEmail(Refused):
    """Not an e-mail in plain letters."""

    code = "not_an_email"

    def __init__(self) -> None:
        super().__init__(
            say("This is no e-mail. Write it such as ada@yard.example, in plain letters.")
        )


class NotAName(Refused):
    """No name, or one that cannot be shown."""

    code = "not_a_name"

    def __init__(self) -> None:
        super().__init__(
            say(
                "A name is one line of 1 to {longest_name} signs that can be printed.",
                longest_name=LONGEST_NAME,
            )
        )


def checked_email(text: str) -> str:
    """An e-mail as it is kept."""
    key = email_key(text)
    try:
        validate_email(key)
    except ValidationError:
        raise NotAnEmail from None
    if not key.isascii() or len(key) > LONGEST_EMAIL:
        raise NotAnEmail
    return key


def checked_name(text: str) -> str:
    """A name as it is kept."""
    name = text.strip()
    if not 0 < len(name) <= LONGEST_NAME or not name.isprintable():
        raise NotAName
    return name
