"""Claims: amounts of lots promised to runs; a draw by hand goes past them here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction
from django.db.models import OuterRef, QuerySet, Subquery

from inventory import ledger
from inventory.draft import number_of
from inventory.entries import Take, Takes
from inventory.errors import EntryUsed, NoSuchLot, NotEnough
from inventory.hindrance import said_in_words
from inventory.models import Lot, Movement, Studio
from inventory.posting import Posted
from inventory.said import check_entry, check_row, check_said
from inventory.science.saying import joined
from sourcing.errors import NoSuchRun, RunFinished, SpokenFor
from sourcing.models import Claim, ClaimUsed, Run


@dataclass(frozen=True, slots=True)
class Claimed:
    """What is promised of one lot, by run."""

    lot: str
    unit: str
    left: int
    by_run: tuple[tuple[str, int], ...]

    @property
    def claimed(self) -> int:
        return sum(amount for _, amount in self.by_run)

    @property
    def spare(self) -> int:
        return max(self.left - self.claimed, 0)


def claimed(studio: Studio, lots: Sequence[str]) -> dict[str, Claimed]:
    """What is left and what is promised of each lot."""
    return {code: _claimed(lot, rows) for code, (lot, rows) in _open(studio, lots).items()}


@said_in_words()
def claim(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    run: str,
    lot: str,
    amount: int,
    step: str = "",
) -> Claim:
    """Promise an amount of a lot to a run; the same entry again changes nothing.

    Raises
    ------
    SpokenFor
        If less is left beside what was promised already.
    """
    check_entry(entry, at)
    check_said({"at": at, "run": run, "lot": lot, "step": step})
    number_of(amount, least=1)
    with transaction.atomic():
        wanted = open_run(studio, run)
        known = _open(studio, [lot])[lot]
        made = Claim.objects.of(studio).filter(entry=entry).first()
        if made is not None:
            if (made.run_id, made.lot_id, made.amount) != (wanted.pk, known[0].pk, amount):
                raise EntryUsed(entry=entry, kind="claim", at=made.made_at)
            return made
        _check(_claimed(*known), amount, known[0].what, at=at)
        row = Claim(studio=studio, run=wanted, lot_id=known[0].pk, amount=amount, step=step)
        row.made_at, row.entry = at, entry
        check_row(row)
        row.save(force_insert=True)
        return row


@said_in_words()
def release(studio: Studio, *, at: datetime, run: str, lots: Iterable[str] = ()) -> int:
    """Give back what a run was promised, of some lots or of all; how many claims that were."""
    codes = list(lots)
    check_said({"at": at, "run": run, "lot": codes})
    rows = Claim.objects.of(studio).filter(run__code=run, released_at__isnull=True)
    if codes:
        rows = rows.filter(lot__code__in=codes)
    if not Run.objects.of(studio).filter(code=run).exists():
        raise NoSuchRun(run)
    return rows.update(released_at=at)


def claims_of(studio: Studio, run: Run) -> QuerySet[Claim]:
    """What a run is promised and has not used."""
    return Claim.objects.of(studio).filter(run=run, released_at__isnull=True)


def claim_anew(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    run: Run,
    amounts: Mapping[str, int],
    strict: bool = False,
) -> None:
    """Promise a run that has no claims all that it takes, lots on the shelf alone.

    Parameters
    ----------
    amounts : by lot; what is still to come is left out
    strict : refuse what is not there beside others' claims; else promise what is there
    """
    here = Lot.objects.of(studio).filter(code__in=list(amounts)).values_list("code", flat=True)
    known = _open(studio, sorted(here))
    rows = []
    for code, (lot, claims) in known.items():
        found = _claimed(lot, claims)
        if strict:
            _check(found, amounts[code], lot.what, at=at)
        amount = amounts[code] if strict else min(amounts[code], found.spare)
        if amount > 0:
            rows.append(Claim(studio=studio, run=run, lot_id=lot.pk, amount=amount, made_at=at,
                              entry=uuid5(entry, code)))  # fmt: skip
    Claim.objects.of(studio).bulk_create(rows)


@said_in_words()
def draw(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    takes: Takes,
    run: str = "",
    note: str = "",
) -> Posted:
    """Amounts taken from lots, leaving what other runs were promised; a run's own claim is used.

    Raises
    ------
    SpokenFor
        If a lot holds less than is asked of it beside the claims of other runs.
    """
    asked = [take if isinstance(take, Take) else Take(*take) for take in takes]
    check_entry(entry, at)
    check_said({"at": at, "run": run, "note": note, "takes": asked})
    with transaction.atomic():
        check_takes(studio, entry=entry, at=at, takes=asked, run=run)
        posted = ledger.draw(studio, entry=entry, at=at, takes=asked, note=note)
        if run and not posted.again:
            open_run(studio, run)
            for moved in posted.moved:
                use_claim(studio, entry=entry, at=at, run=run, lot=moved.lot, amount=-moved.amount)
    return posted


def check_takes(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    takes: Sequence[Take],
    run: str,
    turns: bool = False,
) -> None:
    """Refuse to take what is promised to others; a retry of a recorded entry passes.

    Parameters
    ----------
    turns : it is not taken away but becomes something else, which may be for one of those runs
    """
    known = _open(studio, [take.lot for take in takes])
    if Movement.objects.of(studio).filter(posting__entry=entry).exists():
        return
    for take in takes:
        lot, rows = known[take.lot]
        found = _claimed(lot, rows)
        amount = found.left if take.amount is None else number_of(take.amount, least=1)
        _check(found, amount, lot.what, at=at, run=run, turns=turns)


def use_claim(
    studio: Studio, *, entry: UUID, at: datetime, run: str, lot: str, amount: int
) -> None:
    """Take an amount off what a run was promised of a lot, the oldest claim first.

    What was taken off is kept under the entry, for when that is taken back.
    """
    rows = Claim.objects.of(studio).filter(run__code=run, lot__code=lot, released_at__isnull=True)
    for row in rows.order_by("made_at", "pk"):
        used = min(row.amount, amount)
        amount -= used
        ClaimUsed.objects.of(studio).create(
            run_id=row.run_id, lot_id=row.lot_id, entry=entry, amount=used
        )
        if used == row.amount:
            row.released_at = at
        else:
            row.amount -= used
        row.save(update_fields=["amount", "released_at"])
        if not amount:
            return


def open_run(studio: Studio, code: str) -> Run:
    """A run that is not finished yet."""
    found = Run.objects.of(studio).filter(code=code).first()
    if found is None:
        raise NoSuchRun(code)
    if found.finished_at is not None:
        raise RunFinished(run=code, at=found.finished_at)
    return found


def _open(studio: Studio, codes: Sequence[str]) -> dict[str, tuple[Lot, list[Claim]]]:
    """Lots, locked in one order, with what is left of them and their open claims."""
    wanted = list(dict.fromkeys(codes))
    lots = Lot.objects.of(studio).filter(code__in=wanted).order_by("pk")
    # The lock comes first and alone, so that the reading after it sees what others just wrote.
    with transaction.atomic():
        list(lots.select_for_update(no_key=True).values_list("pk", flat=True))
        last = Movement.objects.of(studio).filter(lot=OuterRef("pk")).order_by("-number")
        rows = {
            lot.code: lot for lot in lots.annotate(left=Subquery(last.values("left_after")[:1]))
        }
        for code in wanted:
            if code not in rows:
                raise NoSuchLot(code)
        claims: dict[int, list[Claim]] = {}
        for row in (
            Claim.objects.of(studio)
            .filter(lot__code__in=wanted, released_at__isnull=True)
            .select_related("run")
            .order_by("made_at", "pk")
        ):
            claims.setdefault(row.lot_id, []).append(row)
    return {code: (rows[code], claims.get(rows[code].pk, [])) for code in wanted}


def _claimed(lot: Lot, rows: Iterable[Claim]) -> Claimed:
    by_run: dict[str, int] = {}
    for row in rows:
        by_run[row.run.code] = by_run.get(row.run.code, 0) + row.amount
    left = getattr(lot, "left", None) or 0
    return Claimed(lot.code, lot.unit, left, tuple(by_run.items()))


def _check(
    found: Claimed, asked: int, what: str, *, at: datetime, run: str = "", turns: bool = False
) -> None:
    """Refuse more than is left beside what others than this run were promised."""
    others = [(code, amount) for code, amount in found.by_run if not run or code != run]
    promised = sum(amount for _, amount in others)
    if asked <= found.left - promised:
        return
    if not promised:
        raise NotEnough(
            lot=found.lot, what=what, asked=asked, left=found.left, unit=found.unit, at=at
        )
    raise SpokenFor(
        lot=found.lot,
        what=what,
        asked=asked,
        left=found.left,
        claimed=promised,
        unit=found.unit,
        runs=joined(", ", (code for code, _ in others)),
        turns=turns,
    )
