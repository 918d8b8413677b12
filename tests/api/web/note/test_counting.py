"""What a thumb can count: the studio's words for pieces, with what one likely weighs."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

pytestmark = pytest.mark.usefixtures("yard")


def test_a_pick_up_says_what_one_piece_likely_weighs(client: Client) -> None:
    page = client.get("/note/pick-up/").content.decode()

    assert re.findall(r'data-piece="(\w+)" data-each-g="(\d+)"', page) == [("stones", "42")]
    assert 'data-tap><span class="tap-count"' in page


def test_an_amount_that_nobody_counts_has_no_taps(client: Client) -> None:
    assert "data-tap" not in client.get("/note/dip/").content.decode()


def test_counting_asks_one_question_more_at_most(client: Client) -> None:
    client.get("/note/pick-up/")

    with CaptureQueriesContext(
        connection,
    ) as asked:
        client.get("/note/pick-up/")

    assert len(asked) <= 8, [row["sql"][:80] for row in asked]
