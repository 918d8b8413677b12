"""What became of what was given: small histories by hand, then any history to the milligram."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sourcing.tracing.balance import Balance, balances
from sourcing.tracing.facts import GivenOver, Happened, History, Moved, RunDyed, TracedLot

DAY = date(2026, 9, 1)
NOON = datetime(2026, 9, 1, 12, tzinfo=UTC)
STONES = "avocado stones"
# A busy machine may stand still for a second while a book is drawn.
patient = settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)


@dataclass
class Book:
    """A ledger on paper: what happened, in order, with what each source's matter went into."""

    lots: dict[int, TracedLot] = field(default_factory=dict)
    left: dict[int, int] = field(default_factory=lambda: defaultdict(int))
    moved: list[Moved] = field(default_factory=list)
    happened: dict[str, Happened] = field(default_factory=dict)
    given: list[GivenOver] = field(default_factory=list)
    runs: list[RunDyed] = field(default_factory=list)
    spoiled: dict[int, int] = field(default_factory=dict)

    def post(self, kind: str, *moves: tuple[int, int], corrects: str | None = None) -> str:
        key = f"p{len(self.happened)}"
        at = NOON + timedelta(hours=len(self.happened))
        where = "compost" if kind == "tip out" else ""
        self.happened[key] = Happened(key, kind, at, corrects, where)
        for lot, amount in moves:
            self.left[lot] += amount
            number = 1 + sum(row.lot == lot for row in self.moved)
            self.moved.append(Moved(lot, key, amount, number))
        return key

    def begin(self, kind: str, what: str, posting: str, parent: int | None = None) -> int:
        key = len(self.lots) + 1
        self.lots[key] = TracedLot(key, f"L{key}", what, kind, parent, posting)
        return key

    def take(self, mg: int, source: str = "Lantern Steps café", what: str = STONES) -> int:
        lot = self.begin("dyestuff", what, f"p{len(self.happened)}")
        self.post("receive", (lot, mg))
        self.given.append(GivenOver(source, what, DAY, None, mg, mg, lot))
        return lot

    def dye(self, takes: dict[int, int], fibre_mg: int, code: str = "A") -> str:
        fibre = self.begin("fibre", "wool", f"p{len(self.happened)}")
        moves = [(lot, -mg) for lot, mg in takes.items()]
        key = self.post("dye", *moves, (fibre, fibre_mg))
        self.runs.append(RunDyed(key, code, "Blush"))
        return key

    def history(self) -> History:
        return History(self.given, self.lots, self.moved, self.happened, self.runs, self.spoiled)


def one(book: Book) -> Balance:
    (found,) = balances(book.history())
    return found


def adds_up(row: Balance) -> bool:
    """Saved is used, there, spoiled, tipped out, lost and not on record."""
    return row.saved == (
        row.dyed + row.bathed + row.drawn + row.other + row.there + row.spoiled + row.tipped
        + row.lost + row.off_record
    )  # fmt: skip


def test_612_stones_dye_17_1_kg_of_wool_at_150_percent() -> None:
    """Design papers 12, no. 36: 612 stones = 25.7 kg → 17.1 kg of wool at 150 %."""
    book = Book()
    lots = [book.take(51 * 42_000) for _ in range(12)]
    book.dye({lot: 51 * 42_000 for lot in lots}, 17_136_000)

    found = one(book)
    assert found.saved == found.dyed == found.kept == 25_704_000
    assert found.fibre == (("wool", Fraction(17_136_000)),)
    assert found.dyed / 17_136_000 == 1.5
    assert adds_up(found)


def test_a_blend_is_shared_by_the_weight_that_each_source_gave() -> None:
    """2,000 g of one café and 1,000 g of another dye 2,000 g: two thirds and one third."""
    book = Book()
    mine, other = book.take(2_000_000), book.take(1_000_000, source="Two Bells")
    book.dye({mine: 2_000_000, other: 1_000_000}, 2_000_000)

    lantern, bells = balances(book.history())
    assert lantern.fibre == (("wool", Fraction(4_000_000, 3)),)
    assert bells.fibre == (("wool", Fraction(2_000_000, 3)),)
    assert lantern.shared[0].share == Fraction(2, 3)


