"""The service over real HTTP for tests: a guarded studio, its address and a token, till stdin ends.

    python -m tests.api.serving [PORT] [STUDIO]

The environment names the larder. Prints one line of JSON when it takes requests.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path
from threading import Thread
from typing import Any

import django

BARE = "/bare/"
ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def serving(environment: dict[str, str], *words: str) -> Iterator[dict[str, Any]]:
    """Address and token of a service that runs meanwhile in a process of its own."""
    command = [sys.executable, "-m", "tests.api.serving", *words]
    with subprocess.Popen(
        command, cwd=ROOT, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        try:
            found: dict[str, Any] = json.loads(process.stdout.readline())
            yield found
        finally:
            process.stdin.close()
            process.wait(timeout=120)


def main(port: int = 0, name: str = "") -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    django.setup()
    from django.core.servers.basehttp import ThreadedWSGIServer, WSGIRequestHandler

    from api.wsgi import application

    class Quiet(WSGIRequestHandler):
        def log_message(self, *args: object) -> None:
            """Nothing: whoever started this reads what is printed."""

    server = ThreadedWSGIServer(("127.0.0.1", port), Quiet)
    server.daemon_threads = True
    server.set_app(_with_bare(application))
    Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_address[1]}"
    print(json.dumps({"address": address, "token": _token(name)}), flush=True)
    sys.stdin.read()
    server.shutdown()


def _with_bare(application: Any) -> Any:
    """The service, and beside it one address that nothing of ours or of the framework answers."""

    def answer(environ: dict[str, Any], start_response: Any) -> Any:
        if environ["PATH_INFO"] == BARE:
            start_response("200 OK", [("Content-Type", "text/plain"), ("Content-Length", "2")])
            return [b"ok"]
        return application(environ, start_response)

    return answer


def _token(name: str) -> str:
    """A token of a helper, in a studio that has an owner."""
    from django.utils import timezone

    from api.models import Account, Membership
    from api.rights import Right
    from api.tokens import make_token
    from inventory.models import Studio

    now = timezone.now()
    studio = Studio.objects.get(name=name) if name else Studio.objects.get()
    account = Account.objects.create(email="wren@pellitory.example", name="Wren", made_at=now)
    member = Membership.objects.of(studio).create(account=account, right=Right.OWNER, since=now)
    until = now + timedelta(days=30)
    _, secret = make_token(member, name="scale", right=Right.HELPER, at=now, until=until)
    return secret


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 0, *sys.argv[2:])
