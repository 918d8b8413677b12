"""The proof: everything in the ledger worked out again from scratch, the first bad row named."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db import connection, models

from inventory import guards
from inventory.models import Kind, Loss, Movement, Posting, Seal, Sealed, Studio
from inventory.models.movements import TURNING
from inventory.models.scope import OfStudio
from inventory.seal import contents, link, unsealed

BATCH = 500  # postings looked at together
NAMED = 20  # bad rows named of one rule


@dataclass(frozen=True, slots=True)
class Fault:
    """One row that does not hold."""

    studio: str
    rule: str
    row: str
    text: str


def audit(studio: Studio | None = None) -> list[Fault]:
    """Every fault of one studio or of all, in the order of the ledger; empty: all holds."""
    faults = [
        Fault("", "guards_are_up", rule, f"The database does not guard {rule}. Run migrate.")
        for rule in guards.missing()
    ]
    studios = [studio] if studio is not None else list(Studio.objects.order_by("pk"))
    for one in studios:
        for check in (_strangers, _chains, _postings, _seals):
            faults.extend(_first(check(one)))
    return faults


def tail(studio: Studio) -> list[Posting]:
    """Postings that no seal covers yet, oldest first."""
    return list(unsealed(studio))


def _first(found: Iterator[Fault]) -> Iterator[Fault]:
    """The first faults of a check: one broken row often breaks all that follow."""
    for place, fault in enumerate(found):
        if place == NAMED:
            return
        yield fault


def _strangers(studio: Studio) -> Iterator[Fault]:
    """Rows that point at a row of another studio, or at one that is not there."""
    for model in apps.get_models():
        if issubclass(model, OfStudio):
            for field in model._meta.concrete_fields:
                target = field.related_model
                if isinstance(target, type) and issubclass(target, OfStudio):
                    yield from _strangers_by(studio, model, field, target)


def _strangers_by(
    studio: Studio, model: type[OfStudio], field: models.Field[Any, Any], target: type[OfStudio]
) -> Iterator[Fault]:
    table, other = model._meta.db_table, target._meta.db_table
    key, column = model._meta.pk.column, field.column
    # Written out: some forty keys are looked at, and the query builder is slower than the look.
    with connection.cursor() as cursor:
        cursor.execute(
            f'SELECT r."{key}" FROM "{table}" r WHERE r.studio_id = %s '
            f'AND r."{column}" IS NOT NULL AND NOT EXISTS (SELECT 1 FROM "{other}" t '
            f'WHERE t.id = r."{column}" AND t.studio_id = r.studio_id) LIMIT {NAMED}',
            [studio.pk],
        )
        keys = [row[0] for row in cursor.fetchall()]
    for row in model.objects.of(studio).filter(pk__in=keys).order_by("pk") if keys else ():
        yield _fault(
            studio, "keys_share_a_studio", row, f"its {field.name} is none of this studio's"
        )


def _chains(studio: Studio) -> Iterator[Fault]:
    """Movements of each lot in their order: numbers without gap, each begins where one ended."""
    before: Movement | None = None
    for row in Movement.objects.of(studio).order_by("lot_id", "number").iterator(BATCH):
        if before is not None and before.lot_id != row.lot_id:
            before = None
        wrong = _wrong_with(row, before)
        if wrong:
            yield _fault(studio, "movements_follow_each_other", row, wrong)
        before = row


def _wrong_with(row: Movement, before: Movement | None) -> str:
    number, left = (before.number, before.left_after) if before else (0, 0)
    if row.number != number + 1:
        return f"number {row.number} follows number {number}"
    if row.left_before != left:
        return f"it begins with {row.left_before}, {left} were left"
    if row.left_after != row.left_before + row.amount:
        return f"{row.left_before} and {row.amount} do not make {row.left_after}"
    if row.left_after < 0:
        return f"{row.left_after} left is less than nothing"
    if row.counted is not None and row.counted != row.left_after:
        return f"{row.counted} counted, {row.left_after} noted"
    if row.pieces is not None and row.amount != row.pieces * (row.piece_mg or 0):
        return f"{row.pieces} pieces of {row.piece_mg} do not make {row.amount}"
    return ""


def _postings(studio: Studio) -> Iterator[Fault]:
    """Postings one by one: mass conserved, corrections in order, nothing before its lot."""
    corrected: set[UUID] = set()
    for batch in _batches(Posting.objects.of(studio).order_by("recorded_at", "pk")):
        keys = [posting.pk for posting in batch]
        moved = _by_posting(
            Movement.objects.of(studio)
            .filter(posting__in=keys)
            .select_related("lot", "lot__posting")
            .order_by("pk")
        )
        lost = _by_posting(Loss.objects.of(studio).filter(posting__in=keys))
        wrongs = _corrected_by(studio, batch)
        for posting in batch:
            rows = moved.get(posting.pk, [])
            said = (
                _wrong_mass(posting, rows, lost.get(posting.pk, []))
                or _wrong_dates(posting, rows)
                or _wrong_correction(posting, rows, wrongs, corrected)
            )
            if said:
                yield _fault(studio, "posting_holds", posting, said)


def _wrong_mass(posting: Posting, rows: list[Movement], losses: list[Loss]) -> str:
    sums: defaultdict[str, int] = defaultdict(int)
    for row in rows:
        if row.turns:
            sums[row.lot.what] += row.amount
        elif row.amount > 0 and posting.kind in TURNING:
            return f"{row.amount} of {row.lot.what} made from nothing"
    for loss in losses:
        sums[loss.material] += loss.amount
    for material, gap in sums.items():
        if gap:
            return f"{material}: {gap} more came out than went in"
    return ""


def _wrong_dates(posting: Posting, rows: list[Movement]) -> str:
    for row in rows:
        if row.lot.posting.occurred_at > posting.occurred_at:
            return f"dated before lot {row.lot.code} began"
    return ""


def _wrong_correction(
    posting: Posting,
    rows: list[Movement],
    wrongs: dict[UUID, tuple[Posting, dict[int, int]]],
    corrected: set[UUID],
) -> str:
    if (posting.kind == Kind.CORRECT) != (posting.corrects_id is not None):
        return "a correction names what it corrects, and nothing else does"
    if posting.corrects_id is None:
        return ""
    if posting.corrects_id in corrected:
        return "corrects what was corrected before"
    corrected.add(posting.corrects_id)
    wrong, amounts = wrongs[posting.corrects_id]
    if wrong.occurred_at != posting.occurred_at:
        return "dated otherwise than what it corrects"
    for row in rows:
        if row.lot_id not in amounts:
            return f"touches lot {row.lot.code}, which the entry it corrects did not"
        if posting.undoes and row.amount != -amounts[row.lot_id]:
            return f"takes back {-row.amount} of {amounts[row.lot_id]} of lot {row.lot.code}"
    return ""


def _corrected_by(
    studio: Studio, batch: Sequence[Posting]
) -> dict[UUID, tuple[Posting, dict[int, int]]]:
    """What the corrections of a batch correct, with its amounts by lot."""
    keys = [posting.corrects_id for posting in batch if posting.corrects_id is not None]
    found = {
        posting.pk: (posting, defaultdict[int, int](int))
        for posting in Posting.objects.of(studio).filter(pk__in=keys)
    }
    for row in Movement.objects.of(studio).filter(posting__in=keys):
        found[row.posting_id][1][row.lot_id] += row.amount
    return {pk: (posting, dict(amounts)) for pk, (posting, amounts) in found.items()}


def _seals(studio: Studio) -> Iterator[Fault]:
    """The chain of seals from its beginning, every posting read again."""
    before = ""
    for number, seal in enumerate(Seal.objects.of(studio).order_by("number"), start=1):
        if seal.number != number or seal.digest_before != before:
            yield _fault(studio, "seals_follow_each_other", seal, "it does not follow the last one")
            return
        links = list(
            Sealed.objects.of(studio).filter(seal=seal).select_related("posting").order_by("place")
        )
        prints = contents(studio, [row.posting for row in links])
        for place, row in enumerate(links, start=1):
            before = link(before, prints[row.posting_id])
            if row.place != place or row.digest != before:
                yield _fault(
                    studio,
                    "sealed_as_it_was_written",
                    row.posting,
                    f"not as it was when seal {seal.number} was made",
                )
                return
        if len(links) != seal.postings or before != seal.digest:
            yield _fault(studio, "seals_follow_each_other", seal, "its postings are not all there")
            return


def _batches(rows: models.QuerySet[Posting]) -> Iterator[list[Posting]]:
    batch: list[Posting] = []
    for row in rows.iterator(BATCH):
        batch.append(row)
        if len(batch) == BATCH:
            yield batch
            batch = []
    if batch:
        yield batch


def _by_posting(rows: Any) -> dict[UUID, list[Any]]:
    found: dict[UUID, list[Any]] = {}
    for row in rows:
        found.setdefault(row.posting_id, []).append(row)
    return found


def _fault(studio: Studio, rule: str, row: models.Model, wrong: str) -> Fault:
    name = f"{row._meta.model_name} {row.pk}"
    return Fault(studio.name, rule, name, f"{name} ({row}): {wrong}.")
