"""What each unit holds, exactly, and the one pint registry that other code may hand quantities to.

Human writing never reaches pint: it reads `1½ kg` as 1 kg and `9**9**9` for ever.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any, Literal
from unicodedata import normalize

if TYPE_CHECKING:
    import pint

Kind = Literal["mass", "volume", "count", "container", "time", "power", "length"]

# What one of each kind is counted in: mg, µL, pieces, containers, seconds, watts, mm.
GRAM_MG = 1000
LITRE_UL = 1_000_000
POUND_MG = Fraction("453592.37")  # avoirdupois, exact: NIST SP 811 (2008), App. B.8
GRAIN_MG = Fraction("64.79891")  # a seven-thousandth of it, exact
UK_GALLON_UL = Fraction("4546090")  # exact: UK Weights and Measures, 4.54609 L
US_GALLON_UL = Fraction("3785411.784")  # 231 cubic inches, exact: NIST Handbook 44, App. C
INCH_MM = Fraction("25.4")  # exact

# Where a single point is always the decimal mark (common practice); elsewhere “1.500 g” is open.
POINT_COUNTRIES = frozenset(
    [
        "GB",
        "IE",
        "IM",
        "JE",
        "GG",
        "US",
        "PR",
        "VI",
        "GU",
        "AS",
        "MP",
        "CA",
        "AU",
        "NZ",
        "IN",
        "PK",
        "BD",
        "LK",
        "NP",
        "MY",
        "SG",
        "HK",
        "PH",
        "TH",
        "JP",
        "KR",
        "CN",
        "TW",
        "IL",
        "NG",
        "KE",
        "GH",
        "UG",
        "TZ",
        "ZM",
        "ZW",
        "MW",
        "BW",
        "MT",
        "MX",
        "CY",
    ]
)
US_COUNTRIES = frozenset({"US", "PR", "VI", "GU", "AS", "MP"})


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: its short form, what it holds, and with which others it may be written."""

    symbol: str
    kind: Kind
    holds: Fraction  # in mg, µL, pieces, containers, s, W or mm
    system: str  # metric, imperial, us, clock, counted
    open_comma: bool = False  # “1,500” of it may well be a decimal comma


def _unit(symbol: str, kind: Kind, holds: Fraction | int | str, system: str) -> Unit:
    # Of the small units a decimal comma with three digits is finer than any kitchen scale;
    # of the large ones it is what half of Europe writes for the gram or the millilitre.
    large = symbol in ("kg", "tonne", "L", "hL", "dL", "cL", "kW", "m", "dag", "h", "d", "wk")
    return Unit(symbol, kind, Fraction(holds), system, large)


