"""Everything the shelves have to show at a moment, gathered in a few questions.

Beside what lies there: the figures it is judged by, what comes tonight, what hangs on the line,
what pots went through and what moved last.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from functools import cache, cached_property
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet

from inventory.errors import NoZone
from inventory.models import Dyestuff, Site, Studio, StudioRule, Vessel, VesselUse
from inventory.prepared import among
from inventory.science.catalogue import find_figure
from inventory.science.counting import Counted, Total, counted, totals
from inventory.science.facts import JarFacts, Shelf
from inventory.science.figures import Figures
from inventory.science.jar_story import JarStory, story_of
from inventory.science.room import Room, Tonight, rooms, tonight
from inventory.shelves import look_at
from sourcing.figures import figures_in, weighings_of
from sourcing.gather import Cells, Gathering
from sourcing.models import Agreement, Hanging, Making, PickUp, RecipeDose, Source
from sourcing.moved import MOVED_AT_MOST, Moved, keys_of_last, last_of, moved_of, moved_queries
from sourcing.outlook import arrivals_in, where_is, with_reported
from sourcing.versions import wanted_recipes

REPORTED_SINCE = timedelta(days=2)  # a reported pick-up becomes a lot of its own within a day
USES_LOOKED_BACK = timedelta(days=366)
USES_AT_MOST = 400


@dataclass(frozen=True, slots=True)
class VesselPast:
    """One thing that a vessel went through."""

    vessel: str
    day: date
    what: str  # iron, blank passed, blank failed, chipped, mended


@dataclass(frozen=True)
class ShelvesFacts:
    """The shelves of one studio at one moment, with all that is needed to tell of them."""

    studio: str
    zone: ZoneInfo
    at: datetime
    shelf: Shelf
    figures: Figures
    aside_since: Mapping[str, datetime]  # by code
    fugitive: frozenset[str] = frozenset()
    cautions: Mapping[str, str] = field(default_factory=dict)  # the studio's own, by dyestuff
    dried: frozenset[str] = frozenset()  # dyestuffs that a recipe or a bath wants dried
    past: tuple[VesselPast, ...] = ()  # newest first
    hangs_mg: Mapping[str, int] = field(default_factory=dict)  # on each line now
    moved: tuple[Moved, ...] = ()  # newest first
    more_moved: bool = False
    sites: tuple[str, ...] = ()

    @property
    def today(self) -> date:
        return self.at.date()

    @cached_property
    def lots(self) -> tuple[Counted, ...]:
        """Lots of dyestuff, what spoils first in front."""
        return counted(self.shelf.lots, self.figures, at=self.at, zone=self.zone)

    @cached_property
    def totals(self) -> tuple[Total, ...]:
        """What each dyestuff comes to."""
        return totals(self.lots)

    @cached_property
    def rooms(self) -> tuple[Room, ...]:
        """Cold places with what lies in them."""
        return rooms(self.shelf.cold_places, self.lots)

    @cached_property
    def tonight(self) -> Tonight | None:
        """The freezers at the end of the day; None where none has a limit."""
        return tonight(self.shelf.cold_places, self.lots, freezes=self.freezes)

    def story(self, jar: JarFacts) -> JarStory:
        """What a jar has to tell."""
        since = self.aside_since.get(jar.code)
        return story_of(jar, self.figures, at=self.at, zone=self.zone, aside_since=since)

    def freezes(self, dyestuff: str) -> bool:
        """Whether a dyestuff is frozen to keep it: it keeps so, and no recipe wants it dried."""
        names = ("keeps_frozen_days", "keeps_frozen_months")
        return dyestuff not in self.dried and any(
            find_figure(self.figures, dyestuff, name, on=self.today) is not None for name in names
        )


def shelves_at(
    studio: Studio,
    *,
    at: datetime,
    skip: int = 0,
    kinds: Collection[str] | None = None,
    with_moved: bool = True,
    with_places: bool = True,
) -> ShelvesFacts:
    """The shelves of a studio at a moment, in six questions at the most however much lies there.

    Parameters
    ----------
    studio : whose
    at : aware
    skip : newest postings to pass over in what moved
    kinds : of lots that are looked at; None: all. The others are not on this shelf.
    with_moved : whether what moved is looked at too
    with_places : whether pots, rings, line and cold places are looked at too
    """
    if at.tzinfo is None:
        raise NoZone(at)
    zone = ZoneInfo(studio.zone)
    at = at.astimezone(zone)
    looked = look_at(studio, at=at, kinds=kinds, with_fittings=with_places)
    with_lots = kinds is None or "dyestuff" in kinds
    asked: dict[str, Any] = {"studio": studio, "at": at}
    if with_lots:
        asked |= {"today": at.date(), "reported_since": at - REPORTED_SINCE}
    if with_places:
        asked |= {"uses_since": at - USES_LOOKED_BACK}
    if with_moved and kinds == ():  # No lot is looked at, so there is a question to spare.
        asked |= {"last": keys_of_last(studio, at=at, skip=skip)}
    elif with_moved:
        asked |= {"fixed": (("skip", skip),)}
    rows = _small_tables(with_lots, with_moved, with_places).rows(**asked)
    figures = figures_in(rows, zone)
    lots = looked.shelf.lots
    if with_lots:
        lots = with_reported(lots, arrivals_in(rows, at, zone, figures, where_is(studio)))
    moved = moved_of(rows) if with_moved else ()
    return ShelvesFacts(
        studio=studio.name,
        zone=zone,
        at=at,
        shelf=replace(looked.shelf, lots=lots),
        figures=figures,
        aside_since=looked.aside_since,
        fugitive=frozenset(row["name"] for row in rows.get("dyestuffs", ()) if row["fugitive"]),
        cautions={row["name"]: row["hazard"] for row in rows.get("dyestuffs", ()) if row["hazard"]},
        dried=frozenset(row["what"] for row in rows.get("doses", ()))
        | frozenset(row["dyestuff"] for row in rows.get("makings", ())),
        past=_past(rows, looked.void, zone),
        hangs_mg=_hanging(rows.get("hangings", ())),
        moved=moved[:MOVED_AT_MOST],
        more_moved=len(moved) > MOVED_AT_MOST,
        sites=tuple(sorted(row["code"] for row in rows["sites"])),
    )


@cache
def _small_tables(with_lots: bool, with_moved: bool, with_places: bool) -> Gathering:
    """The question over the small tables that some parts of the shelves need."""
    parts = [
        part
        for part, wanted in (
            (_of_lots, with_lots), (_of_places, with_places), (_of_what_moved, with_moved)
        )
        if wanted
    ]  # fmt: skip

    def wanted(**asked: Any) -> dict[str, QuerySet[Any]]:
        found = _always(**asked)
        for part in parts:
            found |= part(**asked)
        return found

    return Gathering(wanted)


def _always(*, studio: Studio, at: datetime, **_: Any) -> dict[str, QuerySet[Any]]:
    """What the figures of any part hang on."""
    return {
        "rules": StudioRule.objects.of(studio),
        "weighings": weighings_of(studio, at=at),
        "sites": Site.objects.of(studio),
    }


def _of_lots(
    *, studio: Studio, today: date, reported_since: datetime, **_: Any
) -> dict[str, QuerySet[Any]]:
    """What is said of dyestuffs; of pick-ups only those that may be lots on their way."""
    return {
        "dyestuffs": Dyestuff.objects.of(studio),
        "sources": Source.objects.of(studio),
        "agreements": Agreement.objects.of(studio).filter(
            Q(last_on__isnull=True) | Q(last_on__gte=today)
        ),
        "pickups": PickUp.objects.of(studio).filter(how="reported", at__gte=reported_since),
    }


def _of_places(
    *, studio: Studio, at: datetime, uses_since: datetime, **_: Any
) -> dict[str, QuerySet[Any]]:
    """What pots went through, what hangs on the line, and what is dried rather than frozen."""
    lately = VesselUse.objects.of(studio).filter(at__lte=at)
    lately = lately.filter(Q(at__gte=uses_since) | Q(what__in=["chipped", "mended"]))
    wanted = wanted_recipes(studio).values("pk")
    return {
        "doses": RecipeDose.objects.of(studio).filter(recipe__in=wanted, state="dried"),
        "makings": Making.objects.of(studio).filter(state="dried"),
        "hangings": Hanging.objects.of(studio).filter(since__lte=at, until__gt=at),
        "uses": VesselUse.objects.of(studio).filter(
            pk__in=lately.order_by("-at", "-pk").values("pk")[:USES_AT_MOST]
        ),
        "vessels": Vessel.objects.of(studio),
    }


def _of_what_moved(
    *,
    studio: Studio,
    at: datetime,
    skip: int = 0,
    last: Sequence[UUID] | None = None,
    **_: Any,
) -> dict[str, QuerySet[Any]]:
    """What the last postings touched, and the vessels among it by their codes."""
    keys = last_of(studio=studio, at=at, skip=skip) if last is None else among(last, kind="uuid")
    return {"vessels": Vessel.objects.of(studio), **moved_queries(studio, at=at, last=keys)}


def _past(
    rows: Mapping[str, Iterable[Cells]], void: frozenset[Any], zone: ZoneInfo
) -> tuple[VesselPast, ...]:
    codes = {row["id"]: row["code"] for row in rows.get("vessels", ())}
    uses = [row for row in rows.get("uses", ()) if row["posting_id"] not in void]
    return tuple(
        VesselPast(codes[row["vessel_id"]], row["at"].astimezone(zone).date(), row["what"])
        for row in sorted(uses, key=lambda row: (row["at"], row["id"]), reverse=True)
    )


def _hanging(rows: Iterable[Cells]) -> dict[str, int]:
    found: dict[str, int] = {}
    for row in rows:
        found[row["line"]] = found.get(row["line"], 0) + row["weight_mg"]
    return found
