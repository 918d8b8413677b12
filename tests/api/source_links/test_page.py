"""What a café does with its link: no account, no script, three fields, thanks, “change it”."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.models import Entry, SourceLink, SourceWord
from api.source_links import cookie
from api.source_links.links import GOOD_FOR, end_link
from inventory.models import Studio
from sourcing.models import PickUp, Source
from tests.api.source_links.cafe import (
    CAFE,
    MONDAY,
    NEXT_MONDAY,
    STONES,
    THURSDAY,
    Clock,
    Phone,
    link_for,
    phone,
)
from tests.api.web.pages import read, sound, words

OTHERS = ("Three Crates", "corner house", "privet", "onion", "AV-", "Blush", "Iron", "fridge")


@pytest.fixture
def opened(cafe: Source) -> Phone:
    found = phone()
    assert found.open(link_for(cafe)).status_code == 200
    return found


def due(studio: Studio, at: str) -> PickUp | None:
    return PickUp.objects.of(studio).filter(gives=STONES, at=at).first()


def test_the_page_says_who_asks_for_what_and_when_and_nothing_else_of_the_studio(
    opened: Phone,
) -> None:
    text = words(opened.page)

    assert sound(opened.page) == []
    assert "Ada of Pellitory Yard dyes cloth and yarn with what you save." in text
    assert "Next pick-up: Mon 23 Nov 17:00" in text
    assert "You have saved 300 stones, 12.6 kg, in 5 hand-overs for us so far." in text
    assert "How we want it In the clean tub, please." in text
    assert [name for name in OTHERS if name in opened.page.content.decode()] == []
    asked = [field.attrs for field in read(opened.page).query("input")]
    assert {each["name"] for each in asked if each.get("type") != "hidden"} == {
        "amount", "at", "word"
    }  # fmt: skip


def test_a_cafe_tells_is_thanked_and_sees_what_it_said(opened: Phone, studio: Studio) -> None:
    page = opened.send(amount="58 stones", at=THURSDAY, word="back door please")

    assert sound(page) == []
    assert "Thank you, it is written down" in words(page)
    assert opened.told() == [
        "● 2,436 g, Mon 23 Nov 17:00",
        "● 58 stones, Thu 26 Nov 17:00 “back door please”",
    ]
    row = due(studio, THURSDAY)
    assert row is not None
    assert (row.how, row.pieces, row.note) == ("reported", 58, "back door please")
    assert (row.lot_code, row.place) == ("AV-1126", "fridge")
    entry = Entry.objects.of(studio).get()
    assert (entry.verb, entry.by_whom) == ("report-pick-up", f"{CAFE}, by its link")
    assert SourceWord.objects.of(studio).get().entry == entry.entry


def test_sent_twice_it_counts_once(opened: Phone, studio: Studio) -> None:
    form = {**opened.fields(), "amount": "58", "at": THURSDAY}

    answers = [opened.client.post(opened.path, form).status_code for _ in range(2)]

    assert answers == [303, 303]
    assert Entry.objects.of(studio).count() == 1


def test_changed_the_last_word_holds_and_all_are_kept(opened: Phone, studio: Studio) -> None:
    opened.send(amount="58 stones", at=THURSDAY, word="back door")
    change = read(opened.page).query("ul.told a")[1].attrs["href"] or ""
    opened.look(change.partition("#")[0])
    before = opened.fields()

    opened.send(amount="2 kg")

    assert (before["amount"], before["at"], before["word"]) == ("58 stones", THURSDAY, "back door")
    assert opened.told()[1] == "● 2 kg, Thu 26 Nov 17:00 “back door”"
    row = due(studio, THURSDAY)
    assert row is not None
    assert (row.weight_mg, row.pieces, row.lot_code) == (2_000_000, None, "AV-1126")
    assert [each.amount for each in SourceWord.objects.of(studio)] == ["2 kg", "58 stones"]
    assert Entry.objects.of(studio).count() == 2


def test_moved_to_another_day_the_first_one_counts_as_none(opened: Phone, studio: Studio) -> None:
    opened.send(amount="58", at=THURSDAY)
    opened.look(f"?change={THURSDAY.replace('+', '%2B')}+avocado+stones")
    assert "Change it: Thu 26 Nov, 17:00" in words(opened.page)

    opened.send(at=NEXT_MONDAY)

    assert opened.told()[1:] == [
        "○ none this time, Thu 26 Nov 17:00",
        "● 58 stones, Mon 30 Nov 17:00",
    ]
    first, second = due(studio, THURSDAY), due(studio, NEXT_MONDAY)
    assert first is not None
    assert second is not None
    assert (first.how, second.how, second.pieces) == ("missed", "reported", 58)


def test_none_this_time_is_one_button_and_can_be_taken_back(opened: Phone, studio: Studio) -> None:
    opened.send(at=THURSDAY, none="1")
    row = due(studio, THURSDAY)
    assert row is not None
    assert row.how == "missed"
    assert opened.told()[1] == "○ none this time, Thu 26 Nov 17:00"

    opened.send(amount="12 stones", at=THURSDAY)

    row.refresh_from_db()
    assert (row.how, row.pieces) == ("reported", 12)


def test_of_what_never_came_yet_none_can_be_said_and_taken_back(
    opened: Phone, studio: Studio
) -> None:
    PickUp.objects.of(studio).filter(gives=STONES).delete()
    opened.look()

    opened.send(at=THURSDAY, none="1")

    assert opened.told() == ["○ none this time, Thu 26 Nov 17:00"]
    opened.send(amount="12 stones", at=THURSDAY)
    assert opened.told() == ["● 12 stones, Thu 26 Nov 17:00"]


@pytest.mark.parametrize(
    ("said", "fault"),
    [
        (
            {"amount": " "},
            "Say how many there are, or how much; or press “None this time”.",
        ),
        (
            {"amount": "2 buckets"},
            "How much 2 buckets of avocado stones weigh is not known here. Write such as "
            "“58 stones” or “2 kg”.",
        ),
        (
            {"at": "2026-11-24T17:00:00+00:00"},
            "That pick-up is over, or was made meanwhile. Choose another time.",
        ),
        (
            {"word": "x" * 201},
            "Write the word to us in at most 200 letters that can be printed.",
        ),
    ],
)
def test_what_cannot_be_kept_is_shown_again_with_all_that_was_written(
    opened: Phone, studio: Studio, said: dict[str, str], fault: str
) -> None:
    sent = {"amount": "58", "at": THURSDAY, "word": "back door", **said}
    form = opened.fields()["id"]

    page = opened.send(**sent)

    assert page.status_code == 422
    assert sound(page) == []
    assert opened.faults() == [fault]
    kept = opened.fields()
    assert (kept["amount"], kept["word"], kept["id"]) == (sent["amount"], sent["word"], form)
    assert not Entry.objects.of(studio).exists()
    assert opened.send(amount="58", at=THURSDAY, word="").status_code == 200


def test_what_the_source_does_not_give_is_refused(opened: Phone, studio: Studio) -> None:
    page = opened.send(gives="privet", amount="2 kg", at=THURSDAY)

    assert page.status_code == 422
    assert "That is not among what you save for us. Open the page again." in words(page)
    assert not Entry.objects.of(studio).exists()


def test_a_pick_up_that_was_made_meanwhile_is_chosen_no_more(
    opened: Phone, studio: Studio, clock: Clock
) -> None:
    form = {**opened.fields(), "amount": "58", "at": THURSDAY}
    clock.at = MONDAY + timedelta(days=3, hours=9, minutes=31)

    answer = opened.client.post(opened.path, form)

    assert answer.status_code == 422
    assert "That pick-up is over, or was made meanwhile." in words(answer)


def test_the_link_is_traded_for_a_cookie_that_opens_one_page_for_half_a_day(cafe: Source) -> None:
    address = link_for(cafe)

    answer = Client().get(address)

    mark = SourceLink.everywhere().get().mark
    assert (answer.status_code, answer["Location"]) == (303, f"/saved/by/{mark}/")
    assert address.split("/")[2] not in str(answer.cookies) + answer["Location"]
    kept = answer.cookies[cookie.name_of(mark)]
    assert (kept["path"], kept["max-age"]) == (f"/saved/by/{mark}/", 12 * 3600)
    assert (kept["httponly"], kept["samesite"], kept["secure"]) == (True, "Lax", "")
    assert answer["Referrer-Policy"] == "no-referrer"
    assert (answer["Cache-Control"], answer["X-Robots-Tag"]) == ("no-store", "noindex")
    over_https = Client().get(address, secure=True).cookies[cookie.name_of(mark)]
    assert over_https["secure"] is True


def test_the_page_is_kept_nowhere_and_names_no_secret(cafe: Source) -> None:
    address, its = link_for(cafe), phone()

    page = its.open(address)

    assert address.split("/")[2] not in page.content.decode()
    assert (page["Cache-Control"], page["X-Robots-Tag"]) == ("no-store", "noindex")
    assert page["Referrer-Policy"] == "same-origin"


def test_a_phone_in_somebody_elses_kitchen_keeps_nothing_of_the_larder(opened: Phone) -> None:
    for page in (opened.page, Client().get("/saved/never-made/")):
        assert read(page).query("script") == []
        assert read(page).query("link[rel=manifest]") == []


def test_each_opening_is_counted_and_a_look_ahead_is_not(cafe: Source) -> None:
    address = link_for(cafe)

    Client().head(address)
    Client().get(address)
    Client().get(address)

    assert SourceLink.everywhere().get().uses == 2


def test_every_link_that_opens_nothing_is_answered_alike(cafe: Source, clock: Clock) -> None:
    ended, old = link_for(cafe), link_for(cafe, at=MONDAY - GOOD_FOR)
    link = SourceLink.everywhere().get(expires_at__gt=MONDAY)
    end_link(cafe.studio, cafe.pk, link.pk, at=MONDAY)

    answers = [Client().get(each) for each in (ended, old, "/saved/never-made/")]
    answers.append(Client().get(f"/saved/by/{link.mark}/"))
    answers.append(Client().get("/saved/by/never/"))

    assert {answer.status_code for answer in answers} == {404}
    assert len({answer.content for answer in answers}) == 1
    assert sound(answers[0]) == []
    assert "Please open your link again" in words(answers[0])
    assert "Pellitory" not in words(answers[0])


def test_a_link_that_is_ended_shuts_the_page_that_is_open(opened: Phone, cafe: Source) -> None:
    form = {**opened.fields(), "amount": "58", "at": THURSDAY, "word": "back door"}
    end_link(cafe.studio, cafe.pk, SourceLink.everywhere().get().pk, at=MONDAY)

    answer = opened.client.post(opened.path, form)

    assert answer.status_code == 404
    assert "Nothing was sent. What you had written: 58 back door" in words(answer)
    assert not Entry.objects.of(cafe.studio).exists()


def test_the_cookie_is_good_for_half_a_day(opened: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cookie, "GOOD_FOR_S", -1)

    assert opened.look().status_code == 404


def test_two_links_in_one_browser_have_each_their_page(cafe: Source, studio: Studio) -> None:
    grocer = Source.objects.of(studio).select_related("studio").get(name__startswith="Three")
    one, other = phone(), phone()
    other.client = one.client
    one.open(link_for(cafe))
    other.open(link_for(grocer))

    assert "Avocado stones" in words(one.look())
    assert "Onion skins" in words(other.look())
    assert "Avocado" not in words(other.page)
    one.send(amount="58", at=THURSDAY)
    assert Entry.objects.of(studio).get().said["source"] == CAFE


def test_the_cookie_of_one_link_opens_no_other(opened: Phone, cafe: Source) -> None:
    mark = opened.path.split("/")[3]
    mine = opened.client.cookies[cookie.name_of(mark)].value
    link_for(cafe)
    other = SourceLink.everywhere().exclude(mark=mark).get()
    forged = Client()

    for value in (mine, f"{other.mark}:{mine.partition(':')[2]}", other.mark):
        forged.cookies[cookie.name_of(other.mark)] = value
        assert forged.get(f"/saved/by/{other.mark}/").status_code == 404


def test_a_form_of_somebody_elses_page_is_refused(opened: Phone, studio: Studio) -> None:
    form = {**opened.fields(), "amount": "58", "at": THURSDAY, "csrfmiddlewaretoken": "x"}

    assert opened.client.post(opened.path, form).status_code == 403
    assert not Entry.objects.of(studio).exists()


def test_a_source_of_two_things_tells_of_each_by_itself(studio: Studio, clock: Clock) -> None:
    grocer = Source.objects.of(studio).select_related("studio").get(name__startswith="Three")
    its = phone()
    its.open(link_for(grocer))

    its.send(1, amount="1.2 kg")

    assert sound(its.page) == []
    row = PickUp.objects.of(studio).get(gives="red cabbage", how="reported")
    assert (row.weight_mg, row.lot_code) == (1_200_000, "CB-1128")
    assert its.told() == ["● 1.2 kg, Sat 28 Nov 09:00"]


def test_a_hedge_offers_its_day_and_warns_of_poison(studio: Studio) -> None:
    hedge = Source.objects.of(studio).select_related("studio").get(name__startswith="Hedge")
    its = phone()

    text = words(its.open(link_for(hedge)))

    assert "Next pick-up: Fri 27 Nov 09:00" in text
    assert "POISON" in text
    assert "Such as “2 kg”." in text


def test_when_nothing_may_be_fetched_the_page_says_so(studio: Studio, clock: Clock) -> None:
    hedge = Source.objects.of(studio).select_related("studio").get(name__startswith="Hedge")
    address, its = link_for(hedge), phone()
    clock.at = MONDAY + timedelta(days=150)

    text = words(its.open(address))

    assert "Just now there is nothing for us to fetch: window closed 28 February 2027." in text
    assert read(its.page).query("form") == []


def test_the_page_asks_no_more_of_a_hundred_times_the_data(opened: Phone, cafe: Source) -> None:
    def asked() -> int:
        with CaptureQueriesContext(connection) as queries:
            assert opened.look().status_code == 200
        return len(queries)

    before = asked()
    rows = [
        PickUp(studio=cafe.studio, source=cafe, gives=STONES, how="made", weight_mg=1_000,
               at=MONDAY - timedelta(days=n, hours=1))
        for n in range(1, 600)
    ]  # fmt: skip
    PickUp.objects.of(cafe.studio).bulk_create(rows)

    assert asked() == before
    assert before <= 8
