"""The page of one's account: tokens, members and invitations by buttons, each once and guarded."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.test import Client

from api.models import Invitation, Membership, ProgramToken
from api.rights import Right
from inventory.models import Studio
from tests.api.members import bearer, member, signed_in
from tests.api.web.pages import sound, words

TOKEN = {"do": "make-token", "name": "kitchen scale", "right": "helper", "days": "90"}
BEN = "ben@pellitory.example"


@pytest.fixture
def yard(db: None) -> Studio:
    return Studio.objects.create(name="Pellitory Yard", zone="Europe/London")


@pytest.fixture
def ada(yard: Studio) -> Membership:
    return member(yard)


@pytest.fixture
def ben(yard: Studio) -> Membership:
    return member(yard, Right.DYER, BEN)


def _press(client: Client, do: str, **sent: Any) -> Any:
    return client.post("/account/", {"do": do, **sent})


def test_an_owner_sees_everything_and_the_page_is_sound(ada: Membership, ben: Membership) -> None:
    bearer(ben)
    client = signed_in(ada)
    _press(client, "invite", email="cal@pellitory.example", right="helper")

    page = client.get("/account/")

    assert sound(page) == []
    for said in ("Ada", BEN, "kitchen scale of Ben", "cal@pellitory.example", "Leave"):
        assert said in words(page)
    assert page["Cache-Control"] == "no-store"


def test_a_dyer_sees_what_is_theirs_and_no_word_of_others(ada: Membership, ben: Membership) -> None:
    bearer(ada)

    page = signed_in(ben).get("/account/")

    assert sound(page) == []
    assert "Leave Pellitory Yard" in words(page)
    assert "ada@pellitory.example" not in page.content.decode()
    assert "Invite somebody" not in words(page)
    assert "<option>owner</option>" not in page.content.decode()


def test_a_token_is_shown_once_and_opens(ada: Membership) -> None:
    client = signed_in(ada)

    made = client.post("/account/", TOKEN)

    found = re.search(r"dyl_[\w-]+", made.content.decode())
    assert found is not None
    assert sound(made) == []
    assert found[0] not in client.get("/account/").content.decode()
    asked = {"Authorization": f"Bearer {found[0]}"}
    assert Client().get("/api/v1/sources/", headers=asked).status_code == 200
    row = ProgramToken.everywhere().get()
    assert (row.right, row.reads_only, (row.expires_at - row.made_at).days) == ("helper", False, 90)

    assert _press(client, "end-token", token=row.pk).status_code == 303
    assert Client().get("/api/v1/sources/", headers=asked).status_code == 401


def test_an_invitation_is_shown_once_followed_and_ended(ada: Membership) -> None:
    client = signed_in(ada)

    made = _press(client, "invite", email="cal@pellitory.example", right="helper")

    found = re.search(r"http://testserver(/join/[\w-]+/)", made.content.decode())
    assert found is not None
    assert Client().get(found[1]).status_code == 200
    _press(client, "end-invitation", invitation=Invitation.everywhere().get().pk)
    assert Client().get(found[1]).status_code == 422


def test_an_owner_changes_a_right_and_ends_a_membership(ada: Membership, ben: Membership) -> None:
    client = signed_in(ada)

    _press(client, "change-member", member=ben.pk, right="helper")
    assert Membership.everywhere().get(pk=ben.pk).right == "helper"
    _press(client, "end-member", member=ben.pk)

    assert Membership.everywhere().get(pk=ben.pk).ended_at is not None
    alone = _press(client, "end-member", member=ada.pk)
    assert alone.status_code == 422
    assert "Pellitory Yard has no other owner" in words(alone)


def test_whoever_leaves_sees_that_they_belong_nowhere(ada: Membership, ben: Membership) -> None:
    client = signed_in(ben)

    left = _press(client, "end-member", member=ben.pk)

    assert "You belong to no studio yet" in words(client.get(left["Location"]))


@pytest.mark.parametrize(
    "sent",
    [
        {"do": "change-member", "right": "owner"},
        {"do": "end-member"},
        {"do": "invite", "email": BEN, "right": "owner"},
        {"do": "end-invitation", "invitation": "1"},
    ],
)
def test_a_dyer_presses_no_button_of_an_owner(
    ada: Membership, ben: Membership, sent: dict[str, str]
) -> None:
    keys = {"member": ada.pk if sent["do"] == "end-member" else ben.pk}

    answer = signed_in(ben).post("/account/", {**keys, **sent})

    assert answer.status_code == 422
    assert "This needs the right of an owner" in words(answer)
    rights = list(Membership.everywhere().order_by("pk").values_list("right", "ended_at"))
    assert rights == [("owner", None), ("dyer", None)]
    assert not Invitation.everywhere().exists()


@pytest.mark.parametrize(
    "sent",
    [
        {},
        {"do": "burn"},
        {**TOKEN, "days": "9999"},
        {**TOKEN, "right": "king"},
        {"do": "end-token", "token": "²"},
        {"do": "end-token", "token": "9" * 30},
    ],
)
def test_what_no_button_sends_does_nothing(ada: Membership, sent: dict[str, str]) -> None:
    answer = signed_in(ada).post("/account/", sent)

    assert answer.status_code == 422
    assert "No button of this page sends that" in words(answer)
    assert not ProgramToken.everywhere().exists()


def test_a_token_of_too_large_a_right_or_without_a_name_is_not_made(ben: Membership) -> None:
    client = signed_in(ben)

    for wrong, said in (
        ({"right": "owner"}, "the right of an owner"),
        ({"name": " "}, "A name is"),
    ):
        assert said in words(client.post("/account/", {**TOKEN, **wrong}))
    assert not ProgramToken.everywhere().exists()


def test_a_second_studio_begins_and_each_is_chosen_by_its_name(ada: Membership) -> None:
    client = signed_in(ada)

    assert (
        _press(client, "begin-studio", name="Quillet Barn", zone="Europe/London").status_code == 303
    )

    both = client.get("/account/")
    assert sound(both) == []
    assert "Tokens for programs" not in words(both)
    barn = client.get("/account/", {"studio": "Quillet Barn"})
    assert "Tokens for programs at Quillet Barn" in words(barn)
    client.post("/account/?studio=Quillet+Barn", TOKEN)
    assert ProgramToken.everywhere().get().studio.name == "Quillet Barn"


def test_a_page_of_somebody_else_presses_nothing(ada: Membership) -> None:
    assert signed_in(ada, enforces=True).post("/account/", TOKEN).status_code == 403
    assert not ProgramToken.everywhere().exists()
