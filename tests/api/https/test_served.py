"""`manage.py serve --https` over a real connection: what a phone that trusts it sees."""

from __future__ import annotations

import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from http.client import HTTPSConnection
from pathlib import Path

import pytest

from api.https.keeping import keep_certificate
from api.https.names import Names
from tests.inventory.scratch import ROOT, scratch_database

ENDS_WITHIN_S = 20


def free_port() -> int:
    with closing(socket.socket()) as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


class Served:
    """A larder that is served over https, and what its command said."""

    def __init__(self, folder: Path, port: int, said: str) -> None:
        self.folder, self.port, self.said = folder, port, said

    def context(self) -> ssl.SSLContext:
        """A phone's that trusts the authority."""
        return ssl.create_default_context(cafile=str(self.folder / "https" / "authority.crt"))

    def asked(self, path: str) -> tuple[int, dict[str, str], bytes]:
        with closing(
            HTTPSConnection("127.0.0.1", self.port, context=self.context(), timeout=30)
        ) as line:
            line.request("GET", path)
            answer = line.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()

    def certificate(self) -> object:
        """The number of the certificate that a new connection meets."""
        with (
            socket.create_connection(("127.0.0.1", self.port), timeout=30) as line,
            self.context().wrap_socket(line, server_hostname="127.0.0.1") as safe,
        ):
            found = safe.getpeercert()
            assert found is not None
            return found["serialNumber"]


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder, port = tmp_path_factory.mktemp("https"), free_port()
    with scratch_database(folder) as environment:
        words = ["manage.py", "serve", "--https", "--port", str(port), "--name", "dyes.lan"]
        with subprocess.Popen(
            [sys.executable, *words], cwd=ROOT, env=environment, text=True, stdout=subprocess.PIPE
        ) as process:
            assert process.stdout is not None
            said = []
            for line in process.stdout:
                said.append(line)
                if line.startswith("The certificate is good until"):
                    break
            _wait_for(port)
            yield Served(folder, port, "".join(said))
            process.terminate()
            process.wait(ENDS_WITHIN_S)


def _wait_for(port: int) -> None:
    for _ in range(600):
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise AssertionError("nothing is served")


def test_a_phone_that_trusts_it_is_answered(served: Served) -> None:
    status, heads, _ = served.asked("/worker.js")

    assert status == 200
    assert heads["Content-Type"] == "text/javascript; charset=utf-8"


def test_a_phone_that_does_not_trust_it_is_not_talked_into_it(served: Served) -> None:
    with (
        closing(
            HTTPSConnection("127.0.0.1", served.port, context=ssl.create_default_context())
        ) as line,
        pytest.raises(ssl.SSLCertVerificationError),
    ):
        line.request("GET", "/")


def test_whoever_comes_from_the_network_signs_in_with_a_cookie_for_https_only(
    served: Served,
) -> None:
    status, heads, _ = served.asked("/")
    _, of_form, _ = served.asked("/sign-in/")

    assert (status, heads["Location"]) == (303, "/sign-in/?next=%2F")
    assert "Secure" in of_form["Set-Cookie"]


def test_the_command_says_address_fingerprint_and_what_is_missing(served: Served) -> None:
    assert f"https://dyes.lan:{served.port}/\n" in served.said
    assert "Nobody has an account yet" in served.said
    assert "The code leads to https://" in served.said


def test_the_page_on_trust_shows_the_same_fingerprint_and_gives_the_file(served: Served) -> None:
    (said,) = [line for line in served.said.splitlines() if line.startswith("Fingerprint")]
    _, _, shown = served.asked("/trust/")
    _, heads, file = served.asked("/trust/larder.crt")

    assert said.split()[-1] in shown.decode()
    assert heads["Content-Type"] == "application/x-x509-ca-cert"
    assert file == (served.folder / "https" / "authority.crt").read_bytes()


def test_a_renewed_certificate_is_met_without_a_restart(served: Served) -> None:
    before = served.certificate()

    keep_certificate(served.folder, Names(("127.0.0.1",), ("shed.lan",)), at=datetime.now(UTC))

    assert served.certificate() != before
    assert served.asked("/worker.js")[0] == 200


def test_a_name_of_the_world_stops_the_command(tmp_path: Path) -> None:
    with scratch_database(tmp_path) as environment:
        done = subprocess.run(
            [sys.executable, "manage.py", "serve", "--https", "--name", "dyes.example.org"],
            cwd=ROOT, env=environment, text=True, capture_output=True, check=False,
        )  # fmt: skip

    assert done.returncode == 1
    assert "dyes.example.org is not a name of a studio's own network. Give one" in done.stderr
