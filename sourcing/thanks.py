"""What sources gave since a day and what became of it: for a thank-you, and for the totals.

Read in as many questions however much there is; the sums are pure (`sourcing/tracing`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet

from inventory.errors import NoZone
from inventory.histories import Histories, histories
from inventory.models import Dyestuff, Kind, Lot, Movement, Posting, Studio, StudioRule
from inventory.models import Stay as StayRow
from inventory.models import Verdict as VerdictRow
from inventory.prepared import among
from inventory.science.days import day_begins
from inventory.science.facts import LotFacts, Stay, Verdict
from inventory.science.figures import Figures
from inventory.science.keeping import is_past
from sourcing.errors import NoSourceThere, TooMuchGiven
from sourcing.figures import figures_in, weighings_of
from sourcing.gather import Cells, gather
from sourcing.models import PickUp, Recipe, Run, Source
from sourcing.tracing.balance import Balance, balances
from sourcing.tracing.facts import GivenOver, Happened, History, Moved, RunDyed, TracedLot

Rows = Mapping[str, Sequence[Cells]]
HAND_OVERS_AT_MOST = 20_000  # in one answer


@dataclass(frozen=True, slots=True)
class Giver:
    """One source with all that it gave in the time asked for."""

    key: int
    name: str
    kind: str
    place: str
    missed: int
    balances: tuple[Balance, ...]  # by dyestuff

    @property
    def made(self) -> int:
        """Hand-overs."""
        return sum(len(row.given) for row in self.balances)


@dataclass(frozen=True)
class Thanks:
    """What one studio was given from a day up to a moment."""

    studio: str
    zone: ZoneInfo
    since: date
    at: datetime
    givers: tuple[Giver, ...]  # by name
    fugitive: frozenset[str] = frozenset()
    hazards: tuple[tuple[str, str], ...] = ()


def thanks_at(studio: Studio, *, at: datetime, since: date, source: int | None = None) -> Thanks:
    """What a source, or every source, gave from a day on and what became of it.

    Parameters
    ----------
    at : aware; what happened later is not counted
    since : the studio's own day; hand-overs from then on
    source : key of one source; None: all of them

    Raises
    ------
    NoSourceThere
        If the studio has no source of that key.
    TooMuchGiven
        If more was handed over than one answer holds.
    """
    if at.tzinfo is None:
        raise NoZone(at)
    zone = ZoneInfo(studio.zone)
    at = at.astimezone(zone)
    begins = day_begins(since, zone=zone)
    rows = gather(_given_queries(studio, at, begins, source))
    if source is not None and not rows["sources"]:
        raise NoSourceThere(source)
    if len(rows["pickups"]) > HAND_OVERS_AT_MOST:
        raise TooMuchGiven(since, HAND_OVERS_AT_MOST)
    rows |= gather(_moved_queries(studio, at, begins, rows["mine"]))
    rows |= gather(_around_queries(studio, at, rows))
    figures = figures_in(rows, zone)
    sources = sorted(rows["sources"], key=lambda row: row["name"])
    history = _history(rows, zone, figures, _spoiled(studio, rows, figures, at, zone))
    by_source: dict[str, list[Balance]] = {}
    for balance in balances(history):
        by_source.setdefault(balance.source, []).append(balance)
    return Thanks(
        studio=studio.name,
        zone=zone,
        since=since,
        at=at,
        givers=tuple(_giver(row, rows, by_source) for row in sources),
        fugitive=frozenset(row["name"] for row in rows["dyestuffs"] if row["fugitive"]),
        hazards=tuple(
            sorted((row["name"], row["hazard"]) for row in rows["dyestuffs"] if row["hazard"])
        ),
    )


def _given_queries(
    studio: Studio, at: datetime, begins: datetime, source: int | None
) -> dict[str, QuerySet[Any]]:
    """Hand-overs and the lots that came of them, those put by from them too."""
    sources = Source.objects.of(studio)
    pickups = PickUp.objects.of(studio).filter(at__gte=begins, at__lte=at, how__in=MADE_OR_MISSED)
    if source is not None:
        sources, pickups = sources.filter(pk=source), pickups.filter(source=source)
    roots = Lot.objects.of(studio).filter(
        Q(posting__in=pickups.exclude(posting=None).values("posting"))
        | Q(code__in=pickups.exclude(lot_code="").values("lot_code"))
    )
    # What is put by from a lot carries the words of its source.
    mine = Q(pk__in=roots.values("pk")) | (Q(parent__isnull=False) & _same_source(roots))
    return {
        "sources": sources,
        "pickups": PickUp.objects.of(studio).filter(
            pk__in=pickups.order_by("-at", "-pk").values("pk")[: HAND_OVERS_AT_MOST + 1]
        ),
        "mine": Lot.objects.of(studio).filter(mine, kind="dyestuff"),
        "rules": StudioRule.objects.of(studio),
        "weighings": weighings_of(studio, at=at),
        "dyestuffs": Dyestuff.objects.of(studio),
    }


def _moved_queries(
    studio: Studio, at: datetime, begins: datetime, mine: Sequence[Cells]
) -> dict[str, QuerySet[Any]]:
    """What moved some lots up to a moment; of runs and baths all that moved with them."""
    keys = among([row["id"] for row in mine])
    own = Movement.objects.of(studio).filter(lot__in=keys)
    baths = Lot.objects.of(studio).filter(kind="bath", posting__in=own.values("posting"))
    from_baths = Movement.objects.of(studio).filter(lot__in=baths.values("pk"))
    dyed = Posting.objects.of(studio).filter(
        Q(pk__in=own.values("posting")) | Q(pk__in=from_baths.values("posting")),
        kind=Kind.DYE,
        occurred_at__lte=at,
    )
    in_runs = Movement.objects.of(studio).filter(posting__in=dyed.values("pk"))
    corrections = Posting.objects.of(studio).filter(
        kind=Kind.CORRECT, occurred_at__gte=begins, occurred_at__lte=at
    )
    return {
        "own": own.filter(posting__occurred_at__lte=at),
        "in_runs": in_runs,
        "put_right": Movement.objects.of(studio).filter(posting__in=corrections.values("pk")),
        "postings": Posting.objects.of(studio).filter(
            Q(pk__in=own.values("posting")) | Q(pk__in=dyed.values("pk")), occurred_at__lte=at
        ),
        "corrections": corrections,
        "runs": Run.objects.of(studio).filter(posting__in=dyed.values("pk")),
    }


def _around_queries(studio: Studio, at: datetime, moved: Rows) -> dict[str, QuerySet[Any]]:
    """The lots, baths and recipes that those movements and runs name."""
    lots = Lot.objects.of(studio).filter(
        pk__in=among(sorted({row["lot_id"] for name in MOVES for row in moved[name]}))
    )
    made = Movement.objects.of(studio).filter(
        posting__in=lots.filter(kind="bath").values("posting"), posting__occurred_at__lte=at
    )
    return {
        "lots": Lot.objects.of(studio).filter(
            Q(pk__in=lots.values("pk")) | Q(pk__in=made.values("lot"))
        ),
        "made": made,
        "begun": Posting.objects.of(studio).filter(pk__in=made.values("posting")),
        "recipes": Recipe.objects.of(studio).filter(
            pk__in=among(sorted({row["recipe_id"] for row in moved["runs"]}))
        ),
    }


MOVES = ("own", "in_runs", "put_right")
MADE_OR_MISSED = ("made", "missed")


def _same_source(roots: QuerySet[Lot]) -> Q:
    return Q(source__in=roots.exclude(source="").order_by().values("source"))


def _giver(row: Cells, rows: Rows, by_source: Mapping[str, list[Balance]]) -> Giver:
    missed = sum(
        1 for each in rows["pickups"] if each["source_id"] == row["id"] and each["how"] == "missed"
    )
    found = tuple(by_source.get(row["name"], ()))
    return Giver(row["id"], row["name"], row["kind"], row["place"], missed, found)


def _spoiled(
    studio: Studio, rows: Rows, figures: Figures, at: datetime, zone: ZoneInfo
) -> dict[int, int]:
    """What lies past its last good day, by key of the lot."""
    left: dict[int, int] = {}
    for row in _once(rows, MOVES):
        left[row["lot_id"]] = left.get(row["lot_id"], 0) + row["amount"]
    mine = [row for row in rows["mine"] if left.get(row["id"], 0) > 0]
    past = histories(studio, {row["id"]: row["posting_id"] for row in mine}, at=at)
    found: dict[int, int] = {}
    for row in mine:
        lot = _as_kept(row, past)
        if lot.stays and is_past(lot, figures, zone=zone, on=at.date(), at=at):
            found[row["id"]] = left[row["id"]]
    return found


def _as_kept(row: Cells, past: Histories) -> LotFacts:
    """A lot as far as its keeping goes."""
    stays = tuple(
        Stay(each.at, each.text or "", each.text_2 or "", each.text_3 or "", each.real)
        for each in past.of(StayRow, row["id"])
    )
    seen = tuple(Verdict(each.at, bool(each.yes)) for each in past.of(VerdictRow, row["id"]))
    return LotFacts(row["code"], row["what"], stays, 0, verdicts=seen)


def _history(rows: Rows, zone: ZoneInfo, figures: Figures, spoiled: dict[int, int]) -> History:
    names = {row["id"]: row["name"] for row in rows["sources"]}
    by_posting = {row["posting_id"]: row["id"] for row in rows["mine"] if row["parent_id"] is None}
    by_code = {row["code"]: row["id"] for row in rows["mine"] if row["parent_id"] is None}
    shades = {row["id"]: row["shade"] for row in rows["recipes"]}
    made = sorted(
        (row for row in rows["pickups"] if row["how"] == "made" and row["source_id"] in names),
        key=lambda row: (row["at"], row["id"]),
    )
    return History(
        given=tuple(_given(row, names, by_posting, by_code, zone, figures) for row in made),
        lots={row["id"]: _lot(row) for row in rows["lots"]},
        moved=tuple(
            Moved(row["lot_id"], str(row["posting_id"]), row["amount"], row["number"],
                  row["pieces"])
            for row in _once(rows, (*MOVES, "made"))
        ),
        happened={
            str(row["id"]): _happened(row, zone)
            for name in ("postings", "corrections", "begun")
            for row in rows[name]
        },
        runs=tuple(
            RunDyed(str(row["posting_id"]), row["code"], shades.get(row["recipe_id"], ""))
            for row in rows["runs"]
        ),
        spoiled=spoiled,
    )  # fmt: skip


def _once(rows: Rows, names: Sequence[str]) -> list[Cells]:
    """Movements of several questions, each once, lot by lot in their order."""
    by_key = {row["id"]: row for name in names for row in rows[name]}
    return sorted(by_key.values(), key=lambda row: (row["lot_id"], row["number"]))


def _given(
    row: Cells,
    names: Mapping[int, str],
    by_posting: Mapping[Any, int],
    by_code: Mapping[str, int],
    zone: ZoneInfo,
    figures: Figures,
) -> GivenOver:
    day = row["at"].astimezone(zone).date()
    lot = by_posting.get(row["posting_id"]) if row["posting_id"] else None
    whole = lot is not None
    if lot is None and row["lot_code"]:
        lot = by_code.get(row["lot_code"])
    guess = row["weight_mg"]
    if guess is None:
        found = figures.find(row["gives"], "piece_mass_g", on=day)
        guess = 0 if found is None else round((row["pieces"] or 0) * found.value * 1000)
    return GivenOver(names[row["source_id"]], row["gives"], day, row["pieces"], row["weight_mg"],
                     guess, lot, row["note"], whole)  # fmt: skip


def _lot(row: Cells) -> TracedLot:
    return TracedLot(row["id"], row["code"], row["what"], row["kind"], row["parent_id"],
                     str(row["posting_id"]))  # fmt: skip


def _happened(row: Cells, zone: ZoneInfo) -> Happened:
    corrects = None if row["corrects_id"] is None else str(row["corrects_id"])
    return Happened(str(row["id"]), row["kind"], row["occurred_at"].astimezone(zone), corrects,
                    row["where_to"])  # fmt: skip
