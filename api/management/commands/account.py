"""Door: accounts, from the machine that the service runs on; the first one is made here."""

from __future__ import annotations

import sys
from getpass import getpass
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser
from django.utils import timezone

from api.asked import StudioUnknown, Unreadable, studio_asked
from api.management.door import Door
from api.members import add_account, end_account, join
from api.models import Account, Membership
from api.models.accounts import email_key
from api.names import checked_email, checked_name
from api.passwords import password_faults
from api.recovery import recovery_path
from api.rest.refused import Refused
from api.rights import RIGHTS, Right
from api.tables import make_ready

MOST_LISTED = 1000


class Command(Door):
    help = "Make, list and end accounts, and print a link for a new password."

    def add_arguments(self, parser: CommandParser) -> None:
        what = parser.add_subparsers(dest="what", required=True, metavar="WHAT")
        add = what.add_parser("add", help="an account; asks for its password, or reads one line")
        add.add_argument("email", metavar="EMAIL")
        add.add_argument("--name", required=True, metavar="NAME")
        add.add_argument("--studio", metavar="NAME", help="needed where there are several")
        add.add_argument("--right", choices=RIGHTS, default=str(Right.OWNER))
        what.add_parser("list", help="every account with its studios")
        for name, words in (
            ("recovery", "print a link for a new password, good once and for an hour"),
            ("end", "let nobody in with it any more; what was recorded stays"),
        ):
            what.add_parser(name, help=words).add_argument("email", metavar="EMAIL")

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        verbs = {"add": self._add, "list": self._list, "recovery": self._link, "end": self._end}
        try:
            verbs[options["what"]](options)
        except (Refused, Unreadable, StudioUnknown) as error:
            raise CommandError(str(error)) from error

    def _add(self, options: dict[str, Any]) -> None:
        studio, now = studio_asked(options["studio"]), timezone.now()
        email, name = checked_email(options["email"]), checked_name(options["name"])
        right = Right(options["right"])
        account = Account.objects.filter(email=email).first()
        if account is None:
            password = _password(Account(email=email, name=name))
            account = add_account(email=email, name=name, password=password, at=now)
        elif not account.is_active:
            raise CommandError(f"{account} was ended. Take another e-mail.")
        member = join(studio, account, right=right, at=now)
        self.stdout.write(f"{account} is {member.right} of {studio.name}.")

    def _list(self, options: dict[str, Any]) -> None:
        rows = Membership.everywhere().filter(ended_at__isnull=True).select_related("studio")
        where: dict[int, list[str]] = {}
        for row in rows.order_by("studio__name"):
            where.setdefault(row.account_id, []).append(f"{row.right} of {row.studio.name}")
        accounts = list(Account.objects.order_by("email")[:MOST_LISTED])
        for account in accounts:
            belongs = ", ".join(where.get(account.pk, ["belongs to no studio"]))
            self.stdout.write(f"{account}: {belongs if account.is_active else 'ended'}")
        if not accounts:
            self.stdout.write("Nobody has an account: whoever sits at this machine is the owner.")

    def _link(self, options: dict[str, Any]) -> None:
        path = recovery_path(_account(options["email"]))
        if not settings.ADDRESS:
            self.stderr.write("DYE_LARDER_ADDRESS is not set; put the service's own before it.")
        self.stdout.write(f"{settings.ADDRESS}{path}")

    def _end(self, options: dict[str, Any]) -> None:
        account = _account(options["email"])
        end_account(account, at=timezone.now())
        self.stdout.write(f"{account} is ended.")


def _account(email: str) -> Account:
    account = Account.objects.filter(email=email_key(email), is_active=True).first()
    if account is None:
        raise CommandError(f"No account has the e-mail {email}. See: manage.py account list")
    return account


def _password(account: Account) -> str:
    """A password from whoever types, twice and unseen; or the first line of what is piped in."""
    if sys.stdin.isatty():
        first, again = getpass("Password: "), getpass("The same again: ")
    else:
        first = again = sys.stdin.readline().rstrip("\r\n")
    if faults := password_faults(first, again, account):
        raise CommandError(" ".join(faults))
    return first
