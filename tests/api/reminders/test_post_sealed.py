"""Talks with a mail server under TLS, with a password: both ways in, and who is turned away."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from api.environment import Mail
from api.reminders.errors import NotTakenYet
from api.reminders.post import hand_over
from tests.api.reminders.postbox import MailServer, mail_server

MESSAGE = b"Message-ID: <a@yard.example>\r\nSubject: x\r\n\r\nhello\r\n.\r\nend"
CERTIFICATE = Path(__file__).with_name("mail_server.pem")


@pytest.fixture(scope="module", params=["smtps", "starttls"])
def sealed(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[MailServer]:
    with mail_server(tmp_path_factory.mktemp("mail"), request.param) as running:
        yield running


@pytest.fixture
def mail(sealed: MailServer, request: pytest.FixtureRequest) -> Mail:
    tls = request.node.callspec.params["sealed"] == "smtps"
    return replace(sealed.mail, tls=tls, user="mara", password="indigo-and-weld")


def handed(mail: Mail) -> str:
    return hand_over(mail, MESSAGE, to="a@b.example", name="a", before_text=lambda: True)


def test_a_letter_goes_under_tls_with_the_password(
    mail: Mail, sealed: MailServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SSL_CERT_FILE", str(CERTIFICATE))
    before = sealed.taken().total()

    assert handed(mail) == "250 2.0.0 taken"
    assert sealed.taken().total() == before + 1


def test_a_wrong_password_is_tried_again_later_and_never_shown(
    mail: Mail, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SSL_CERT_FILE", str(CERTIFICATE))

    with pytest.raises(NotTakenYet) as refused:
        handed(replace(mail, password="weld-alone"))

    assert refused.value.said.startswith("535 ")
    assert "weld" not in refused.value.said


def test_a_server_that_nobody_vouches_for_gets_no_password(mail: Mail, sealed: MailServer) -> None:
    before = sealed.taken().total()

    with pytest.raises(NotTakenYet) as refused:
        handed(mail)

    assert "CERTIFICATE_VERIFY_FAILED" in refused.value.said
    assert sealed.taken().total() == before
