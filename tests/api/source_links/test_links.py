"""Links of sources: good for a year, once more, or no longer; known by their digest alone."""

from __future__ import annotations

from datetime import timedelta

import pytest

from api.models import SourceLink
from api.source_links.links import (
    GOOD_FOR,
    MOST_LINKS,
    SourceLinkClosed,
    SourceLinkNotThere,
    SourceLinkWords,
    TooManySourceLinks,
    count_use,
    end_link,
    links_of,
    make_link,
    marked,
    opened,
    renew_link,
)
from inventory.models import Studio
from sourcing.models import Source
from tests.api.source_links.cafe import MONDAY

SECOND = timedelta(seconds=1)


def made(source: Source) -> tuple[SourceLink, str]:
    return make_link(source, asks=" Ada ", wish="A clean\ntub.", made_by="Ada Rook", at=MONDAY)


def test_a_link_leads_to_its_source_and_only_its_digest_is_kept(cafe: Source) -> None:
    link, secret = made(cafe)

    found = opened(secret, at=MONDAY)

    assert (found.pk, found.source_id, found.studio_id) == (link.pk, cafe.pk, cafe.studio_id)
    assert (found.asks, found.wish) == ("Ada", "A clean tub.")
    assert len(secret) >= 22  # 128 bits in this alphabet
    assert secret not in str(SourceLink.everywhere().values().get())
    assert link.mark not in secret


def test_a_link_is_good_to_the_last_second_of_its_year(cafe: Source) -> None:
    link, secret = made(cafe)
    last = MONDAY + GOOD_FOR - SECOND

    assert opened(secret, at=last).pk == marked(link.mark, at=last).pk == link.pk
    for ask, text in ((opened, secret), (marked, link.mark)):
        with pytest.raises(SourceLinkClosed):
            ask(text, at=last + SECOND)


def test_a_link_whose_year_is_over_is_good_again_when_renewed(cafe: Source) -> None:
    link, secret = made(cafe)
    later = MONDAY + GOOD_FOR + SECOND

    renew_link(cafe.studio, cafe.pk, link.pk, at=later)

    assert opened(secret, at=later + GOOD_FOR - SECOND).pk == link.pk


def test_an_ended_link_opens_nothing_and_cannot_be_renewed(cafe: Source) -> None:
    link, secret = made(cafe)

    end_link(cafe.studio, cafe.pk, link.pk, at=MONDAY)

    with pytest.raises(SourceLinkClosed):
        opened(secret, at=MONDAY)
    with pytest.raises(SourceLinkClosed):
        marked(link.mark, at=MONDAY)
    for change in (end_link, renew_link):
        with pytest.raises(SourceLinkNotThere) as refused:
            change(cafe.studio, cafe.pk, link.pk, at=MONDAY)
        assert str(refused.value) == (
            f"There is no link {link.pk} of this source, or it was ended. Look at the list."
        )


@pytest.mark.parametrize("secret", ["", "x", "é" * 20, "x" * 101])
def test_what_is_no_link_opens_nothing(studio: Studio, secret: str) -> None:
    with pytest.raises(SourceLinkClosed):
        opened(secret, at=MONDAY)


def test_a_link_is_ended_by_its_own_source_only(cafe: Source) -> None:
    link, secret = made(cafe)
    other = Source.objects.of(cafe.studio).exclude(pk=cafe.pk)[0]
    elsewhere = Studio.objects.create(name="Kelpwick Loft", zone="Europe/London")

    for studio, source in ((cafe.studio, other.pk), (elsewhere, cafe.pk)):
        with pytest.raises(SourceLinkNotThere):
            end_link(studio, source, link.pk, at=MONDAY)
    assert opened(secret, at=MONDAY).pk == link.pk


def test_a_source_has_so_many_links_and_no_more_until_one_is_ended(cafe: Source) -> None:
    links = [made(cafe)[0] for _ in range(MOST_LINKS)]

    with pytest.raises(TooManySourceLinks) as refused:
        made(cafe)
    end_link(cafe.studio, cafe.pk, links[0].pk, at=MONDAY)

    assert str(refused.value) == (
        "Lantern Steps café has 12 links that were not ended. End one first."
    )
    assert made(cafe)[0] in links_of(cafe.studio, cafe.pk)


def test_a_first_name_and_a_wish_are_one_short_line(cafe: Source) -> None:
    make_link(cafe, asks="a" * 40, wish="w" * 200, made_by="", at=MONDAY)

    for asks, wish, sentence in (
        ("a" * 41, "", "The first name is one line of at most 40 signs that can be printed."),
        ("", "w" * 201, "How it is wanted is one line of at most 200 signs that can be printed."),
        ("Ada\x07", "", "The first name is one line of at most 40 signs that can be printed."),
    ):
        with pytest.raises(SourceLinkWords) as refused:
            make_link(cafe, asks=asks, wish=wish, made_by="", at=MONDAY)
        assert str(refused.value) == sentence


def test_uses_are_counted_with_the_last(cafe: Source) -> None:
    link, _ = made(cafe)

    count_use(link, at=MONDAY)
    count_use(link, at=MONDAY + SECOND)

    link.refresh_from_db()
    assert (link.uses, link.last_used_at) == (2, MONDAY + SECOND)
