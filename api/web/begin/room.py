"""What stands in the shed: pots by their litres, rings by their power, buckets, cold, the line."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import islice

from django.db import transaction
from django.http import QueryDict

from api.web.ask.choices import Choice
from api.web.form_unclear import FormUnclear
from inventory.models import ColdPlace, Line, Ring, Studio, Vessel
from inventory.science.saying import say
from sourcing.notebook.one_page import load_pages
from sourcing.notebook.row_key import key_text
from sourcing.notebook.take_out import delete_row
from sourcing.notebook.yard_pages import BY_NAME
from sourcing.week.words import decimal_string, kilos
from sourcing.week.words import litres as litres_said

POTS_L = (5, 10, 15, 20, 30, 40, 60)  # to the brim
RINGS_W = (1000, 1500, 2000, 2500, 3000, 3500)
LINES_KG = ("1", "2", "3", "5")
COLD = ("fridge", "freezer")
LEAST_L, MOST_L = 1, 500
MOST_PIECES = 20  # of a kind
WHOLE = re.compile(r"\d{1,3}(?:\.\d)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class RoomForm:
    """What may be ticked, and what is there already."""

    there: tuple[Choice, ...]  # ticked; unticked it goes
    pots: tuple[Choice, ...]
    irons: tuple[Choice, ...]
    rings: tuple[Choice, ...]
    lines: tuple[Choice, ...]
    cold: tuple[Choice, ...]
    has_bucket: bool


def room_form(studio: Studio) -> RoomForm:
    """The form, with what was ticked before."""
    vessels = list(Vessel.objects.of(studio).order_by("code")[: MOST_PIECES * 3])
    rings = list(Ring.objects.of(studio).order_by("code")[:MOST_PIECES])
    line = Line.objects.of(studio).order_by("code").first()
    cold = set(ColdPlace.objects.of(studio).values_list("kind", flat=True))
    held = "" if line is None else decimal_string(Decimal(line.holds_mg) / 1_000_000)
    return RoomForm(
        there=(
            *(Choice(f"vessels {row.code}", _vessel_words(row), chosen=True) for row in vessels),
            *(
                Choice(
                    f"rings {row.code}",
                    say("{code}, {kw}", code=row.code, kw=_kw(row.watts)),
                    chosen=True,
                )
                for row in rings
            ),
        ),
        pots=tuple(Choice(str(litres), litres_said(litres * 1000)) for litres in POTS_L),
        irons=(
            Choice("", say("none"), chosen=True),
            *(
                Choice(str(litres), say("one of {litres}", litres=litres_said(litres * 1000)))
                for litres in POTS_L
            ),
        ),
        rings=tuple(Choice(str(watts), _kw(watts)) for watts in RINGS_W),
        lines=tuple(Choice(kg, kilos(int(kg) * 1_000_000), chosen=kg == held) for kg in LINES_KG),
        cold=tuple(Choice(kind, say("a {kind}", kind=kind), chosen=kind in cold) for kind in COLD),
        has_bucket=any(row.kind != "pot" for row in vessels),
    )


def keep_room(studio: Studio, post: QueryDict, at: datetime) -> None:
    """The shed as it was ticked: what is new is written down, what was unticked goes."""
    files = {
        "vessels.csv": _csv("vessel,kind,material,brim,iron pot", _vessels(studio, post)),
        "rings.csv": _csv("ring,power", _rings(studio, post)),
        "lines.csv": _csv("line,holds", _lines(post)),
        "cold_places.csv": _csv("place,kind", [(k, k) for k in COLD if k in post.getlist("cold")]),
    }
    with transaction.atomic():
        _take_out(studio, post, at)
        load_pages(studio, files, at=at)


def _vessels(studio: Studio, post: QueryDict) -> list[tuple[str, ...]]:
    taken = set(Vessel.objects.of(studio).values_list("code", flat=True))
    pots = [*_ticked(post, "pot", POTS_L), *_litres(post.get("other", ""))]
    irons, buckets = _ticked(post, "iron", POTS_L), 2 if post.get("buckets") else 0
    rows: list[tuple[str, ...]] = []
    for code, litres in zip(_free("P", taken, len(pots)), pots, strict=True):
        rows.append((code, "pot", "stainless", say("{litres} L", litres=litres), "no"))
    for code, litres in zip(_free("I", taken, len(irons)), irons, strict=True):
        rows.append((code, "pot", "stainless", say("{litres} L", litres=litres), "yes"))
    rows += [(code, "bucket", "plastic", "15 L", "no") for code in _free("B", taken, buckets)]
    return rows


def _rings(studio: Studio, post: QueryDict) -> list[tuple[str, ...]]:
    taken = set(Ring.objects.of(studio).values_list("code", flat=True))
    watts = _ticked(post, "ring", RINGS_W)
    watts += watts[:1] if post.get("twice") else []
    return [(code, _kw(each)) for code, each in
            zip(_free("R", taken, len(watts)), watts, strict=True)]  # fmt: skip


def _lines(post: QueryDict) -> list[tuple[str, ...]]:
    return [("line", say("{post} kg", post=post["line"]))] if post.get("line") in LINES_KG else []


def _ticked(post: QueryDict, name: str, known: Sequence[int]) -> list[int]:
    """The numbers that were ticked, as far as they were offered."""
    said = post.getlist(name)
    return [number for number in known if str(number) in said]


def _take_out(studio: Studio, post: QueryDict, at: datetime) -> None:
    """Whatever was shown as there and is not ticked any more."""
    kept = set(post.getlist("there"))
    for shown in post.getlist("shown"):
        page, _, code = shown.partition(" ")
        if shown not in kept and page in ("vessels", "rings") and code:
            delete_row(studio, BY_NAME[page], key_text([code]), at=at, look=_whatever)


def _free(sign: str, taken: set[str], many: int) -> list[str]:
    """So many codes of a sign that nothing is called by yet."""
    numbers = (f"{sign}{number}" for number in range(1, 1_000))
    return list(islice((code for code in numbers if code not in taken), many))


def _litres(text: str) -> list[int]:
    """Whole litres of a pot that is none of those to tick, where one is written."""
    plain = text.strip().casefold().removesuffix("l").strip().replace(",", ".")
    if not plain:
        return []
    if not WHOLE.fullmatch(plain) or not LEAST_L <= float(plain) <= MOST_L:
        detail = say(
            "A pot holds {least_l} to {most_l} L to the brim. Write such as 25.",
            least_l=LEAST_L,
            most_l=MOST_L,
        )
        raise FormUnclear("other", text, detail)
    return [int(float(plain))]


def _csv(head: str, rows: Sequence[Sequence[str]]) -> bytes:
    return "\n".join([head, *(",".join(row) for row in rows)]).encode()


def _vessel_words(row: Vessel) -> str:
    iron = say(", kept for iron") if row.iron_pot else ""
    return say(
        "{code}, {kind} of {brim}{iron}",
        code=row.code,
        kind=row.kind,
        brim=litres_said(row.brim_ml),
        iron=iron,
    )


def _kw(watts: int) -> str:
    return say("{watts} kW", watts=decimal_string(Decimal(watts) / 1000))


def _whatever(mark: str | None) -> None:
    """Whatever stands there: the page has shown it a moment ago."""