METRIC = {
    "µg ug mcg microgram micrograms": _unit("µg", "mass", Fraction(1, 1000), "metric"),
    "mg mgs milligram milligrams milligramme milligrammes": _unit("mg", "mass", 1, "metric"),
    "g gm gms gs gram grams gramme grammes": _unit("g", "mass", GRAM_MG, "metric"),
    "dag deka dekagram dekagrams": _unit("dag", "mass", 10 * GRAM_MG, "metric"),
    "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes": _unit(
        "kg", "mass", 1000 * GRAM_MG, "metric"
    ),
    "tonne tonnes": _unit("tonne", "mass", 10**9, "metric"),
    "µl ul microlitre microlitres microliter microliters": _unit("µL", "volume", 1, "metric"),
    "ml mls millilitre millilitres milliliter milliliters cc ccm": _unit(
        "mL", "volume", 1000, "metric"
    ),
    "cl centilitre centilitres centiliter centiliters": _unit("cL", "volume", 10_000, "metric"),
    "dl decilitre decilitres deciliter deciliters": _unit("dL", "volume", 100_000, "metric"),
    "l lt ltr ltrs litre litres liter liters": _unit("L", "volume", LITRE_UL, "metric"),
    "hl hectolitre hectolitres hectoliter hectoliters": _unit(
        "hL", "volume", 100 * LITRE_UL, "metric"
    ),
    "mm millimetre millimetres millimeter millimeters": _unit("mm", "length", 1, "metric"),
    "cm centimetre centimetres centimeter centimeters": _unit("cm", "length", 10, "metric"),
    "m metre metres meter meters": _unit("m", "length", 1000, "metric"),
    "w watt watts": _unit("W", "power", 1, "metric"),
    "kw kilowatt kilowatts": _unit("kW", "power", 1000, "metric"),
}
CLOCK = {
    "s sec secs second seconds": _unit("s", "time", 1, "clock"),
    "min mins minute minutes": _unit("min", "time", 60, "clock"),
    "h hr hrs hour hours": _unit("h", "time", 3600, "clock"),
    "d day days": _unit("d", "time", 86_400, "clock"),
    "wk wks week weeks": _unit("wk", "time", 604_800, "clock"),
}
POUNDS = {
    "grain grains": _unit("grain", "mass", GRAIN_MG, "imperial"),
    "oz ozs ounce ounces": _unit("oz", "mass", POUND_MG / 16, "imperial"),
    "lb lbs pound pounds": _unit("lb", "mass", POUND_MG, "imperial"),
    "in inch inches": _unit("in", "length", INCH_MM, "imperial"),
    "ft foot feet": _unit("ft", "length", 12 * INCH_MM, "imperial"),
    "yd yds yard yards": _unit("yd", "length", 36 * INCH_MM, "imperial"),
}
UK_VOLUMES = {
    "fl_oz floz fluid_ounce fluid_ounces fluid_oz": _unit(
        "fl oz", "volume", UK_GALLON_UL / 160, "imperial"
    ),
    "pt pts pint pints": _unit("pt", "volume", UK_GALLON_UL / 8, "imperial"),
    "qt qts quart quarts": _unit("qt", "volume", UK_GALLON_UL / 4, "imperial"),
    "gal gals gallon gallons": _unit("gal", "volume", UK_GALLON_UL, "imperial"),
}
# Spoons of a British kitchen are metric (common practice); the ounces of US spoons are exact.
UK_SPOONS = {
    "tsp tsps teaspoon teaspoons teaspoonful teaspoonfuls": _unit("tsp", "volume", 5000, "metric"),
    "tbsp tbsps tablespoon tablespoons tablespoonful tablespoonfuls": _unit(
        "tbsp", "volume", 15_000, "metric"
    ),
}
US_VOLUMES = {
    "fl_oz floz fluid_ounce fluid_ounces fluid_oz": _unit(
        "fl oz", "volume", US_GALLON_UL / 128, "us"
    ),
    "cup cups cupful cupfuls": _unit("cup", "volume", US_GALLON_UL / 16, "us"),
    "pt pts pint pints": _unit("pt", "volume", US_GALLON_UL / 8, "us"),
    "qt qts quart quarts": _unit("qt", "volume", US_GALLON_UL / 4, "us"),
    "gal gals gallon gallons": _unit("gal", "volume", US_GALLON_UL, "us"),
    "tsp tsps teaspoon teaspoons teaspoonful teaspoonfuls": _unit(
        "tsp", "volume", US_GALLON_UL / 768, "us"
    ),
    "tbsp tbsps tablespoon tablespoons tablespoonful tablespoonfuls": _unit(
        "tbsp", "volume", US_GALLON_UL / 256, "us"
    ),
}
# Written short or in another country these mean different things: both readings are named.
TWO_MEANINGS = {
    "t": ("tonnes", "spoons"),
    "ton": ("tonnes of 1,000 kg", "tons of 2,240 or 2,000 lb"),
    "tons": ("tonnes of 1,000 kg", "tons of 2,240 or 2,000 lb"),
    "gr": ("grams", "grains of 65 mg"),
    "st": ("stones counted", "stones of 14 lb"),
    "cwt": ("hundredweights of 112 lb", "hundredweights of 100 lb"),
    "hundredweight": ("hundredweights of 112 lb", "hundredweights of 100 lb"),
    "k": ("kg", "thousands"),
    "c": ("cups", "°C"),
    "cup": ("cups of 250 mL", "cups of 284 mL"),
    "cups": ("cups of 250 mL", "cups of 284 mL"),
    "mo": ("months", "minutes"),
}
PIECES = [
    "stone",
    "piece",
    "skin",
    "hull",
    "husk",
    "berry",
    "flower",
    "head",
    "leaf",
    "cone",
    "skein",
    "hank",
    "fleece",
    "peel",
    "root",
    "cutting",
    "bundle",
    "swatch",
    "pod",
    "walnut",
    "acorn",
    "gall",
]
CONTAINERS = [
    "bucket",
    "bag",
    "tub",
    "jar",
    "basket",
    "sack",
    "crate",
    "box",
    "jug",
    "barrow",
    "punnet",
    "carrier_bag",
    "bowl",
    "pot",
    "pan",
    "tin",
    "bottle",
    "trug",
    "handful",
    "armful",
    "bunch",
    "tray",
]


