"""Which cautions belong to a thing or a piece of work: short, sourced, the same on every page.

A poison flag belongs to the plant's part and follows it to label, sheet and slip. Nothing here is
legal or medical advice: where the law may ask something the sentence says "check your local rules".
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache

from inventory.science.saying import joined, measured, say
from inventory.science.table import Line, lines_of
from inventory.science.units import LITRE_UL

COLUMNS = ("code", "kind", "mark", "belongs_to", "sentence", "basis", "source")
PART_COLUMNS = ("plant", "part", "code", "mark", "sentence", "basis", "source")
KINDS = (
    "poison", "gas", "metal", "care", "powder", "lifting", "group", "food", "fading", "duty",
)  # fmt: skip
GRAVITY = {kind: place for place, kind in enumerate(KINDS)}
BELONGS_TO = (
    "iron jar", "copper jar", "iron bath", "copper bath", "powder", "ammonia", "every run",
    "cold lot", "heavy pot", "fugitive", "foraged", "given", "hedge", "tip-out", "for sale",
    "group",
)  # fmt: skip

# What dyers write for each part of a plant; a name without any of these may be any part.
PARTS: dict[str, tuple[str, ...]] = {
    "leaf": ("leaf", "leaves", "tops", "prunings", "clippings", "trimmings", "shoots"),
    "bark": ("bark", "prunings", "twigs"),
    "root": ("root", "roots"),
    "berry": ("berry", "berries"),
    "flower": ("flower", "flowers", "head", "heads", "blossom", "petals"),
    "seed": ("seed", "seeds", "bean", "beans"),
    "kernel": ("kernel", "kernels", "pips", "stone", "stones"),
    "hull": ("hull", "hulls", "husk", "husks"),
    "rind": ("rind", "peel", "skin", "skins"),
}
HEDGES = frozenset({"privet", "hedge", "hawthorn", "beech", "laurel"})
# Supplies are weighed dry, so each is a powder unless it is one of these.
LIQUIDS = frozenset({"vinegar", "lemon", "lemon juice", "ammonia", "soya milk"})


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution, ready to stand on a page: its mark is a word, so colour is never needed."""

    code: str  # stable name: "iron-gas"
    kind: str  # one of KINDS
    mark: str  # the word beside it: "GAS"
    sentence: str
    basis: str  # published, common practice, memory
    source: str
    about: str = ""  # what it is said of here: "privet", "J1", "P1 36 L"


def cautions_for_jar(metal: str, *, gas_l: Decimal | float | None = None) -> tuple[Caution, ...]:
    """What must be said of a home-made liquor on its label, shelf and sheet.

    Parameters
    ----------
    metal : iron or copper, any other word: nothing is known to say
    gas_l : gas [L] that the jar can give off, of its own sum; None or 0: left out of the sentence

    Examples
    --------
    >>> [row.mark for row in cautions_for_jar("iron", gas_l=Decimal("10.0"))]
    ['HIGH SHELF', 'GAS']
    >>> cautions_for_jar("iron", gas_l=10)[1].sentence
    'iron in vinegar gives off hydrogen: lid loose, away from flame and ring; up to 10.0 L of gas'
    """
    return _of_jar(metal, f"{gas_l:.1f}" if gas_l else "")


@lru_cache(maxsize=1_000)
def _of_jar(metal: str, gas_l: str) -> tuple[Caution, ...]:
    rows = _about(say("{metal} jar", metal=metal), metal)
    if not gas_l:
        return _ordered(rows)
    said = say("; up to {gas} of gas", gas=_gas(Decimal(gas_l)))
    return _ordered(
        replace(row, sentence=row.sentence + said) if row.kind == "gas" else row for row in rows
    )


