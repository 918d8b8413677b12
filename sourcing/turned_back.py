"""Entries put right or taken back, with the claims that had gone along with them.

What an entry used of a run's claim is kept beside it (`ClaimUsed`); taken back, the run is promised
the same amounts of the same lots again, and what had become of them is not promised any more.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction
from django.db.models import QuerySet

from inventory import corrections
from inventory.hindrance import said_in_words
from inventory.models import Kind, Movement, Posting, Studio
from inventory.posting import Posted
from inventory.said import check_at
from inventory.science.saying import joined
from sourcing.claims import claim_anew, claimed, claims_of, release
from sourcing.errors import ClaimedSince, ClaimsWentBack
from sourcing.kept import done_steps
from sourcing.models import Claim, ClaimUsed, Run, StepNotDone

TURNED = (Kind.SCOUR, Kind.MORDANT, Kind.PUT_BY, Kind.MAKE_BATH)


@said_in_words()
def correct(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    corrects: UUID,
    amounts: Mapping[str, int] | None = None,
    note: str = "",
) -> Posted:
    """An entry put right as `inventory.corrections.correct` does, its run's claims with it.

    Parameters
    ----------
    at : aware; since when the run is promised again what it was promised before
    amounts : None takes the whole entry back; else its claims stay as they are

    Raises
    ------
    ClaimedSince
        If what it made was promised to another run meanwhile.
    ClaimsWentBack
        If it is a taking back with which claims went back.
    SpokenFor
        If there is no longer so much of what its run was promised before.
    """
    check_at(at)
    with transaction.atomic():
        wrong = Posting.objects.of(studio).filter(entry=corrects).first()
        back = None if amounts is not None or wrong is None else _Back(studio, wrong, entry, at)
        if back is not None:
            back.check()
        posted = corrections.correct(
            studio, entry=entry, corrects=corrects, amounts=amounts, note=note
        )
        if back is not None and not posted.again:
            back.claims()
    return posted


@dataclass(frozen=True)
class _Back:
    """One entry on its way back."""

    studio: Studio
    wrong: Posting
    entry: UUID
    at: datetime

    def check(self) -> None:
        """Refuse where another run was promised what the entry made, or its claims went back."""
        undone = self.wrong.corrects
        if undone is not None and self.wrong.undoes and self._used(undone).exists():
            raise ClaimsWentBack(self.wrong.entry)
        if self.wrong.kind in TURNED and not self._is_corrected():
            for row in self._gained():
                self._check_free(row)

    def _check_free(self, row: Movement) -> None:
        found = claimed(self.studio, [row.lot.code])[row.lot.code]
        mine = set(self._along([row]).values_list("run__code", flat=True))
        mine |= set(self._following([row]).values_list("run__code", flat=True))
        others = [(run, amount) for run, amount in found.by_run if run not in mine]
        promised = sum(amount for _, amount in others)
        if promised > found.left - row.amount:
            raise ClaimedSince(
                lot=found.lot,
                what=row.lot.what,
                back=row.amount,
                promised=promised,
                unit=found.unit,
                runs=joined(", ", (run for run, _ in others)),
            )

    def claims(self) -> None:
        """Promise each open run what it was promised before the entry; a bath is not made.

        Of a bath that is not kept nothing is promised to those that were to follow in it.
        """
        used = list(self._used(self.wrong).select_related("run", "lot").order_by("id"))
        for run in {row.run_id: row.run for row in used}.values():
            if run.finished_at is None:
                self._of_run(run, [row for row in used if row.run_id == run.pk])
        for claim in self._following(self._gained()).select_related("run", "lot"):
            release(self.studio, at=max(self.at, claim.made_at), run=claim.run.code,
                    lots=[claim.lot.code])  # fmt: skip
        for number, done in enumerate(done_steps(self.studio).filter(entry=self.wrong.entry)):
            StepNotDone.objects.of(self.studio).create(
                done=done, entry=uuid5(self.entry, f"step:{number}"), at=self.at
            )

    def _of_run(self, run: Run, used: Sequence[ClaimUsed]) -> None:
        gained = self._gained()
        meant = next((row.lot for row in used if row.meant), None)
        if meant is not None and run.fibre_lot_id in {row.lot_id for row in gained}:
            run.fibre_lot = meant
            run.save(update_fields=["fibre_lot"])
        along = [row.lot.code for row in gained if self._along([row]).filter(run=run).exists()]
        held = claims_of(self.studio, run).filter(lot__code__in=along)
        if along and not held.exists():
            return  # the dyer has given it back since
        if along:
            made_at = held.values_list("made_at", flat=True)
            release(self.studio, at=max(self.at, *made_at), run=run.code, lots=along)
        amounts: dict[str, int] = {}
        for row in used:
            if row.amount:
                amounts[row.lot.code] = amounts.get(row.lot.code, 0) + row.amount
        claim_anew(self.studio, entry=self.entry, at=self.at, run=run, amounts=amounts, strict=True)

    def _is_corrected(self) -> bool:
        return Posting.objects.of(self.studio).filter(corrects=self.wrong).exists()

    def _used(self, posting: Posting) -> QuerySet[ClaimUsed]:
        return ClaimUsed.objects.of(self.studio).filter(entry=posting.entry)

    def _gained(self) -> list[Movement]:
        """What the entry made, a lot each."""
        rows = Movement.objects.of(self.studio).filter(posting=self.wrong, amount__gt=0)
        return list(rows.select_related("lot").order_by("lot__code"))

    def _along(self, rows: Sequence[Movement]) -> QuerySet[Claim]:
        """Claims that were made on what it made, as it was made."""
        entries = [uuid5(self.wrong.entry, row.lot.code) for row in rows]
        return Claim.objects.of(self.studio).filter(entry__in=entries)

    def _following(self, rows: Sequence[Movement]) -> QuerySet[Claim]:
        """Claims on a bath that were made as it was kept, for runs that follow in it."""
        claims = Claim.objects.of(self.studio).filter(released_at=None)
        lots = claims.filter(lot__in=[row.lot_id for row in rows]).select_related("run", "lot")
        entries = [uuid5(uuid5(self.wrong.entry, row.run.code), row.lot.code) for row in lots]
        return claims.filter(entry__in=entries)
