"""Door: the pages for good, to this machine, or to phones in the studio's own network."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser
from django.utils import timezone

from api import serving
from api.https.keeping import keep_certificate
from api.https.names import NameRefused, Names, names_of_machine
from api.https.renewing import NAMES
from api.https.words import WITHOUT, told
from api.management.door import Door
from api.models import Account
from api.tables import make_ready

PORTS = {"https": 8443, "http": 8000}
NOBODY = (
    "Nobody has an account yet, and from the network everyone signs in: end this, call "
    "python3 manage.py account add EMAIL --name NAME, and begin again."
)
READ_ALONG = "Over plain http whoever is in this network can read along, passwords too. " + WITHOUT


class Command(Door):
    help = "Serve the pages until it is stopped: to this machine, or to the studio's network."

    def add_arguments(self, parser: CommandParser) -> None:
        how = parser.add_mutually_exclusive_group()
        how.add_argument("--https", action="store_true", help="To phones, with a certificate.")
        how.add_argument("--plain", action="store_true", help="To phones, over plain http.")
        parser.add_argument("--port", type=int, help="8443 with --https, else 8000.")
        parser.add_argument(
            "--name", action="append", default=[], help="One more name or address of this machine."
        )

    def handle(
        self, *args: Any, https: bool, plain: bool, port: int | None, name: list[str], **_: Any
    ) -> None:
        make_ready()
        if not (https or plain):
            port = port or PORTS["http"]
            self._say(f"The larder is at http://{serving.THIS_MACHINE}:{port}/")
            self._serve(serving.command(host=serving.THIS_MACHINE, port=port), dict(os.environ))
            return
        try:
            names = names_of_machine(name)
        except NameRefused as error:
            raise CommandError(str(error)) from error
        if not Account.objects.exists():
            self._say(NOBODY)
        if https:
            self._serve_https(names, name, port or PORTS["https"])
        else:
            self._serve_plain(names, port or PORTS["http"])

    def _serve_https(self, names: Names, added: list[str], port: int) -> None:
        kept = keep_certificate(Path(settings.STATE), names, at=timezone.now())
        addresses = _addresses("https", names, port)
        for line in told(kept, address=addresses[0], others=addresses[1:]):
            self._say(line)
        environ = serving.environment(names.all, address=addresses[0].rstrip("/"))
        command = serving.command(host=serving.ALL_ADDRESSES, port=port, pem=kept.pem)
        # Never empty: the server looks after a certificate where this is set.
        self._serve(command, {**environ, NAMES: ",".join(added) or ","})

    def _serve_plain(self, names: Names, port: int) -> None:
        addresses = _addresses("http", names, port)
        self._say(f"The larder is at {' and '.join(addresses)}")
        self._say(READ_ALONG)
        environ = serving.environment(names.all, address=addresses[0].rstrip("/"))
        self._serve(serving.command(host=serving.ALL_ADDRESSES, port=port), environ)

    def _say(self, line: str) -> None:
        self.stdout.write(line)
        self.stdout.flush()

    def _serve(self, command: list[str], environ: dict[str, str]) -> None:
        """In place of this process, so that whoever ends it ends the server."""
        os.chdir(settings.ROOT)
        os.execve(command[0], command, environ)


def _addresses(scheme: str, names: Names, port: int) -> tuple[str, ...]:
    """As phones may write them, the likeliest first; not those of this machine alone."""
    own = ("127.0.0.1", "localhost")
    found = [name for name in names.all if name not in own] or list(own)
    return tuple(f"{scheme}://{name}:{port}/" for name in found)