@lru_cache(maxsize=1_000)
def cautions_for_lot(
    dyestuff: str,
    *,
    fugitive: bool = False,
    foraged: bool = False,
    given: bool = False,
    cold: bool = False,
    own: str = "",
) -> tuple[Caution, ...]:
    """What must be said of a lot of dyestuff, on its label and wherever it is used.

    Parameters
    ----------
    dyestuff : the name as the studio writes it; the poison flag goes by plant and part
    fugitive, foraged : as the studio's catalogue says
    given : saved by somebody else, so fetched and carried
    cold : in a fridge or freezer
    own : the studio's own caution for it; takes the place of the shipped poison flag

    Examples
    --------
    >>> [(row.mark, row.about) for row in cautions_for_lot("privet leaves")]
    [('POISON', 'privet leaves'), ('NESTS', 'privet leaves')]
    >>> cautions_for_lot("rhubarb root")[0].code
    'rhubarb-root'
    """
    rows = [_own(dyestuff, own)] if own else list(_of_plant(dyestuff))
    for applies, what in (
        (cold, "cold lot"),
        (fugitive, "fugitive"),
        (foraged, "foraged"),
        (given, "given"),
        (bool(HEDGES & set(_words(dyestuff))), "hedge"),
    ):
        rows += _about(what, dyestuff) if applies else ()
    return _ordered(replace(row, about=dyestuff) for row in rows)


def cautions_for_step(
    *,
    litres: Decimal | float = 0,
    two_person_l: Decimal | float | None = None,
    metal: str = "",
    supplies: Iterable[str] = (),
    vessel: str = "",
) -> tuple[Caution, ...]:
    """What must be said beside one step: weight of the pot, metal in the bath, powders weighed.

    Parameters
    ----------
    litres : in the vessel
    two_person_l : the studio's limit [L] above which two people lift; None: not asked
    metal : iron or copper where the bath holds it, else empty
    supplies : names of what is weighed into it

    Examples
    --------
    >>> [row.about for row in cautions_for_step(litres=36, two_person_l=15, vessel="P1")]
    ['P1 36 L']
    >>> cautions_for_step(litres=15, two_person_l=15)
    ()
    """
    rows = list(_about(say("{metal} bath", metal=metal), metal)) if metal else []
    supplies = sorted(set(supplies))
    weighed = [name for name in supplies if name not in LIQUIDS]
    rows += _about("powder", joined(", ", weighed)) if weighed else ()
    rows += _about("ammonia", "ammonia") if "ammonia" in supplies else ()
    if two_person_l is not None and litres > two_person_l:
        rows += _about(
            "heavy pot",
            say("{vessel} {litres}", vessel=vessel, litres=_litres(Fraction(litres))).strip(),
        )
    return _ordered(rows)


def cautions_for_run(
    *,
    dyestuffs: Iterable[str] = (),
    supplies: Iterable[str] = (),
    metals: Iterable[str] = (),
    fugitive: Iterable[str] = (),
    foraged: Iterable[str] = (),
    own: Mapping[str, str] | None = None,
    litres: Decimal | float = 0,
    two_person_l: Decimal | float | None = None,
    group: bool = False,
    for_sale: bool = False,
    baths: bool = True,
) -> tuple[Caution, ...]:
    """All that must be said of one run, worst first, each once.

    Parameters
    ----------
    dyestuffs, supplies, metals : names of what it takes
    fugitive, foraged : those of its dyestuffs that are
    own : the studio's own cautions, by dyestuff
    litres : in its fullest pot
    two_person_l : the studio's limit [L] above which two people lift; None: not asked
    group : a group or children are about
    for_sale : its cloth goes to a client
    baths : whether it leaves spent baths to tip out

    Examples
    --------
    >>> found = cautions_for_run(dyestuffs=["privet"], metals=["copper"], own={"privet": "poison"})
    >>> [row.mark for row in found]
    ['POISON', 'GLOVES', 'HOLD', 'NOT FOOD', 'NESTS', 'DRAIN']
    """
    fading, picked, flags = set(fugitive), set(foraged), own or {}
    rows: list[Caution] = []
    for what in dict.fromkeys(dyestuffs):
        rows += cautions_for_lot(
            what, fugitive=what in fading, foraged=what in picked, own=flags.get(what, "")
        )
    for metal in dict.fromkeys(metals):
        rows += cautions_for_step(metal=metal)
    rows += cautions_for_step(litres=litres, two_person_l=two_person_l, supplies=supplies)
    for applies, what in (
        (True, "every run"), (group, "group"), (for_sale, "for sale"), (baths, "tip-out"),
    ):  # fmt: skip
        rows += _about(what, "") if applies else ()
    return _ordered(rows)


