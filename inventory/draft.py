"""A posting while it is being written: lots are locked, rows gathered, the posting comes last."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from inventory.entries import Amount, NewLot, Take, Takes, Weighed
from inventory.errors import (
    BeforeItBegan,
    CodeTaken,
    IsSetAside,
    NamedTwice,
    NoSuchLot,
    NoSuchSite,
    NotAnAmount,
    NotEnough,
    NotHereYet,
    NotKept,
    WrongSort,
)
from inventory.models import (
    Loss,
    Lot,
    Movement,
    Posting,
    Site,
    Standing,
    Stay,
    Studio,
)
from inventory.models.lots import UNITS, LotKind
from inventory.models.movements import OfPosting
from inventory.said import MOST, check_row
from inventory.science.saying import joined, say
from inventory.statements import lots_and_their_tips, row_of, write_movements, write_posting


@dataclass(slots=True)
class Tip:
    """Where a lot stands: its last movement's number and what was left after it."""

    pk: int
    code: str
    kind: str
    unit: str
    what: str
    number: int
    left: int
    began_at: datetime
    set_aside: str = ""
    arrives_at: datetime | None = None


class Draft:
    """The rows of one posting."""

    def __init__(self, studio: Studio, *, at: datetime) -> None:
        self.studio, self.at = studio, at
        self.key = uuid.uuid4()
        self.moved: list[tuple[Movement, Tip]] = []
        self.losses: list[Loss] = []
        self._details: list[OfPosting] = []
        self._tips: dict[str, Tip] = {}

    def here(self, at: datetime) -> datetime:
        """A moment by the studio's own clock."""
        return at.astimezone(ZoneInfo(self.studio.zone))

    def lot(self, code: str, *, kind: str = "") -> Tip:
        """One lot, locked till the end of the transaction."""
        self.lock([code])
        tip = self._tips[code]
        if kind and tip.kind != kind:
            raise WrongSort(code, kind=tip.kind, wanted=kind)
        return tip

    def lock(self, codes: Iterable[str]) -> list[Tip]:
        """Lots by their codes, locked in one fixed order: two entries never wait in a ring."""
        wanted = list(dict.fromkeys(codes))
        missing = [code for code in wanted if code not in self._tips]
        if missing:
            self._tips.update(_tips(self.studio, missing, at=self.at))
        for code in wanted:
            if code not in self._tips:
                raise NoSuchLot(code)
        return [self._tips[code] for code in wanted]

    def takes(self, takes: Takes) -> list[tuple[Tip, Take]]:
        """Each take with its lot; a lot named twice is refused."""
        asked = [take if isinstance(take, Take) else Take(*take) for take in takes]
        seen: set[str] = set()
        for take in asked:
            if take.lot in seen:
                raise NamedTwice(take.lot)
            seen.add(take.lot)
        tips = self.lock(take.lot for take in asked)
        return list(zip(tips, asked, strict=True))

    def take(self, tip: Tip, take: Take, *, turns: bool = False, held: bool = False) -> int:
        """Take an amount of a lot out; returns how much. `held`: also where it is set aside."""
        self.check_here(tip)
        if tip.set_aside and not held:
            raise IsSetAside(lot=tip.code, what=tip.what, reason=tip.set_aside)
        amount = tip.left if take.amount is None else number_of(take.amount, least=1)
        if amount > tip.left:
            raise NotEnough(
                lot=tip.code,
                what=tip.what,
                asked=amount,
                left=tip.left,
                unit=tip.unit,
                at=self.here(self.at),
            )
        said = take.amount if isinstance(take.amount, Weighed) else None
        self.move(tip, -amount, said=said, turns=turns, metal_mg_per_l=take.metal_mg_per_l)
        return amount

    def check_here(self, tip: Tip, *, coming: bool = False) -> None:
        """Refuse what is said to happen to a lot before it began or, unless `coming`, came."""
        if self.at < tip.began_at:
            raise BeforeItBegan(
                lot=tip.code,
                what=tip.what,
                began_at=self.here(tip.began_at),
                at=self.here(self.at),
            )
        if not coming and tip.arrives_at is not None and self.at < tip.arrives_at:
            raise NotHereYet(lot=tip.code, what=tip.what, arrives_at=self.here(tip.arrives_at))

    def move(
        self, tip: Tip, amount: int, *, said: Weighed | None = None, **beside: Any
    ) -> Movement:
        """One movement of a lot, numbered after its last one."""
        assert tip.left + amount >= 0, "the verb must have refused it"
        words = {} if said is None else _words(said)
        row = row_of(
            Movement,
            studio_id=self.studio.pk,
            posting_id=self.key,
            lot_id=tip.pk,
            number=tip.number + 1,
            follows=tip.number or None,
            amount=amount,
            left_before=tip.left,
            left_after=tip.left + amount,
            **words,
            **beside,
        )
        if said is not None or beside:
            check_row(row)
        tip.number, tip.left = row.number, row.left_after
        self.moved.append((row, tip))
        return row

    def lose(self, material: str, amount: int, reason: str = "") -> None:
        """Note what a material lost on the way."""
        if amount:
            self.losses.append(
                Loss(
                    studio=self.studio,
                    posting_id=self.key,
                    material=material,
                    amount=amount,
                    reason=reason,
                )
            )

    def detail(self, row: OfPosting) -> None:
        """Note one more thing that this posting says."""
        row.studio, row.posting_id = self.studio, self.key
        self._details.append(row)

    def begin(self, new: NewLot, *, parent: Tip | None = None) -> Tip:
        """A new lot with its first standing and stay; nothing in it yet."""
        lot = Lot(
            studio=self.studio,
            posting_id=self.key,
            code=new.code,
            kind=new.kind,
            unit=_unit(new.kind),
            what=new.what,
            parent_id=None if parent is None else parent.pk,
            site=self.site(new.site),
            source=new.source,
            gathered_on=new.gathered_on,
            permission=new.permission,
            foraged=new.foraged,
        )
        check_row(lot)
        if Lot.objects.of(self.studio).filter(code=new.code).exists():
            raise CodeTaken(new.code)
        lot.save(force_insert=True)
        self.detail(
            Standing(
                lot=lot,
                at=self.at,
                labelled=new.labelled,
                set_aside=new.set_aside,
                arrives_at=new.arrives_at,
                nest_checked=new.nest_checked,
                weighed=new.weighed,
            )
        )
        if new.place is not None:
            self.stay(lot.pk, new.state, new)
        tip = Tip(lot.pk, lot.code, lot.kind, lot.unit, lot.what, 0, 0, self.at)
        self._tips[lot.code] = tip
        return tip

    def stay(self, lot_pk: int, state: str, new: NewLot) -> None:
        """Note the state and place that a new lot begins in."""
        assert new.place is not None
        self.detail(
            Stay(
                lot_id=lot_pk,
                at=new.since or new.arrives_at or self.at,
                state=state,
                place=new.place.code or new.place.kind,
                place_kind=new.place.kind,
                temperature_c=new.place.temperature_c,
            )
        )

    def site(self, code: str) -> Site | None:
        """A site by its code; none for an empty one."""
        if not code:
            return None
        site = Site.objects.of(self.studio).filter(code=code).first()
        if site is None:
            raise NoSuchSite(code)
        return site

    def close(self, words: Mapping[str, Any]) -> Posting:
        """Write the rows and, last of all, the posting."""
        write_movements([row for row, _ in self.moved])
        for row in (*self.losses, *self._details):
            check_row(row)
            row.save(force_insert=True)
        posting = row_of(Posting, studio_id=self.studio.pk, id=self.key, **words)
        check_row(posting)
        write_posting(posting)
        return posting


