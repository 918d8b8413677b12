"""A studio's intentions as rows of a notebook: hours, sources, recipes, runs and their gates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from inventory.models import ColdPlace, Dyestuff, Studio
from sourcing.chores import chores_done
from sourcing.models import (
    Agreement,
    Block,
    Chore,
    FastnessWish,
    Hanging,
    Hours,
    Making,
    PickUp,
    PutByWish,
    Recipe,
    RecipeDose,
    RecipeStep,
    Run,
    ShadeCard,
    Source,
    TubMove,
    Weather,
)
from sourcing.notebook.load_shelf import Values
from sourcing.notebook.quantities import Counted, DoseOf, Weighed
from sourcing.notebook.write_begun import begun_pages
from sourcing.notebook.write_orders import order_pages
from sourcing.notebook.write_reminders import reminder_pages
from sourcing.notebook.write_shelf import place_of
from sourcing.notebook.write_taken import taken_pages
from sourcing.recipes import heats_of
from sourcing.versions import names_of, wanted_recipes

Rows = Iterator[Values]
PIECE = "stone"  # where the studio has no word of its own for a piece


@dataclass(frozen=True)
class Intentions:
    """What a studio means to do, as the tables keep it."""

    studio: Studio
    zone: ZoneInfo
    at: datetime

    def pages(self) -> dict[str, list[Values]]:
        """All pages about intentions, rows in the order of their keys."""
        recipes = list(wanted_recipes(self.studio))
        names = names_of((row.pk, row.code, row.version) for row in recipes)
        recipes.sort(key=lambda row: names[row.pk])
        runs = list(self._open_runs())
        return {
            "hours": list(self._hours()),
            "blocks": list(self._blocks()),
            "chores": list(self._chores()),
            "weather": [
                {"day": row.day, "frost": row.frost, "aired": row.aired}
                for row in Weather.objects.of(self.studio).order_by("day")
            ],
            "hangings": list(self._hangings()),
            "sources": list(self._sources()),
            "agreements": list(self._agreements()),
            "pickups": list(self._pickups()),
            "tubs": list(self._tubs()),
            "recipes": [recipe_values(row, names[row.pk]) for row in recipes],
            "steps": list(self._steps(names)),
            "doses": list(self._doses(names)),
            "makings": list(self._makings()),
            "putby": list(self._put_by()),
            "runs": [_run(row, names) for row in runs],
            "gates": list(self._gates(runs)),
            **begun_pages(self.studio, runs),
            **taken_pages(self.studio, runs, at=self.at),
            **reminder_pages(self.studio),
            **order_pages(self.studio),
        }

    def _hours(self) -> Rows:
        rows = Hours.objects.of(self.studio).select_related("site")
        for row in rows.order_by("who", "day", "weekday", "since", "pk"):
            yield {
                "who": row.who,
                "day": row.weekday if row.day is None else row.day,
                "hands": row.hands_min,
                "from": row.opens,
                "to": row.closes,
                "since": row.since,
                "until": row.last_on,
                "site": row.site.code if row.site else "",
                "note": row.note,
            }

    def _blocks(self) -> Rows:
        for row in Block.objects.of(self.studio).order_by("since", "code"):
            yield {
                "block": row.code,
                "what": row.what,
                "from": row.since,
                "until": row.until,
                "rings": tuple(row.rings),
                "vessels": tuple(row.vessels),
                "line": row.line_mg or None,
                "hands": row.hands_min or None,
                "no iron": row.no_iron,
                "group": row.group,
            }

    def _chores(self) -> Rows:
        done = chores_done(self.studio)
        for row in Chore.objects.of(self.studio).order_by("day", "what"):
            yield {
                "day": row.day,
                "what": row.what,
                "hands": row.hands_min,
                "clears": row.clears,
                "at": None if row.at is None else row.at.astimezone(self.zone).time(),
                "done at": done.get((row.day, row.what)),
            }

    def _hangings(self) -> Rows:
        for row in Hanging.objects.of(self.studio).order_by("since", "line", "what"):
            yield {
                "line": row.line,
                "since": row.since,
                "until": row.until,
                "weight": row.weight_mg,
                "what": row.what,
            }

    def _sources(self) -> Rows:
        for row in Source.objects.of(self.studio).order_by("name"):
            yield {
                "source": row.name,
                "kind": row.kind,
                "where": row.place,
                "carrying note": row.carrying_note,
                "carrying until": row.carrying_until,
                "note": row.note,
            }

    def _agreements(self) -> Rows:
        pieces = self._pieces()
        rows = Agreement.objects.of(self.studio).select_related("source")
        for row in rows.order_by("source__name", "gives"):
            yield {
                "source": row.source.name,
                "gives": row.gives,
                "days": tuple(_day(day) for day in row.days),
                "at": row.at,
                "since": row.since,
                "until": row.last_on,
                "closed": tuple((_date(first), _date(last)) for first, last in row.closed),
                "permission by": row.permission_by,
                "permission on": row.permission_on,
                "permission ended": row.permission_ended,
                "hands": row.hands_min,
                "likely": _amount(row.likely_mg, row.likely_pieces, pieces.get(row.gives)),
                "note": row.note,
            }

    def _pickups(self) -> Rows:
        pieces = self._pieces()
        places = set(ColdPlace.objects.of(self.studio).values_list("code", flat=True))
        rows = PickUp.objects.of(self.studio).select_related("source")
        for row in rows.order_by("source__name", "gives", "at"):
            yield {
                "source": row.source.name,
                "gives": row.gives,
                "at": row.at,
                "pick-up": row.how,
                "amount": _amount(row.weight_mg, row.pieces, pieces.get(row.gives)),
                "lot": row.lot_code,
                "place": place_of(row.place, row.place_kind, places),
                "nests by": row.nests_by,
                "nests on": row.nests_on,
                "note": row.note,
            }

    def _tubs(self) -> Rows:
        rows = TubMove.objects.of(self.studio).select_related("source")
        for row in rows.order_by("source__name", "at", "how"):
            yield {
                "source": row.source.name,
                "at": row.at,
                "tubs": row.tubs,
                "how": row.how,
                "note": row.note,
            }

    def _pieces(self) -> dict[str, str]:
        rows = Dyestuff.objects.of(self.studio).exclude(piece="")
        return dict(rows.values_list("name", "piece"))

    def _steps(self, names: dict[int, str]) -> Rows:
        rows = RecipeStep.objects.of(self.studio).filter(recipe__in=list(names))
        for row in sorted(rows, key=lambda row: (names[row.recipe_id], row.number)):
            yield {"recipe": names[row.recipe_id], **step_values(row)}

    def _doses(self, names: dict[int, str]) -> Rows:
        rows = RecipeDose.objects.of(self.studio).filter(recipe__in=list(names))
        for row in sorted(rows, key=lambda row: (names[row.recipe_id], row.number)):
            yield {"recipe": names[row.recipe_id], **dose_values(row)}

    def _makings(self) -> Rows:
        for row in Making.objects.of(self.studio).order_by("bath"):
            yield {
                "bath": row.bath,
                "dyestuff": row.dyestuff,
                "state": row.state,
                "amount": row.g_per_litre,
                "heats": heats_of(row.heats),
                "hands": row.hands_min,
                "vessels": tuple(row.vessels),
            }

    def _put_by(self) -> Rows:
        rows = PutByWish.objects.of(self.studio).select_related("recipe")
        for row in rows.order_by("code"):
            yield {
                "put by": row.code,
                "recipe": "" if row.recipe is None else row.recipe.code,
                "dyestuff": row.dyestuff,
                "state": row.state,
                "runs": row.runs,
                "each": row.each_mg,
                "from": row.since,
                "until": row.last_on,
                "spread": row.spread,
                "note": row.note,
            }

    def _open_runs(self) -> Iterable[Run]:
        rows = Run.objects.of(self.studio).filter(finished_at__isnull=True)
        return rows.select_related("fibre_lot", "jar", "group_block").order_by("code")

    def _gates(self, runs: Iterable[Run]) -> Rows:
        codes = {run.pk: run.code for run in runs}
        gates: list[Values] = [
            {"run": codes[row.run_id], "gate": "shade card", "passed": row.approved}
            for row in ShadeCard.objects.of(self.studio).filter(run__in=list(codes))
        ]
        gates += [
            _wish(row, codes[row.run_id])
            for row in FastnessWish.objects.of(self.studio).filter(run__in=list(codes))
        ]
        order = ("shade card", "light", "wash", "rub")
        yield from sorted(gates, key=lambda row: (row["run"], order.index(row["gate"])))


def _day(day: int | str) -> int | date:
    return day if isinstance(day, int) else _date(day)


def _date(text: str) -> date:
    return date.fromisoformat(text)


def _amount(mg: int | None, pieces: int | None, word: str | None) -> Weighed | Counted | None:
    if pieces is not None:
        return Counted(pieces, word or PIECE)
    return None if mg is None else Weighed(mg)


def recipe_values(row: Recipe, name: str) -> Values:
    return {
        "recipe": name,
        "shade": row.shade,
        "fibres": tuple(row.fibres),
        "ratio": row.l_per_kg,
        "mordant": (row.mordant, row.mordant_percent) if row.mordant else None,
        "bright": row.bright,
        "needs scoured": row.needs_scoured,
        "match": row.match,
        "water": row.water,
        "ph low": row.ph_low,
        "ph high": row.ph_high,
        "fugitive": row.fugitive,
        "depth": row.depth,
        "may share": tuple(row.may_share),
        "second bath of": row.second_of,
        "strength": None if row.strength is None else _percent(row.strength),
    }


def _percent(share: Fraction) -> Decimal:
    return Decimal((share * 100).numerator) / Decimal((share * 100).denominator)


def step_values(row: RecipeStep) -> Values:
    stands = (row.stand_min, row.stand_max)
    return {
        "no": row.number,
        "step": row.name,
        "kind": row.kind,
        "vessels": tuple(row.vessels),
        "water": row.l_per_kg,
        "heats": heats_of(row.heats),
        "stands": None if stands == (0, None) else stands,
        "night": row.night,
        "cools": row.cool_min or None,
        "hands": (row.hands_min, row.hands_per) if row.hands_min else None,
        "follows": "at once" if row.at_once else "",
        "strain": row.strain,
        "strained at": None if row.strained_c is None else Decimal(row.strained_c),
        "from": row.from_time,
        "one lot": row.one_lot,
        "aired": row.aired,
        "leaves": row.metal,
        "snippet": row.snippet_min or None,
        "snippet hands": row.snippet_hands_min or None,
        "begun at": None if row.begun_c is None else Decimal(row.begun_c),
    }


def dose_values(row: RecipeDose) -> Values:
    return {
        "step": row.step,
        "what": row.what,
        "kind": row.kind,
        "amount": _dose(row),
        "state": row.state,
    }


def _dose(row: RecipeDose) -> DoseOf:
    if row.kind == "liquor":
        return DoseOf(row.ml_per_100g / 100, "mL per 100 g")
    if row.kind == "bath":
        return DoseOf(row.l_per_kg, "L per kg")
    return DoseOf(row.per_fibre)


def _run(row: Run, names: dict[int, str]) -> Values:
    return {
        "run": row.code,
        "recipe": names[row.recipe_id],
        "fibre": row.fibre,
        "weight": row.weight_mg,
        "fibre lot": row.fibre_lot.code if row.fibre_lot else "",
        "due": row.due,
        "jar": row.jar.code if row.jar else "",
        "for whom": row.for_whom,
        "for a client": row.client,
        "group block": row.group_block.code if row.group_block else "",
        "people": row.people or None,
        "begun": row.begun,
        "fibre needed by": row.fibre_needed_by,
    }


def _wish(row: FastnessWish, run: str) -> Values:
    return {
        "run": run,
        "gate": row.what,
        "wanted": row.wanted,
        "reading": row.reading,
        "begun": row.begun_on,
        "days": row.days or None,
        "passed": row.accepted_in_writing,
    }
