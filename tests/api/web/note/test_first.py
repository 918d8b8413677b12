"""A form is opened, filled by a thumb and recorded once, whatever becomes of the line."""

from __future__ import annotations

import re
import uuid
from datetime import UTC, datetime

import pytest
from django.test import Client
from django.utils import timezone

from api.models.entries import Entry
from api.rights import Right
from api.web.note.ask import Pick
from api.web.note.hand import Choice, Hand
from inventory.models import Lot, Studio
from tests.api.members import member, signed_in
from tests.api.web.note.filled import entry_of, faults, form_of, main_of, opened, sent, told
from tests.api.web.pages import as_read, read, sound
from tests.api.web.yard import load

pytestmark = pytest.mark.usefixtures("yard")


def test_a_strip_takes_four_taps_from_the_page_of_forms(client: Client) -> None:
    page = client.get("/note/")
    way = next(node.attrs["href"] for node in read(page).query(".ways-front a")
               if "strip" in node.to_text())  # fmt: skip

    form = form_of(client.get(way))
    answer = sent(client, form, grade="4")

    assert form.fields["jar"] == "J1", "the jar that waits for its strip is chosen already"
    assert "Which jar? J1 How dark is the strip? dark grey" in told(client, answer)


def test_stones_are_counted_and_the_lot_gets_its_code(client: Client) -> None:
    form = opened(client, "pick-up", source="Lantern Steps café")

    said = told(client, sent(client, form, amount="58"))

    assert "AV-1124: 2,436 g left" in said
    assert "How much? 58 stones" in said


def test_the_same_as_last_time_is_one_press(client: Client) -> None:
    form = opened(client, "pick-up", source="Three Crates greengrocer", gives="onion skins")

    answer = sent(client, form, same="yes")

    assert "ON-1124: 210 g left" in told(client, answer)


def test_two_tubs_on_one_day_get_codes_of_their_own(client: Client) -> None:
    for amount in ("58", "12"):
        sent(client, opened(client, "pick-up", gives="avocado stones"), amount=amount)

    codes = Lot.objects.of(_yard()).filter(code__startswith="AV-1124").values_list("code")
    assert sorted(code for (code,) in codes) == ["AV-1124", "AV-1124-2"]


def test_sent_twice_it_counts_once_and_leads_to_the_same_words(client: Client) -> None:
    form = opened(client, "pick-up", gives="avocado stones")
    first = sent(client, form, amount="58")

    again = sent(client, form, amount="58")

    assert (again.status_code, again["Location"]) == (303, first["Location"])
    assert Entry.objects.of(_yard()).count() == 1
    assert Lot.objects.of(_yard()).filter(code__startswith="AV-1124").count() == 1


def test_the_same_form_with_other_answers_is_asked_about_and_may_be_sent_anew(
    client: Client,
) -> None:
    form = opened(client, "dip")
    sent(client, form, grade="3")

    page = sent(client, form, grade="4")

    assert page.status_code == 422
    assert faults(page) == [
        "This form was sent before with other answers, and those are written down. If this "
        "happened as well, send it once more."
    ]
    assert sent(client, form_of(page)).status_code == 303
    assert Entry.objects.of(_yard()).count() == 2


def test_what_cannot_be_taken_comes_back_with_every_answer_and_the_same_number(
    client: Client,
) -> None:
    form = opened(client, "pick-up", gives="avocado stones")

    page = sent(client, form, amount="some", note="in the blue tub", lot="AV-1124")

    again = form_of(page)
    assert page.status_code == 422
    assert faults(page)[0].startswith("How much? “some”")
    assert {**again.fields, "csrfmiddlewaretoken": ""} == {
        **form.fields, "amount": "some", "note": "in the blue tub", "lot": "AV-1124",
        "csrfmiddlewaretoken": "",
    }  # fmt: skip
    assert Entry.objects.of(_yard()).count() == 0


def test_what_was_left_out_is_asked_for(client: Client) -> None:
    page = sent(client, opened(client, "pick-up", gives="avocado stones"))

    assert page.status_code == 422
    assert faults(page) == ["How much? Say what it weighs, or how many were counted."]


def test_a_code_that_is_taken_is_refused_where_somebody_wrote_it(client: Client) -> None:
    page = sent(client, opened(client, "pick-up"), amount="58", lot="AV-1116")

    assert page.status_code == 422
    assert "AV-1116" in faults(page)[0]


def test_a_body_built_by_a_form_is_the_one_that_a_program_would_send(client: Client) -> None:
    form = opened(client, "pick-up", gives="avocado stones")
    answer = sent(client, form, amount="58", when="2026-11-23T17:05", note="wet")

    body = {
        "id": entry_of(answer), "occurred_at": "2026-11-23T17:05", "amount": "58 stones",
        "source": "Lantern Steps café", "gives": "avocado stones", "lot": "AV-1123",
        "place": {"kind": "fridge", "code": "fridge"}, "note": "wet",
    }  # fmt: skip
    again = client.post("/api/v1/entries/pick-up/", body, content_type="application/json")

    assert again.status_code == 200, again.content


def test_an_amount_with_a_unit_of_its_own_is_taken_at_its_word(client: Client) -> None:
    form = opened(client, "pick-up", gives="avocado stones")

    assert "How much? 2 lb 3 oz" in told(client, sent(client, form, amount="2 lb 3 oz"))


