"""A bath kept once its run's cloth is out, for the runs that follow in it."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction

from inventory import jars, ledger
from inventory.entries import Amount
from inventory.hindrance import said_in_words
from inventory.models import Lot, Studio
from inventory.posting import Posted
from inventory.said import check_entry, check_said
from sourcing.claims import claim_anew, claims_of
from sourcing.errors import NoSuchRun, NothingDyed
from sourcing.kept import holding
from sourcing.models import KeptTake, Recipe, RecipeDose, RecipeStep, Run
from sourcing.recipes import doses_of, recipe_of, steps_of
from sourcing.step_errors import NotUnderWay
from sourcing.versions import wanted_recipes
from sourcing.wanted import came_to_stay
from sourcing.week import facts
from sourcing.week.second_bath import DYEBATH, bath_code, dyed_in, firsts, metal_in


@said_in_words()
def keep_bath(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    run: str,
    volume: Amount,
    temperature_c: float,
    site: str = "",
    note: str = "",
) -> Posted:
    """The bath of a run kept for a second use, with the shade, depth and metal of its recipe.

    It is called by its run, such as A-bath, so that what other runs were to take of it by their
    plans is claimed for them now.

    Parameters
    ----------
    run : begun or finished
    temperature_c : °C at which it stands from now on

    Raises
    ------
    NotUnderWay
        If the run is not begun.
    NothingDyed
        If no step of its recipe dyes.
    CodeTaken
        If its bath is kept already.
    """
    check_entry(entry, at)
    check_said({"at": at, "run": run, "note": note})
    code = bath_code(run)
    with transaction.atomic():
        found = Run.objects.of(studio).select_related("recipe").filter(code=run).first()
        if found is None:
            raise NoSuchRun(run)
        if not found.begun:
            raise NotUnderWay(run)
        recipe = _as_facts(studio, found.recipe)
        step = dyed_in(recipe)
        if step is None:
            raise NothingDyed(run=run, shade=recipe.shade)
        if _was_taken_back(studio, code, at=at):
            posted = ledger.recount(studio, entry=entry, at=at, lot=code, found=volume, note=note)
        else:
            posted = jars.make_bath(
                studio,
                entry=entry,
                at=at,
                code=code,
                what=DYEBATH,
                volume=volume,
                temperature_c=temperature_c,
                shade=recipe.shade,
                depth=recipe.depth,
                metal=metal_in(recipe, step) or _metal_before(studio, found),
                times_used=len(_firsts(studio, recipe)) + 1,
                site=site,
                note=note,
            )
        if not posted.again:
            _claim_for_followers(studio, code, entry=entry, at=at)
    return posted


def _claim_for_followers(studio: Studio, code: str, *, entry: UUID, at: datetime) -> None:
    """What begun runs were to take of a bath by their plans is promised to them from now on."""
    plans = holding(studio).filter(run__finished_at__isnull=True)
    takes = KeptTake.objects.of(studio).filter(plan__in=plans, lot_code=code, to_come=True)
    for take in takes.select_related("plan__run").order_by("plan__begun_at", "plan__run__code"):
        run = take.plan.run
        had = sum(row.amount for row in claims_of(studio, run).filter(lot__code=code))
        claim_anew(studio, entry=uuid5(entry, run.code), at=at, run=run,
                   amounts={code: take.amount - had})  # fmt: skip


def _was_taken_back(studio: Studio, code: str, *, at: datetime) -> bool:
    """Whether a bath was said to be kept by mistake: that was taken back, and it is empty."""
    lots = Lot.objects.of(studio).filter(code=code, kind="bath")
    return lots.exists() and not lots.filter(came_to_stay(studio, at)).exists()


def _metal_before(studio: Studio, run: Run) -> str:
    """The metal of the bath that a run followed in itself."""
    plan = holding(studio).filter(run=run).order_by("id").last()
    if plan is None:
        return ""
    takes = KeptTake.objects.of(studio).filter(plan=plan, what=DYEBATH)
    codes = list(takes.values_list("lot_code", flat=True))
    found = jars.metals_of(studio, codes)
    return "iron" if "iron" in found else min(found, default="")


def _firsts(studio: Studio, recipe: facts.Recipe) -> list[facts.Recipe]:
    rows = list(wanted_recipes(studio).order_by("version"))
    known = [_as_facts(studio, row, bare=True) for row in rows]
    return firsts(recipe, known)


def _as_facts(studio: Studio, row: Recipe, *, bare: bool = False) -> facts.Recipe:
    """A recipe as the week reads it; `bare`: without steps and doses."""
    cells = {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields}
    steps = RecipeStep.objects.of(studio).filter(recipe=row).order_by("number")
    doses = RecipeDose.objects.of(studio).filter(recipe=row).order_by("number")
    return recipe_of(
        cells,
        code=row.code,
        steps=() if bare else steps_of(steps.values()),
        doses=() if bare else doses_of(doses.values()),
    )
