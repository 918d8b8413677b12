"""Who gives what just about now, and what each brought last: the choices when a tub is carried in.

One question to the database, of so many agreements at most.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import OuterRef, Q, Subquery

from inventory.models import Studio
from inventory.science.saying import joined
from sourcing.figures import figures_at
from sourcing.models import Agreement
from sourcing.standing import standing_pickups
from sourcing.week.words import exact, grams, pieces

AGREEMENTS_AT_MOST = 400
LOOKED_BACK_DAYS, AHEAD_DAYS = 3, 7


@dataclass(frozen=True, slots=True)
class Brought:
    """How much a hand-over brought, or is told to bring."""

    gives: str
    pieces: int | None
    mg: int | None

    @property
    def words(self) -> str:
        """As it would be said: `62 stones`, `210 g`."""
        if self.pieces is not None:
            return pieces(self.pieces, self.gives)
        return grams(self.mg or 0)

    @property
    def amount(self) -> str:
        """As an entry says it, exact and without a comma: `62 stones`, `1900 g`."""
        if self.pieces is not None:
            return self.words.replace(",", "")
        return joined(" ", exact(self.mg or 0, "mg"))


@dataclass(frozen=True, slots=True)
class Gift:
    """One thing that a source gives, with the hand-over that lies nearest."""

    source: str
    gives: str
    due: datetime | None  # None: no day of it lies near
    last: Brought | None
    told: Brought | None  # of the day of `due`
    place: str = ""
    place_kind: str = ""  # where the last one went


def gifts_at(studio: Studio, *, at: datetime) -> tuple[Gift, ...]:
    """Everything that sources give, what is due nearest to a moment in front."""
    zone = ZoneInfo(studio.zone)
    found = [_gift(row, at.astimezone(zone), zone) for row in _rows(studio, at)]
    return tuple(sorted(found, key=lambda gift: (_far(gift, at), gift.source, gift.gives)))


def piece_masses_g(studio: Studio, *, at: datetime) -> dict[str, int]:
    """Grams that one piece of a dyestuff likely weighs, whole ones, by what the studio weighed."""
    found = [row for row in figures_at(studio, at=at) if row.name == "piece_mass_g"]
    return {row.item: round(row.used.value) for row in found}


def last_brought(
    studio: Studio, source: str, gives: str, *, before: datetime, how: str = "made"
) -> Brought | None:
    """How much the last hand-over before a moment brought, or the one told of for that day."""
    rows = standing_pickups(studio).filter(source__name=source, gives=gives, how=how)
    if how == "made":
        rows = rows.filter(at__lt=before)
    else:
        rows = rows.filter(at__gte=before - timedelta(days=1), at__lte=before + timedelta(days=1))
    row = rows.order_by("-at").values_list("pieces", "weight_mg").first()
    return None if row is None else Brought(gives, *row)


def _rows(studio: Studio, at: datetime) -> Any:
    same = standing_pickups(studio).filter(source=OuterRef("source"), gives=OuterRef("gives"))
    made = same.filter(how="made", at__lt=at).order_by("-at")
    near = {"at__gte": at - timedelta(days=1), "at__lte": at + timedelta(days=1)}
    told = same.filter(how="reported", **near).order_by("at")
    rows = Agreement.objects.of(studio)
    rows = rows.filter(Q(last_on__isnull=True) | Q(last_on__gte=at.date()))
    rows = rows.filter(permission_ended__isnull=True) | rows.filter(permission_ended__gt=at.date())
    return rows.annotate(
        last_pieces=Subquery(made.values("pieces")[:1]),
        last_mg=Subquery(made.values("weight_mg")[:1]),
        last_place=Subquery(made.values("place")[:1]),
        last_kind=Subquery(made.values("place_kind")[:1]),
        told_pieces=Subquery(told.values("pieces")[:1]),
        told_mg=Subquery(told.values("weight_mg")[:1]),
        told_place=Subquery(told.values("place")[:1]),
        told_kind=Subquery(told.values("place_kind")[:1]),
    ).values(
        "source__name", "gives", "days", "at", "closed", "since", "last_on",
        "last_pieces", "last_mg", "last_place", "last_kind",
        "told_pieces", "told_mg", "told_place", "told_kind",
    )[:AGREEMENTS_AT_MOST]  # fmt: skip


def _gift(row: dict[str, Any], at: datetime, zone: ZoneInfo) -> Gift:
    near = sorted(_days(row, at, zone), key=lambda due: abs((due - at).total_seconds()))
    return Gift(
        source=row["source__name"],
        gives=row["gives"],
        due=near[0] if near else None,
        last=_brought(row, "last"),
        told=_brought(row, "told"),
        place=row["told_place"] or row["last_place"] or "",
        place_kind=row["told_kind"] or row["last_kind"] or "",
    )


def _brought(row: dict[str, Any], which: str) -> Brought | None:
    counted, mg = row[f"{which}_pieces"], row[f"{which}_mg"]
    return None if counted is None and mg is None else Brought(row["gives"], counted, mg)


def _days(row: dict[str, Any], at: datetime, zone: ZoneInfo) -> Iterator[datetime]:
    """The days near a moment on which a source gives, with their hour."""
    for ahead in range(-LOOKED_BACK_DAYS, AHEAD_DAYS + 1):
        day = at.date() + timedelta(days=ahead)
        given = day.weekday() in row["days"] or day.isoformat() in row["days"]
        if given and _open(row, day):
            yield datetime.combine(day, row["at"], tzinfo=zone)


def _open(row: dict[str, Any], day: date) -> bool:
    opens = row["since"] is None or row["since"] <= day
    stays = row["last_on"] is None or day <= row["last_on"]
    shut = any(first <= day.isoformat() <= last for first, last in row["closed"])
    return opens and stays and not shut


def _far(gift: Gift, at: datetime) -> float:
    return float("inf") if gift.due is None else abs((gift.due - at).total_seconds())