def test_drying_loses_water_and_the_part_put_by_goes_on_being_its_source_s() -> None:
    """1,400 g fresh dry to 560 g; 480 g dye 600 g, 80 g wait (design papers 13.4, 13.6)."""
    book = Book()
    fresh = book.take(1_400_000, source="Hedge", what="privet")
    dried = book.begin("dyestuff", "privet", "p1", parent=fresh)
    book.post("put by", (fresh, -1_400_000), (dried, 560_000))
    book.dye({dried: 480_000}, 600_000, code="C")

    found = one(book)
    assert (found.saved, found.lost, found.dyed, found.there) == (
        1_400_000, 840_000, 480_000, 80_000,
    )  # fmt: skip
    assert found.shared[0].run == "C"
    assert adds_up(found)


def test_what_was_composted_or_lies_spoiled_was_not_kept_from_the_bin() -> None:
    book = Book()
    lot = book.take(1_000_000)
    book.post("tip out", (lot, -300_000))
    book.spoiled[lot] = 200_000
    left = book.take(500_000)

    found = one(book)
    assert (found.tipped, found.spoiled, found.there) == (300_000, 200_000, 1_000_000)
    assert (found.kept, found.binned) == (1_000_000, 500_000)
    assert found.where_to == (("compost", 300_000),)
    assert found.saved == 1_500_000
    assert left
    assert adds_up(found)


def test_a_run_taken_back_dyed_nothing() -> None:
    book = Book()
    lot = book.take(1_000_000)
    run = book.dye({lot: 600_000}, 400_000)
    fibre = max(book.lots)
    book.post("correct", (lot, 600_000), (fibre, -400_000), corrects=run)

    found = one(book)
    assert (found.dyed, found.there, found.shared) == (0, 1_000_000, ())


def test_a_hand_over_taken_back_was_none() -> None:
    book = Book()
    lot = book.take(1_000_000)
    book.post("correct", (lot, -1_000_000), corrects="p0")

    assert balances(book.history()) == ()


def test_what_was_found_of_a_hand_over_taken_back_is_still_its_source_s() -> None:
    """One gram received, four more found, one dyed with; then the entry of the one taken back."""
    book = Book()
    lot = book.take(1_000)
    book.post("recount", (lot, 4_000))
    book.dye({lot: 1_000}, 2_000)
    book.post("correct", (lot, -1_000), corrects="p0")

    found = one(book)
    assert (found.received, found.found, found.dyed, found.there) == (0, 4_000, 1_000, 3_000)
    assert found.fibre == (("wool", Fraction(2_000)),)
    assert adds_up(found)


def test_a_correction_of_a_correction_counts_again() -> None:
    book = Book()
    lot = book.take(1_000_000)
    tip = book.post("tip out", (lot, -400_000))
    back = book.post("correct", (lot, 400_000), corrects=tip)
    book.post("correct", (lot, -400_000), corrects=back)

    assert one(book).tipped == 400_000


def test_the_scale_tells_what_a_count_only_guessed() -> None:
    """58 stones are 2,436 g at 42 g; weighed they are 2,410 g (design papers 12, no. 1)."""
    book = Book()
    lot = book.take(2_436_000)
    book.moved[0] = Moved(lot, "p0", 2_436_000, 1, pieces=58)
    book.post("weigh again", (lot, -26_000))

    found = one(book)
    assert (found.received, found.found, found.saved) == (2_410_000, 0, 2_410_000)
    assert found.estimated == 0


def test_what_is_found_on_counting_again_is_said_by_itself() -> None:
    book = Book()
    lot = book.take(1_000_000)
    book.post("recount", (lot, -70_000))

    found = one(book)
    assert (found.received, found.found, found.saved) == (1_000_000, -70_000, 930_000)
    assert adds_up(found)


def test_a_bath_carries_its_dyestuff_into_the_runs_that_use_it() -> None:
    """360 g of nettle make 7.2 L; a run takes half of it and dyes 240 g."""
    book = Book()
    nettle = book.take(360_000, source="Garden", what="nettle")
    bath = book.begin("bath", "nettle bath", "p1")
    book.post("make bath", (nettle, -360_000), (bath, 7_200_000))
    wool = book.begin("fibre", "wool", "p2")
    book.post("dye", (bath, -3_600_000), (wool, 240_000))

    found = one(book)
    assert (found.bathed, found.dyed) == (360_000, 0)
    assert found.shared[0].mg == 180_000
    assert found.fibre == (("wool", Fraction(240_000)),)
    assert adds_up(found)


def test_what_was_given_before_lots_were_kept_is_saved_and_not_on_record() -> None:
    book = Book()
    book.given.append(GivenOver("Lantern Steps café", STONES, DAY, 62, None, 2_604_000))

    found = one(book)
    assert (found.saved, found.off_record, found.pieces, found.estimated) == (
        2_604_000, 2_604_000, 62, 2_604_000,
    )  # fmt: skip
    assert found.kept == 0
    assert adds_up(found)