def test_a_form_opened_for_another_moment_is_of_that_moment(client: Client) -> None:
    form = opened(client, "dip", at="2026-11-23T09:00", jar="J2")

    answer = sent(client, form, grade="4")

    assert "When Mon 23 Nov 09:00" in told(client, answer)
    assert answer["Location"].endswith("?at=2026-11-23T09%3A00")


def test_a_missed_pick_up_is_of_the_hour_that_was_agreed(client: Client) -> None:
    form = opened(client, "miss-pick-up", at="2026-11-23T18:00")

    said = told(client, sent(client, form))

    assert "Lantern Steps café: avocado stones" in said
    assert "If it came after all, write down the pick-up: then it counts as made." in said


def test_the_pages_are_sound_and_ask_the_database_little(
    client: Client, django_assert_max_num_queries: pytest.fixture
) -> None:
    for address in ("/note/", "/note/dip/", "/note/pick-up/", "/note/miss-pick-up/"):
        client.get(address)
        with django_assert_max_num_queries(8):
            page = client.get(address)

        assert sound(page) == [], address
        assert page["Cache-Control"] == "no-cache"


def test_another_studios_form_is_not_found(client: Client) -> None:
    load("kelpwick-loft")
    mine = signed_in(member(_yard(), Right.HELPER))

    for address in ("/note/", "/note/dip/"):
        assert mine.get(address, {"studio": "Kelpwick Loft"}).status_code == 404


def test_a_looker_on_is_told_why_not(client: Client) -> None:
    mine = signed_in(member(_yard(), Right.LOOKER_ON))

    for page in (mine.get("/note/"), mine.get("/note/dip/"), mine.post("/note/dip/", {})):
        assert page.status_code == 403
        assert "This needs the right of a helper; at Pellitory Yard you have that of a " \
            "looker-on." in main_of(page)  # fmt: skip


def test_a_stranger_is_shown_the_way_in(client: Client) -> None:
    member(_yard())

    for page in (client.get("/note/dip/"), client.post("/note/dip/", {}), client.get("/note/x/")):
        assert page.status_code == 303
        assert page["Location"].startswith("/sign-in/")


def test_a_form_from_elsewhere_records_nothing() -> None:
    strict = Client(enforce_csrf_checks=True)

    page = strict.post("/note/dip/", {"id": str(uuid.uuid4()), "jar": "J1", "grade": "4"})

    assert page.status_code == 403
    assert Entry.objects.of(_yard()).count() == 0


def test_every_page_of_the_studio_says_whose_it_is() -> None:
    ada, ben = member(_yard(), Right.HELPER), member(_yard(), Right.HELPER, "ben@yard.example")
    marks = []
    for who in (ada, ada, ben):
        page = signed_in(who).get("/note/").content.decode()
        marks += re.findall(r'<html lang="en-GB" data-whose="([0-9a-f]{32})">', page)

    assert len(marks) == 3
    assert marks[0] == marks[1] != marks[2]


def _yard() -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


def test_a_tub_is_weighed_with_what_is_in_it_and_without(client: Client) -> None:
    form = opened(client, "pick-up", gives="avocado stones")

    said = told(client, sent(client, form, gross="2.6 kg", tare="180"))

    assert "AV-1124: 2,420 g left" in said


def test_a_hedge_cut_in_may_asks_for_nests_and_takes_the_answer(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    may = datetime(2027, 5, 4, 10, 0, tzinfo=UTC)
    form = opened(client, "pick-up", gives="privet", at="2027-02-26T09:00")
    monkeypatch.setattr(timezone, "now", lambda: may)
    answers = {"amount": "900", "amount_unit": "g", "when": "2027-05-04T10:00", "place": "bench:"}

    page = sent(client, form, **answers)

    assert page.status_code == 422
    assert "nests" in faults(page)[0]
    said = told(client, sent(client, form_of(page), nests_by="the weaver"))
    assert "Who looked for nests before the cut the weaver" in said


def test_a_wet_weight_is_asked_for_again_and_nothing_is_reckoned_from_it(client: Client) -> None:
    page = sent(client, opened(client, "receive-fibre"), amount="2,900 g wet")

    assert page.status_code == 422
    assert faults(page)[0].startswith("What does it weigh dry? ")


def test_choices_are_bounded_and_the_rest_is_found_by_its_code() -> None:
    many = [Choice(f"L-{number}", "privet") for number in range(300)]
    ask = Pick(name="lot", words="Which?", among=lambda hand: many)
    hand = Hand(Studio(zone="Europe/London"), datetime(2026, 11, 23, 7, 30, tzinfo=UTC))

    few, named = ask.shown({}, hand), ask.shown({"lot_typed": "L-299"}, hand)

    assert (len(few.choices), len(few.others)) == (6, 54)
    assert [choice.value for choice in named.choices] == ["L-299"]
    assert len(named.others) == 60


def test_why_not_is_announced_and_stays_a_list(client: Client) -> None:
    page = sent(client, opened(client, "judge", lot="AV-1116"))

    (alert,) = read(page).query("[role=alert]")
    assert alert.name == "div", "a list with another role is no list to who hears it"
    assert [as_read(row.to_text()) for row in alert.query("ul > li")] == [
        "How does it look? It is not said yet."
    ]
