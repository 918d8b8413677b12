"""The studio's page about the links of a source: made and shown once, renewed, ended, listed."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.test import Client

from api.models import SourceLink
from api.reminders.due import _wrote
from api.rights import Right
from api.source_links.words import see_words, unseen_words
from inventory.models import Studio
from sourcing.models import Source
from tests.api.members import member, signed_in
from tests.api.source_links.cafe import MONDAY, THURSDAY, Clock, link_for, phone
from tests.api.web.pages import as_read, read, sound, words

AT = {"at": "2026-11-23T07:30"}


@pytest.fixture
def dyer(studio: Studio) -> Client:
    return signed_in(member(studio, Right.DYER))


def address(source: Source) -> str:
    return f"/sources/{source.pk}/links/"


def press(client: Client, source: Source, do: str, **said: Any) -> Any:
    return client.post(address(source), {"do": do, **said})


def test_a_dyer_makes_a_link_that_is_shown_once_with_a_card(dyer: Client, cafe: Source) -> None:
    page = press(dyer, cafe, "make", asks="Ada", wish="In the clean tub.")

    assert (page.status_code, sound(page)) == (200, [])
    (shown,) = read(page).query("code.card-address")
    made = re.search(r"http://testserver(/saved/[\w-]{32}/)", shown.to_text())
    assert made is not None
    (code,) = read(page).query("article.card svg.qr")
    assert code.attrs["aria-label"] == f"A square code that opens http://testserver{made[1]}"
    assert "Hold your phone here to tell us what you have saved" in words(page)
    assert "Ada of Pellitory Yard" in words(phone().open(made[1]))
    again = dyer.get(address(cafe))
    assert made[1] not in again.content.decode()
    assert read(again).query("article.card") == []


def test_the_list_says_until_when_by_whom_and_how_often(dyer: Client, cafe: Source) -> None:
    press(dyer, cafe, "make")
    text = words(dyer.get(address(cafe)))
    assert "Good until Tue 23 Nov 2027; made Mon 23 Nov 2026 by Ada; not opened yet." in text

    phone().open(link_for(cafe))

    page = dyer.get(address(cafe))
    assert sound(page) == []
    assert "by Ada Rook; opened once, last Mon 23 Nov 07:30." in words(page)


def test_what_came_by_a_link_is_listed_the_latest_first(dyer: Client, cafe: Source) -> None:
    its = phone()
    its.open(link_for(cafe))
    its.send(amount="58", at=THURSDAY, word="back door")
    its.send(amount="60", at=THURSDAY, word="")

    page = dyer.get(address(cafe))

    assert sound(page) == []
    rows = [" ".join(row.to_text().split()) for row in read(page).query("tbody tr")]
    assert rows == [
        "Mon 23 Nov 07:30 60 stones avocado stones Thu 26 Nov 17:00",
        "Mon 23 Nov 07:30 58 stones avocado stones Thu 26 Nov 17:00 “back door”",
    ]
    source = dyer.get(f"/sources/{cafe.pk}/", AT)
    assert "Thu 26 Nov 17:00 told of 60 stones, 2,520 g" in words(source)


def test_the_word_of_a_source_stands_on_its_page(dyer: Client, cafe: Source) -> None:
    its = phone()
    its.open(link_for(cafe))
    its.send(amount="58", at=THURSDAY, word="back door please")

    source = dyer.get(f"/sources/{cafe.pk}/", AT)

    assert sound(source) == []
    assert "58 stones, 2,436 g “back door please”" in words(source)
    assert address(cafe) in source.content.decode()


def test_a_link_is_renewed_and_ended_by_its_buttons(
    dyer: Client, cafe: Source, clock: Clock
) -> None:
    made = link_for(cafe)
    key = SourceLink.everywhere().get().pk
    clock.at = MONDAY.replace(year=2027, month=12)
    assert phone().open(made).status_code == 404
    assert "Was good until Tue 23 Nov 2027" in words(dyer.get(address(cafe)))

    assert press(dyer, cafe, "renew", link=key).status_code == 303
    assert phone().open(made).status_code == 200

    assert press(dyer, cafe, "end", link=key).status_code == 303
    assert phone().open(made).status_code == 404
    assert "None yet." in words(dyer.get(address(cafe)))


@pytest.mark.parametrize(
    ("do", "link", "fault"),
    [
        ("end", "0", "There is no link 0 of this source, or it was ended."),
        ("end", "9" * 18, "or it was ended. Look at the list."),
        ("end", "x", "No button of this page sends that."),
        ("share", "1", "No button of this page sends that."),
    ],
)
def test_what_cannot_be_done_is_said_above_the_list(
    dyer: Client, cafe: Source, do: str, link: str, fault: str
) -> None:
    page = press(dyer, cafe, do, link=link)

    assert page.status_code == 422
    assert sound(page) == []
    assert fault in words(page)


def test_what_was_written_stays_when_it_is_too_long(dyer: Client, cafe: Source) -> None:
    page = press(dyer, cafe, "make", asks="a" * 41, wish="A tub.")

    assert page.status_code == 422
    assert "The first name is one line of at most 40 signs that can be printed." in words(page)
    (wish,) = read(page).query("textarea")
    assert wish.to_text() == "A tub."
    assert not SourceLink.everywhere().exists()


@pytest.mark.parametrize("right", [Right.LOOKER_ON, Right.HELPER])
def test_whoever_may_less_than_a_dyer_neither_sees_nor_makes_one(
    studio: Studio, cafe: Source, right: Right
) -> None:
    client = signed_in(member(studio, right))

    assert client.get(address(cafe)).status_code == 403
    assert press(client, cafe, "make").status_code == 403
    assert not SourceLink.everywhere().exists()


def test_another_studios_source_is_not_there(cafe: Source) -> None:
    loft = Studio.objects.create(name="Kelpwick Loft", zone="Europe/London")
    client = signed_in(member(loft, Right.OWNER, "ida@loft.example"))

    for answer in (client.get(address(cafe)), press(client, cafe, "make")):
        assert answer.status_code == 404
        assert "Lantern Steps" not in answer.content.decode()
    assert not SourceLink.everywhere().exists()


def test_what_a_source_wrote_stands_on_today_until_it_is_looked_at(
    dyer: Client, cafe: Source
) -> None:
    browser = phone()
    browser.open(link_for(cafe))
    browser.send(amount="30 stones", word="in the yard")
    today = dyer.get("/today/", AT)

    (wrote,) = read(today).query("section[aria-labelledby=wrote] li")
    assert as_read(wrote.to_text()).startswith(
        "new Lantern Steps café wrote Mon 23 Nov 07:30: 30 stones saved (avocado stones), for"
    )
    assert "“in the yard”" in wrote.to_text()
    assert sound(today) == []

    (form,) = read(today).query("section[aria-labelledby=wrote] form")
    fields = {str(row.attrs["name"]): str(row.attrs["value"]) for row in form.query("input")}
    answer = dyer.post(str(form.attrs["action"]), fields)

    assert (answer.status_code, answer["Location"]) == (303, "/today/?at=2026-11-23T07%3A30")
    assert read(dyer.get("/today/", AT)).query("section[aria-labelledby=wrote]") == []


def test_a_later_word_is_new_again(studio: Studio, dyer: Client, cafe: Source) -> None:
    browser = phone()
    browser.open(link_for(cafe))
    browser.send(amount="30 stones")
    (first,) = unseen_words(studio, at=MONDAY)

    see_words(studio, cafe.pk, up_to=first.key, at=MONDAY)
    browser.send(amount="31 stones")

    (second,) = unseen_words(studio, at=MONDAY)
    assert "31 stones" in second.text


def test_the_morning_s_letter_says_what_was_written(studio: Studio, cafe: Source) -> None:
    browser = phone()
    browser.open(link_for(cafe))
    browser.send(amount="30 stones")

    text = _wrote(studio, MONDAY)

    assert text.startswith("They wrote:\n  Lantern Steps café wrote Mon 23 Nov 07:30: 30 stones")


def test_who_may_not_change_links_sees_what_was_written_and_no_button(
    studio: Studio, cafe: Source
) -> None:
    browser = phone()
    browser.open(link_for(cafe))
    browser.send(amount="30 stones")
    looker = signed_in(member(studio, Right.LOOKER_ON))

    (wrote,) = read(looker.get("/today/", AT)).query("section[aria-labelledby=wrote]")

    assert wrote.query("form") == []
