"""A letter as the mail server gets it: plain text, one Message-ID a key, a way to stop it."""

from __future__ import annotations

from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime

from api.environment import Mail
from api.reminders.outbox import InHand


def message_of(one: InHand, mail: Mail) -> bytes:
    """The message of a letter, ASCII alone, the same at each try."""
    letter = one.letter
    message = EmailMessage(policy=SMTP)
    message["From"] = Address(display_name=one.studio.name, addr_spec=mail.sender)
    message["To"] = letter.to
    message["Subject"] = letter.subject
    message["Date"] = format_datetime(one.filed_at)
    # RFC 3834: no machine is to answer this, and no machine's answer is to be sent to it.
    message["Auto-Submitted"] = "auto-generated"
    message.set_content(f"{letter.text.rstrip()}\n{_ending(one, mail)}", cte="quoted-printable")
    return _as_they_are(one, mail) + message.as_bytes()


def _as_they_are(one: InHand, mail: Mail) -> bytes:
    """Lines that must not be folded or encoded; outbox and settings let nothing else into them."""
    lines = [f"Message-ID: {one.message_id}"]
    if link := _link(one, mail):
        lines.append(f"List-Unsubscribe: <{link}>")
        if link.startswith("https://"):  # RFC 8058 asks for it
            lines.append("List-Unsubscribe-Post: List-Unsubscribe=One-Click")
    head = "".join(f"{line}\r\n" for line in lines)
    assert all(line.isprintable() for line in lines), head
    return head.encode("ascii")


def _ending(one: InHand, mail: Mail) -> str:
    if not one.letter.stop:
        return ""
    if link := _link(one, mail):
        return f"\n-- \nTo get no more letters of this kind: {link}\n"
    return "\n-- \nTo get no more letters of this kind, answer this one.\n"


def _link(one: InHand, mail: Mail) -> str:
    return f"{mail.address}{one.letter.stop}" if mail.address and one.letter.stop else ""
