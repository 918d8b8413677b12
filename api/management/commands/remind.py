"""Door: one round of reminders by hand, and what it did."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.management.base import CommandError
from django.utils import timezone

from api.environment import Mail
from api.management.door import TRY_AGAIN, Door
from api.reminders import outbox
from api.reminders.errors import NoMail
from api.reminders.round import Round, one_round
from api.tables import make_ready

MOST_ROUNDS = 50


class Command(Door):
    help = "Look which reminders fall due, bring them out, and say what became of them."

    def handle(self, *args: Any, **options: Any) -> None:
        mail: Mail | None = settings.MAIL
        if mail is None:
            raise NoMail
        make_ready()
        self.stdout.write(f"Mail goes to {mail.where} from {mail.sender}.")
        for _ in range(MOST_ROUNDS):
            done = one_round(mail=mail, clock=timezone.now)
            if done is None:
                raise CommandError(
                    "Another process brings reminders out just now. Call again in a minute.",
                    returncode=TRY_AGAIN,
                )
            self._say(done)
            if not done.is_full:
                break
        stands = outbox.tally()
        self.stdout.write(
            f"In the outbox: {stands.to_go} to go out, {stands.sent} sent, {stands.let_go} let "
            f"go; {stands.repeats} perhaps sent twice."
        )

    def _say(self, done: Round) -> None:
        over = sum(one.passed_over for one in done.swept)
        unfit = sum(one.unfit for one in done.swept)
        self.stdout.write(
            f"Studios looked at: {done.studios}. Letters filed: {done.filed}, passed over as too "
            f"late: {over}, unfit: {unfit}."
        )
        became = ", ".join(f"{what} {number}" for what, number in sorted(done.became.items()))
        self.stdout.write(f"Letters brought out: {became or 'none'}.")
        if done.failed:
            raise CommandError(f"{done.failed} faults of ours; they are told above.")
