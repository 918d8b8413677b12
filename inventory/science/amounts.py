"""What somebody meant by an amount: “2 lb 3 oz”, “1½ kg”, “750ml”, “58 stones”, “half a bucket”.

A grammar of our own, exact and in one pass; what cannot be read is refused with the part, its
place and what to write. Milligrams and microlitres are rounded once, at the end.

A point is the decimal mark; in a country where it groups thousands “1.500 g” is refused, as it
has two readings. A comma before three digits groups thousands (1,500 g), before
another number of digits it is the decimal mark (1,5 kg); in front of a large metric unit
“1,500 kg” is refused, because half of Europe writes 1.5 kg so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from inventory.science.grammar import (
    BASES,
    WET,
    Part,
    must_end,
    read_parts,
    refuse_sign,
    refuse_vague,
)
from inventory.science.numerals import Reader
from inventory.science.saying import Measured, joined, say
from inventory.science.unclear import Missing, OtherKind, OutOfBounds, WetWeight
from inventory.science.units import POINT_COUNTRIES, Kind, Unit, unit_words, whole
from inventory.science.wording import mass_for_people, volume_for_people, write_count

AT_MOST: dict[Kind, tuple[int, str]] = {
    "mass": (10**11, "100 tonnes"),
    "volume": (10**11, "100,000 L"),
    "count": (10**6, "1,000,000"),
    "container": (10**4, "10,000"),
    "time": (10 * 366 * 86_400, "ten years"),
    "power": (10**6, "1,000 kW"),
    "length": (10**8, "100 km"),
}
BASE_UNIT: dict[Kind, str] = {
    "mass": "mg",
    "volume": "µL",
    "time": "s",
    "power": "W",
    "length": "mm",
}
KIND_WORDS: dict[Kind, str] = {
    "mass": "a weight such as 500 g",
    "volume": "a volume such as 750 mL",
    "count": "a count such as 58 stones",
    "container": say("a measure such as half a bucket"),
    "time": "a time such as 40 min",
    "power": "a power such as 3.5 kW",
    "length": "a length such as 2.5 m",
}


@dataclass(frozen=True, slots=True)
class Amount:
    """One amount as it was understood; `value` is exact, in mg, µL, pieces or containers."""

    kind: Kind
    value: Fraction
    unit: str  # mg, µL, or the piece or container: "stone", "bucket"
    words: str  # as entered
    understood: str  # "2 lb 3 oz = 992 g"
    basis: str = ""  # "dry", "fresh" and the like, where it was written and asked for

    @property
    def mg(self) -> int:
        """The weight in whole milligrams, rounded once, halves to the even side."""
        self.must_be("mass")
        return whole(self.value)

    @property
    def ul(self) -> int:
        """The volume in whole microlitres, rounded once, halves to the even side."""
        self.must_be("volume")
        return whole(self.value)

    @property
    def pieces(self) -> int:
        """How many were counted."""
        self.must_be("count")
        return int(self.value)

    def must_be(self, *kinds: Kind) -> None:
        """Refuse an amount of another kind."""
        if self.kind not in kinds:
            raise _other_kind(self.words, self.kind, kinds)


def read_amount(
    words: str,
    *,
    country: str = "GB",
    pieces: Iterable[str] = (),
    containers: Iterable[str] = (),
    bases: Iterable[str] = (),
    may_be_zero: bool = False,
    point_groups: bool | None = None,
) -> Amount:
    """What was meant by a weight, a volume, a count or a container measure.

    Parameters
    ----------
    words : at most 200 characters
    country : ISO 3166 code of the studio; decides UK or US pints, gallons and fluid ounces
    pieces, containers : any order, may be empty
        The studio's own words for what it counts, beside those of units.py; singular.
    bases : of `dry fresh frozen dried scoured unscoured raw`
        Words that may stand behind the amount; others are refused, so none is passed over.
    may_be_zero : for a shelf that may be empty
    point_groups : whether a point may group thousands, so that “1.500 g” is refused as either;
        None: as in the country

    Raises
    ------
    Unclear
        With the part, its place and what to write; `WetWeight` for fibre weighed wet.

    Examples
    --------
    >>> read_amount("2 lb 3 oz").understood
    '2 lb 3 oz = 992 g'
    >>> read_amount("58 stones").pieces
    58
    """
    either = country.upper() not in POINT_COUNTRIES if point_groups is None else point_groups
    reader = _begin(words, open_point=either)
    table = unit_words(country, pieces=tuple(pieces), containers=tuple(containers))
    value, unit, parts = read_parts(reader, table)
    basis = _basis(reader, frozenset(bases))
    must_end(reader)
    _within_bounds(reader, value, unit, may_be_zero=may_be_zero)
    if unit.kind not in ("mass", "volume", "count", "container"):
        raise _other_kind(words, unit.kind, ("mass", "volume", "count"))
    symbol = BASE_UNIT.get(unit.kind, unit.symbol)
    return Amount(unit.kind, value, symbol, words, _understood(words, value, unit, parts), basis)


def read_mass(
    words: str, *, country: str = "GB", bases: Iterable[str] = (), may_be_zero: bool = False
) -> int:
    """A weight in whole milligrams.

    Examples
    --------
    >>> read_mass("1½ kg")
    1500000
    """
    return read_amount(words, country=country, bases=bases, may_be_zero=may_be_zero).mg


def read_volume(words: str, *, country: str = "GB", may_be_zero: bool = False) -> int:
    """A volume in whole microlitres.

    Examples
    --------
    >>> read_volume("750ml"), read_volume("1 pt", country="US")
    (750000, 473176)
    """
    return read_amount(words, country=country, may_be_zero=may_be_zero).ul


def read_dry_weight(words: str, *, country: str = "GB") -> int:
    """The dry weight of fibre in whole milligrams; a wet weight is refused, never worked with.

    Examples
    --------
    >>> read_dry_weight("2,000 g dry")
    2000000
    """
    return read_mass(words, country=country, bases=("dry",))


def read_plain(words: str, kind: Kind, *, may_be_zero: bool = False) -> Fraction:
    """A time in s, a power in W or a length in mm, exact."""
    reader = _begin(words, wanted=KIND_WORDS[kind])
    value, unit, _ = read_parts(reader, unit_words())
    must_end(reader)
    _within_bounds(reader, value, unit, may_be_zero=may_be_zero)
    if unit.kind != kind:
        raise _other_kind(words, unit.kind, (kind,))
    return value


def _begin(words: str, *, open_point: bool = False, wanted: str = "") -> Reader:
    """A reader at the first token that can be a number; troubles of the whole come first."""
    reader = Reader(words, open_point=open_point, wanted=wanted)
    if reader.at_end:
        raise Missing(
            words, "nothing is written", write=reader.hint(say("Write an amount, such as 500 g."))
        )
    for token in reader.tokens:
        if token.kind == "word" and token.folded in WET:
            raise WetWeight(words, part=token.text, position=token.start + 1)
    refuse_vague(reader)
    refuse_sign(reader)
    return reader


def _basis(reader: Reader, allowed: frozenset[str]) -> str:
    """The state that stands behind the amount, where it is asked for."""
    token = reader.token
    assert allowed <= BASES, allowed
    if token.folded not in allowed:
        return ""
    reader.step()
    reader.skip("weight")
    return token.folded


def _within_bounds(reader: Reader, value: Fraction, unit: Unit, *, may_be_zero: bool) -> None:
    limit, limit_words = AT_MOST[unit.kind]
    kind = KIND_WORDS[unit.kind]
    problem = ""
    if value > limit:
        problem = say("it is more than {limit_words}", limit_words=limit_words)
    elif value == 0 and not may_be_zero:
        problem = "it is nothing"
    elif unit.kind in BASE_UNIT and value > 0 and whole(value) == 0:
        problem = say("it is less than 1 {base_unit} when rounded", base_unit=BASE_UNIT[unit.kind])
    elif unit.kind == "count" and value.denominator != 1:
        problem = say("every {symbol} is counted whole", symbol=unit.symbol)
    if problem:
        write = say("Write {kind}.", kind=kind)
        raise OutOfBounds(reader.words, problem, part=reader.words, write=write)


def _other_kind(words: str, found: Kind, wanted: Iterable[Kind]) -> OtherKind:
    asked = joined(" or ", (KIND_WORDS[kind] for kind in wanted))
    problem = say("{kind_words} was written", kind_words=KIND_WORDS[found].partition(" such")[0])
    return OtherKind(words, problem, part=words, write=say("Write {asked}.", asked=asked))


def _understood(words: str, value: Fraction, unit: Unit, parts: list[Part]) -> str:
    """The writing and what it comes to: “2 lb 3 oz = 992 g”; once, where both are the same."""
    written = " ".join(words.split())
    if unit.kind == "mass":
        meant = mass_for_people(whole(value))
    elif unit.kind == "volume":
        meant = volume_for_people(whole(value))
        said = {"uk", "us", "imperial"} & set(words.casefold().split())
        named = {"imperial": " (UK)", "us": " (US)"}.get(parts[0].unit.system, "")
        written += "" if said else named
    else:
        meant = write_count(value, unit.symbol)
    if written == meant:
        return meant
    # Who wrote pounds is told grams, and not pounds again.
    exact = meant.metric if isinstance(meant, Measured) else meant
    return say("{written} = {meant}", written=written, meant=exact)
