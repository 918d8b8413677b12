"""The outbox: once a key, in one hand at a time, let go for a reason, kept for a while."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from api.models import OutboxLetter
from api.reminders import outbox
from api.reminders.errors import NotALetter
from api.reminders.outbox import InHand, message_id
from inventory.models import Studio
from tests.api.reminders.postbox import AT, DOMAIN, HOUR, letter

HOLD = timedelta(minutes=1)
TICK = timedelta(microseconds=1)


def filed(studio: Studio, *keys: str, **other: Any) -> list[int]:
    """Letters in the outbox, by key; the keys of their rows."""
    letters = [letter(key, **other) for key in keys or ["one"]]
    outbox.file_letters(studio, letters, at=AT, domain=DOMAIN)
    return [row.pk for row in OutboxLetter.objects.of(studio).order_by("pk")]


def taken(pk: int, at: Any = AT) -> InHand:
    one = outbox.take(pk, at=at, hold=HOLD)
    assert isinstance(one, InHand)
    return one


def row(studio: Studio) -> OutboxLetter:
    return OutboxLetter.objects.of(studio).get()


def test_a_letter_filed_again_stays_the_one_it_was(studio: Studio) -> None:
    first = outbox.file_letters(studio, [letter("one")], at=AT, domain=DOMAIN)
    changed = replace(letter("one"), text="Something else.")
    again = outbox.file_letters(
        studio, [changed, letter("two"), letter("two")], at=AT + HOUR, domain=DOMAIN
    )

    assert (first, again) == (1, 1)
    assert [one.letter for one in outbox.listed(studio, most=5)] == [letter("two"), letter("one")]


def test_a_key_has_one_message_id_for_ever_and_none_that_another_has(
    studio: Studio, other: Studio
) -> None:
    filed(studio, "one", "two")
    filed(other, "one")

    ids = set(OutboxLetter._base_manager.values_list("message_id", flat=True))

    assert len(ids) == 3
    assert message_id(studio.name, "one", domain=DOMAIN) in ids


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"subject": "A\r\nBcc: all@x.example"}, "its subject “A��Bcc: all@x.example” is not one"),
        ({"to": "a@b.example\nBcc: c@d.example"}, "its to “a@b.example�Bcc: c@d.example” is not"),
        ({"to": "a@b.example, c@d.example"}, "is no e-mail address. Write NAME@HOST in plain"),
        ({"to": "mära@yard.example"}, "is no e-mail address. Write NAME@HOST in plain letters."),
        ({"subject": " "}, "its subject “ ” is empty. Write something."),
        ({"subject": "a" * 201}, "has 201 characters. Write at most 200."),
        ({"text": "\n"}, "is empty or too long. At most 60,000."),
        ({"stop": "stop/x/"}, "its stop “stop/x/” is no path. Begin it with a /."),
        ({"stop": "/stop/x>, <y/"}, "is no path. Begin it with a /."),
        ({"until": AT}, "does not come after its at. Give it some time."),
    ],
)
def test_what_no_server_may_be_given_is_refused(
    studio: Studio, changes: dict[str, Any], sentence: str
) -> None:
    with pytest.raises(NotALetter) as refused:
        outbox.file_letters(studio, [letter("fit"), letter("one", **changes)], at=AT, domain=DOMAIN)

    assert sentence in str(refused.value)
    assert outbox.listed(studio, most=5) == ()


def test_the_longest_that_fits_is_filed(studio: Studio) -> None:
    longest = letter("k" * 200, subject="s" * 200, stop="/" + "p" * 499, text="t" * 60_000)

    assert outbox.file_letters(studio, [longest], at=AT, domain=DOMAIN) == 1


def test_a_letter_is_due_at_its_moment_and_not_before(studio: Studio) -> None:
    (pk,) = filed(studio)

    assert outbox.due(at=AT - TICK, most=9) == []
    assert outbox.due(at=AT, most=9) == [pk]
    assert outbox.take(pk, at=AT - TICK, hold=HOLD) is None


def test_a_letter_in_hand_is_in_no_other_hand_till_the_time_is_over(studio: Studio) -> None:
    (pk,) = filed(studio)
    first = taken(pk)

    assert outbox.take(pk, at=AT + HOLD - TICK, hold=HOLD) is None
    second = taken(pk, AT + HOLD)

    assert not outbox.begin_to_hand(first, at=AT + HOLD)
    assert outbox.begin_to_hand(second, at=AT + HOLD)


def test_a_hand_lost_before_the_text_is_no_possible_repeat(studio: Studio) -> None:
    (pk,) = filed(studio)
    taken(pk)

    taken(pk, AT + HOLD)

    assert (row(studio).tries, row(studio).repeats) == (2, 0)


def test_a_hand_lost_after_the_text_began_is_counted_as_a_possible_repeat(studio: Studio) -> None:
    (pk,) = filed(studio)
    outbox.begin_to_hand(taken(pk), at=AT)

    taken(pk, AT + HOLD)

    assert (row(studio).tries, row(studio).repeats) == (2, 1)


def test_a_yes_is_marked_though_another_has_it_in_hand_by_then(studio: Studio) -> None:
    (pk,) = filed(studio)
    slow = taken(pk)
    outbox.begin_to_hand(slow, at=AT)
    other = taken(pk, AT + HOLD)

    outbox.mark_sent(slow, at=AT + HOLD, said="250 OK")

    assert row(studio).sent_at == AT + HOLD
    assert not outbox.begin_to_hand(other, at=AT + HOLD)
    assert outbox.take(pk, at=AT + HOUR, hold=HOLD) is None


def test_a_letter_is_let_go_when_it_is_of_no_use_any_more(studio: Studio) -> None:
    first, second = filed(studio, "one", "two", until=AT + HOUR)

    assert isinstance(outbox.take(first, at=AT + HOUR - TICK, hold=HOLD), InHand)
    assert outbox.take(second, at=AT + HOUR, hold=HOLD) == "too late"
    assert outbox.take(second, at=AT + HOUR, hold=HOLD) is None


def test_a_letter_put_off_waits_longer_each_time_and_is_given_up_at_last(studio: Studio) -> None:
    (pk,) = filed(studio, until=AT + 48 * HOUR)
    at, waits = AT, []
    for _ in range(outbox.MOST_TRIES - 1):
        assert outbox.put_off(taken(pk, at), at=at, said="451 later") == "put off"
        waits.append((row(studio).next_at - at).total_seconds() / 60)
        at = row(studio).next_at

    assert waits == [1, 2, 4, 8, 16, 32, 60, 60, 60, 60, 60]
    assert outbox.put_off(taken(pk, at), at=at, said="451 never") == "given up"
    assert (row(studio).let_go_why, row(studio).said) == ("given up", "451 never")
    assert outbox.due(at=at + 9 * HOUR, most=9) == []


def test_a_letter_that_perhaps_went_out_is_counted_when_it_is_tried_again(studio: Studio) -> None:
    (pk,) = filed(studio)
    one = taken(pk)
    outbox.begin_to_hand(one, at=AT)
    outbox.put_off(one, at=AT, said="no answer", perhaps=True)

    taken(pk, AT + HOUR)

    assert row(studio).repeats == 1


def test_a_letter_in_hand_is_not_stopped_and_a_free_one_is(studio: Studio) -> None:
    (pk,) = filed(studio)
    taken(pk)

    assert not outbox.stop(pk, at=AT)
    assert outbox.stop(pk, at=AT + HOLD)
    assert row(studio).let_go_why == "stopped"


def test_the_workers_are_told_again_ever_later(studio: Studio) -> None:
    (pk,) = filed(studio)
    wait = timedelta(minutes=2)

    told = [
        minutes
        for minutes in range(20)
        if outbox.to_be_told(at=AT + timedelta(minutes=minutes), most=9, first_wait=wait)
    ]

    assert told == [0, 2, 6, 14]
    outbox.untell([pk])
    assert outbox.to_be_told(at=AT + timedelta(minutes=15), most=9, first_wait=wait) == [pk]


def test_what_is_long_past_is_cleared_away_and_nothing_else(studio: Studio) -> None:
    filed(studio, "old", until=AT + HOUR)
    filed(studio, "new", until=AT + HOUR + TICK)

    assert outbox.clear_away(at=AT + HOUR + outbox.KEPT) == 0
    assert outbox.clear_away(at=AT + HOUR + outbox.KEPT + TICK) == 1
    assert [one.letter.key for one in outbox.listed(studio, most=5)] == ["new"]


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"kind": "advert"}, "letter_of_a_known_kind"),
        ({"text": ""}, "letter_says_something_to_somebody"),
        ({"until": AT}, "letter_of_use_after_it_is_due"),
        ({"sent_at": AT}, "letter_handed_over_before_it_was_sent"),
        (
            {"sent_at": AT, "handed_at": AT, "let_go_at": AT, "let_go_why": "refused"},
            "letter_sent_or_let_go_not_both",
        ),
        ({"let_go_at": AT}, "letter_let_go_for_a_reason"),
        ({"let_go_why": "refused"}, "letter_let_go_for_a_reason"),
        ({"let_go_at": AT, "let_go_why": "no mood"}, "letter_let_go_for_a_reason"),
        ({"repeats": 1}, "letter_repeated_by_tries_only"),
    ],
)
def test_the_table_itself_refuses(studio: Studio, changes: dict[str, Any], rule: str) -> None:
    filed(studio)

    with pytest.raises(IntegrityError, match=rule), transaction.atomic():
        OutboxLetter.objects.of(studio).update(**changes)


def test_the_table_itself_keeps_one_letter_a_key(studio: Studio) -> None:
    filed(studio)
    again = row(studio)
    again.pk, again.message_id = None, "<other@yard.example>"

    with pytest.raises(IntegrityError, match=r"letter_filed_once_a_key|outboxletter\.key"):
        again.save(force_insert=True)
