"""A run's own page: its answer, another weight or day looked at and kept, claims, letting go."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.rights import Right
from inventory.models import Studio
from sourcing.models import Claim, FastnessWish, Run, ShadeCard
from sourcing.runs import card_before, next_code
from sourcing.steps import begin_run
from tests.api.members import member, signed_in
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, said
from tests.sourcing.week.pellitory import MONDAY_0730

pytestmark = pytest.mark.usefixtures("yard")
QUERIES = 8


def look(client: Client, run: str, **asked: str) -> Any:
    return client.get(f"/runs/{run}/", {"at": MONDAY, **asked})


def press(client: Client, run: str, do: str, **fields: str) -> Any:
    return client.post(f"/runs/{run}/?at={MONDAY}", {"do": do, **fields})


def test_a_run_that_waits_says_what_would_unlock_it(client: Client) -> None:
    with CaptureQueriesContext(connection) as asked:
        page = look(client, "E")

    assert len(asked) <= QUERIES
    assert sound(page) == []
    text = said(read(page).query("section.looked")[0])
    assert text.startswith("The answer Not yet: Mon 30 Nov 13:00 tannin, dry Thu 3 Dec 15:00.")
    assert "0.5 kg more line room on Friday (15:00 to Sat 28 Nov 10:00) then first step" in text
    assert "Shade card: agreed" in words(page)


def test_less_of_a_run_is_looked_at_then_kept(client: Client, yard: Studio) -> None:
    """Slate wants 200 g of onion skins for 400 g of silk."""
    page = look(client, "D", weight="300", unit="g")

    assert sound(page) == []
    assert "As it would be, not as it is written down." in words(page)
    assert "150 g of ON-0801 onion skins" in words(page)
    assert Run.objects.of(yard).get(code="D").weight_mg == 400_000

    kept = press(client, "D", "keep", weight="300", unit="g", by="any")

    run = Run.objects.of(yard).get(code="D")
    assert kept.status_code == 303
    assert (run.weight_mg, run.due, run.jar.code) == (300_000, None, "J2")  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"weight": "a handful"}, "Say what the fibre weighs dry"),
        ({"by": "day", "day": "2026-11-22"}, "22 November 2026 has passed."),
    ],
)
def test_what_a_run_cannot_be_is_said_beside_what_it_is(
    client: Client, asked: dict[str, str], sentence: str
) -> None:
    page = look(client, "D", **asked)

    assert page.status_code == 422
    assert sentence in words(page)
    assert not read(page).query("input[value=keep]")


def test_a_claim_is_made_once_and_given_back(client: Client, yard: Studio) -> None:
    form = {"lot": "ON-0801", "amount": "200 g", "entry": "018f3c1e-7c1a-7000-8000-5a1d0f4c2b11"}

    for _ in range(2):
        assert press(client, "D", "claim", **form).status_code == 303
    claims = Claim.objects.of(yard).filter(released_at=None)
    assert [row.amount for row in claims] == [200_000]

    press(client, "D", "release", lot="ON-0801")

    assert not claims.all().exists()


def test_a_claim_of_what_others_were_promised_is_refused_in_words(client: Client) -> None:
    press(client, "D", "claim", lot="ON-0801", amount="700 g")

    page = press(client, "A", "claim", lot="ON-0801", amount="200 g")

    assert page.status_code == 422
    assert "820 g left" in words(page)
    assert "claimed" in words(page)


def test_a_shade_is_agreed_and_not_after_all(client: Client, yard: Studio) -> None:
    card = ShadeCard.objects.of(yard).filter(run__code="D")

    press(client, "D", "agree", agreed="no")
    assert not card.get().approved
    assert card_before(yard, shade="Slate", fibre="silk") is False

    press(client, "D", "agree", agreed="yes")
    assert card.get().approved


def test_a_run_let_go_leaves_with_its_gates_and_its_claims(client: Client, yard: Studio) -> None:
    press(client, "B", "claim", lot="AV-0911", amount="300 g")
    assert FastnessWish.objects.of(yard).filter(run__code="B").exists()

    answer = press(client, "B", "let go")

    assert (answer.status_code, answer["Location"][:4]) == (303, "/?at")
    assert not Run.objects.of(yard).filter(code="B").exists()
    assert not Claim.objects.of(yard).exists()
    assert next_code(yard) == "B"
    assert look(client, "B").status_code == 404


def test_a_run_under_way_is_neither_changed_nor_let_go(client: Client, yard: Studio) -> None:
    begin_run(yard, entry=uuid4(), at=MONDAY_0730, run="D")
    sentence = "Run D is under way, so it is neither changed nor let go."

    for page in (press(client, "D", "let go"), press(client, "D", "keep", weight="300")):
        assert page.status_code == 422
        assert sentence in words(page)
        assert not read(page).query("h2#let-go")
    assert Run.objects.of(yard).get(code="D").weight_mg == 400_000


def test_a_looker_on_changes_nothing(client: Client, yard: Studio) -> None:
    looker = signed_in(member(yard, Right.LOOKER_ON, "lou@yard.example"))

    page = press(looker, "D", "let go")

    assert page.status_code == 403
    assert Run.objects.of(yard).filter(code="D").exists()


def test_a_run_that_nobody_asked_for_is_not_there(client: Client) -> None:
    page = look(client, "Q~x")

    assert page.status_code == 404
    assert "No run is called Q~x." in words(page)


def test_codes_go_on_from_a_to_z_and_beyond(yard: Studio) -> None:
    run = Run.objects.of(yard).get(code="A")
    assert next_code(yard) == "H"
    for code in "HIJKLMNOPQRSTUVWXYZ":
        run.pk, run.code = None, code
        run.save(force_insert=True)

    assert next_code(yard) == "AA"


def test_a_run_that_may_move_is_looked_at_where_the_other_becomes_a_yes(client: Client) -> None:
    """What was proved by placing is what the page of the other run shows: Olive behind Oak Grey."""
    week = client.get("/", {"at": MONDAY})
    (way,) = [row for row in read(week).query(".unlocks a") if "Hedge Olive moved" in said(row)]

    then = words(client.get(str(way.attrs["href"])))

    assert "The answer Yes: Thu 26 Nov 14:00 soak, dry Wed 2 Dec 11:00." in then
    assert "Answer not yet becomes yes First step Mon 30 Nov 13:00 becomes Thu 26 Nov 13:00" in then
    assert "Dry Thu 3 Dec 15:00 becomes Sun 29 Nov 15:00" in then


def test_a_shade_that_is_not_agreed_leads_to_where_that_is_said(
    client: Client, yard: Studio
) -> None:
    ShadeCard.objects.of(yard).filter(run__code="D").update(approved=False)
    page = look(client, "D")
    (way,) = [row for row in read(page).query("a.way-link") if "shade card" in said(row)]

    address = str(way.attrs["href"])

    assert address.endswith("#gates")
    assert client.get(address).status_code == 200
