"""Runs under way as rows of a notebook: kept plans, what of them is done, what is promised."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime

from inventory.models import Lot, Studio
from sourcing.kept import done_steps, holding
from sourcing.models import Claim, KeptPlan, KeptStep, KeptTake, Run, StepDone
from sourcing.notebook.load_shelf import Values

Rows = Iterator[Values]


def begun_pages(studio: Studio, runs: Iterable[Run]) -> dict[str, list[Values]]:
    """All pages about runs under way, of runs that are open; by run, then as they were planned."""
    codes = {run.pk: run.code for run in runs}
    plans = {plan.run_id: plan for plan in holding(studio).filter(run__in=list(codes))}
    whose = {plan.pk: codes[run] for run, plan in plans.items()}
    found = _Writing(studio, whose)
    in_order = sorted(plans.values(), key=lambda plan: codes[plan.run_id])
    return {
        "begun": [
            {"run": whose[plan.pk], "begun at": plan.begun_at, "by step": plan.by_step}
            for plan in in_order
        ],
        "begun_steps": sorted(found.steps(), key=_place),
        "begun_takes": sorted(found.takes(), key=_place),
        "begun_hangs": [row for plan in in_order for row in _hangs(plan, whose[plan.pk])],
        "begun_jobs": [row for plan in in_order for row in _jobs(plan, whose[plan.pk])],
        "steps_done": sorted(found.done(), key=_step),
        "steps_took": sorted(found.took(), key=_step),
        "claims": list(_claims(studio, codes)),
    }


def _place(row: Values) -> tuple[str, int]:
    return str(row["run"]), int(str(row["no"]))


def _step(row: Values) -> tuple[object, ...]:
    numbers = (int(str(row.get(name) or 0)) for name in ("round", "load", "no"))
    return str(row["run"]), str(row["step"]), *numbers


class _Writing:
    """The rows that hang on plans."""

    def __init__(self, studio: Studio, whose: dict[int, str]) -> None:
        self.studio, self.whose = studio, whose

    def steps(self) -> Rows:
        for row in KeptStep.objects.of(self.studio).filter(plan__in=list(self.whose)):
            yield {
                "run": self.whose[row.plan_id],
                "no": row.number,
                "step": row.step,
                "kind": row.kind,
                "round": row.round,
                "load": row.load,
                "vessel": row.vessel,
                "ring": row.ring,
                "from": row.since,
                "until": row.until,
                "held until": row.held_until,
                "there until": row.attended_until,
                "hands": row.hands_min or None,
                "litres": row.volume_ul or None,
                "weight": row.weight_mg or None,
                "heat": row.heat_min or None,
                "hold": row.hold_min or None,
                "begins at": row.start_c,
                "goes to": row.goal_c,
                "shared with": tuple(row.shared_with),
            }

    def takes(self) -> Rows:
        for row in KeptTake.objects.of(self.studio).filter(plan__in=list(self.whose)):
            yield {
                "run": self.whose[row.plan_id],
                "no": row.number,
                "lot": row.lot_code,
                "what": row.what,
                "step": row.step,
                **measured(row.amount, row.unit),
                "length": row.length_mm,
                "at": row.at,
                "to come": row.to_come,
                "carried from": row.carried_from,
                "carried to": row.carried_to,
                "way": row.carried_round or None,
            }

    def done(self) -> Rows:
        for row in self._done():
            yield {
                **self._of(row),
                "done at": row.at,
                "begun at": row.begun_at,
                "vessel": row.vessel,
                "litres": row.volume_ul,
                "weight": row.weight_mg,
                "hands": row.minutes,
                "warmth": row.warmth_c,
                "note": row.note,
            }

    def took(self) -> Rows:
        units = dict(
            KeptTake.objects.of(self.studio)
            .filter(plan__in=list(self.whose))
            .values_list("lot_code", "unit")
        )
        for row in self._done():
            for number, (code, amount) in enumerate(row.took, 1):
                unit = units.get(code) or self._unit(code)
                yield {**self._of(row), "no": number, "lot": code, **measured(amount, unit)}

    def _unit(self, code: str) -> str:
        unit = Lot.objects.of(self.studio).filter(code=code).values_list("unit", flat=True).first()
        return unit or "mg"

    def _done(self) -> Iterable[StepDone]:
        return done_steps(self.studio).filter(plan__in=list(self.whose)).order_by("id")

    def _of(self, row: StepDone) -> Values:
        return {
            "run": self.whose[row.plan_id],
            "step": row.step,
            "round": row.round,
            "load": row.load or None,
        }


def measured(amount: int, unit: str) -> Values:
    """A weight or a volume, each in its own column."""
    return {"weight": amount} if unit == "mg" else {"volume": amount}


def _hangs(plan: KeptPlan, run: str) -> Rows:
    for number, (line, since, until, mg) in enumerate(plan.hangs, 1):
        yield {
            "run": run,
            "no": number,
            "line": line,
            "from": datetime.fromisoformat(since),
            "until": datetime.fromisoformat(until),
            "weight": mg,
        }


def _jobs(plan: KeptPlan, run: str) -> Rows:
    for number, (what, by, text, hands_min, kind, lot) in enumerate(plan.jobs, 1):
        yield {
            "run": run,
            "no": number,
            "job": what,
            "by": date.fromisoformat(by),
            "words": text,
            "hands": hands_min or None,
            "kind": kind,
            "lot": lot,
        }


def _claims(studio: Studio, codes: dict[int, str]) -> Rows:
    """What is promised to open runs; a lot claimed twice for one run adds up."""
    rows = Claim.objects.of(studio).filter(run__in=list(codes), released_at__isnull=True)
    sums: dict[tuple[str, str], Values] = {}
    for row in rows.select_related("lot").order_by("made_at", "pk"):
        key = codes[row.run_id], row.lot.code
        name = "weight" if row.lot.unit == "mg" else "volume"
        first = {"run": key[0], "lot": key[1], name: 0, "at": row.made_at, "step": row.step}
        said = sums.setdefault(key, first)
        said[name] = int(str(said[name])) + row.amount
    for _, said in sorted(sums.items()):
        yield said