def test_what_was_gone_before_a_lot_was_noted_is_not_on_record() -> None:
    """58 stones came; 500 g of them were left when the lot was written down."""
    book = Book()
    lot = book.take(500_000)
    book.given[0] = GivenOver("Lantern Steps café", STONES, DAY, 58, None, 2_436_000, lot,
                              whole=False)  # fmt: skip

    found = one(book)
    assert (found.saved, found.off_record, found.there) == (2_436_000, 1_936_000, 500_000)
    assert adds_up(found)


def test_a_lot_noted_with_more_than_was_guessed_hides_nothing() -> None:
    book = Book()
    lot = book.take(2_500_000)
    book.given[0] = GivenOver("Lantern Steps café", STONES, DAY, 58, None, 2_436_000, lot,
                              whole=False)  # fmt: skip

    found = one(book)
    assert (found.saved, found.off_record) == (2_500_000, 0)


@st.composite
def books(draw: st.DrawFn) -> Book:
    """Any ledger that never goes below nothing."""
    book = Book()
    sources = ["Lantern Steps café", "Two Bells", "Hedge"]
    for _ in range(draw(st.integers(1, 25))):
        whole = [k for k, lot in book.lots.items() if lot.kind == "dyestuff" and book.left[k] > 0]
        what = draw(st.sampled_from(["take", "put by", "dye", "tip", "draw", "recount", "back"]))
        if what == "take" or not whole:
            book.take(draw(st.integers(1, 5000)), source=draw(st.sampled_from(sources)))
            continue
        lot = draw(st.sampled_from(whole))
        mg = draw(st.integers(1, book.left[lot]))
        if what == "put by":
            part = book.begin("dyestuff", STONES, f"p{len(book.happened)}", parent=lot)
            book.post("put by", (lot, -mg), (part, draw(st.integers(1, mg))))
        elif what == "dye":
            other = draw(st.sampled_from(whole))
            takes = {lot: mg} | ({other: book.left[other]} if other != lot else {})
            book.dye(takes, draw(st.integers(1, 9000)), code=f"R{len(book.runs)}")
        elif what == "recount":
            book.post("recount", (lot, draw(st.integers(-book.left[lot], 500))))
        elif what == "back":
            key = draw(st.sampled_from(sorted(book.happened)))
            rows = [row for row in book.moved if row.posting == key]
            done = any(row.corrects == key for row in book.happened.values())
            if not done and all(book.left[row.lot] >= row.amount for row in rows):
                book.post("correct", *((r.lot, -r.amount) for r in rows), corrects=key)
        else:
            book.post("tip out" if what == "tip" else "draw", (lot, -mg))
        if draw(st.booleans()):
            book.spoiled[lot] = draw(st.integers(0, 3000))
    return book


@patient
@given(books())
def test_saved_is_what_became_of_it_to_the_milligram(book: Book) -> None:
    rows = balances(book.history())

    assert all(adds_up(row) for row in rows)
    assert all(row.kept + row.binned + row.off_record == row.saved for row in rows)
    there = sum(row.there + row.spoiled for row in rows)
    # A hand-over that was taken back leaves nothing behind, whatever was made of it since.
    kinds = [key for key, lot in book.lots.items() if lot.kind == "dyestuff"]
    assert there == sum(book.left[key] for key in kinds)


@patient
@given(books())
def test_fibre_is_shared_out_whole_and_never_twice(book: Book) -> None:
    rows = balances(book.history())
    shared: defaultdict[str, Fraction] = defaultdict(Fraction)
    for row in rows:
        for part in row.shared:
            assert 0 < part.share <= 1
            shared[part.run] += part.fibre_mg
    made = {
        run.code: sum(
            move.amount
            for move in book.moved
            if book.lots[move.lot].kind == "fibre" and book.lots[move.lot].begun_by == run.posting
        )
        for run in book.runs
    }

    assert {run: mg for run, mg in shared.items() if mg} == {
        run: mg for run, mg in made.items() if mg
    }


@patient
@given(books())
def test_the_order_of_lines_does_not_matter(book: Book) -> None:
    there = book.history()
    turned = History(
        there.given, there.lots, there.moved[::-1], there.happened, there.runs, there.spoiled
    )

    assert balances(turned) == balances(there)
