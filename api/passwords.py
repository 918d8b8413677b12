"""How passwords are kept and which are good enough."""

from __future__ import annotations

from django.contrib.auth.hashers import Argon2PasswordHasher
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from api.models import Account
from inventory.science.saying import say

LONGEST_PASSWORD = 200


class SmallMachineArgon2(Argon2PasswordHasher):
    """Argon2id for a machine that has little memory and serves several at once.

    19 MiB, two passes, one lane: of the profiles that the OWASP Password Storage Cheat Sheet calls
    equally strong the one in the middle. Ten sign-ins at a time take 190 MiB; the framework's own
    profile (100 MiB, eight lanes) would take a gigabyte.
    """

    time_cost = 2
    memory_cost = 19 * 1024  # KiB
    parallelism = 1


def password_faults(password: str, again: str, account: Account) -> tuple[str, ...]:
    """Why a password will not do, a sentence each; empty for one that will.

    Parameters
    ----------
    account : whose; a password like their name or e-mail will not do
    """
    if password != again:
        return (say("The two passwords differ. Write the same twice."),)
    if len(password) > LONGEST_PASSWORD:
        return (
            say(
                "A password may have {longest_password} characters. Write a shorter one.",
                longest_password=LONGEST_PASSWORD,
            ),
        )
    try:
        validate_password(password, account)
    except ValidationError as error:
        return tuple(error.messages)
    return ()
