"""Studios that lived in any way leave and come back the same, and their pages change nothing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory import fibre, jars, ledger, lots
from inventory.entries import NewLot, Place
from inventory.errors import LarderError
from inventory.models import Studio
from inventory.shelves import shelf_at
from sourcing import sources
from sourcing.notebook.load import load_files
from sourcing.notebook.one_page import load_pages
from sourcing.notebook.writing import files_for, notebook_of
from tests.loaded import load_fixture

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 11, 24, 9, 0, tzinfo=UTC)
LATER = NOW + timedelta(days=2)
LOTS = ["AV-0911", "AV-1109", "AV-1116", "CB-1121", "NE-0620"]
WORDS = st.text(st.characters(exclude_categories=["Cc", "Cs"]), min_size=1, max_size=12).filter(
    str.strip
)
AMOUNTS = st.integers(1, 700_000)
Verb = Callable[..., Any]


def _receive(studio: Studio, *, code: str, source: str, place: str, **entry: Any) -> None:
    lot = NewLot(code, "onion skins", state="dried", place=Place("dry store", place), source=source)
    ledger.receive(studio, lot=lot, amount=5_000, note=f"  {source}  ", **entry)


def _draw(studio: Studio, *, lot: str, amount: int | None, **entry: Any) -> None:
    ledger.draw(studio, takes=[(lot, amount)], **entry)


def _agree_to_carry(studio: Studio, *, note: str, entry: Any, at: datetime) -> None:
    sources.note_carrying(studio, source="Lantern Steps café", note=note)


DEEDS = st.one_of(
    st.tuples(st.just(_draw), st.fixed_dictionaries({
        "lot": st.sampled_from([*LOTS, "J1", "W-88", "alum", "J2"]),
        "amount": st.one_of(AMOUNTS, st.none())})),
    st.tuples(st.just(_receive), st.fixed_dictionaries({
        "code": st.sampled_from(["ON-1", "ON-2", "a/b", "=x"]), "source": WORDS, "place": WORDS})),
    st.tuples(st.just(ledger.put_by), st.fixed_dictionaries({
        "lot": st.sampled_from(LOTS), "state": st.just("frozen"),
        "place": st.builds(Place, st.just("freezer"), st.sampled_from(["", "freezer", "chest"]))})),
    st.tuples(st.just(lots.set_aside), st.fixed_dictionaries({
        "lot": st.sampled_from([*LOTS, "J3"]), "reason": WORDS})),
    st.tuples(st.just(jars.draw), st.fixed_dictionaries({
        "jar": st.sampled_from(["J1", "J2", "J3"]), "volume": AMOUNTS})),
    st.tuples(st.just(jars.dip), st.fixed_dictionaries({
        "jar": st.sampled_from(["J1", "J2"]), "grade": st.integers(1, 5)})),
    st.tuples(st.just(fibre.scour), st.fixed_dictionaries({
        "lot": st.just("W-88"), "amount": st.just(900_000), "weighs": st.integers(800_000, 890_000),
        "code": st.just("W-88 a")})),
    st.tuples(st.just(_agree_to_carry), st.fixed_dictionaries({"note": WORDS})),
)  # fmt: skip


class _Undone(Exception):
    """Leave nothing of a studio."""


@pytest.fixture
def yard() -> Studio:
    load_fixture()
    return Studio.objects.get()


@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(deeds=st.lists(DEEDS, min_size=1, max_size=6))
def test_a_studio_that_lived_in_any_way_comes_back_the_same(
    yard: Studio, deeds: list[tuple[Verb, dict[str, Any]]]
) -> None:
    try:
        with transaction.atomic():
            _live(yard, deeds)
            before = shelf_at(yard, at=LATER)
            pages = files_for(notebook_of(yard, at=LATER))

            again = load_pages(yard, pages, at=LATER)
            assert (dict(again.new), dict(again.changed)) == ({}, {})
            assert shelf_at(yard, at=LATER) == before
            Studio.objects.filter(pk=yard.pk).update(name="Old Yard")
            load_files(pages)
            elsewhere = Studio.objects.get(name="Pellitory Yard")
            assert files_for(notebook_of(elsewhere, at=LATER)) == pages
            raise _Undone
    except _Undone:
        pass


def _live(studio: Studio, deeds: list[tuple[Verb, dict[str, Any]]]) -> None:
    """What can be done is done, a minute apart; what is refused is not."""
    for number, (verb, values) in enumerate(deeds):
        try:
            with transaction.atomic():
                verb(studio, entry=uuid4(), at=NOW + timedelta(minutes=number), **values)
        except LarderError:
            continue


def test_what_is_used_up_is_named_no_more(yard: Studio) -> None:
    ledger.draw(
        yard, entry=uuid4(), at=NOW, takes=[("W-88", None), ("J1", None), ("AV-1109", None)]
    )

    pages = files_for(notebook_of(yard, at=LATER))

    assert b'A,blush,wool,"2,000 g",,' in pages["runs.csv"]
    Studio.objects.filter(pk=yard.pk).update(name="Old Yard")
    load_files(pages)
    assert Studio.objects.count() == 2
