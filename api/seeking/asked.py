"""A search is asked for, looked at, stopped and settled; the work itself is `work.py`'s."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone

from api.models.seeks import FOUND, OPEN, Seek
from api.records.cells import sites_said, together_said, waits_said
from api.rest.refused import Refused
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_said
from inventory.science.saying import say
from sourcing.taken import check_runs, floors_in
from sourcing.week.guidance import Guidance, Together

TAKEN, LEFT = "taken", "left"


class NoSuchSearch(Refused):
    """An id that no search of the studio has."""

    code = "no_such_search"

    def __init__(self, search: UUID) -> None:
        sentence = say("No search has the id {search}. Look at the last one, or ask for another.",
                       search=str(search))  # fmt: skip
        super().__init__(sentence, search=str(search))


@said_in_words()
def ask_seek(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    days: int,
    stays: Sequence[str] = (),
    steps: Sequence[tuple[str, str]] = (),
    near: bool = False,
    by_whom: str = "",
) -> Seek:
    """A search asked for; the one that is under way where there is one, whoever asked for it.

    Parameters
    ----------
    stays : codes of runs that keep the hours which they have in the week as it is
    steps : run and step of single steps that keep theirs
    near : after fibre in time and lots saved, move as little as can be

    Raises
    ------
    NoSuchRun
        If a run is to stay that is not there.
    """
    check_said({"run": [*stays, *(run for run, _ in steps)], "step": [step for _, step in steps]})
    check_runs(studio, [*stays, *(run for run, _ in steps)])
    try:
        with transaction.atomic():
            return Seek.objects.of(studio).create(
                entry=entry, asked_at=timezone.now(), by_whom=by_whom, at=at, days=days,
                stays=[*dict.fromkeys(stays), *map(list, dict.fromkeys(steps))], near=near,
            )  # fmt: skip
    except IntegrityError:
        found = Seek.objects.of(studio).filter(entry=entry).first() or under_way(studio)
        if found is None:
            raise
        return found


def runs_to_stay(seek: Seek) -> list[str]:
    """Codes of runs that keep their hours."""
    return [row for row in seek.stays if isinstance(row, str)]


def steps_to_stay(seek: Seek) -> list[tuple[str, str]]:
    """Run and step of single steps that keep their hour."""
    return [(row[0], row[1]) for row in seek.stays if not isinstance(row, str)]


def under_way(studio: Studio) -> Seek | None:
    """The search that is not over."""
    return Seek.objects.of(studio).filter(OPEN).first()


def last_seek(studio: Studio) -> Seek | None:
    """The search that was asked for last."""
    return Seek.objects.of(studio).order_by("-id").first()


def known_seek(studio: Studio, entry: UUID) -> Seek:
    """A search by its id."""
    found = Seek.objects.of(studio).filter(entry=entry).first()
    if found is None:
        raise NoSuchSearch(entry)
    return found


@said_in_words()
def stop_seek(studio: Studio, entry: UUID, *, at: datetime) -> None:
    """Enough: the best so far is what was found."""
    rows = Seek.objects.of(studio).filter(OPEN, entry=entry, stop_at__isnull=True)
    rows.update(stop_at=at)


@said_in_words()
def settle_seek(studio: Studio, entry: UUID, how: str, *, at: datetime) -> None:
    """What was found is taken, or left; the first word holds."""
    rows = Seek.objects.of(studio).filter(entry=entry, state=FOUND, settled="")
    rows.update(settled=how, settled_at=at)


def words_found(seek: Seek) -> dict[str, Any]:
    """The guidance that was found in the words of the entry that takes it."""
    said = seek.found["guidance"]
    return {
        "order": said["order"],
        "waits": waits_said(said["floors"]),
        "sites": sites_said(said["sites"]),
        "together": together_said(said.get("together", ())),
    }


def guidance_found(seek: Seek) -> Guidance:
    """The guidance that makes the week which was found."""
    said = seek.found["guidance"]
    return Guidance(
        order=tuple(said["order"]),
        floors=floors_in(said["floors"]),
        sites=tuple((run, site) for run, site in said["sites"]),
        # What was found before pots could be shared says nothing of them.
        together=tuple(Together(*row) for row in said.get("together", ())),
    )
