"""What there is to choose from at a moment, asked of the database only where a form wants it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import F

from inventory.models import ColdPlace, Dyestuff, Lot, Movement, Posting, Studio, Swatch
from inventory.science.saying import say
from sourcing.chores import chores_between
from sourcing.finishing import DAYS_AHEAD, Finishing, finishing_of
from sourcing.giving import Gift, gifts_at, piece_masses_g
from sourcing.models import Agreement, Reader, Run, Source, Supplier
from sourcing.ordered import OfferFacts, OrderFacts, open_orders
from sourcing.orders import offers_on, order_of
from sourcing.outlook import facts_at
from sourcing.shelves import ShelvesFacts, shelves_at
from sourcing.week.facts import Chore, WeekFacts
from sourcing.week.words import day_in_words, grams

PLACES_AT_MOST = 24
PIECES_AT_MOST, COUNTED_AT_MOST = 6, 200
SUPPLIES_AT_MOST = 40
DYESTUFFS_AT_MOST, RUNS_AT_MOST, SWATCHES_AT_MOST, SOURCES_AT_MOST = 60, 40, 40, 60
SUPPLIERS_AT_MOST, ORDERS_AT_MOST, READERS_AT_MOST = 60, 40, 60
MOVED_AT_MOST = 120
CHORES_BEFORE, CHORES_AHEAD = timedelta(days=2), timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose: what is sent, its words, and what tells it from the others."""

    value: str
    words: str
    more: str = ""
    drawing: str = ""  # name of what is drawn beside it


@dataclass(frozen=True, slots=True)
class Counted:
    """A word for pieces, and the grams that one likely weighs; 0 where nobody knows."""

    word: str
    each_g: int


@dataclass(frozen=True, slots=True)
class RunAtHand:
    """A run as it is chosen."""

    code: str
    shade: str
    fibre: str
    weight_mg: int
    fibre_lot: str
    due: datetime | None
    begun: bool
    finished: bool

    @property
    def more(self) -> str:
        """`wool 2,000 g, due Mon 30 Nov, begun`."""
        due = say(", due {due}", due=day_in_words(self.due.date())) if self.due else ""
        begun = say(", finished") if self.finished else say(", begun") if self.begun else ""
        return say(
            "{fibre} {weight}{due}{begun}",
            fibre=self.fibre,
            weight=grams(self.weight_mg),
            due=due,
            begun=begun,
        )


