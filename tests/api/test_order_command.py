"""`manage.py order`: what to buy at the desk, longer searches, and what becomes of an order."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from io import StringIO
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from api.management.commands import order as door
from inventory.models import Studio
from sourcing.models import Offer, Run, Supplier
from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.order import order_in_rounds
from sourcing.ordering.solve import Effort, Progress
from tests.api.web.market import KG, with_suppliers
from tests.api.web.yard import MONDAY, load
from tests.once import once

pytestmark = pytest.mark.django_db
SHOWN = """\
Pellitory Yard · Mon 23 Nov 2026, 07:30 · fibre orders

TO BUY
  ◐ wool yarn: 3,720 g ready to dye = 3,916 g as it is bought: ORDER BY MON 30 NOV
      3,720 g by Mon 7 Dec for run G (as the run says)
      Order today from near shop: 4 kg for £112, there on Mon 30 Nov. The last day to order there is
      Mon 30 Nov.
      For far mill the order-by day was Thu 19 Nov, 2 working days ago.
      supplier   in time?                  arrives     order-by day    packs     cost  left over
      near shop  ● in time                 Mon 30 Nov  Mon 30 Nov      4 × 1 kg  £112  84 g
      far mill   ○ late by 2 working days  Wed 9 Dec   was Thu 19 Nov  5 × 1 kg  £110  1,084 g

THE CHEAPEST ORDER FOR ALL OF IT
  ● £112 with carriage, the cheapest there is. No cheaper order exists.
      near shop, there on Mon 30 Nov: £112, no carriage
        wool yarn 4 × 1 kg = 4 kg, £112
      left over: 84 g wool yarn
"""


def _load() -> None:
    load()
    with_suppliers(Studio.objects.get())


made = once(_load)


@pytest.fixture(autouse=True)
def yard(made: None, db: None) -> Studio:
    return Studio.objects.get()


def said(*words: str, at: str = MONDAY, **options: Any) -> tuple[str, str]:
    """What the command writes, and what it tells meanwhile."""
    out, err = StringIO(), StringIO()
    call_command("order", *words, at=at, stdout=out, stderr=err, **options)
    return out.getvalue(), err.getvalue()


def test_the_command_shows_what_the_page_shows() -> None:
    assert said() == (SHOWN, "")


def test_a_terminal_without_the_signs_gets_plain_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    class Plain(StringIO):
        encoding = "ascii"

    monkeypatch.setattr(sys, "stdout", Plain())
    text, _ = said()

    assert text.isascii()
    assert "- late by 2 working days" in text
    assert "4 x 1 kg  GBP 112" in text


def test_a_longer_search_of_one_fibre_says_at_once_that_it_is_the_cheapest() -> None:
    text, told = said("--longer", "5")

    assert text == SHOWN
    assert told == "  kept     £112, the cheapest there is.\n"


def test_a_longer_search_tells_how_far_it_has_come(
    yard: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    two_fibres(yard)
    monkeypatch.setattr(door, "order_in_rounds", _told)

    _, told = said("--longer", "5")

    assert told.splitlines() == [
        "    0.5 s  seen £150",
        "    2.0 s  seen £148, none below £140, gap 5.41%",
        "  kept     £130, the cheapest there is.",
    ]


def _told(*facts: Any, on: Any, effort: Effort) -> Iterator[OrderPlan]:
    """A search that tells twice within a second, and again later."""
    assert effort.tell is not None
    for progress in (
        Progress(0.1, None, None), Progress(0.5, 15_000.0, None), Progress(0.9, 14_900.0, 13_000.0),
        Progress(2.0, 14_800.0, 14_000.0),
    ):  # fmt: skip
        effort.tell(progress)
    *_, plan = order_in_rounds(*facts, on=on, effort=Effort(seconds=20))
    yield plan


def test_ctrl_c_keeps_the_best_so_far(yard: Studio, monkeypatch: pytest.MonkeyPatch) -> None:
    two_fibres(yard)

    def stopped(*facts: Any, on: Any, effort: Effort) -> Iterator[OrderPlan]:
        plan = next(order_in_rounds(*facts, on=on, effort=Effort(seconds=20)))
        yield replace(plan, proof="step by step", bound_minor=0.0)
        raise KeyboardInterrupt

    monkeypatch.setattr(door, "order_in_rounds", stopped)
    text, _ = said("--longer", "60")

    assert text.startswith("Stopped; this is the best order so far.\n")
    assert "! £130 with carriage, fibre by fibre, not searched through." in text


def test_ctrl_c_before_anything_was_found_ends_the_command(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def stopped(*facts: Any, on: Any, effort: Effort) -> Iterator[OrderPlan]:
        raise KeyboardInterrupt
        yield

    monkeypatch.setattr(door, "order_in_rounds", stopped)

    with pytest.raises(KeyboardInterrupt):
        said("--longer", "60")


def two_fibres(studio: Studio) -> None:
    """Slate on cotton, of which nothing lies there and the near shop has packs at £9."""
    Run.objects.of(studio).filter(code="D").update(fibre_lot=None, fibre="cotton")
    seller = Supplier.objects.of(studio).get(name="near shop")
    Offer.objects.of(studio).create(
        supplier=seller, fibre="cotton", form="yarn", pack_mg=KG // 4, tiers=[[0, 900]]
    )


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        ({"at": "lots"}, "“lots” is no moment."),
        ({"studio": "nobody"}, "No studio is called “nobody”."),
        ({"longer": 0.0}, "seconds to search is 0.0; it must be above 0, 3600 at most"),
        ({"longer": 4_000.0}, "seconds to search is 4000.0; it must be above 0, 3600 at most"),
    ],
    ids=str,
)
def test_what_cannot_be_asked_is_one_sentence(options: dict[str, Any], sentence: str) -> None:
    with pytest.raises(CommandError) as refused:
        said(**options)

    assert str(refused.value).startswith(sentence)
    assert refused.value.returncode == 1
