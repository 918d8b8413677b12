"""The figures that a studio’s week rests on at a moment: its own, and the shipped behind them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from operator import itemgetter
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import F, QuerySet, Window
from django.db.models.functions import RowNumber

from inventory.errors import NoZone
from inventory.models import PieceWeighing, Studio, StudioRule
from inventory.science.catalogue import shipped, with_shipped
from inventory.science.figures import Figure, Figures
from inventory.science.pieces import PieceMass, Weighing, known_mass, learnt
from inventory.science.saying import say
from sourcing.gather import Cells, Gathering

# Counts of one dyestuff that teach what a piece weighs: some years of a café, and no more to read
# for a studio that has counted for twenty.
WEIGHINGS_AT_MOST = 100


@dataclass(frozen=True, slots=True)
class Standing:
    """One figure as it stands: the studio's own where it has one, and the shipped one."""

    item: str
    name: str
    own: Figure | None
    shipped: Figure | None
    note: str = ""  # what the studio wrote beside its own

    @property
    def used(self) -> Figure:
        """The one that the sums take."""
        found = self.own or self.shipped
        assert found is not None
        return found


def figures_at(studio: Studio, *, at: datetime) -> tuple[Standing, ...]:
    """Every figure that holds on the day of a moment, by item and name, in one question.

    Parameters
    ----------
    at : aware; figures of the studio that begin later do not hold yet
    """
    if at.tzinfo is None:
        raise NoZone(at)
    zone = ZoneInfo(studio.zone)
    on = at.astimezone(zone).date()
    rows = _FIGURES.rows(studio=studio, at=at)
    notes = {(row["item"], row["name"], row["since"]): row["note"] for row in rows["rules"]}
    figures = figures_in(rows, zone)
    keys = dict.fromkeys((row.item, row.name) for row in (*shipped().rows, *figures.own()))
    standing = []
    for item, name in keys:
        found, behind = figures.find(item, name, on=on), shipped().find(item, name, on=on)
        own = found if found is not None and found.own else None
        if own is None and behind is None:  # begins on a later day
            continue
        note = notes.get((item, name, own.since), "") if own is not None else ""
        standing.append(Standing(item, name, own, behind, note))
    return tuple(standing)


def _figures(*, studio: Studio, at: datetime) -> dict[str, QuerySet[Any]]:
    return {
        "rules": StudioRule.objects.of(studio),
        "weighings": weighings_of(studio, at=at),
    }


_FIGURES = Gathering(_figures)


def weighings_of(studio: Studio, *, at: datetime) -> QuerySet[PieceWeighing]:
    """The counts that were weighed by a moment: of each dyestuff the latest, so many at most."""
    counted = Window(RowNumber(), partition_by=F("what"), order_by=[F("at").desc(), F("pk").desc()])
    by_then = PieceWeighing.objects.of(studio).filter(at__lte=at)
    latest = by_then.annotate(behind=counted).filter(behind__lte=WEIGHINGS_AT_MOST)
    return PieceWeighing.objects.of(studio).filter(pk__in=latest.values("pk"))


def figures_in(rows: Mapping[str, Sequence[Cells]], zone: ZoneInfo) -> Figures:
    """The studio's own figures in front of the shipped ones; weighed counts teach a piece mass."""
    own = [
        Figure(
            item=row["item"],
            name=row["name"],
            value=row["value"],
            low=row["low"],
            high=row["high"],
            basis=row["basis"],
            source=row["source"],
            own=True,
            since=row["since"],
        )
        for row in sorted(rows["rules"], key=itemgetter("item", "name", "id"))
    ]
    return with_shipped([*own, *_piece_masses(rows["weighings"], with_shipped(own), zone)])


def _piece_masses(weighings: Sequence[Cells], before: Figures, zone: ZoneInfo) -> Iterable[Figure]:
    """Mean mass of a piece by dyestuff over the counts that were weighed; its range never narrows.

    Parameters
    ----------
    before : the figures that hold without the weighings
    """
    by_stuff: dict[str, list[Cells]] = {}
    for row in sorted(weighings, key=itemgetter("at", "id")):
        by_stuff.setdefault(row["what"], []).append(row)
    for what, rows in sorted(by_stuff.items()):
        since = rows[-1]["at"].astimezone(zone).date()
        each = [Weighing(row["pieces"], row["weight_mg"]) for row in rows]
        mass = learnt(_known_mass(before.find(what, "piece_mass_g", on=since), each[0]), each)
        yield Figure(
            item=what,
            name="piece_mass_g",
            value=_grams(mass.mean_mg),
            low=_grams(mass.low_mg),
            high=_grams(mass.high_mg),
            basis="measured here",
            source=say("{pieces:,} weighed", pieces=mass.pieces),
            own=True,
            since=since,
        )


def _known_mass(figure: Figure | None, first: Weighing) -> PieceMass:
    """What one piece was held to weigh before; what was weighed first where nobody had said."""
    if figure is None:
        return known_mass(first.mean_mg)
    low, high = (figure.value if end is None else end for end in (figure.low, figure.high))
    return known_mass(*(Fraction(grams) * 1000 for grams in (figure.value, low, high)))


def _grams(mg: Fraction) -> Decimal:
    return Decimal(mg.numerator) / mg.denominator / 1000