def number_of(amount: Amount, *, least: int = 0) -> int:
    """The plain number of an amount, within bounds.

    Raises
    ------
    NotAnAmount
        If it is no whole number from `least` to `MOST`.
    """
    number = amount.amount if isinstance(amount, Weighed) else amount
    if isinstance(number, bool) or not isinstance(number, int) or not least <= number <= MOST:
        raise NotAnAmount(number, least=least, most=MOST)
    return number


def _unit(kind: str) -> str:
    if kind not in LotKind.values:
        known = joined(", ", LotKind.values)
        raise NotKept(
            "lot kind", kind, say("is not known here"), say("Say one of: {known}.", known=known)
        )
    return UNITS[LotKind(kind)]


def _words(said: Weighed) -> dict[str, Any]:
    return {
        "words": said.words,
        "container": said.container,
        "gross": said.gross,
        "tare": said.tare,
    }


def _tips(studio: Studio, codes: list[str], *, at: datetime) -> dict[str, Tip]:
    found: dict[str, Tip] = {}
    for row in lots_and_their_tips(studio.pk, codes, at=at):
        pk, code, kind, unit, what, began_at, number, left, set_aside, arrives_at = row
        found[code] = Tip(
            pk,
            code,
            kind,
            unit,
            what,
            number or 0,
            left or 0,
            began_at,
            set_aside or "",
            arrives_at,
        )
    return found
