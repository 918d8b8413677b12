"""Members come by an invitation, go by a word, and one owner always stays."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client

from api import invitations, members
from api.invitations import GOOD_FOR, InvitationUnknown, accept, invitation_of, invite
from api.members import (
    LastOwner,
    TooManyMembers,
    add_account,
    change_right,
    end_account,
    end_membership,
    join,
    members_of,
)
from api.models import Account, Invitation, Membership, ProgramToken
from api.names import NotAnEmail
from api.rights import Right
from inventory.models import Studio
from tests.api.members import PASSWORD, account, bearer, member, signed_in
from tests.api.web.pages import sound, words

NOON = datetime(2026, 11, 23, 12, 0, tzinfo=UTC)
CAL = "cal@pellitory.example"
FORM = {"name": "Cal", "new": PASSWORD, "again": PASSWORD}


@pytest.fixture
def yard(db: None) -> Studio:
    return Studio.objects.create(name="Pellitory Yard", zone="Europe/London")


@pytest.fixture
def loft(db: None) -> Studio:
    return Studio.objects.create(name="Kelpwick Loft", zone="Europe/London")


@pytest.fixture
def ada(yard: Studio) -> Membership:
    return member(yard)


def _link(by: Membership, right: Right = Right.DYER, at: datetime | None = None) -> str:
    _, secret = invite(by, email=CAL, right=right, at=at or datetime.now(tz=UTC))
    return f"/join/{secret}/"


def test_somebody_new_gets_an_account_by_a_link_and_is_signed_in(
    yard: Studio, ada: Membership
) -> None:
    client, link = Client(), _link(ada)
    page = client.get(link)
    assert sound(page) == []
    assert "You are invited to Pellitory Yard With the right of a dyer" in words(page)

    answer = client.post(link, FORM)

    assert answer["Location"] == "/?studio=Pellitory+Yard"
    assert client.get("/api/v1/sources/").status_code == 200
    row = members_of(yard).get(account__email=CAL)
    assert (row.right, row.account.name) == ("dyer", "Cal")
    assert row.account.check_password(PASSWORD)


def test_a_link_is_used_once(ada: Membership) -> None:
    link = _link(ada)
    Client().post(link, FORM)

    again = Client().post(link, {**FORM, "name": "Dan"})

    assert again.status_code == 422
    assert "This invitation is good no longer" in words(again)
    assert Account.objects.count() == 2


def test_a_link_is_good_for_seven_days(ada: Membership) -> None:
    _, secret = invite(ada, email=CAL, right=Right.DYER, at=NOON)
    last = NOON + GOOD_FOR

    assert invitation_of(secret, at=last - timedelta(seconds=1)).email == CAL
    with pytest.raises(InvitationUnknown):
        invitation_of(secret, at=last)


def test_a_link_ends_with_the_right_of_whoever_made_it(yard: Studio, ada: Membership) -> None:
    member(yard, email="ben@pellitory.example")
    _, secret = invite(ada, email=CAL, right=Right.DYER, at=NOON)

    change_right(ada, Right.DYER)

    with pytest.raises(InvitationUnknown):
        accept(secret, account(CAL), at=NOON)


def test_nothing_is_kept_that_would_open_a_link(ada: Membership) -> None:
    _, secret = invite(ada, email=CAL, right=Right.DYER, at=NOON)

    assert secret not in str(Invitation.everywhere().values().get())


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({**FORM, "name": "  "}, "A name is one line of 1 to 80 signs"),
        ({**FORM, "name": "C\0al"}, "A name is one line of 1 to 80 signs"),
        ({**FORM, "again": "other"}, "The two passwords differ."),
        ({**FORM, "new": CAL, "again": CAL}, "too similar"),
        ({}, "at least 10 characters"),
    ],
)
def test_what_will_not_do_is_said_and_the_link_stays_good(
    ada: Membership, sent: dict[str, str], said: str
) -> None:
    link = _link(ada)

    answer = Client().post(link, sent)

    assert answer.status_code == 422
    assert said in words(answer)
    assert Client().post(link, FORM).status_code == 303


def test_whoever_is_signed_in_joins_a_second_studio(loft: Studio, ada: Membership) -> None:
    owner = member(loft, email="eve@loft.example")
    client, link = signed_in(ada), _link(owner, Right.HELPER)
    assert "You are signed in as Ada" in words(client.get(link))

    assert client.post(link)["Location"] == "/?studio=Kelpwick+Loft"

    for name in ("Kelpwick Loft", "Pellitory Yard"):
        assert client.get("/api/v1/sources/", {"studio": name}).json()["studio"] == name
    assert members_of(loft).get(account=ada.account).right == "helper"


def test_an_email_that_has_an_account_signs_in_first(ada: Membership) -> None:
    account(CAL, password=PASSWORD)
    link = _link(ada)

    page = Client().get(link)

    assert f'href="/sign-in/?next={link}"' in page.content.decode()
    assert Client().post(link, FORM).status_code == 422
    assert Account.objects.count() == 2


@pytest.mark.parametrize("token", ["x", "x" * 200, "ä"])
def test_a_link_that_was_never_made_opens_nothing(ada: Membership, token: str) -> None:
    assert Client().get(f"/join/{token}/").status_code == 422


def test_a_member_who_is_invited_keeps_the_larger_right(yard: Studio, ada: Membership) -> None:
    assert join(yard, ada.account, right=Right.HELPER, at=NOON).right == "owner"
    ben = member(yard, Right.HELPER, "ben@pellitory.example")
    assert join(yard, ben.account, right=Right.DYER, at=NOON).right == "dyer"


def test_the_last_owner_neither_leaves_nor_becomes_less(yard: Studio, ada: Membership) -> None:
    ben = member(yard, Right.DYER, "ben@pellitory.example")
    for less in (
        lambda: change_right(ada, Right.DYER),
        lambda: end_membership(ada, at=NOON),
        lambda: end_account(ada.account, at=NOON),
    ):
        with pytest.raises(LastOwner) as caught:
            less()
        assert str(caught.value) == (
            "Pellitory Yard has no other owner. Make another member an owner first."
        )
    assert members_of(yard).get(account=ada.account).right == "owner"

    change_right(ben, Right.OWNER)
    change_right(ada, Right.DYER)

    assert [row.right for row in members_of(yard)] == ["dyer", "owner"]


def test_whoever_leaves_takes_no_token_along_and_comes_back_without(
    yard: Studio, ada: Membership
) -> None:
    ben = member(yard, Right.DYER, "ben@pellitory.example")
    asked = {"Authorization": bearer(ben)}

    end_membership(ben, at=NOON)
    back = join(yard, ben.account, right=Right.HELPER, at=NOON + timedelta(days=1))

    assert back.pk == ben.pk
    assert Client().get("/api/v1/sources/", headers=asked).status_code == 401
    assert ProgramToken.objects.of(yard).get().ended_at == NOON


def test_an_account_that_is_ended_leaves_every_studio(
    yard: Studio, loft: Studio, ada: Membership
) -> None:
    ben = member(yard, Right.DYER, "ben@pellitory.example")
    member(loft, Right.HELPER, "ben@pellitory.example")

    end_account(ben.account, at=NOON)

    assert not Membership.everywhere().filter(account=ben.account, ended_at=None).exists()
    assert not Account.objects.get(pk=ben.account_id).is_active


def test_a_studio_has_so_many_members_and_so_many_invitations(
    yard: Studio, ada: Membership, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(members, "MOST_MEMBERS", 2)
    monkeypatch.setattr(invitations, "MOST_OPEN", 1)
    ben = account("ben@pellitory.example")
    join(yard, ben, right=Right.HELPER, at=NOON)
    invite(ada, email=CAL, right=Right.DYER, at=NOON)

    with pytest.raises(TooManyMembers):
        join(yard, account(CAL), right=Right.HELPER, at=NOON)
    with pytest.raises(invitations.TooManyInvitations):
        invite(ada, email=CAL, right=Right.DYER, at=NOON)

    assert join(yard, ben, right=Right.DYER, at=NOON).right == "dyer"
    invite(ada, email=CAL, right=Right.DYER, at=NOON + GOOD_FOR)


@pytest.mark.django_db
@pytest.mark.parametrize(
    "email", ["", "ada", "ada@", "ädä@yard.example", "a" * 250 + "@yard.example"]
)
def test_an_account_has_an_email_that_letters_reach(email: str) -> None:
    with pytest.raises(NotAnEmail):
        add_account(email=email, name="Ada", password=None, at=NOON)
