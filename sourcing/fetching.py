"""What a run's plan has fetched from another site: said done, it lies there from then on.

Each thing that is weighed is put by at the run's site with `turning.put_by`: a lot of its own with
its past, weighed at both ends, and the run's claim goes along. Liquor and baths are poured off for
their step; they stay what was drawn of their jar and are posted with the run.
"""

from __future__ import annotations

from datetime import datetime
from uuid import uuid5

from inventory.codes import part_code
from inventory.entries import Place
from inventory.errors import NotKept
from inventory.models import ColdPlace, Lot, Stay, Studio
from inventory.science.saying import joined, say
from sourcing.claims import claims_of
from sourcing.models import KeptStep, KeptTake, Run, StepDone
from sourcing.turning import put_by
from sourcing.week.carry import CARRY, carry_step

MOVED = ("dyestuff", "supply", "fibre")  # kinds of lots that become lots of the other site


def is_fetching(studio: Studio, done: StepDone) -> bool:
    """Whether a step that is done was a way to another site."""
    rows = KeptStep.objects.of(studio).filter(plan=done.plan_id, step=done.step, kind=CARRY)
    return rows.exists()


def put_there(studio: Studio, run: Run, done: StepDone, weighed: dict[str, int]) -> None:
    """All that a way brought lies at the run's site, beside what was moved by hand before.

    Parameters
    ----------
    weighed : mg by lot as weighed where it came to; of what is left out as much as left

    Raises
    ------
    NotKept
        If something was weighed that was not to be fetched.
    """
    wanted = _planned(studio, done)
    strange = next((code for code in weighed if code not in wanted), None)
    if strange is not None:
        raise NotKept(
            "took",
            strange,
            say("is not fetched by {step}", step=done.step),
            say("It brings {lots}.", lots=joined(", ", sorted(wanted))),
        )
    rows = {row.code: row for row in Lot.objects.of(studio).filter(code__in=wanted)}
    mine = _claimed(studio, run)
    for code, (planned_mg, site) in wanted.items():
        lot = rows.get(code)
        left_mg = min(planned_mg, mine.get(code, 0))
        if lot is None or lot.kind not in MOVED or left_mg <= 0 or _site_of(lot) == site:
            continue
        came_mg = weighed.get(code, left_mg)
        state, place = _as_kept(studio, lot, site, at=done.at)
        put_by(
            studio,
            entry=uuid5(done.entry, f"fetched:{code}"),
            at=done.at,
            lot=code,
            state=state,
            place=place,
            amount=max(left_mg, came_mg),
            becomes=came_mg,
            code=part_code(studio, code, site[:12]),
            reason="carried",
            site=site,
            run=run.code,
        )


def _planned(studio: Studio, done: StepDone) -> dict[str, tuple[int, str]]:
    """What was to be fetched by a way, by lot: mg or µL, and where to."""
    found: dict[str, tuple[int, str]] = {}
    rows = KeptTake.objects.of(studio).filter(plan=done.plan_id, carried_round=done.round)
    for row in rows.exclude(carried_from="").order_by("number"):
        if done.step == carry_step(row.carried_from):
            had = found.get(row.lot_code, (0, ""))[0]
            found[row.lot_code] = had + row.amount, row.carried_to
    return found


def _claimed(studio: Studio, run: Run) -> dict[str, int]:
    found: dict[str, int] = {}
    for row in claims_of(studio, run).select_related("lot"):
        found[row.lot.code] = found.get(row.lot.code, 0) + row.amount
    return {code: amount for code, amount in found.items() if amount > 0}


def _site_of(lot: Lot) -> str:
    return lot.site.code if lot.site is not None else ""


def _as_kept(studio: Studio, lot: Lot, site: str, *, at: datetime) -> tuple[str, Place]:
    """How a lot is kept, with the cold place of that kind at the other site, where it has one."""
    stay = Stay.objects.of(studio).filter(lot=lot.pk, at__lte=at).order_by("at", "id").last()
    if stay is None:
        return "dried", Place("dry store")
    cold = ColdPlace.objects.of(studio).filter(kind=stay.place_kind, site__code=site)
    code = cold.order_by("code").values_list("code", flat=True).first() or ""
    return stay.state, Place(stay.place_kind, code)
