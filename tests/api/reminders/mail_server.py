"""A mail server in a process of its own, which does what the reader's name asks of it.

    python tests/api/reminders/mail_server.py FILE [smtps | starttls]

With TLS it lets in `mara` alone, with the password `indigo-and-weld`; its certificate, good for
tests on this machine only, stands beside it. It says its port, then writes one line to FILE for
each letter that it takes, before it says yes: the Message-ID, then the reader. What it does goes by
the first word of the reader's name:

    later-2-…   says 451 twice, then takes it
    never-…     550, this reader is not known
    refuse-…    554 to the text
    hang-…      nothing at all, once the text is there
    drop-…      takes the first one and hangs up without a word; later ones as usual
    slow-…      takes it, and its yes comes after a twentieth of a second
    late-…      the same after three seconds
"""

from __future__ import annotations

import asyncio
import email
import os
import ssl
import sys
from collections import Counter
from pathlib import Path
from typing import Any

from aiosmtpd.smtp import SMTP, AuthResult, LoginPassword

CERTIFICATE = Path(__file__).with_suffix(".pem")
WAITS_S = {"slow": 0.05, "late": 3.0}
LOGIN = LoginPassword(b"mara", b"indigo-and-weld")


class Reception:
    def __init__(self, file: Path) -> None:
        self.file = os.open(file, os.O_WRONLY | os.O_APPEND | os.O_CREAT)
        self.seen: Counter[str] = Counter()

    async def handle_RCPT(
        self, server: SMTP, session: Any, envelope: Any, address: str, options: list[str]
    ) -> str:
        self.seen[address] += 1
        word, *rest = address.split("-")
        if word == "never":
            return "550 5.1.1 nobody of that name"
        if word == "later" and self.seen[address] <= int(rest[0]):
            return "451 4.2.1 come back later"
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: SMTP, session: Any, envelope: Any) -> str:
        address = envelope.rcpt_tos[0]
        word = address.split("-")[0]
        if word == "refuse":
            return "554 5.6.0 not such a text"
        if word == "hang":
            await asyncio.sleep(600)
        name = str(email.message_from_bytes(envelope.content)["Message-ID"])
        os.write(self.file, f"{name} {address}\n".encode())
        if word == "drop" and self.seen[address] == 1:
            server.transport.abort()
        if word in WAITS_S:
            await asyncio.sleep(WAITS_S[word])
        return "250 2.0.0 taken"


def _let_in(*words: Any) -> AuthResult:
    return AuthResult(success=words[-1] == LOGIN, handled=False)


async def main(file: Path, seal: str = "") -> None:
    """Serve until ended."""
    reception = Reception(file)
    options: dict[str, Any] = {"hostname": "mail.example", "enable_SMTPUTF8": False}
    context = None
    if seal:
        context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
        context.load_cert_chain(CERTIFICATE)
        options |= {"authenticator": _let_in}
        options |= {"auth_required": True, "auth_require_tls": seal == "starttls"}
    if seal == "starttls":
        options |= {"tls_context": context, "require_starttls": True}
    loop = asyncio.get_running_loop()
    server = await loop.create_server(
        lambda: SMTP(reception, **options),
        "127.0.0.1",
        0,
        ssl=context if seal == "smtps" else None,
    )
    print(server.sockets[0].getsockname()[1], flush=True)
    await server.serve_forever()


if __name__ == "__main__":
    asyncio.run(main(Path(sys.argv[1]), *sys.argv[2:]))
