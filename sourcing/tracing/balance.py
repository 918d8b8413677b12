"""What each source gave and what became of it, to the milligram: nothing is left over.

saved = dyed + into baths + drawn by hand + waiting + spoiled + tipped out + lost on drying
        + what is not on record
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from sourcing.tracing.facts import GivenOver, History, Moved
from sourcing.tracing.fibre import Shared, shares_of

# Kinds of posting, and where what they take of a lot goes.
FATES = {
    "dye": "dyed",
    "make bath": "bathed",
    "draw": "drawn",
    "tip out": "tipped",
    "put by": "lost",
    "receive": "received",
    "weigh again": "found",
    "recount": "found",
}


GAINS = ("received", "found")  # more of it; the others are where it went


@dataclass(frozen=True)
class Balance:
    """One dyestuff from one source; masses in mg."""

    source: str
    dyestuff: str
    given: tuple[GivenOver, ...]  # by day
    received: int = 0  # as the ledger has it
    found: int = 0  # more (or less, below 0) when it was weighed or counted again
    dyed: int = 0
    bathed: int = 0
    drawn: int = 0
    tipped: int = 0
    lost: int = 0
    other: int = 0
    there: int = 0  # waits, and is good
    spoiled: int = 0  # lies there past its last good day
    off_record: int = 0  # given before lots were kept: nobody knows what became of it
    estimated: int = 0  # of what was saved: counted and never weighed
    where_to: tuple[tuple[str, int], ...] = ()  # of what was tipped out
    shared: tuple[Shared, ...] = ()  # runs, by day

    @property
    def saved(self) -> int:
        """All that it gave, by the best that is known of its weight."""
        return self.received + self.found + self.off_record

    @property
    def kept(self) -> int:
        """What did not end in the bin: used, waiting, or lost as water on the way to dry."""
        return self.dyed + self.bathed + self.drawn + self.other + self.there + self.lost

    @property
    def binned(self) -> int:
        return self.tipped + self.spoiled

    @property
    def pieces(self) -> int:
        return sum(row.pieces or 0 for row in self.given)

    @property
    def fibre(self) -> tuple[tuple[str, Fraction], ...]:
        """Dry fibre that it dyed, by its name."""
        sums: defaultdict[str, Fraction] = defaultdict(Fraction)
        for row in self.shared:
            for fibre, mg in row.fibre:
                sums[fibre] += mg
        return tuple(sorted(sums.items()))


@dataclass
class _Sums:
    of: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    where_to: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    left: dict[int, int] = field(default_factory=lambda: defaultdict(int))
    weighed: set[int] = field(default_factory=set)  # lots that were counted first
    began: dict[int, int] = field(default_factory=lambda: defaultdict(int))  # with so much


def balances(history: History) -> tuple[Balance, ...]:
    """One balance for each source and dyestuff, by name.

    Every movement of a lot that came from a hand-over, or of a lot put by from it, goes where its
    posting sent it; a correction goes where what it corrects went, so a mistake counts nothing.
    """
    root_of = _roots(history)
    by_root = _by_root(history, root_of)
    shares = shares_of(history)
    found = []
    groups: dict[tuple[str, str], list[GivenOver]] = {}
    for row in history.given:
        if row.lot is None or _came(history, by_root.get(row.lot, ())):
            groups.setdefault((row.source, row.gives), []).append(row)
    for (source, gives), rows in sorted(groups.items()):
        roots = {row.lot for row in rows if row.lot is not None}
        mine = {lot for lot, root in root_of.items() if root in roots}
        sums = _sums(history, [move for root in sorted(roots) for move in by_root.get(root, ())])
        found.append(_balance(history, source, gives, rows, sums, shares, mine))
    return tuple(found)


def _came(history: History, moves: Iterable[Moved]) -> bool:
    """Whether anything of a hand-over was ever there: not if it was taken back."""
    gains = (row for row in moves if FATES.get(history.first(row.posting).kind) in GAINS)
    return sum(row.amount for row in gains) > 0


def _roots(history: History) -> dict[int, int]:
    """Each lot of dyestuff with the lot that a hand-over began, over all puttings-by between."""
    begun = {row.lot for row in history.given if row.lot is not None}
    found: dict[int, int] = {}
    for key in history.lots:
        at: int | None = key
        seen: set[int] = set()
        while at is not None and at not in begun and at not in seen:
            seen.add(at)
            lot = history.lots.get(at)
            at = None if lot is None else lot.parent
        if at is not None and at in begun:
            found[key] = at
    return found


def _by_root(history: History, root_of: dict[int, int]) -> dict[int, list[Moved]]:
    found: dict[int, list[Moved]] = {}
    for move in history.moved:
        root = root_of.get(move.lot)
        if root is not None:
            found.setdefault(root, []).append(move)
    return found


def _sums(history: History, moves: Iterable[Moved]) -> _Sums:
    rows = list(moves)
    counted = {row.lot for row in rows if row.number == 1 and row.pieces}
    sums = _Sums()
    for row in rows:
        first = history.first(row.posting)
        fate = FATES.get(first.kind, "other")
        if first.kind == "weigh again" and row.number == 2 and row.lot in counted:
            fate = "received"  # the scale tells what the count only guessed
            sums.weighed.add(row.lot)
        sums.of[fate] += row.amount if fate in GAINS else -row.amount
        sums.left[row.lot] += row.amount
        if fate == "received":
            sums.began[row.lot] += row.amount
        if fate == "tipped":
            sums.where_to[first.where_to] -= row.amount
    return sums


def _off_record(row: GivenOver, sums: _Sums) -> int:
    """What of a hand-over was gone before its lot was noted, or all of it where there is none."""
    if row.lot is None:
        return row.guessed_mg
    return 0 if row.whole else max(0, row.guessed_mg - sums.began[row.lot])


def _balance(
    history: History,
    source: str,
    gives: str,
    rows: list[GivenOver],
    sums: _Sums,
    shares: tuple[Shared, ...],
    mine: set[int],
) -> Balance:
    spoiled = sum(
        min(history.spoiled.get(lot, 0), left) for lot, left in sums.left.items() if left > 0
    )
    of = sums.of
    return Balance(
        source=source,
        dyestuff=gives,
        given=tuple(sorted(rows, key=lambda row: (row.on, row.guessed_mg))),
        received=of["received"],
        found=of["found"],
        dyed=of["dyed"],
        bathed=of["bathed"],
        drawn=of["drawn"],
        tipped=of["tipped"],
        lost=of["lost"],
        other=of["other"],
        there=sum(sums.left.values()) - spoiled,
        spoiled=spoiled,
        off_record=sum(_off_record(row, sums) for row in rows),
        estimated=sum(
            row.guessed_mg for row in rows if row.weight_mg is None and row.lot not in sums.weighed
        ),
        where_to=tuple(sorted((where, mg) for where, mg in sums.where_to.items() if mg)),
        shared=tuple(row for share in shares if (row := share.of_lots(mine)) is not None),
    )
