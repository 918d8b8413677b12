"""Who am I, tokens, members, invitations and a studio of one's own, as programs ask for them."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.test import Client

from api import tokens
from api.models import Membership, ProgramToken
from api.rights import Right
from inventory.models import Studio
from tests.api.members import bearer, member, signed_in

NOW = datetime.now(tz=UTC)
LATER = (NOW + timedelta(days=30)).isoformat(timespec="seconds")
SCALE = {"name": "kitchen scale", "right": "helper", "expires_at": LATER}
ADA, BEN = "ada@pellitory.example", "ben@pellitory.example"


@pytest.fixture
def yard(db: None) -> Studio:
    return Studio.objects.create(name="Pellitory Yard", zone="Europe/London")


@pytest.fixture
def ada(yard: Studio) -> Membership:
    return member(yard)


@pytest.fixture
def ben(yard: Studio) -> Membership:
    return member(yard, Right.DYER, BEN)


def _sent(client: Client, method: str, address: str, body: Any = None, **headers: str) -> Any:
    text = "" if body is None else json.dumps(body)
    return client.generic(method, address, text, "application/json", headers=headers)


def _post(client: Client, address: str, body: Any, **headers: str) -> Any:
    return _sent(client, "POST", address, body, **headers)


def test_who_asks_is_told_with_studios_and_rights(ada: Membership) -> None:
    loft = Studio.objects.create(name="Kelpwick Loft", zone="Europe/London")
    member(loft, Right.HELPER, ADA)

    found = signed_in(ada).get("/api/v1/me/").json()

    assert found == {
        "account": {"name": "Ada", "email": ADA},
        "token": None,
        "studios": [
            {"studio": "Kelpwick Loft", "right": "helper"},
            {"studio": "Pellitory Yard", "right": "owner"},
        ],
    }
    token = bearer(ada, Right.DYER, reads_only=True)
    shown = Client().get("/api/v1/me/", headers={"Authorization": token}).json()
    assert shown["studios"] == [{"studio": "Pellitory Yard", "right": "owner"}]
    assert (shown["token"]["right"], shown["token"]["reads_only"]) == ("dyer", True)
    assert Client().get("/api/v1/me/").status_code == 401


def test_in_an_open_house_the_owner_is_nobody_by_name(yard: Studio) -> None:
    assert Client().get("/api/v1/me/").json() == {
        "account": None,
        "token": None,
        "studios": [{"studio": "Pellitory Yard", "right": "owner"}],
    }
    answer = _post(Client(), "/api/v1/tokens/", SCALE)
    assert (answer.status_code, answer.json()["code"]) == (409, "no_account_yet")


def test_a_token_is_made_shown_once_and_opens(ada: Membership) -> None:
    client = signed_in(ada)

    made = _post(client, "/api/v1/tokens/", SCALE)

    assert (made.status_code, made["Cache-Control"]) == (201, "no-store")
    secret = made.json()["token"]
    asked = {"Authorization": f"Bearer {secret}"}
    assert Client().get("/api/v1/sources/", headers=asked).status_code == 200
    listed = client.get("/api/v1/tokens/")
    assert secret not in listed.content.decode()
    (row,) = listed.json()["tokens"]
    assert (row["name"], row["member"], row["right"]) == ("kitchen scale", "Ada", "helper")

    assert _sent(client, "DELETE", f"/api/v1/tokens/{row['id']}/").status_code == 204

    assert Client().get("/api/v1/sources/", headers=asked).status_code == 401
    assert client.get("/api/v1/tokens/").json() == {"tokens": []}
    again = _sent(client, "DELETE", f"/api/v1/tokens/{row['id']}/")
    assert (again.status_code, again.json()["code"]) == (404, "token_not_there")


@pytest.mark.parametrize(
    ("changed", "status", "code"),
    [
        ({"right": "owner"}, 403, "no_right"),
        ({"right": "king"}, 400, "fields_unreadable"),
        ({"name": ""}, 400, "fields_unreadable"),
        ({"name": "two\nlines"}, 422, "not_a_name"),
        ({"expires_at": "2020-01-01T00:00:00+00:00"}, 422, "token_too_long"),
        ({"expires_at": (NOW + timedelta(days=367)).isoformat()}, 422, "token_too_long"),
        ({"expires_at": "soon"}, 422, "fields_unclear"),
        ({"expires_at": None}, 400, "fields_unreadable"),
        ({"reads_only": "yes"}, 400, "fields_unreadable"),
        ({"colour": "red"}, 400, "fields_unreadable"),
    ],
)
def test_a_token_that_cannot_be_is_refused_and_not_made(
    ben: Membership, changed: dict[str, Any], status: int, code: str
) -> None:
    answer = _post(signed_in(ben), "/api/v1/tokens/", {**SCALE, **changed})

    assert (answer.status_code, answer.json()["code"]) == (status, code)
    assert not ProgramToken.everywhere().exists()


def test_a_token_makes_none_that_may_more_or_lasts_longer(ada: Membership) -> None:
    asked = {"Authorization": bearer(ada, Right.HELPER)}
    last = ProgramToken.everywhere().get().expires_at

    assert _post(Client(), "/api/v1/tokens/", SCALE, **asked).status_code == 201
    more = _post(Client(), "/api/v1/tokens/", {**SCALE, "right": "dyer"}, **asked)
    longer = (last + timedelta(seconds=1)).isoformat()
    late = _post(Client(), "/api/v1/tokens/", {**SCALE, "expires_at": longer}, **asked)

    assert (more.status_code, late.status_code) == (403, 422)


def test_a_token_for_reading_makes_and_ends_none(ada: Membership) -> None:
    asked = {"Authorization": bearer(ada, reads_only=True)}
    key = ProgramToken.everywhere().get().pk

    assert Client().get("/api/v1/members/", headers=asked).status_code == 200
    assert _post(Client(), "/api/v1/tokens/", SCALE, **asked).json()["code"] == "token_reads_only"
    ended = _sent(Client(), "DELETE", f"/api/v1/tokens/{key}/", **asked)
    assert ended.json()["code"] == "token_reads_only"


def test_tokens_of_others_are_seen_and_ended_by_an_owner_only(
    ada: Membership, ben: Membership
) -> None:
    bearer(ada)
    bearer(ben)
    of_ada, of_ben = (ProgramToken.everywhere().get(membership=who).pk for who in (ada, ben))
    owner, dyer = signed_in(ada), signed_in(ben)

    assert [row["id"] for row in dyer.get("/api/v1/tokens/").json()["tokens"]] == [of_ben]
    assert _sent(dyer, "DELETE", f"/api/v1/tokens/{of_ada}/").status_code == 404
    assert [row["id"] for row in owner.get("/api/v1/tokens/").json()["tokens"]] == [of_ben, of_ada]
    assert _sent(owner, "DELETE", f"/api/v1/tokens/{of_ben}/").status_code == 204
    assert _sent(owner, "DELETE", f"/api/v1/tokens/{10**30}/").status_code == 404


def test_a_studio_has_so_many_tokens(ada: Membership, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tokens, "MOST_TOKENS", 1)
    client = signed_in(ada)

    answers = [_post(client, "/api/v1/tokens/", SCALE).status_code for _ in range(2)]

    assert answers == [201, 409]


def test_an_owner_changes_a_right_that_nobody_changed_meanwhile(
    ada: Membership, ben: Membership
) -> None:
    owner, place = signed_in(ada), f"/api/v1/members/{ben.pk}/"
    names = [row["name"] for row in owner.get("/api/v1/members/").json()["members"]]
    assert names == ["Ada", "Ben"]
    tag = owner.get(place)["ETag"]
    change = {"right": "helper"}
    assert _sent(owner, "PATCH", place, change).status_code == 428

    changed = _sent(owner, "PATCH", place, change, **{"If-Match": tag})

    assert (changed.status_code, changed.json()["right"]) == (200, "helper")
    assert _sent(owner, "PATCH", place, change, **{"If-Match": tag}).status_code == 412
    assert owner.get(place)["ETag"] == changed["ETag"] != tag
    again = owner.get(place, headers={"If-None-Match": changed["ETag"]})
    assert again.status_code == 304


def test_the_last_owner_stays_and_others_may_leave(ada: Membership, ben: Membership) -> None:
    owner, dyer = signed_in(ada), signed_in(ben)
    for who, client, status in ((ada, owner, 409), (ben, dyer, 204)):
        place = f"/api/v1/members/{who.pk}/"
        tag = client.get(place)["ETag"]
        gone = _sent(client, "DELETE", place, **{"If-Match": tag})
        assert gone.status_code == status

    assert dyer.get("/api/v1/sources/").status_code == 404
    less = _sent(
        owner, "PATCH", f"/api/v1/members/{ada.pk}/", {"right": "dyer"}, **{"If-Match": "*"}
    )
    assert (less.status_code, less.json()["code"]) == (409, "last_owner")


def test_members_and_invitations_are_an_owners_affair(ada: Membership, ben: Membership) -> None:
    dyer = signed_in(ben)
    refused = [
        dyer.get("/api/v1/members/"),
        dyer.get(f"/api/v1/members/{ada.pk}/"),
        dyer.get("/api/v1/invitations/"),
        _sent(dyer, "PATCH", f"/api/v1/members/{ben.pk}/", {"right": "owner"}, **{"If-Match": "*"}),
        _sent(dyer, "DELETE", f"/api/v1/members/{ada.pk}/", **{"If-Match": "*"}),
        _post(dyer, "/api/v1/invitations/", {"email": BEN, "right": "owner"}),
        _sent(dyer, "DELETE", "/api/v1/invitations/1/"),
    ]

    assert [answer.json()["code"] for answer in refused] == ["no_right"] * 7
    assert Membership.everywhere().get(pk=ben.pk).right == "dyer"


def test_members_of_another_studio_are_not_there(ada: Membership) -> None:
    loft = Studio.objects.create(name="Kelpwick Loft", zone="Europe/London")
    eve = member(loft, email="eve@loft.example")
    bearer(eve)
    token = ProgramToken.everywhere().get(membership=eve)
    client = signed_in(ada)

    assert client.get(f"/api/v1/members/{eve.pk}/").status_code == 404
    change = _sent(
        client, "PATCH", f"/api/v1/members/{eve.pk}/", {"right": "helper"}, **{"If-Match": "*"}
    )
    assert change.status_code == 404
    assert _sent(client, "DELETE", f"/api/v1/tokens/{token.pk}/").status_code == 404


def test_somebody_is_invited_joins_by_the_link_and_an_invitation_is_ended(ada: Membership) -> None:
    owner, form = signed_in(ada), {"email": "Cal@Pellitory.example", "right": "helper"}
    made = _post(owner, "/api/v1/invitations/", form)
    assert made.status_code == 201
    link = made.json()["link"]
    assert link.startswith("http://testserver/join/")
    assert "link" not in owner.get("/api/v1/invitations/").json()["invitations"][0]
    assert Client().get(link).status_code == 200

    assert _sent(owner, "DELETE", f"/api/v1/invitations/{made.json()['id']}/").status_code == 204

    assert Client().get(link).status_code == 422
    assert owner.get("/api/v1/invitations/").json() == {"invitations": []}
    wrong = _post(owner, "/api/v1/invitations/", {"email": "cal", "right": "helper"})
    assert (wrong.status_code, wrong.json()["code"]) == (422, "not_an_email")


def test_a_studio_of_ones_own_begins_with_its_owner(ada: Membership) -> None:
    client, barn = signed_in(ada), {"name": "Quillet Barn", "zone": "Europe/London"}

    begun = _post(client, "/api/v1/studios/", barn)

    assert (begun.status_code, begun.json()) == (201, {"studio": "Quillet Barn", "right": "owner"})
    found = client.get("/api/v1/sources/", {"studio": "Quillet Barn"})
    assert found.json()["studio"] == "Quillet Barn"
    taken = _post(client, "/api/v1/studios/", {**barn, "name": "quillet barn"})
    assert (taken.status_code, taken.json()["code"]) == (409, "studio_taken")


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"zone": "London"}, "zone_unknown"),
        ({"zone": "../etc/passwd"}, "zone_unknown"),
        ({"currency": "gbp"}, "not_money"),
        ({"name": "two\nlines"}, "fields_unclear"),
    ],
)
def test_a_studio_that_cannot_be_does_not_begin(
    ada: Membership, changed: dict[str, str], code: str
) -> None:
    barn = {"name": "Quillet Barn", "zone": "Europe/London", **changed}

    answer = _post(signed_in(ada), "/api/v1/studios/", barn)

    assert (answer.status_code, answer.json()["code"]) == (422, code)
    assert Studio.objects.count() == 1


def test_a_token_begins_no_studio(ada: Membership) -> None:
    barn = {"name": "Quillet Barn", "zone": "Europe/London"}

    answer = _post(Client(), "/api/v1/studios/", barn, Authorization=bearer(ada))

    assert (answer.status_code, answer.json()["code"]) == (403, "person_needed")