class Hand:
    """What one form of one studio may choose from."""

    def __init__(self, studio: Studio, at: datetime) -> None:
        self.studio, self.at = studio, at

    @cached_property
    def shelves(self) -> ShelvesFacts:
        """All that stands on the shelves, what spoils first in front."""
        return shelves_at(self.studio, at=self.at)

    @cached_property
    def gifts(self) -> tuple[Gift, ...]:
        """Who gives what, what is due nearest in front."""
        return gifts_at(self.studio, at=self.at)

    @cached_property
    def cold(self) -> tuple[tuple[str, str], ...]:
        """Kind and code of fridges, freezers and trays."""
        if "shelves" in self.__dict__:  # they are looked at already
            return tuple((row.kind, row.code) for row in self.shelves.shelf.cold_places)
        rows = ColdPlace.objects.of(self.studio).order_by("code")
        return tuple(rows.values_list("kind", "code")[:PLACES_AT_MOST])

    @cached_property
    def pieces(self) -> tuple[str, ...]:
        """The studio's words for what it counts, in the plural."""
        return tuple(dict.fromkeys(f"{piece}s" for piece, _ in self._counted))[:PIECES_AT_MOST]

    @cached_property
    def counted(self) -> tuple[Counted, ...]:
        """The same with what one likely weighs, of the dyestuff that is likely to be carried in."""
        likely = [gift.gives for gift in self.gifts[:1]]
        mean_g = piece_masses_g(self.studio, at=self.at)
        found: dict[str, Counted] = {}
        for piece, dyestuff in sorted(self._counted, key=lambda row: row[1] not in likely):
            found.setdefault(f"{piece}s", Counted(f"{piece}s", mean_g.get(dyestuff, 0)))
        return tuple(found.values())[:PIECES_AT_MOST]

    @cached_property
    def _counted(self) -> tuple[tuple[str, str], ...]:
        rows = Dyestuff.objects.of(self.studio).exclude(piece="").order_by("piece", "name")
        return tuple(rows.values_list("piece", "name")[:COUNTED_AT_MOST])

    @cached_property
    def dyestuffs(self) -> tuple[str, ...]:
        """The studio's dyestuffs by name."""
        rows = Dyestuff.objects.of(self.studio).order_by("name").values_list("name", flat=True)
        return tuple(rows[:DYESTUFFS_AT_MOST])

    @cached_property
    def runs(self) -> tuple[RunAtHand, ...]:
        """Runs that are open, those begun in front, then what is due first."""
        return self._runs(finished=False)

    @cached_property
    def finished(self) -> tuple[RunAtHand, ...]:
        """Runs that are finished, the last one in front."""
        return self._runs(finished=True)

    def _runs(self, *, finished: bool) -> tuple[RunAtHand, ...]:
        rows = Run.objects.of(self.studio).filter(finished_at__isnull=not finished)
        order = ("-finished_at",) if finished else ("-begun", F("due").asc(nulls_last=True), "code")
        found = rows.order_by(*order).values_list(
            "code", "recipe__shade", "fibre", "weight_mg", "fibre_lot__code", "due", "begun"
        )
        return tuple(
            RunAtHand(code, shade, fibre, mg, lot or "", due, begun, finished)
            for code, shade, fibre, mg, lot, due, begun in found[:RUNS_AT_MOST]
        )

    @cached_property
    def week(self) -> WeekFacts:
        """All that the week hangs on: runs, fibre, what was promised."""
        return facts_at(self.studio, at=self.at, days=DAYS_AHEAD)

    @cached_property
    def week_runs(self) -> tuple[RunAtHand, ...]:
        """Runs that are open, as the week has them, those begun in front."""
        rows = sorted(self.week.runs, key=lambda row: not row.begun)
        return tuple(
            RunAtHand(
                row.code, row.shade, row.fibre, row.weight_mg, row.fibre_lot, row.due, row.begun,
                finished=False,
            )
            for row in rows[:RUNS_AT_MOST]
        )  # fmt: skip

    def finishing(self, run: str) -> Finishing | None:
        """What a run is likely to have taken."""
        if run not in self._finishing:
            self._finishing[run] = finishing_of(self.week, run)
        return self._finishing[run]

    @cached_property
    def _finishing(self) -> dict[str, Finishing | None]:
        return {}

    @cached_property
    def supplies(self) -> tuple[str, ...]:
        """Names of the supplies that were ever received."""
        rows = Lot.objects.of(self.studio).filter(kind="supply").order_by("what")
        return tuple(rows.values_list("what", flat=True).distinct()[:SUPPLIES_AT_MOST])

    @cached_property
    def fibres(self) -> tuple[str, ...]:
        """Fibres that were ever received."""
        rows = Lot.objects.of(self.studio).filter(kind="fibre").order_by("what")
        return tuple(rows.values_list("what", flat=True).distinct()[:SUPPLIES_AT_MOST])

    @cached_property
    def swatches(self) -> tuple[tuple[int, str, str], ...]:
        """Number, shade and lot of the swatches kept last."""
        rows = Swatch.objects.of(self.studio).order_by("-number")
        return tuple(rows.values_list("number", "shade", "lot__code")[:SWATCHES_AT_MOST])

    @cached_property
    def sources(self) -> tuple[tuple[str, int], ...]:
        """Name and tubs of each source, those that hold tubs in front."""
        rows = Source.objects.of(self.studio).order_by("-tubs_there", "name")
        return tuple(rows.values_list("name", "tubs_there")[:SOURCES_AT_MOST])

    @cached_property
    def agreed(self) -> tuple[tuple[str, str], ...]:
        """Source and dyestuff of each agreement, by name."""
        rows = Agreement.objects.of(self.studio).order_by("source__name", "gives")
        return tuple(rows.values_list("source__name", "gives")[:SOURCES_AT_MOST])

    @cached_property
    def suppliers(self) -> tuple[str, ...]:
        """Names of the suppliers."""
        rows = Supplier.objects.of(self.studio).order_by("name").values_list("name", flat=True)
        return tuple(rows[:SUPPLIERS_AT_MOST])

    @cached_property
    def offers(self) -> tuple[OfferFacts, ...]:
        """What suppliers offer on this day."""
        return offers_on(self.studio, self.at.astimezone(ZoneInfo(self.studio.zone)).date())

    @cached_property
    def orders(self) -> tuple[tuple[int, str], ...]:
        """Number and supplier of the orders of which something is to come, the newest in front."""
        rows = open_orders(self.studio).order_by("-number")
        return tuple(rows.values_list("number", "supplier__name")[:ORDERS_AT_MOST])

    def order(self, number: int) -> OrderFacts:
        """One order with its lines."""
        return order_of(self.studio, number)

    @cached_property
    def chores(self) -> tuple[Chore, ...]:
        """Chores about this day: its own in front, then those of the next days, then the last."""
        today = self.at.astimezone(ZoneInfo(self.studio.zone)).date()
        found = chores_between(self.studio, today - CHORES_BEFORE, today + CHORES_AHEAD, at=self.at)
        return tuple(sorted(found, key=lambda row: (row.day < today, row.day)))

    @cached_property
    def readers(self) -> tuple[tuple[str, str], ...]:
        """Name and address of who is written to."""
        rows = Reader.objects.of(self.studio).order_by("name")
        return tuple(rows.values_list("name", "address")[:READERS_AT_MOST])

    @cached_property
    def lately(self) -> tuple[tuple[UUID, str, datetime, str, int, str], ...]:
        """Entry, kind, moment, lot, amount and unit of what moved last and is not put right."""
        right = Posting.objects.of(self.studio).filter(corrects__isnull=False).values("corrects")
        rows = Movement.objects.of(self.studio).exclude(posting__in=right)
        found = rows.order_by("-posting__recorded_at", "lot__code").values_list(
            "posting__entry", "posting__kind", "posting__occurred_at", "lot__code", "amount",
            "lot__unit",
        )  # fmt: skip
        return tuple(found[:MOVED_AT_MOST])
