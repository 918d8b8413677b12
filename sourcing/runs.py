"""Runs: asked for and finished; what a finished one took and made is one posting.

What happens between is in `steps.py`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime
from itertools import product
from string import ascii_uppercase
from uuid import UUID

from django.db import transaction
from django.db.models import ProtectedError

from inventory import ledger
from inventory.corrections import correct
from inventory.draft import number_of
from inventory.entries import Dyed, Lost, Made, Take, Takes
from inventory.errors import NoSuchLot
from inventory.hindrance import said_in_words
from inventory.models import Lot, Posting, Studio
from inventory.posting import Posted
from inventory.said import check_entry, check_row, check_said
from inventory.science.saying import say
from sourcing.claims import check_takes, claim_anew, claims_of, open_run, release
from sourcing.errors import (
    NoSuchRecipe,
    NoSuchRun,
    NotFinished,
    OtherFibre,
    RunFinished,
    RunHasBegun,
    RunTaken,
    RunTooHeavy,
)
from sourcing.models import Claim, ClaimUsed, FastnessWish, Recipe, Run, ShadeCard, Snippet
from sourcing.week.project import HEAVIEST_RUN_MG


@said_in_words()
def ask_run(
    studio: Studio,
    *,
    code: str,
    recipe: str,
    fibre: str,
    weight_mg: int,
    due: datetime | None = None,
    fibre_lot: str = "",
    jar: str = "",
    for_whom: str = "",
    client: bool = True,
    fibre_needed_by: date | None = None,
    shade_card: bool | None = None,
) -> Run:
    """A run wanted: a shade on so much dry fibre, by the last version of its recipe.

    Parameters
    ----------
    shade_card : whether it is agreed; None: there is none yet
    """
    words = {"code": code, "recipe": recipe, "fibre": fibre, "for whom": for_whom}
    check_said({**words, "due": due, "fibre lot": fibre_lot, "jar": jar})
    if number_of(weight_mg, least=1) > HEAVIEST_RUN_MG:
        raise RunTooHeavy(code, weight_mg=weight_mg, most_mg=HEAVIEST_RUN_MG)
    with transaction.atomic():
        version = Recipe.objects.of(studio).filter(code=recipe).order_by("version").last()
        if version is None:
            raise NoSuchRecipe(recipe)
        if fibre not in version.fibres:
            raise OtherFibre(recipe=version.shade, fibre=fibre, fibres=tuple(version.fibres))
        if Run.objects.of(studio).filter(code=code).exists():
            raise RunTaken(code)
        row = Run(
            studio=studio,
            code=code,
            recipe=version,
            fibre=fibre,
            weight_mg=weight_mg,
            due=due,
            fibre_lot=_lot(studio, fibre_lot),
            jar=_lot(studio, jar),
            for_whom=for_whom,
            client=client,
            fibre_needed_by=fibre_needed_by,
        )
        check_row(row)
        row.save(force_insert=True)
        if shade_card is not None:
            ShadeCard(studio=studio, run=row, approved=shade_card).save(force_insert=True)
        return row


def card_before(studio: Studio, *, shade: str, fibre: str) -> bool | None:
    """Whether the shade was agreed for the last run of it on that fibre; None: there was none."""
    cards = ShadeCard.objects.of(studio).filter(run__recipe__shade=shade, run__fibre=fibre)
    last = cards.order_by("-run").values_list("approved", flat=True).first()
    return None if last is None else bool(last)


def next_code(studio: Studio) -> str:
    """A code that no run of the studio has: A to Z, AA to ZZ, then R with a number."""
    codes = list(_codes())
    taken = set(Run.objects.of(studio).filter(code__in=codes).values_list("code", flat=True))
    for code in codes:
        if code not in taken:
            return code
    last = Run.objects.of(studio).order_by("pk").last()
    return say("R{which}", which=0 if last is None else last.pk + 1)


def _codes() -> Iterator[str]:
    yield from ascii_uppercase
    yield from map("".join, product(ascii_uppercase, repeat=2))


@said_in_words()
def let_go(studio: Studio, *, run: str) -> None:
    """A run that nobody wants any more: it goes with its gates, and what it claimed is free.

    Raises
    ------
    RunHasBegun
        If something of it was done: then it is finished, and what it made is kept or tipped out.
    """
    with transaction.atomic():
        found = open_run(studio, run)
        if found.begun or Snippet.objects.of(studio).filter(run=found).exists():
            raise RunHasBegun(run)
        for model in (Claim, ClaimUsed, ShadeCard, FastnessWish):
            model.objects.of(studio).filter(run=found).delete()
        try:
            found.delete()
        except ProtectedError:  # steps of it were done, and taken back again
            raise RunHasBegun(run) from None


@said_in_words()
def finish_run(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    run: str,
    takes: Takes,
    makes: Sequence[Made],
    losses: Sequence[Lost] = (),
    came_out: str = "",
    note: str = "",
) -> Posted:
    """A run dyed: one posting of what it took and made, and its claims given back.

    Parameters
    ----------
    makes : the cloth that came out; what is second quality or for re-dyeing says so by itself
    came_out : what went wrong with the run, said for all of its cloth that does not say its own

    Raises
    ------
    SpokenFor
        If it would take what is promised to another run.
    RunFinished
        If it was finished before, by another entry.
    UnknownQuality, NoFaultNamed
        If cloth is kept as nothing known, or as less than meant without a word why.
    """
    asked = [take if isinstance(take, Take) else Take(*take) for take in takes]
    check_entry(entry, at)
    check_said({"at": at, "run": run, "takes": asked, "came out": came_out})
    with transaction.atomic():
        found = _with_its_posting(studio, run)
        if found.posting is not None and found.posting.entry != entry:
            assert found.finished_at is not None, "a finished run has its moment"
            raise RunFinished(run=run, at=found.finished_at)
        check_takes(studio, entry=entry, at=at, takes=asked, run=run)
        dyed = [_as_dyed(made, found.recipe, came_out) for made in makes]
        posted = ledger.dye(
            studio, entry=entry, at=at, takes=asked, makes=dyed, losses=losses, note=note
        )
        if not posted.again:
            _give_back(studio, found, entry=entry, at=at)
            found.begun, found.finished_at, found.came_out = True, at, came_out
            found.posting = Posting.objects.of(studio).get(entry=entry)
            found.save(update_fields=["begun", "finished_at", "came_out", "posting"])
    return posted


def take_back_run(studio: Studio, *, entry: UUID, run: str, note: str = "") -> Posted:
    """A run that was said to be finished by mistake: its posting taken back, the run open again.

    It is promised again what it was promised before, as far as nobody else was meanwhile.

    Raises
    ------
    NotFinished
        If the run is not finished.
    TakenSince
        If something was drawn of its cloth meanwhile; the message names the draws.
    """
    with transaction.atomic():
        found = _with_its_posting(studio, run)
        again = Posting.objects.of(studio).filter(entry=entry).select_related("corrects").first()
        if found.posting is None and again is not None and again.corrects is not None:
            # Sent once more: the run is open already.
            return correct(studio, entry=entry, corrects=again.corrects.entry, note=note)
        if found.posting is None:
            raise NotFinished(run)
        finished = found.posting.entry
        posted = correct(studio, entry=entry, corrects=finished, note=note)
        _promise_again(studio, found, finished=finished, entry=entry)
        found.posting, found.finished_at, found.came_out = None, None, ""
        found.save(update_fields=["posting", "finished_at", "came_out"])
    return posted


def _give_back(studio: Studio, run: Run, *, entry: UUID, at: datetime) -> None:
    """Give back all that a run was promised, and keep what that was for when it is open again."""
    for claim in claims_of(studio, run).order_by("id"):
        ClaimUsed.objects.of(studio).create(
            run=run, lot_id=claim.lot_id, entry=entry, amount=claim.amount
        )
    release(studio, at=at, run=run.code)


def _promise_again(studio: Studio, run: Run, *, finished: UUID, entry: UUID) -> None:
    """Promise a run what it gave back as it was finished, since when it first was promised any."""
    amounts: dict[str, int] = {}
    for row in ClaimUsed.objects.of(studio).filter(entry=finished).select_related("lot"):
        amounts[row.lot.code] = amounts.get(row.lot.code, 0) + row.amount
    if amounts:
        first = Claim.objects.of(studio).filter(run=run).earliest("made_at").made_at
        claim_anew(studio, entry=entry, at=first, run=run, amounts=amounts)


def _with_its_posting(studio: Studio, code: str) -> Run:
    rows = Run.objects.of(studio).select_related("posting", "recipe")
    found = rows.filter(code=code).first()
    if found is None:
        raise NoSuchRun(code)
    return found


def _as_dyed(made: Made, recipe: Recipe, came_out: str) -> Made:
    """A made lot with its run's shade and depth, and the run's fault where it names none."""
    dyed = made.dyed or Dyed()
    fault = dyed.came_out or (came_out if dyed.quality else "")
    return replace(
        made,
        fibre=replace(made.fibre, shade=made.fibre.shade or recipe.shade),
        dyed=replace(dyed, depth=dyed.depth or recipe.depth, came_out=fault),
    )


def _lot(studio: Studio, code: str) -> Lot | None:
    if not code:
        return None
    found = Lot.objects.of(studio).filter(code=code).first()
    if found is None:
        raise NoSuchLot(code)
    return found
