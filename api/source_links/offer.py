"""What the page behind a link knows: the one source, what it gives, when it can be fetched next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from api.models import SourceLink, SourceWord
from api.source_links.amounts import Kind
from inventory.models import Dyestuff
from sourcing.sources_seen import Coming, GiftFacts, source_at
from sourcing.told import moments_to_offer

WORDS_LOOKED_BACK = 60  # of one source, for what it said last of each hand-over


@dataclass(frozen=True, slots=True)
class Told:
    """One hand-over that was told of: as its source wrote it, or as the studio has it."""

    at: datetime
    none: bool  # nothing comes
    amount: str = ""  # as it was written by a link; empty: it was told in another way
    word: str = ""
    confirmed_mg: int | None = None


@dataclass(frozen=True, slots=True)
class Offered:
    """One thing that a source gives, as its page shows it."""

    gift: GiftFacts
    kind: Kind
    moments: tuple[datetime, ...]  # that may be chosen; empty: it may not be fetched just now
    told: tuple[Told, ...]


@dataclass(frozen=True, slots=True)
class Offer:
    """All that one link shows of a studio."""

    link: SourceLink
    at: datetime
    zone: ZoneInfo
    things: tuple[Offered, ...]

    def thing(self, name: str) -> Offered | None:
        """What is given under a name."""
        return next((each for each in self.things if each.gift.promise.gives == name), None)


def offer_of(link: SourceLink, *, at: datetime) -> Offer:
    """What a link shows at a moment."""
    facts = source_at(link.studio, at=at, key=link.source_id)
    gifts = facts.sources[0].gifts
    kinds = _kinds(link, gifts)
    said = _said(link)
    things = tuple(
        _thing(gift, kinds, [row for row in said if row.gives == gift.promise.gives], facts.at)
        for gift in gifts
    )
    return Offer(link, facts.at, facts.zone, things)


def _thing(
    gift: GiftFacts, kinds: Mapping[str, Kind], said: list[SourceWord], at: datetime
) -> Offered:
    told = _told(gift, said, at)
    moments = {*moments_to_offer(gift, at=at), *(row.at for row in told)}
    name = gift.promise.gives
    return Offered(gift, kinds.get(name, Kind(name)), tuple(sorted(moments)), told)


def _kinds(link: SourceLink, gifts: tuple[GiftFacts, ...]) -> dict[str, Kind]:
    """What the studio's own catalogue counts."""
    names = [gift.promise.gives for gift in gifts]
    rows = Dyestuff.objects.of(link.studio).filter(name__in=names).exclude(piece="")
    return {row.name: Kind(row.name, row.piece, row.pieces or f"{row.piece}s") for row in rows}


def _said(link: SourceLink) -> list[SourceWord]:
    """What the source said by any of its links, the last word first."""
    rows = SourceWord.objects.of(link.studio).filter(link__source_id=link.source_id)
    return list(rows.order_by("-said_at", "-pk")[:WORDS_LOOKED_BACK])


def _told(gift: GiftFacts, said: list[SourceWord], at: datetime) -> tuple[Told, ...]:
    """What holds of each hand-over to come, with the source's own words where those hold."""
    last: dict[datetime, SourceWord] = {}
    for row in said:
        last.setdefault(row.due_at.astimezone(at.tzinfo), row)
    found = {row.at: _one_told(row, last.get(row.at)) for row in gift.coming if _is_told(row)}
    known = {row.at for row in gift.coming}
    # A hand-over that is called off before anything ever came is expected by nobody.
    for due, word in last.items():
        if due >= at and due not in known and not word.amount:
            found[due] = Told(due, none=True, word=word.word)
    return tuple(found[due] for due in sorted(found))


def _is_told(row: Coming) -> bool:
    return row.how in ("told of", "called off")


def _one_told(row: Coming, word: SourceWord | None) -> Told:
    none = row.how == "called off"
    mg = row.expected.confirmed_mg if row.expected is not None else None
    if word is None or bool(word.amount) == none:
        return Told(row.at, none, confirmed_mg=mg)
    return Told(row.at, none, word.amount, word.word, mg)