@cache
def shipped_cautions() -> tuple[tuple[str, Caution], ...]:
    """All cautions that are not about a plant, each with what it belongs to."""
    return tuple(
        (line.one_of("belongs_to", BELONGS_TO), _caution(line.one_of("kind", KINDS), line))
        for line in lines_of("cautions.csv", COLUMNS)
    )


@cache
def shipped_parts() -> tuple[tuple[str, str, Caution], ...]:
    """All plants to take care with: plant, part or `all`, and what to say."""
    parts = ("all", *PARTS)
    return tuple(
        (
            line.must("plant"),
            line.one_of("part", parts),
            _caution("poison" if line["mark"] == "POISON" else "care", line),
        )
        for line in lines_of("poisonous_parts.csv", PART_COLUMNS)
    )


def _caution(kind: str, line: Line) -> Caution:
    basis, source = line.sourced()
    mark, sentence = say(line.must("mark")), say(line.must("sentence"))
    return Caution(line.must("code"), kind, mark, sentence, basis, source)


@lru_cache(maxsize=1_000)
def _about(what: str, about: str) -> tuple[Caution, ...]:
    return tuple(
        replace(row, about=about) for belongs, row in shipped_cautions() if belongs == what
    )


def _own(dyestuff: str, sentence: str) -> Caution:
    """The studio's own words, under the shipped mark where there is one."""
    mark = next((row.mark for row in _of_plant(dyestuff)), "CARE")
    return Caution("own", "poison", mark, sentence, "the studio's own", "")


@lru_cache(maxsize=1_000)
def _of_plant(dyestuff: str) -> tuple[Caution, ...]:
    """The flags of a dyestuff's plant and part; of nested names the longer: poison ivy, not ivy."""
    words = _words(dyestuff)
    told = [row for row in shipped_parts() if _within(_words(row[0]), words)]
    longest = max((len(_words(plant)) for plant, _, _ in told), default=0)
    fitting = {
        caution.sentence: caution
        for plant, part, caution in told
        if len(_words(plant)) == longest and (part == "all" or _may_be(part, words, _words(plant)))
    }
    return tuple(fitting.values())


def _may_be(part: str, words: list[str], plant: list[str]) -> bool:
    """Whether a name says this part, or says no part at all and so may be any."""
    rest = set(words) - set(plant)
    said = {name for name, forms in PARTS.items() if rest & {_singular(form) for form in forms}}
    return not said or part in said


def _within(few: list[str], many: list[str]) -> bool:
    """Whether some words stand side by side among others."""
    return any(many[start : start + len(few)] == few for start in range(len(many)))


def _words(name: str) -> list[str]:
    """Lower-case words, each without the `s` of a plural (`nettles`)."""
    return [_singular(word) for word in re.findall(r"[a-z][a-z'-]*", name.lower())]


def _singular(word: str) -> str:
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


def _ordered(rows: Iterable[Caution]) -> tuple[Caution, ...]:
    """Each once, the gravest kind first, else as they came."""
    once = {(row.code, row.about, row.sentence): row for row in rows}
    return tuple(sorted(once.values(), key=lambda row: GRAVITY[row.kind]))


def _gas(gas_l: Decimal) -> str:
    return measured(say("{gas_l:.1f} L", gas_l=gas_l), gas_l * LITRE_UL, "µL")


def _litres(litres: Fraction) -> str:
    return measured(say("{volume:,g} L", volume=round(float(litres), 1)), litres * LITRE_UL, "µL")
