"""A new password for whoever reads an account's letters: a link, good once and for one hour.

Nothing of a link is kept: it holds the account, the hour and a seal over both, the password that
is to be replaced and the last sign-in, so that it ends with either of them.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from django.contrib.auth.tokens import PasswordResetTokenGenerator
from django.db import transaction
from django.urls import reverse
from django.utils.http import base36_to_int, int_to_base36

from api.models import Account, Membership, RecoveryWish
from api.models.accounts import LONGEST_EMAIL, email_key
from api.reminders.letter import NEW_PASSWORD, Letter
from api.reminders.outbox import file_letters
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.science.saying import say

GOOD_FOR = timedelta(hours=1)  # as PASSWORD_RESET_TIMEOUT says
MOST_AT_ONCE = 100
LONGEST_LINK = 200
SUBJECT = say("A new password for Dye Larder")
TEXT = """\
Somebody asked for a new password for your account at Dye Larder, {name}.

Open this address within an hour to write one:

{link}

If it was not you, there is nothing to do: your password stays as it is.
"""

SEAL = PasswordResetTokenGenerator()


class LinkUnknown(Exception):
    """A link that was used, is too old, or was never made."""

    def __init__(self) -> None:
        super().__init__(
            say(
                "This address is good no longer: it is used once, within an hour. Ask for "
                "another one."
            )
        )


@said_in_words()
def wish_recovery(email: str, *, at: datetime) -> None:
    """Note that a new password is asked for; the same for an e-mail that nobody has."""
    key = email_key(email)
    if not key.isascii() or not key.isprintable() or len(key) > LONGEST_EMAIL:
        key = ""
    row = RecoveryWish(email=key, asked_at=at)
    RecoveryWish.objects.bulk_create([row], ignore_conflicts=True)


def recovery_wished() -> bool:
    """Whether somebody waits for a letter."""
    return RecoveryWish.objects.exists()


def file_recoveries(*, at: datetime, address: str, domain: str) -> int:
    """Write the letters that are waited for into the outbox; how many.

    Parameters
    ----------
    address : of this service, for the link
    domain : of the sender's e-mail
    """
    filed = 0
    for wish in RecoveryWish.objects.order_by("asked_at")[:MOST_AT_ONCE]:
        with said_in_words(), transaction.atomic():
            if RecoveryWish.objects.filter(pk=wish.pk).delete()[0]:
                filed += _file(wish, at=at, address=address, domain=domain)
    return filed


def _file(wish: RecoveryWish, *, at: datetime, address: str, domain: str) -> int:
    account = Account.objects.filter(email=wish.email, is_active=True).first()
    if account is None or not address or (studio := _studio_of(account)) is None:
        return 0
    letter = Letter(
        key=f"new password/{account.pk}/{wish.asked_at.isoformat()}",
        kind=NEW_PASSWORD,
        to=account.email,
        at=at,
        until=at + GOOD_FOR,
        subject=SUBJECT,
        text=TEXT.format(name=account.name, link=address + recovery_path(account)),
    )
    return file_letters(studio, [letter], at=at, domain=domain)


def _studio_of(account: Account) -> Studio | None:
    """In whose name the letter goes out."""
    rows = Membership.everywhere().filter(account=account, ended_at__isnull=True)
    row = rows.select_related("studio").order_by("since", "pk").first()
    return None if row is None else row.studio


def recovery_path(account: Account) -> str:
    """The address, without its host, under which a new password can be written."""
    token = f"{int_to_base36(account.pk)}-{SEAL.make_token(account)}"
    return reverse("new-password", args=[token])


def account_of(token: str, *, lock: bool = False) -> Account:
    """The account of a link.

    Raises
    ------
    LinkUnknown
    """
    number, _, seal = token.partition("-")
    if not token.isascii() or len(token) > LONGEST_LINK or not 0 < len(number) <= 12:
        raise LinkUnknown
    try:
        key = base36_to_int(number)
    except ValueError:
        raise LinkUnknown from None
    rows = Account.objects.select_for_update() if lock else Account.objects.all()
    account = rows.filter(pk=key, is_active=True).first()
    if account is None or not SEAL.check_token(account, seal):
        raise LinkUnknown
    return account


@said_in_words()
def recover(token: str, password: str) -> Account:
    """Another password by a link, which ends with it, as do all sessions.

    Raises
    ------
    LinkUnknown
    """
    with transaction.atomic():
        # Of two who come with the same link at once the second finds it used.
        account = account_of(token, lock=True)
        account.set_password(password)
        account.save(update_fields=["password"])
    return account