def unit_words(
    country: str = "GB", *, pieces: tuple[str, ...] = (), containers: tuple[str, ...] = ()
) -> dict[str, Unit]:
    """Every word for a unit in a country, with the studio's own pieces and containers.

    Words of two parts are joined by `_`.

    Examples
    --------
    >>> unit_words("US")["pt"].holds
    Fraction(473176473, 1000)
    """
    return _unit_words(country.upper() in US_COUNTRIES, pieces, containers)


@cache
def _shared_words(us: bool) -> dict[str, Unit]:
    volumes = US_VOLUMES if us else UK_VOLUMES | UK_SPOONS
    found = {
        normalize("NFKC", word).casefold(): unit
        for table in (METRIC, CLOCK, POUNDS, volumes)
        for words, unit in table.items()
        for word in words.split()
    }
    for kind, names in (("count", PIECES), ("container", CONTAINERS)):
        for name in names:
            found.update(_counted(name, "count" if kind == "count" else "container"))
    for prefix, table in (("uk", UK_VOLUMES), ("imperial", UK_VOLUMES), ("us", US_VOLUMES)):
        found.update(
            {f"{prefix}_{word}": unit for words, unit in table.items() for word in words.split()}
        )
    return found


def _unit_words(us: bool, pieces: tuple[str, ...], containers: tuple[str, ...]) -> dict[str, Unit]:
    own: dict[str, Unit] = {}
    for name in pieces:
        own.update(_counted(name, "count"))
    for name in containers:
        own.update(_counted(name, "container"))
    return _shared_words(us) | own if own else _shared_words(us)


def _counted(name: str, kind: Kind) -> dict[str, Unit]:
    """One piece or container under its name, its plural and, for containers, with -ful."""
    folded = "_".join(name.casefold().replace("_", " ").split())
    unit = _unit(folded.replace("_", " "), kind, 1, "counted")
    forms = {folded, plural(folded)}
    if kind == "container":
        forms |= {folded + "ful", folded + "fuls"}
    return dict.fromkeys(forms, unit)


def plural(name: str) -> str:
    """More than one of a piece or container.

    Examples
    --------
    >>> [plural(name) for name in ("stone", "berry", "leaf", "box", "stones")]
    ['stones', 'berries', 'leaves', 'boxes', 'stones']
    """
    if name.endswith("leaf"):
        return name[:-1] + "ves"
    if name.endswith("y") and name[-2:-1] not in "aeiou":
        return name[:-1] + "ies"
    if name.endswith(("x", "ch", "sh", "ss")):
        return name + "es"
    return name if name.endswith("s") else name + "s"


class WrongKind(TypeError):
    """A quantity of another kind than the sum asks for."""

    def __init__(self, found: str, wanted: str) -> None:
        self.found, self.wanted = found, wanted
        super().__init__(f"{found} cannot be counted in {wanted}.")


@cache
def registry() -> pint.UnitRegistry[Any]:
    """The one pint registry, in decimals; made on first call (0.4 s, measured here, 2026-11-25)."""
    import pint

    return pint.UnitRegistry(non_int_type=Decimal, cache_folder=None)


def quantity(number: Decimal | int | str, unit: str) -> Any:
    """A pint quantity from a plain number and a unit named in the code, never typed by people.

    Examples
    --------
    >>> print(quantity("1.5", "kg"))
    1.5 kilogram
    """
    return registry().Quantity(Decimal(number), unit)


def plain(amount: Any, unit: str) -> Decimal:
    """The plain number of a quantity in a unit: where pint ends and the sums begin.

    Raises
    ------
    WrongKind
        If the quantity is of another kind; the message names both.

    Examples
    --------
    >>> plain(quantity(2, "lb"), "g")
    Decimal('907.18474')
    """
    import pint

    try:
        return Decimal(amount.to(unit).magnitude)
    except pint.DimensionalityError as wrong:
        raise WrongKind(f"{amount:~P}", unit) from wrong


def whole(amount: Fraction | int) -> int:
    """To a whole number once, halves to the even side.

    Examples
    --------
    >>> whole(Fraction(5, 2)), whole(Fraction(7, 2))
    (2, 4)
    """
    return round(amount)
