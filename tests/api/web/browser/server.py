"""Pellitory Yard over real HTTP for a browser: a larder of its own, in a process of its own.

    python -m tests.api.web.browser.server [PORT [EDITION]]

The environment names the larder, which is there. Prints its address when it takes requests, and
ends with its standard input. With an edition it serves a worker that is another one by that word,
as the next version of the larder would.
"""

from __future__ import annotations

import fcntl
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import Any, TypeVar

from api.suite import OURS

Made = TypeVar("Made")
ROOT = Path(__file__).resolve().parents[4]
# One address that nothing of ours answers: a page of a line, for what a page costs at the least.
BARE = "/bare/"
BARE_PAGE = b"""<!doctype html><html lang="en"><meta charset="utf-8"><title>Bare</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><h1>Bare</h1><p>One line.</p>"""


@contextmanager
def served(larder: Path) -> Iterator[str]:
    """Address of a service over the larder in a folder, which runs meanwhile."""
    with serving(environment_of(larder)) as address:
        yield address


@contextmanager
def serving(environment: dict[str, str], *words: str) -> Iterator[str]:
    """Address of a service over the larder that an environment names; words as above."""
    command = [sys.executable, "-m", "tests.api.web.browser.server", *words]
    with subprocess.Popen(
        command,
        cwd=ROOT,
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        try:
            yield process.stdout.readline().strip()
        finally:
            process.stdin.close()
            process.wait(timeout=120)


def copied(larder: Path, to: Path) -> Path:
    """The same larder once more, so that a test may write into it."""
    shutil.copytree(larder, to)
    return to


def kept_larder(folder: Path) -> Path:
    """The demo's larder of the week as it was written for, made once for all who ask."""
    made_once(folder / "larder.made", lambda: _make(folder / "larder"))
    return folder / "larder"


def made_once(kept: Path, make: Callable[[], Made]) -> Made:
    """What `make` answered to whoever came first; it is kept in a file, as JSON, for the others."""
    kept.parent.mkdir(parents=True, exist_ok=True)
    with kept.with_suffix(".lock").open("w", encoding="utf-8") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not kept.exists():
            kept.write_text(json.dumps(make()), encoding="utf-8")
    made: Made = json.loads(kept.read_text(encoding="utf-8"))
    return made


def _make(larder: Path) -> None:
    subprocess.run(
        [sys.executable, "manage.py", "demo", "--no-serve", "--as-written"],
        cwd=ROOT,
        env=environment_of(larder),
        stdout=subprocess.DEVNULL,
        check=True,
    )


def environment_of(larder: Path) -> dict[str, str]:
    """What a process of ours is told about a larder, and nothing of whoever runs the tests."""
    kept = {name: value for name, value in os.environ.items() if name not in OURS}
    larder.mkdir(parents=True, exist_ok=True)
    return {**kept, "DYE_LARDER_STATE": str(larder), "DYE_LARDER_LIMITS": "off"}


def main() -> None:
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    django.setup()
    from django.core.servers.basehttp import ThreadedWSGIServer, WSGIRequestHandler

    from api.wsgi import application

    port, edition, *_ = *sys.argv[1:], *("0", "")[len(sys.argv) - 1 :]
    if edition:
        _serve_worker_of(edition)

    class Quiet(WSGIRequestHandler):
        def log_message(self, *args: object) -> None:
            """Nothing: whoever started this reads what is printed."""

    server = ThreadedWSGIServer(("127.0.0.1", int(port)), Quiet)
    server.daemon_threads = True
    server.set_app(_with_bare(application))
    Thread(target=server.serve_forever, daemon=True).start()
    print(f"http://127.0.0.1:{server.server_address[1]}", flush=True)
    sys.stdin.read()
    server.shutdown()


def _serve_worker_of(edition: str) -> None:
    from api.web.phone import files, scripts

    text = re.sub(r'const EDITION = "\w+"', f'const EDITION = "{edition}"', scripts.worker_script())
    files.worker_script = lambda: text  # type: ignore[assignment]


def _with_bare(application: Any) -> Any:
    """The service, and beside it the bare page."""

    def answer(environ: dict[str, Any], start_response: Any) -> Any:
        if environ["PATH_INFO"] == BARE:
            start_response("200 OK", [("Content-Type", "text/html")])
            return [BARE_PAGE]
        return application(environ, start_response)

    return answer


if __name__ == "__main__":
    main()
