"""Passwords: changed by whoever knows the old one, or by a link that is good once."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from api import recovery
from api.environment import Mail
from api.models import Account, OutboxLetter, RecoveryWish
from api.recovery import file_recoveries, recovery_path, wish_recovery
from api.reminders.round import one_round
from inventory.models import Studio
from tests.api.members import PASSWORD, account, bearer, member
from tests.api.web.pages import sound, words

ADA = "ada@pellitory.example"
NEW = "madder in the rain barrel"
NOON = datetime(2026, 11, 23, 12, 0, tzinfo=UTC)
ADDRESS = "https://larder.example"
BOTH = {"new": NEW, "again": NEW}


@pytest.fixture
def ada(db: None) -> Account:
    return account(ADA, password=PASSWORD)


@pytest.fixture
def yard(ada: Account) -> Studio:
    yard = Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
    member(yard, email=ADA)
    return yard


@pytest.fixture
def mail(settings: Any, tmp_path: Path) -> Mail:
    settings.ADDRESS = ADDRESS
    settings.MAIL = Mail("yard@larder.example", 5, folder=tmp_path / "post", address=ADDRESS)
    found: Mail = settings.MAIL
    return found


def _browser(password: str = PASSWORD) -> Client:
    client = Client()
    client.post("/sign-in/", {"email": ADA, "password": password})
    return client


def _is_signed_in(client: Client) -> bool:
    return client.get("/account/").status_code == 200


def test_another_password_ends_the_other_sessions_and_keeps_this_one_and_the_tokens(
    yard: Studio,
) -> None:
    here, elsewhere = _browser(), _browser()
    token = {"Authorization": bearer(member(yard, email="ben@pellitory.example"))}

    answer = here.post("/password/", {"password": PASSWORD, **BOTH})

    assert "wherever else you were signed in, you are signed out" in words(answer)
    assert sound(answer) == []
    assert (_is_signed_in(here), _is_signed_in(elsewhere)) == (True, False)
    assert (_is_signed_in(_browser()), _is_signed_in(_browser(NEW))) == (False, True)
    assert Client().get("/api/v1/sources/", headers=token).status_code == 200


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"password": "wrong", **BOTH}, "The password that you have now is another one."),
        ({"password": PASSWORD, "new": NEW, "again": NEW + "s"}, "The two passwords differ."),
        ({"password": PASSWORD, "new": "short", "again": "short"}, "at least 10 characters"),
        ({"password": PASSWORD, "new": "1234567890", "again": "1234567890"}, "too common"),
        ({"password": PASSWORD, "new": ADA, "again": ADA}, "too similar"),
        ({"password": PASSWORD, "new": "x" * 201, "again": "x" * 201}, "may have 200 characters"),
        ({"password": PASSWORD}, "at least 10 characters"),
    ],
)
def test_a_password_that_will_not_do_is_refused_and_nothing_changes(
    ada: Account, sent: dict[str, str], said: str
) -> None:
    client = _browser()

    answer = client.post("/password/", sent)

    assert answer.status_code == 422
    assert said in words(answer)
    assert sound(answer) == []
    assert _is_signed_in(client)
    assert _is_signed_in(_browser())


def test_the_old_password_is_not_guessed_here_either(ada: Account) -> None:
    client = _browser()
    answers = [client.post("/password/", {"password": "no", **BOTH}) for _ in range(6)]

    assert [answer.status_code for answer in answers] == [422] * 5 + [429]


def test_without_mail_the_page_says_whom_to_ask(ada: Account) -> None:
    page = Client().get("/password/forgotten/")
    sent = Client().post("/password/forgotten/", {"email": ADA})

    assert "Ask an owner of your studio" in words(page)
    assert "Ask an owner of your studio" in words(sent)
    assert not RecoveryWish.objects.exists()


def test_the_answer_and_what_is_written_are_the_same_for_an_email_that_nobody_has(
    yard: Studio, mail: Mail, django_assert_num_queries: Any
) -> None:
    said, wrote = [], []
    for email in (ADA, "nobody@pellitory.example", "no e-mail \0"):
        with django_assert_num_queries(12, exact=False) as asked:
            answer = Client().post("/password/forgotten/", {"email": email})
        said.append((answer.status_code, words(answer)))
        wrote.append([query["sql"].split()[0] for query in asked])

    assert said[0] == said[1] == said[2]
    assert wrote[1] == wrote[2]
    assert "If an account has this e-mail, a letter" in said[0][1]
    assert RecoveryWish.objects.count() == 3


def test_a_letter_goes_out_with_a_link_to_whoever_has_the_email(yard: Studio, mail: Mail) -> None:
    now = datetime.now(tz=UTC)
    for email in ("ADA@pellitory.example", "nobody@pellitory.example"):
        Client().post("/password/forgotten/", {"email": email})
    assert not OutboxLetter.objects.of(yard).exists()

    one_round(mail=mail, clock=lambda: now + timedelta(minutes=1))

    assert mail.folder is not None
    (letter,) = mail.folder.iterdir()
    text = letter.read_text(encoding="utf-8").replace("=\n", "")
    assert f"To: {ADA}" in text
    found = re.search(rf"{ADDRESS}(/password/new/[\w-]+/)", text)
    assert found is not None
    assert Client().get(found.group(1)).status_code == 200
    assert not RecoveryWish.objects.exists()


def test_the_page_of_letters_tells_the_others_nothing_of_it(yard: Studio, mail: Mail) -> None:
    wish_recovery(ADA, at=NOON)
    assert file_recoveries(at=NOON, address=ADDRESS, domain="larder.example") == 1

    page = _browser().get("/reminders/", {"at": "2026-11-23T12:00"})

    assert recovery.SUBJECT not in page.content.decode()


def test_whoever_belongs_to_no_studio_gets_no_letter(ada: Account) -> None:
    wish_recovery(ADA, at=NOON)

    assert file_recoveries(at=NOON, address=ADDRESS, domain="larder.example") == 0


def test_letters_are_not_asked_for_too_often_from_one_address(ada: Account, mail: Mail) -> None:
    answers = [Client().post("/password/forgotten/", {"email": ADA}) for _ in range(11)]

    assert [answer.status_code for answer in answers] == [200] * 10 + [429]


def test_a_link_is_used_once_and_ends_every_session(ada: Account) -> None:
    old, path = _browser(), recovery_path(Account.objects.get())
    page = Client().get(path)
    assert sound(page) == []
    assert (page["Referrer-Policy"], page["Cache-Control"]) == ("same-origin", "no-store")

    answer = Client().post(path, BOTH)

    assert "Sign in with the new password" in words(answer)
    assert not _is_signed_in(old)
    assert _is_signed_in(_browser(NEW))
    again = Client().post(path, {"new": PASSWORD, "again": PASSWORD})
    assert again.status_code == 422
    assert "This address is good no longer" in words(again)
    assert _is_signed_in(_browser(NEW))


def test_a_link_ends_with_its_hour(ada: Account, monkeypatch: pytest.MonkeyPatch) -> None:
    path, made = recovery_path(ada), datetime.now()  # noqa: DTZ005 - as the framework counts

    for later, good in ((timedelta(minutes=59), True), (timedelta(minutes=61), False)):
        at = made + later
        monkeypatch.setattr(recovery.SEAL, "_now", lambda at=at: at)
        assert ("The same again" in words(Client().get(path))) is good


@pytest.mark.parametrize("token", ["x", "1-x", "-", "1-" + "a" * 300, "zzzzzzzzzzzz-a-b", "ä-b"])
def test_a_link_that_was_never_made_opens_nothing(ada: Account, token: str) -> None:
    answer = Client().post(f"/password/new/{token}/", BOTH)

    assert answer.status_code == 422
    assert "Ask for another address" in words(answer)


def test_a_password_too_weak_does_not_use_the_link_up(ada: Account) -> None:
    path = recovery_path(ada)

    assert Client().post(path, {"new": "short", "again": "short"}).status_code == 422
    assert "Sign in with the new password" in words(Client().post(path, BOTH))
