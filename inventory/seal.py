"""Seals: what was written is chained afterwards, so that a changed row shows.

A chain written at commit would make every writer wait for the one before; here a batch is sealed
whenever somebody asks. Each posting's digest covers the digest before it and every row that the
posting wrote.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db import IntegrityError, transaction

from inventory.models import Posting, Seal, Sealed, Studio
from inventory.models.movements import OfPosting
from inventory.posting import digest_of

BATCH = 500  # postings a seal


def seal(studio: Studio, *, at_most: int = BATCH) -> Seal | None:
    """Seal the next batch of a studio's postings; None where nothing is left to seal."""
    try:
        with transaction.atomic():
            return _seal(studio, at_most)
    except IntegrityError:
        # Somebody else sealed the same batch at the same moment; theirs stands.
        return Seal.objects.of(studio).order_by("number").last()


def seal_all(studio: Studio, *, batch: int = BATCH) -> int:
    """Seal everything that is not sealed yet; returns how many postings."""
    done = 0
    while unsealed(studio).exists():
        found = seal(studio, at_most=batch)
        assert found is not None, "there was something to seal"
        done += found.postings
    return done


def unsealed(studio: Studio) -> Any:
    """The tail: postings that no seal covers yet, oldest first."""
    return Posting.objects.of(studio).filter(sealed__isnull=True).order_by("recorded_at", "pk")


def link(before: str, content: str) -> str:
    """The digest of a place in the chain: of the one before and of what stands here."""
    return hashlib.sha256(f"{before}:{content}".encode()).hexdigest()


def contents(studio: Studio, postings: Sequence[Posting]) -> dict[UUID, str]:
    """A fingerprint of each posting with every row that it wrote."""
    rows: dict[UUID, list[Any]] = {posting.pk: [_columns(posting)] for posting in postings}
    for model in written_with_a_posting():
        found = model.objects.of(studio).filter(posting__in=list(rows)).order_by("pk")
        for row in found:
            rows[row.posting_id].append([model._meta.model_name, _columns(row)])
    return {pk: digest_of({"rows": parts}) for pk, parts in rows.items()}


def written_with_a_posting() -> Iterator[type[OfPosting]]:
    """Every table whose rows hang on a posting, in a fixed order."""
    for model in sorted(apps.get_models(), key=lambda model: model._meta.label):
        if issubclass(model, OfPosting):
            yield model


def _columns(row: Any) -> dict[str, Any]:
    return {field.column: getattr(row, field.attname) for field in row._meta.concrete_fields}


def _seal(studio: Studio, at_most: int) -> Seal | None:
    postings = list(unsealed(studio)[:at_most])
    if not postings:
        return None
    last = Seal.objects.of(studio).order_by("number").last()
    before = last.digest if last else ""
    fingerprints = contents(studio, postings)
    digests = list(_chain(before, (fingerprints[posting.pk] for posting in postings)))
    new = Seal.objects.of(studio).create(
        number=last.number + 1 if last else 1,
        follows=last.number if last else None,
        digest_before=before,
        digest=digests[-1],
        postings=len(postings),
    )
    Sealed.objects.of(studio).bulk_create(
        Sealed(seal=new, posting=posting, place=place, digest=digest)
        for place, (posting, digest) in enumerate(zip(postings, digests, strict=True), start=1)
    )
    return new


def _chain(before: str, fingerprints: Iterable[str]) -> Iterator[str]:
    for fingerprint in fingerprints:
        before = link(before, fingerprint)
        yield before
