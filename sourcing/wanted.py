"""Runs that are wanted, with their gates and what was promised to each, as frozen facts.

Their tables are asked together with the other small ones, in one question.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import Exists, OuterRef, Q, QuerySet, Value
from django.db.models.functions import Concat

from inventory.models import Lot, Movement, Posting, Studio
from sourcing.gather import Cells
from sourcing.kept import kept_in, kept_queries
from sourcing.models import Block, Claim, FastnessWish, Run, ShadeCard
from sourcing.week import facts
from sourcing.week.second_bath import bath_code

Rows = Mapping[str, Sequence[Cells]]
_BATH_CODE = Concat("code", Value(bath_code("")))  # what its bath is called once it is kept


def wanted_queries(studio: Studio, at: datetime) -> dict[str, QuerySet[Any]]:
    """The queries of all runs that are not finished and of what hangs on them by a moment."""
    runs = Run.objects.of(studio).filter(finished_at__isnull=True).order_by()
    keys = runs.values("pk")
    claims = Claim.objects.of(studio).filter(released_at__isnull=True, run__in=keys).order_by()
    named = (
        Q(pk__in=runs.values("fibre_lot"))
        | Q(pk__in=runs.values("jar"))
        | Q(pk__in=claims.values("lot"))
    )
    return {
        "runs": runs,
        "cards": ShadeCard.objects.of(studio).filter(run__in=keys),
        "wishes": FastnessWish.objects.of(studio).filter(run__in=keys),
        "claims": claims,
        "named_lots": Lot.objects.of(studio).filter(named),
        "run_baths": Lot.objects.of(studio).filter(
            came_to_stay(studio, at),
            kind="bath",
            code__in=runs.annotate(bath=_BATH_CODE).values("bath"),
        ),
        "named_blocks": Block.objects.of(studio).filter(pk__in=runs.values("group_block")),
        **kept_queries(studio, runs),
    }


def came_to_stay(studio: Studio, at: datetime) -> Exists:
    """Of a lot, whether anything of it was there by a moment and not all that came taken back."""
    undone = Posting.objects.of(studio).filter(undoes=True).exclude(corrects=None)
    came = Movement.objects.of(studio).filter(
        lot=OuterRef("pk"), amount__gt=0, posting__occurred_at__lte=at
    )
    return Exists(came.exclude(posting__in=undone.values("corrects")).exclude(posting__undoes=True))


def runs_in(
    rows: Rows, names: Mapping[int, str], zone: ZoneInfo, *, at: datetime
) -> tuple[facts.RunFacts, ...]:
    """Open runs by code, with their gates and what they have kept by a moment.

    Parameters
    ----------
    rows : what `wanted_queries` found, and the rows of `recipes`
    names : what each version of a recipe is called, by key
    """
    found = _Hanging(rows, names, zone, at)
    return tuple(found.run(row) for row in sorted(rows["runs"], key=lambda row: row["code"]))


def promised_in(rows: Rows) -> tuple[facts.Promised, ...]:
    """What is claimed for runs that are not finished; a lot claimed twice for one run adds up."""
    runs = {row["id"]: row["code"] for row in rows["runs"]}
    lots = {row["id"]: row["code"] for row in rows["named_lots"]}
    sums: dict[tuple[str, str], int] = {}
    for row in rows["claims"]:
        key = (runs[row["run_id"]], lots[row["lot_id"]])
        sums[key] = sums.get(key, 0) + row["amount"]
    return tuple(facts.Promised(run, lot, amount) for (run, lot), amount in sorted(sums.items()))


class _Hanging:
    """What hangs on a run, by its key."""

    def __init__(self, rows: Rows, names: Mapping[int, str], zone: ZoneInfo, at: datetime) -> None:
        self.names, self.zone = names, zone
        self.lots = {row["id"]: row["code"] for row in rows["named_lots"]}
        self.blocks = {row["id"]: row["code"] for row in rows["named_blocks"]}
        self.shades = {row["id"]: row["shade"] for row in rows["recipes"]}
        self.cards = {row["run_id"]: facts.ShadeCard(row["approved"]) for row in rows["cards"]}
        self.wishes: dict[int, list[Cells]] = {}
        for row in sorted(rows["wishes"], key=lambda row: (row["run_id"], row["what"])):
            self.wishes.setdefault(row["run_id"], []).append(row)
        codes = {row["id"]: row["code"] for row in rows["runs"]}
        self.kept = kept_in(rows, codes, zone, at=at)
        self.baths = {row["code"] for row in rows["run_baths"]}

    def run(self, row: Cells) -> facts.RunFacts:
        return facts.RunFacts(
            code=row["code"],
            shade=self.shades[row["recipe_id"]],
            recipe=self.names[row["recipe_id"]],
            fibre=row["fibre"],
            weight_mg=row["weight_mg"],
            fibre_lot=self.lots.get(row["fibre_lot_id"], ""),
            due=self._local(row["due"]),
            jar=self.lots.get(row["jar_id"], ""),
            for_whom=row["for_whom"],
            client=row["client"],
            shade_card=self.cards.get(row["id"]),
            wishes=_wishes(self.wishes.get(row["id"], ())),
            group_block=self.blocks.get(row["group_block_id"], ""),
            people=row["people"],
            begun=row["begun"],
            fibre_needed_by=row["fibre_needed_by"],
            kept=self.kept.get(row["id"]),
            bath=bath if (bath := bath_code(row["code"])) in self.baths else "",
        )

    def _local(self, moment: datetime | None) -> datetime | None:
        return None if moment is None else moment.astimezone(self.zone)


def _wishes(rows: Iterable[Cells]) -> tuple[facts.FastnessWish, ...]:
    return tuple(
        facts.FastnessWish(
            what=row["what"],
            wanted=row["wanted"],
            reading=row["reading"],
            begun_on=row["begun_on"],
            days=row["days"],
            accepted_in_writing=row["accepted_in_writing"],
        )
        for row in rows
    )
