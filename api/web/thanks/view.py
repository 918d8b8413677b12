"""A thank-you and the totals in words: facts with their weights, and what is an estimate."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django.urls import reverse

from inventory.science.cautions import Caution, cautions_for_lot
from inventory.science.saying import counted, joined, say
from sourcing.thanks import Giver, Thanks
from sourcing.tracing.balance import Balance
from sourcing.tracing.fibre import Shared
from sourcing.week.words import MONTHS, grams, kilos, listed, pieces, rounded

RUNS_SHOWN = 12
ROWS_SHOWN = 200  # of the totals; the file has all
QUIET_SHOWN = 20
KILO_MG = 1_000_000


@dataclass(frozen=True, slots=True)
class Fact:
    what: str
    weight: str


@dataclass(frozen=True, slots=True)
class RunShown:
    day: str
    shade: str
    run: str
    dyed: str
    took: str


@dataclass(frozen=True, slots=True)
class GaveShown:
    """One dyestuff of a slip."""

    dyestuff: str
    headline: str
    estimate: str
    facts: tuple[Fact, ...]
    runs: tuple[RunShown, ...]
    more_runs: int
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class SlipShown:
    """The whole slip."""

    source: str
    place: str
    studio: str
    since: str
    until: str
    since_day: str
    made: str
    kept: str  # empty: of nothing it is on record
    gave: tuple[GaveShown, ...]
    csv: str
    totals: str


@dataclass(frozen=True, slots=True)
class TotalShown:
    source: str
    slip: str
    dyestuff: str
    made: int
    missed: int
    pieces: str
    saved: str
    estimated: bool
    kept: str
    dyed: str
    waiting: str
    spoiled: str
    binned: str
    off_record: str


@dataclass(frozen=True, slots=True)
class TotalsShown:
    since: str
    since_day: str
    until: str
    rows: tuple[TotalShown, ...]
    quiet: tuple[str, ...]  # sources that gave nothing in the time
    more_quiet: int
    saved: str
    kept: str  # empty: of nothing it is on record
    off_record: str  # empty: of all it is
    csv: str
    transfers: str
    more: int


def slip_of(thanks: Thanks, giver: Giver, *, carried: str) -> SlipShown:
    """The slip of one source."""
    made = giver.made
    return SlipShown(
        source=giver.name,
        place=giver.place,
        studio=thanks.studio,
        since=day_in_full(thanks.since),
        until=day_in_full(thanks.at.date()),
        since_day=thanks.since.isoformat(),
        made=counted("{count} hand-over", "{count} hand-overs", count=made),
        kept=_kept(giver.balances),
        gave=tuple(_gave(thanks, row) for row in giver.balances),
        csv=_with_since(reverse("thanks-csv", args=[giver.key]), thanks, carried),
        totals=_with_since(reverse("totals"), thanks, carried),
    )


def totals_of(thanks: Thanks, *, carried: str) -> TotalsShown:
    """Every source that gave something, and the names of those that did not."""
    rows = [
        _total(thanks, giver, row, carried) for giver in thanks.givers for row in giver.balances
    ]
    quiet = [giver.name for giver in thanks.givers if not giver.balances]
    every = [row for giver in thanks.givers for row in giver.balances]
    return TotalsShown(
        since=day_in_full(thanks.since),
        since_day=thanks.since.isoformat(),
        until=day_in_full(thanks.at.date()),
        rows=tuple(rows[:ROWS_SHOWN]),
        quiet=tuple(quiet[:QUIET_SHOWN]),
        more_quiet=max(0, len(quiet) - QUIET_SHOWN),
        saved=weight(sum(row.saved for row in every)),
        kept=_kept(every),
        off_record=weight(off) if (off := sum(row.off_record for row in every)) else "",
        csv=_with_since(reverse("totals-csv"), thanks, carried),
        transfers=_with_since(reverse("hand-overs-csv"), thanks, carried),
        more=max(0, len(rows) - ROWS_SHOWN),
    )


def _kept(rows: Iterable[Balance]) -> str:
    """What was kept from the bin; empty where of nothing it is on record what became of it."""
    told = [row for row in rows if row.off_record < row.saved]
    return weight(sum(row.kept for row in told)) if told else ""


def weight(mg: int | Fraction) -> str:
    """A weight as it is thanked for: grams below a kilo, then kilos to the tenth.

    >>> weight(25_704_000), weight(999_000), weight(0)
    ('25.7 kg', '999 g', '0 g')
    """
    if mg < KILO_MG:
        return grams(round(mg))
    return kilos(int(rounded(Fraction(mg) / KILO_MG, "0.1") * KILO_MG))


def day_in_full(day: date) -> str:
    """
    >>> day_in_full(date(2026, 9, 1))
    '1 Sep 2026'
    """
    return say("{day} {months} {year}", day=day.day, months=MONTHS[day.month - 1], year=day.year)


def _with_since(address: str, thanks: Thanks, carried: str) -> str:
    mark = "&" if carried else "?"
    return f"{address}{carried}{mark}since={thanks.since.isoformat()}"


def _gave(thanks: Thanks, row: Balance) -> GaveShown:
    runs = [_run(share) for share in row.shared]
    return GaveShown(
        dyestuff=row.dyestuff,
        headline=_headline(row),
        estimate=_estimate(row),
        facts=tuple(_facts(row)),
        runs=tuple(runs[-RUNS_SHOWN:]),
        more_runs=max(0, len(runs) - RUNS_SHOWN),
        cautions=_cautions(thanks, row.dyestuff),
    )


def _headline(row: Balance) -> str:
    """`612 stones = 25.7 kg → 17.1 kg of wool at 150 %`"""
    said = weight(row.saved)
    if row.pieces:
        said = say("{pieces} = {said}", pieces=pieces(row.pieces, row.dyestuff), said=said)
    if not row.fibre:
        return (
            say("{said} of {dyestuff}", said=said, dyestuff=row.dyestuff)
            if not row.pieces
            else said
        )
    cloth = listed(
        say("{weight} of {name}", weight=weight(mg), name=name) for name, mg in row.fibre
    )
    rate = _rate(row)
    return say(
        "{said} → {cloth}{which}",
        said=said,
        cloth=cloth,
        which=say(" at {rate} %", rate=rate) if rate else "",
    )


def _rate(row: Balance) -> str:
    """Dyestuff in per cent of the weight of fibre that it dyed, to the whole per cent."""
    fibre = sum((share.fibre_mg for share in row.shared), Fraction(0))
    went_in = sum((share.mg for share in row.shared), Fraction(0))
    return f"{rounded(went_in * 100 / fibre, '1')}" if fibre else ""


def _estimate(row: Balance) -> str:
    if not row.estimated:
        return say("Weighed at every hand-over.")
    if row.estimated == row.saved:
        return say("Counted, not weighed: the weight is an estimate by the mean weight of a piece.")
    return say(
        "Of it {weight} were counted, not weighed: that part is an estimate.",
        weight=weight(row.estimated),
    )


def _facts(row: Balance) -> Iterable[Fact]:
    """What became of it, line by line; together they are what was saved."""
    lines = (
        (say("dyed with"), row.dyed),
        (say("made into baths"), row.bathed),
        (say("taken out by hand"), row.drawn + row.other),
        (say("waits on the shelf"), row.there),
        (say("lost as water on the way to dry"), row.lost),
        (
            say("tipped out ({where})", where=listed(where for where, _ in row.where_to))
            if row.where_to
            else say("tipped out"),
            row.tipped,
        ),
        (say("spoiled, lies there still"), row.spoiled),
        (say("given before lots were kept, what became of it is not on record"), row.off_record),
    )
    yield Fact(say("saved"), weight(row.saved))
    if row.off_record < row.saved:
        yield Fact(say("kept from the bin"), weight(row.kept))
    for what, mg in lines:
        if mg:
            yield Fact(what, weight(mg))
    if row.found:
        more = "more" if row.found > 0 else "less"
        yield Fact(
            say("{more} found when it was weighed or counted again", more=more),
            weight(abs(row.found)),
        )


def _run(share: Shared) -> RunShown:
    cloth = listed(
        say("{weight} of {name}", weight=weight(mg), name=name) for name, mg in share.fibre
    )
    part = (
        ""
        if share.share == 1
        else say(", its share of {rounded} %", rounded=rounded(share.share * 100, "1"))
    )
    return RunShown(
        day=day_in_full(share.at.date()),
        shade=share.shade or say("a run"),
        run=share.run,
        dyed=cloth + part,
        took=weight(share.mg),
    )


def _total(thanks: Thanks, giver: Giver, row: Balance, carried: str) -> TotalShown:
    return TotalShown(
        source=giver.name,
        slip=_with_since(reverse("thanks", args=[giver.key]), thanks, carried),
        dyestuff=row.dyestuff,
        made=len(row.given),
        missed=giver.missed,
        pieces=f"{row.pieces:,}" if row.pieces else "",
        saved=weight(row.saved),
        estimated=bool(row.estimated),
        kept=_kept([row]),
        dyed=listed(
            say("{weight} of {name}", weight=weight(mg), name=name) for name, mg in row.fibre
        ),
        waiting=weight(row.there) if row.there else "",
        spoiled=weight(row.spoiled) if row.spoiled else "",
        binned=weight(row.tipped) if row.tipped else "",
        off_record=weight(row.off_record) if row.off_record else "",
    )


def _cautions(thanks: Thanks, dyestuff: str) -> tuple[Caution, ...]:
    own = joined("; ", (text for name, text in thanks.hazards if name == dyestuff))
    return tuple(cautions_for_lot(dyestuff, fugitive=dyestuff in thanks.fugitive, own=own))
