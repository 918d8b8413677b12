"""What can be dyed from a moment on: facts gathered in a few questions, then one pure sum.

The one place where the tables and the arithmetic of the week meet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet

from inventory.errors import NoZone
from inventory.models import Dyestuff, Site, Studio, StudioRule, Water
from inventory.science.facts import Shelf
from inventory.science.figures import Figures
from inventory.science.seasons import Where
from inventory.shelves import shelf_at
from sourcing.arrivals import Arrivals, HandOver, Promise, permission_in_words
from sourcing.chores import chores_in, words_of_chores
from sourcing.figures import figures_in, weighings_of
from sourcing.gather import Cells, Gathered, Gathering
from sourcing.models import (
    Agreement,
    Block,
    Chore,
    Hanging,
    Hours,
    Making,
    PutByWish,
    Recipe,
    RecipeDose,
    RecipeStep,
    Source,
    Weather,
)
from sourcing.nests import NestCheck
from sourcing.opening import HoursOf, days_open
from sourcing.ordered import (
    all_orders,
    coming_of,
    fibre_coming,
    offer_queries,
    offers_in,
    open_orders,
    order_queries,
    orders_in,
    suppliers_in,
)
from sourcing.putting_by.facts import PutByWish as Wished
from sourcing.putting_by.of_recipe import wishes_of
from sourcing.recipes import doses_of, heats_of, recipe_of, steps_of
from sourcing.standing import standing_pickups
from sourcing.taken import guidance_in, taken_queries
from sourcing.versions import names_of, wanted_recipes
from sourcing.wanted import promised_in, runs_in, wanted_queries
from sourcing.week import facts

if TYPE_CHECKING:
    from sourcing.week.plan import Week

Otherwise = Callable[[Figures], Figures]
LOOKED_BACK = timedelta(days=366)  # for the last six pick-ups of a source
SHORTEST_HORIZON_DAYS = 42  # where the studio has no figure of its own


def week_at(studio: Studio, *, at: datetime, days: int, unlocks: bool = True) -> Week:
    """The whole answer for a studio from a moment on, for so many days.

    Parameters
    ----------
    unlocks : also look for what would turn each answer that is not yes into one
    """
    from sourcing.remembered import week_of

    return week_of(facts_at(studio, at=at, days=days), days=days, unlocks=unlocks)


def facts_at(
    studio: Studio, *, at: datetime, days: int, otherwise: Otherwise | None = None
) -> facts.WeekFacts:
    """Everything that the answer hangs on, as of a moment.

    Parameters
    ----------
    studio : whose
    at : aware
    days : length of the period, above 0; hours and pick-ups reach over the whole horizon
    otherwise : makes other figures of the studio's, for one question
    """
    return facts_and_rows(studio, at=at, days=days, otherwise=otherwise)[0]


def facts_and_rows(
    studio: Studio,
    *,
    at: datetime,
    days: int,
    over_orders: bool = False,
    tables: Gathering | None = None,
    otherwise: Otherwise | None = None,
) -> tuple[facts.WeekFacts, Gathered]:
    """The facts of `facts_at` and the rows of the small tables that they were made of.

    Parameters
    ----------
    over_orders : the rows hold orders that are over as well, the newest of them
    tables : of `tables_and`, where a page shows other rows beside them; None: the small tables
    """
    if at.tzinfo is None:
        raise NoZone(at)
    zone = ZoneInfo(studio.zone)
    at = at.astimezone(zone)
    today = at.date()
    shelf = shelf_at(studio, at=at)
    moments = {"at": at, "today": today, "looked_back": at - LOOKED_BACK}
    values: dict[str, Any] = {"studio": studio, **moments}
    tables = tables or (_WITH_ALL_ORDERS if over_orders else _SMALL_TABLES)
    rows = tables.rows(**values)
    return _facts_of(studio, shelf, rows, at=at, days=days, otherwise=otherwise), rows


def facts_and_otherwise(
    studio: Studio,
    *,
    at: datetime,
    days: int,
    otherwise: Otherwise,
    check: Callable[[facts.WeekFacts], None],
) -> tuple[facts.WeekFacts, facts.WeekFacts]:
    """The facts as they are and with other figures, of rows that were asked for once.

    Parameters
    ----------
    check : is shown the facts as they are, and raises where the others cannot be
    """
    if at.tzinfo is None:
        raise NoZone(at)
    at = at.astimezone(ZoneInfo(studio.zone))
    shelf = shelf_at(studio, at=at)
    rows = _SMALL_TABLES.rows(studio=studio, at=at, today=at.date(), looked_back=at - LOOKED_BACK)
    found = _facts_of(studio, shelf, rows, at=at, days=days, otherwise=None)
    check(found)
    return found, _facts_of(studio, shelf, rows, at=at, days=days, otherwise=otherwise)


def _facts_of(
    studio: Studio,
    shelf: Shelf,
    rows: Gathered,
    *,
    at: datetime,
    days: int,
    otherwise: Otherwise | None,
) -> facts.WeekFacts:
    zone, today = ZoneInfo(studio.zone), at.date()
    figures = figures_in(rows, zone)
    figures = figures if otherwise is None else otherwise(figures)
    reach = _reach(figures, today, days)
    arrivals = arrivals_in(rows, at, zone, figures, where_is(studio))
    sites = {row["id"]: row["code"] for row in _by(rows["sites"], "id")}  # the first is the main
    recipes, names = _recipes(rows)
    suppliers = suppliers_in(rows)
    sellers = {row["id"]: row["name"] for row in rows["suppliers"]}
    coming = coming_of(orders_in(rows, sellers, zone, at=at), suppliers, today=today)
    return facts.WeekFacts(
        studio=studio.name,
        zone=zone,
        at=at,
        shelf=replace(
            shelf,
            lots=with_reported(shelf.lots, arrivals),
            fibre=(*shelf.fibre, *fibre_coming(coming, figures, at=at)),
        ),
        figures=figures,
        recipes=recipes,
        makings=tuple(_making(row) for row in _by(rows["makings"], "bath")),
        runs=runs_in(rows, names, zone, at=at),
        hours=days_open(_hours(rows["hours"], sites), first=today, days=reach, zone=zone),
        blocks=tuple(_block(row, zone) for row in _by(rows["blocks"], "since", "code")),
        chores=chores_in(rows, zone, at=at),
        pick_ups=arrivals.expected(days=reach),
        streams=arrivals.streams(),
        meetings=arrivals.meetings(days=reach),
        waters=tuple(_water(row, sites) for row in _by(rows["waters"], "name")),
        hanging=tuple(_hanging(row, zone) for row in _by(rows["hangings"], "since", "line")),
        weather=tuple(
            facts.Weather(row["day"], row["frost"], row["aired"])
            for row in _by(rows["weather"], "day")
        ),
        promised=promised_in(rows),
        put_by=_put_by(rows, recipes),
        sites=tuple(sites.values()) or ("",),
        fugitive=frozenset(row["name"] for row in rows["dyestuffs"] if row["fugitive"]),
        hazards=tuple(
            (row["name"], row["hazard"]) for row in _by(rows["dyestuffs"], "name") if row["hazard"]
        ),
        suppliers=tuple(row.terms for row in suppliers),
        offers=tuple(row.offer for row in offers_in(rows, figures, on=today)),
        coming=coming,
        currency=studio.currency,
        guidance=guidance_in(rows, at=at),
    )


def _small_tables(
    *, studio: Studio, at: datetime, today: date, looked_back: datetime
) -> dict[str, QuerySet[Any]]:
    """All the small tables in one question; what is over and done with stays behind."""
    recipes = wanted_recipes(studio)
    keys = recipes.values("pk")
    put_by = PutByWish.objects.of(studio).filter(last_on__gte=today).order_by()
    return {
        "rules": StudioRule.objects.of(studio),
        "weighings": weighings_of(studio, at=at),
        "sites": Site.objects.of(studio),
        "waters": Water.objects.of(studio),
        "dyestuffs": Dyestuff.objects.of(studio),
        "recipes": recipes,
        "steps": RecipeStep.objects.of(studio).filter(recipe__in=keys),
        "doses": RecipeDose.objects.of(studio).filter(recipe__in=keys),
        "makings": Making.objects.of(studio),
        "hours": Hours.objects.of(studio).filter(
            Q(day__isnull=True) | Q(day__gte=today), Q(last_on__isnull=True) | Q(last_on__gte=today)
        ),
        "blocks": Block.objects.of(studio).filter(until__gt=at),
        "chores": Chore.objects.of(studio).filter(day__gte=today),
        "chores_done": words_of_chores(studio).filter(day__gte=today),
        "weather": Weather.objects.of(studio).filter(day__gte=today),
        "hangings": Hanging.objects.of(studio).filter(until__gt=at),
        "sources": Source.objects.of(studio),
        "agreements": Agreement.objects.of(studio).filter(
            Q(last_on__isnull=True) | Q(last_on__gte=today)
        ),
        "pickups": standing_pickups(studio).filter(at__gte=looked_back),
        "put_by": put_by,
        "put_by_recipes": Recipe.objects.of(studio).filter(pk__in=put_by.values("recipe")),
        **wanted_queries(studio, at),
        **taken_queries(studio, at),
        **offer_queries(studio, today),
        **order_queries(studio, open_orders(studio)),
    }


def _with_all_orders(**asked: Any) -> dict[str, QuerySet[Any]]:
    """The same, with orders that are over."""
    studio: Studio = asked["studio"]
    return {**_small_tables(**asked), **order_queries(studio, all_orders(studio))}


def tables_and(also: Callable[[Studio], Mapping[str, QuerySet[Any]]]) -> Gathering:
    """The small tables and other rows of a studio, in the same question; made once a page."""

    def wanted(**asked: Any) -> dict[str, QuerySet[Any]]:
        return {**_small_tables(**asked), **also(asked["studio"])}

    return Gathering(wanted)


_SMALL_TABLES = Gathering(_small_tables)
_WITH_ALL_ORDERS = Gathering(_with_all_orders)


def _by(rows: Iterable[Cells], *names: str) -> list[Cells]:
    return sorted(rows, key=lambda row: tuple(row[name] for name in names))


def _reach(figures: Figures, today: date, days: int) -> int:
    """Days over which hours and pick-ups are unrolled: the horizon, its last day too."""
    found = figures.find("studio", "horizon_days", on=today)
    horizon = SHORTEST_HORIZON_DAYS if found is None else int(found.value)
    return max(days, horizon) + 1


def where_is(studio: Studio) -> Where:
    """The country and region whose seasons hold for a studio."""
    return Where(studio.country, studio.region)


def arrivals_in(
    rows: Mapping[str, Sequence[Cells]],
    at: datetime,
    zone: ZoneInfo,
    figures: Figures,
    where: Where,
) -> Arrivals:
    sources = {row["id"]: row for row in rows["sources"]}
    names = {key: row["name"] for key, row in sources.items()}
    return Arrivals(
        at=at,
        zone=zone,
        promises=tuple(
            _promise(row, sources[row["source_id"]]) for row in _by(rows["agreements"], "id")
        ),
        hand_overs=tuple(_hand_over(row, names, zone) for row in _by(rows["pickups"], "at", "id")),
        figures=figures,
        foraged=frozenset(row["name"] for row in rows["dyestuffs"] if row["foraged"]),
        where=where,
    )


def _promise(row: Cells, source: Cells) -> Promise:
    return Promise(
        source=source["name"],
        gives=row["gives"],
        days=tuple(date.fromisoformat(day) if isinstance(day, str) else day for day in row["days"]),
        at=row["at"],
        since=row["since"],
        last_on=row["last_on"],
        closed=tuple(
            (date.fromisoformat(first), date.fromisoformat(last)) for first, last in row["closed"]
        ),
        permission=permission_in_words(row["permission_by"], row["permission_on"]),
        permission_ended=row["permission_ended"],
        carrying_note=source["carrying_note"],
        carrying_until=source["carrying_until"],
        hands_min=row["hands_min"],
        likely_mg=row["likely_mg"],
        likely_pieces=row["likely_pieces"],
        kind=source["kind"],
    )


def _hand_over(row: Cells, names: Mapping[int, str], zone: ZoneInfo) -> HandOver:
    return HandOver(
        source=names[row["source_id"]],
        gives=row["gives"],
        at=row["at"].astimezone(zone),
        how=row["how"],
        weight_mg=row["weight_mg"],
        pieces=row["pieces"],
        lot=row["lot_code"],
        place=row["place"],
        place_kind=row["place_kind"],
        state=row["state"],
        nests=NestCheck(row["nests_by"], row["nests_on"]) if row["nests_by"] else None,
        note=row["note"],
    )


def with_reported(lots: Sequence[Any], arrivals: Arrivals) -> tuple[Any, ...]:
    here = {lot.code for lot in lots}
    coming = [lot for lot in arrivals.lots() if lot.code not in here]
    return tuple(sorted((*lots, *coming), key=lambda lot: lot.code))


def _recipes(
    rows: Mapping[str, Sequence[Cells]],
) -> tuple[tuple[facts.Recipe, ...], dict[int, str]]:
    """Recipes by code, and what each version is called: an older one with its number."""
    names = names_of((row["id"], row["code"], row["version"]) for row in rows["recipes"])
    steps, doses = _of_recipe(rows["steps"]), _of_recipe(rows["doses"])
    found = [
        recipe_of(
            row,
            code=names[row["id"]],
            steps=steps_of(steps.get(row["id"], [])),
            doses=doses_of(doses.get(row["id"], [])),
        )
        for row in _by(rows["recipes"], "code", "version")
    ]
    return tuple(sorted(found, key=lambda recipe: recipe.code)), names


def _put_by(
    rows: Mapping[str, Sequence[Cells]], recipes: Sequence[facts.Recipe]
) -> tuple[Wished, ...]:
    """What is to be put by for: of a recipe by its last version, one wish for each dyestuff."""
    codes = {row["id"]: row["code"] for row in rows["put_by_recipes"]}
    by_code = {recipe.code: recipe for recipe in recipes}
    found: list[Wished] = []
    for row in _by(rows["put_by"], "code"):
        days: dict[str, Any] = {name: row[name] for name in ("since", "last_on", "spread")}
        if row["recipe_id"] is None:
            wish = Wished(
                row["code"], row["dyestuff"], row["runs"], row["each_mg"], state=row["state"],
                **days)  # fmt: skip
            found.append(wish)
        else:
            recipe = by_code[codes[row["recipe_id"]]]
            found += wishes_of(
                recipe, code=row["code"], runs=row["runs"], fibre_mg=row["each_mg"], **days
            )
    return tuple(found)


def _of_recipe(rows: Iterable[Cells]) -> dict[int, list[Cells]]:
    found: dict[int, list[Cells]] = {}
    for row in _by(rows, "recipe_id", "number"):
        found.setdefault(row["recipe_id"], []).append(row)
    return found


def _making(row: Cells) -> facts.Making:
    return facts.Making(
        bath=row["bath"],
        dyestuff=row["dyestuff"],
        state=row["state"],
        g_per_litre=row["g_per_litre"],
        heats=heats_of(row["heats"]),
        hands_min=row["hands_min"],
        vessels=tuple(row["vessels"]),
    )


def _hours(rows: Iterable[Cells], sites: Mapping[int, str]) -> list[HoursOf]:
    return [
        HoursOf(
            who=row["who"],
            weekday=row["weekday"],
            day=row["day"],
            hands_min=row["hands_min"],
            opens=row["opens"],
            closes=row["closes"],
            since=row["since"],
            last_on=row["last_on"],
            site=sites.get(row["site_id"], ""),
        )
        for row in _by(rows, "who", "id")
    ]


def _block(row: Cells, zone: ZoneInfo) -> facts.Block:
    return facts.Block(
        code=row["code"],
        what=row["what"],
        since=row["since"].astimezone(zone),
        until=row["until"].astimezone(zone),
        rings=tuple(row["rings"]),
        vessels=tuple(row["vessels"]),
        line_mg=row["line_mg"],
        hands_min=row["hands_min"],
        no_iron=row["no_iron"],
        group=row["group"],
    )


def _water(row: Cells, sites: Mapping[int, str]) -> facts.Water:
    return facts.Water(
        name=row["name"],
        ph=row["ph"],
        temperature_c=row["temperature_c"],
        site=sites.get(row["site_id"], ""),
    )


def _hanging(row: Cells, zone: ZoneInfo) -> facts.Hanging:
    return facts.Hanging(
        line=row["line"],
        since=row["since"].astimezone(zone),
        until=row["until"].astimezone(zone),
        mg=row["weight_mg"],
        what=row["what"],
    )
