"""What one stone or one bucketful weighs: the studio's mean, learnt from counts weighed later."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from inventory.science.amounts import Amount
from inventory.science.saying import say
from inventory.science.unclear import OutOfRange, UnknownPiece
from inventory.science.units import whole
from inventory.science.wording import mass_for_people


@dataclass(frozen=True, slots=True)
class Weighing:
    """A count that was later weighed."""

    pieces: int
    mg: int

    def __post_init__(self) -> None:
        if self.pieces <= 0 or self.mg <= 0:
            raise OutOfRange(
                "weighing",
                say("{pieces} pieces, {mg} mg", pieces=self.pieces, mg=self.mg),
                "both above 0",
            )

    @property
    def mean_mg(self) -> Fraction:
        return Fraction(self.mg, self.pieces)


@dataclass(frozen=True, slots=True)
class PieceMass:
    """The mass of one piece, with its range and how many pieces it rests on."""

    mean_mg: Fraction
    low_mg: Fraction
    high_mg: Fraction
    pieces: int = 0  # weighed here; 0: a figure of the tables

    def __post_init__(self) -> None:
        if not 0 < self.low_mg <= self.mean_mg <= self.high_mg or self.pieces < 0:
            raise OutOfRange(
                "piece mass",
                say(
                    "{low_mg} to {high_mg} mg with mean {mean_mg} mg",
                    low_mg=self.low_mg,
                    high_mg=self.high_mg,
                    mean_mg=self.mean_mg,
                ),
                "above 0, the mean within the range",
            )


@dataclass(frozen=True, slots=True)
class Estimate:
    """A mass worked out from a count or a container measure."""

    mg: int
    low_mg: int
    high_mg: int
    understood: str  # "58 stones at 42 g = 2,436 g"


def known_mass(
    mean_mg: int | Fraction,
    low_mg: int | Fraction | None = None,
    high_mg: int | Fraction | None = None,
) -> PieceMass:
    """A figure of the tables; without a range it is its own."""
    mean = Fraction(mean_mg)
    low = mean if low_mg is None else Fraction(low_mg)
    high = mean if high_mg is None else Fraction(high_mg)
    return PieceMass(mean, low, high)


def learnt(known: PieceMass, weighings: Iterable[Weighing]) -> PieceMass:
    """The piece mass after these counts were weighed.

    The mean is weighted by count. The first own weighing replaces a figure of the tables, which
    rests on no piece of this studio; its range is kept and only ever widened, so that the worst
    case never grows narrower by chance.

    Parameters
    ----------
    known : what held before
    weighings : any order, may be empty

    References
    ----------
    Ratio estimate of a mean: the sum of the masses over the sum of the counts.

    Examples
    --------
    >>> after = learnt(known_mass(42_000, 38_000, 48_000), [Weighing(58, 2_410_000)])
    >>> round(after.mean_mg), after.pieces
    (41552, 58)
    """
    rows = tuple(weighings)
    if not rows:
        return known
    pieces = known.pieces + sum(row.pieces for row in rows)
    mass = known.mean_mg * known.pieces + sum(row.mg for row in rows)
    means = [row.mean_mg for row in rows]
    return PieceMass(
        mean_mg=mass / pieces,
        low_mg=min(known.low_mg, *means),
        high_mg=max(known.high_mg, *means),
        pieces=pieces,
    )


def as_mass(amount: Amount, masses: Mapping[str, PieceMass]) -> Estimate:
    """The mass of a count or a container measure; a weight comes back as it is.

    Parameters
    ----------
    amount : mass, count or container
    masses : what one piece or container holds, by its singular name

    Raises
    ------
    UnknownPiece
        If nobody has said what one weighs.
    OtherKind
        If it is a volume.

    Examples
    --------
    >>> from inventory.science.amounts import read_amount
    >>> as_mass(read_amount("58 stones"), {"stone": known_mass(42_000)}).understood
    '58 stones at 42 g = 2,436 g'
    """
    amount.must_be("mass", "count", "container")
    if amount.kind == "mass":
        return Estimate(amount.mg, amount.mg, amount.mg, amount.understood)
    known = masses.get(amount.unit)
    if known is None:
        raise UnknownPiece(amount.unit, amount.words)
    mg, low, high = (
        whole(amount.value * each) for each in (known.mean_mg, known.low_mg, known.high_mg)
    )
    counted = amount.understood.rpartition(" = ")[2]
    each_words = mass_for_people(whole(known.mean_mg))
    return Estimate(
        mg,
        low,
        high,
        say(
            "{counted} at {each_words} = {mass_for_people}",
            counted=counted,
            each_words=each_words,
            mass_for_people=mass_for_people(mg),
        ),
    )


def pieces_for(mg: int, piece_mg: int | Fraction) -> int:
    """How many pieces make up a shortage: rounded up, as the last one is needed whole.

    Examples
    --------
    >>> pieces_for(2_034_000, 42_000), pieces_for(1_734_000, 42_000)
    (49, 42)
    """
    return ceil(_whole_pieces(mg, piece_mg))


def pieces_in(mg: int, piece_mg: int | Fraction) -> int:
    """How many whole pieces are spare: rounded down.

    Examples
    --------
    >>> pieces_in(366_000, 42_000), pieces_in(66_000, 42_000)
    (8, 1)
    """
    return int(_whole_pieces(mg, piece_mg))


def _whole_pieces(mg: int, piece_mg: int | Fraction) -> Fraction:
    if mg < 0 or piece_mg <= 0:
        raise OutOfRange(
            "mass",
            say("{mg} mg at {piece_mg} mg a piece", mg=mg, piece_mg=piece_mg),
            "0 or more, the piece above 0",
        )
    return Fraction(mg) / Fraction(piece_mg)
