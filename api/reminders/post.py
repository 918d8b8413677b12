"""The way out of the house: one letter to the mail server, or into a folder.

`before_text` is called when the server is ready for the text and nothing of it has gone over: what
fails until then was certainly not taken.
"""

from __future__ import annotations

import os
import smtplib
import socket
import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

from api.environment import Mail
from api.reminders.errors import NeverTaken, NotTakenYet, OutOfHand, PerhapsTaken

READY_FOR_TEXT = 354  # RFC 5321, 4.2.3


def hand_over(
    mail: Mail, message: bytes, *, to: str, name: str, before_text: Callable[[], bool]
) -> str:
    """Hand one message over; what the server said to it.

    Parameters
    ----------
    name : of the file where letters go into a folder; the same message has the same name
    before_text : says whether the letter is still in our hand

    Raises
    ------
    NotTakenYet, NeverTaken, PerhapsTaken
        With the server's word.
    OutOfHand
        If it is not.
    """
    if mail.folder is not None:
        return _into_folder(mail, message, name=name, before_text=before_text)
    with _talk(mail) as server:
        _open(server, mail)
        _address(server, mail, to)
        return _hand_text(server, mail, message, before_text)


def _into_folder(mail: Mail, message: bytes, *, name: str, before_text: Callable[[], bool]) -> str:
    assert mail.folder is not None
    file = mail.folder / f"{name}.eml"
    beside = file.with_name(f".{name}.{os.getpid()}.{threading.get_ident()}")
    try:
        mail.folder.mkdir(parents=True, exist_ok=True)
        with beside.open("wb") as part:
            part.write(message)
            part.flush()
            os.fsync(part.fileno())
        if not before_text():
            raise OutOfHand
        beside.replace(file)
    except OSError as error:
        raise NotTakenYet(f"{mail.folder} cannot be written: {error.strerror}") from error
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
    return f"written to {file.name}"


class _Bounded:
    """A talk that ends after its time, however slowly the other side goes on saying something."""

    sock: socket.socket | None = None

    def __init__(self, *words: Any, longest_s: int, **options: Any) -> None:
        self.ends = threading.Timer(longest_s, self._cut)
        self.ends.daemon = True
        self.ends.start()
        try:
            super().__init__(*words, **options)
        except BaseException:
            self.ends.cancel()
            raise

    def _cut(self) -> None:
        line = self.sock
        if line is not None:
            with suppress(OSError):
                # Past the TLS layer, which another thread is reading through.
                socket.socket.shutdown(line, socket.SHUT_RDWR)


class _Plain(_Bounded, smtplib.SMTP):
    pass


class _Sealed(_Bounded, smtplib.SMTP_SSL):
    pass


@contextmanager
def _talk(mail: Mail) -> Iterator[smtplib.SMTP]:
    """A talk with the server; whatever breaks it before the text is a reason to come back."""
    try:
        server = _called(mail)
        try:
            yield server
        finally:
            server.ends.cancel()
            with suppress(OSError, smtplib.SMTPException):
                server.close()
    except (OSError, smtplib.SMTPException) as error:
        raise NotTakenYet(_said(mail, error)) from error


def _called(mail: Mail) -> _Plain | _Sealed:
    timed: dict[str, Any] = {"timeout": mail.wait_s, "longest_s": mail.wait_s}
    if mail.tls:
        return _Sealed(mail.host, mail.port, context=ssl.create_default_context(), **timed)
    return _Plain(mail.host, mail.port, **timed)


def _open(server: smtplib.SMTP, mail: Mail) -> None:
    server.ehlo_or_helo_if_needed()
    if not mail.tls and server.has_extn("starttls"):
        server.starttls(context=ssl.create_default_context())
        server.ehlo_or_helo_if_needed()
    elif mail.user and not mail.tls:
        raise NotTakenYet("the server offers no TLS, and the password is not said in the open")
    if mail.user:
        server.login(mail.user, mail.password)


def _address(server: smtplib.SMTP, mail: Mail, to: str) -> None:
    code, said = server.mail(mail.sender)
    if code != 250:
        # The sender is the studio's own affair: put right, every letter goes out.
        raise NotTakenYet(_answer(mail, code, said))
    code, said = server.rcpt(to)
    if code not in (250, 251):
        raise _refusal(mail, code, said)


def _hand_text(
    server: smtplib.SMTP, mail: Mail, message: bytes, before_text: Callable[[], bool]
) -> str:
    code, said = server.docmd("DATA")
    if code != READY_FOR_TEXT:
        raise _refusal(mail, code, said)
    if not before_text():
        raise OutOfHand
    try:
        text = smtplib.quotedata(message.decode("ascii"))
        server.send(text.removesuffix("\r\n") + "\r\n.\r\n")
        code, said = server.getreply()
    except (OSError, smtplib.SMTPException) as error:
        raise PerhapsTaken(_said(mail, error)) from error
    if code != 250:
        raise _refusal(mail, code, said)
    return _answer(mail, code, said)


def _refusal(mail: Mail, code: int, said: bytes) -> NotTakenYet | NeverTaken:
    kind = NeverTaken if 500 <= code < 600 and code != 503 else NotTakenYet
    return kind(_answer(mail, code, said))


def _answer(mail: Mail, code: int, said: bytes) -> str:
    return _plain(mail, f"{code} {said.decode('utf-8', 'replace')}")


def _said(mail: Mail, error: Exception) -> str:
    if isinstance(error, smtplib.SMTPResponseException):
        said = error.smtp_error
        return _answer(mail, error.smtp_code, said if isinstance(said, bytes) else said.encode())
    return _plain(mail, f"{mail.where}: {error or type(error).__name__}")


def _plain(mail: Mail, text: str) -> str:
    """On one line, printable, and without our password, should the server repeat it."""
    if mail.password:
        text = text.replace(mail.password, "…")
    return "".join(sign if sign.isprintable() else " " for sign in text)
