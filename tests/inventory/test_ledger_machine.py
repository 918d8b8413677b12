"""Everything that can happen to lots, in any order, against a model in plain numbers.

Short in the suite. `DYE_LARDER_LONG=10000` plays that many histories of up to 50 steps. Both print
how often each verb ran.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import transaction
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    precondition,
    rule,
    run_state_machine_as_test,
)

from inventory import fibre, ledger
from inventory.audit import audit
from inventory.corrections import correct
from inventory.entries import Fibre, Lost, Made, NewLot
from inventory.errors import (
    AlreadyCorrected,
    BeforeItBegan,
    EntryUsed,
    LarderError,
    NotConserved,
    NotEnough,
    NothingLeft,
    TakenSince,
)
from inventory.models import Studio
from inventory.posting import Posted
from inventory.seal import seal_all
from inventory.shelves import left_at, shelf_at
from tests.inventory.larder import BENCH, DAY, FREEZER, FRIDGE, MONDAY_NINE, G, studio_of

LONG = int(os.environ.get("DYE_LARDER_LONG") or 0)
PROFILE = settings(
    max_examples=LONG or 25,
    stateful_step_count=50 if LONG else 30,
    deadline=None,
    derandomize=not LONG,
    # A history is told step by step when it fails; making it shorter may take many minutes.
    phases=(Phase.generate,),
    report_multiple_bugs=False,
    suppress_health_check=list(HealthCheck),
    database=None,
)
RAN: Counter[str] = Counter()
THE_END = MONDAY_NINE + 400 * DAY
PICK = st.integers(0, 11)
GRAMS = st.integers(1, 400)
DAYS = st.integers(0, 20)


@dataclass
class Lot:
    """A lot of the model."""

    code: str
    left: int
    began: int  # day
    wool: bool = False


@dataclass
class Told:
    """An entry as it was sent, with its answer; `send` sends it again."""

    posted: Posted
    send: Callable[[], Posted]
    turned: frozenset[str] = frozenset()
    counted: frozenset[str] = frozenset()
    corrects: Told | None = None
    corrected: bool = False


@dataclass
class House:
    """A studio with the model's view of it."""

    studio: Studio
    lots: list[Lot] = field(default_factory=list)
    told: list[Told] = field(default_factory=list)

    def pick(self, n: int, *, wool: bool = False) -> Lot | None:
        lots = [lot for lot in self.lots if lot.wool == wool]
        return lots[n % len(lots)] if lots else None


class Ledger(RuleBasedStateMachine):
    """Two studios, several lots, three places; late, shuffled and repeated entries."""

    def __init__(self) -> None:
        super().__init__()
        self.savepoint = transaction.atomic()
        self.savepoint.__enter__()
        self.houses = (House(studio_of("Pellitory Yard")), House(studio_of("Quillet Barn")))
        self.codes = 0

    def teardown(self) -> None:
        try:
            for house in self.houses:
                self.compare(house)
                seal_all(house.studio, batch=40)
                assert audit(house.studio) == []
        finally:
            transaction.set_rollback(True)
            self.savepoint.__exit__(None, None, None)

    def compare(self, house: House) -> None:
        """What is left in the ledger is what is left in the model."""
        shelf = shelf_at(house.studio, at=THE_END)
        shown = {lot.code: lot.left_mg for lot in (*shelf.lots, *shelf.fibre)}
        assert shown == {lot.code: lot.left for lot in house.lots if lot.left}
        for lot in house.lots[:3]:
            assert left_at(house.studio, lot.code, at=THE_END).amount == lot.left

    # What happened

    @initialize()
    def three_lots_each(self) -> None:
        for house in self.houses:
            for grams in (300, 600, 900):
                self.receive_into(house, grams, 0, wool=False)
            self.receive_into(house, 800, 0, wool=True)

    @rule(who=st.booleans(), grams=GRAMS, day=DAYS, wool=st.booleans())
    def receive(self, who: bool, grams: int, day: int, wool: bool) -> None:
        self.receive_into(self.houses[who], grams, day, wool=wool)

    def receive_into(self, house: House, grams: int, day: int, *, wool: bool) -> None:
        code = self.code()

        def send(entry: UUID) -> Posted:
            at = MONDAY_NINE + day * DAY
            if wool:
                return fibre.receive(
                    house.studio,
                    entry=entry,
                    at=at,
                    lot=NewLot(code, "wool"),
                    amount=grams * G,
                    form="yarn",
                    fibre=Fibre(),
                )
            lot = NewLot(code, "avocado stones", state="fresh", place=FRIDGE)
            return ledger.receive(house.studio, entry=entry, at=at, lot=lot, amount=grams * G)

        house.lots.append(Lot(code, 0, day, wool))
        self.tell(house, "receive", send, None, counted={code})

    @rule(who=st.booleans(), pieces=st.integers(1, 60), piece=st.integers(30, 50), day=DAYS)
    def count(self, who: bool, pieces: int, piece: int, day: int) -> None:
        house, code = self.houses[who], self.code()
        lot = NewLot(code, "avocado stones", state="fresh", place=BENCH)
        house.lots.append(Lot(code, 0, day))
        self.tell(
            house,
            "count",
            lambda entry: ledger.receive_count(
                house.studio,
                entry=entry,
                at=MONDAY_NINE + day * DAY,
                lot=lot,
                pieces=pieces,
                piece_mg=piece * G,
            ),
            None,
        )

    @rule(who=st.booleans(), n=PICK, more=PICK, grams=GRAMS, day=DAYS)
    def draw(self, who: bool, n: int, more: int, grams: int, day: int) -> None:
        house = self.houses[who]
        lots = self.some(house, n, more)
        self.tell(
            house,
            "draw",
            lambda entry: ledger.draw(
                house.studio,
                entry=entry,
                at=MONDAY_NINE + day * DAY,
                takes=[(lot.code, grams * G) for lot in lots],
            ),
            self.first(lots, day, grams * G),
        )

    @rule(who=st.booleans(), n=PICK, day=DAYS)
    def tip_out(self, who: bool, n: int, day: int) -> None:
        house = self.houses[who]
        (lot,) = self.some(house, n)
        refusal = self.late([lot], day)
        self.tell(
            house,
            "tip out",
            lambda entry: ledger.tip_out(
                house.studio,
                entry=entry,
                at=MONDAY_NINE + day * DAY,
                takes=[(lot.code, None)],
                where_to="compost",
            ),
            refusal,
        )

    @rule(who=st.booleans(), n=PICK, grams=st.integers(0, 500), day=DAYS, scale=st.booleans())
    def measure(self, who: bool, n: int, grams: int, day: int, scale: bool) -> None:
        house = self.houses[who]
        (lot,) = self.some(house, n)
        verb = ledger.weigh_again if scale else ledger.recount
        self.tell(
            house,
            "weigh again" if scale else "recount",
            lambda entry: verb(
                house.studio,
                entry=entry,
                at=MONDAY_NINE + day * DAY,
                lot=lot.code,
                found=grams * G,
            ),
            self.late([lot], day),
            counted={lot.code},
        )

    @rule(who=st.booleans(), n=PICK, grams=GRAMS, day=DAYS, lost=st.integers(0, 3))
    def put_by_a_part(self, who: bool, n: int, grams: int, day: int, lost: int) -> None:
        house = self.houses[who]
        (lot,) = self.some(house, n)
        code, becomes = self.code(), grams * G - grams * G * lost // 4
        refusal = self.late([lot], day) or self.empty(lot) or self.short([lot], grams * G)
        if refusal is None:
            house.lots.append(Lot(code, 0, day))
        self.tell(
            house,
            "dry a part with loss" if lost else "put by a part",
            lambda entry: ledger.put_by(
                house.studio,
                entry=entry,
                at=MONDAY_NINE + day * DAY,
                lot=lot.code,
                state="dried" if lost else "frozen",
                place=BENCH if lost else FREEZER,
                amount=grams * G,
                becomes=becomes,
                code=code,
            ),
            refusal,
            turned={lot.code, code},
        )

    @rule(who=st.booleans(), n=PICK, day=DAYS, lost=st.integers(0, 3))
    def put_by_all(self, who: bool, n: int, day: int, lost: int) -> None:
        house = self.houses[who]
        (lot,) = self.some(house, n)
        becomes = lot.left - lot.left * lost // 4
        self.tell(
            house,
            "dry all with loss" if lost else "put by all",
            lambda entry: ledger.put_by(
                house.studio,
                entry=entry,
                at=MONDAY_NINE + day * DAY,
                lot=lot.code,
                state="dried",
                place=BENCH,
                becomes=becomes,
            ),
            self.late([lot], day) or self.empty(lot),
            turned={lot.code},
            counted={lot.code},
        )

    @rule(who=st.booleans(), n=PICK, m=PICK, grams=GRAMS, fluff=st.integers(0, 9), day=DAYS)
    def dye(self, who: bool, n: int, m: int, grams: int, fluff: int, day: int) -> None:
        house = self.houses[who]
        (stones,) = self.some(house, n)
        wool = house.pick(m, wool=True)
        assert wool is not None
        fluff = min(fluff, grams - 1)
        code = self.code()
        refusal = self.first([wool, stones], day, grams * G)
        if refusal is None:
            house.lots.append(Lot(code, 0, day, wool=True))
        self.tell(
            house,
            "dye",
            lambda entry: ledger.dye(
                house.studio,
                entry=entry,
                at=MONDAY_NINE + day * DAY,
                takes=[(wool.code, grams * G), (stones.code, grams * G)],
                makes=[Made(wool.code, code, (grams - fluff) * G, Fibre(shade="Blush"))],
                losses=[Lost("wool", fluff * G)] if fluff else [],
            ),
            refusal,
            turned={wool.code, code},
        )

    @rule(who=st.booleans(), n=PICK, grams=GRAMS)
    def dye_that_does_not_add_up(self, who: bool, n: int, grams: int) -> None:
        house = self.houses[who]
        wool = house.pick(n, wool=True)
        assert wool is not None
        self.tell(
            house,
            "dye",
            lambda entry: ledger.dye(
                house.studio,
                entry=entry,
                at=THE_END,
                takes=[(wool.code, grams * G)],
                makes=[Made(wool.code, f"never-{grams}", grams * G + 1, Fibre())],
            ),
            self.short([wool], grams * G) or NotConserved,
        )

    @rule(who=st.booleans(), n=st.integers(0, 40))
    def take_back(self, who: bool, n: int) -> None:
        house = self.houses[who]
        wrong = house.told[n % len(house.told)]
        change = {row.lot: -row.amount for row in wrong.posted.moved}
        self.put_right(house, "take back", wrong, None, change)

    @rule(who=st.booleans(), n=st.integers(0, 40), grams=st.integers(0, 500))
    def put_right_an_amount(self, who: bool, n: int, grams: int) -> None:
        house = self.houses[who]
        wrong = house.told[n % len(house.told)]
        chain = _chain(wrong)
        code = wrong.posted.moved[0].lot
        first = next(row for row in chain[-1].posted.moved if row.lot == code)
        if code in chain[-1].counted:
            should = grams * G - (first.left_after - first.amount)
        else:
            should = grams * G if first.amount > 0 else -grams * G
        change = {code: should - sum(_amount(one, code) for one in chain)}
        self.put_right(house, "put right", wrong, {code: grams * G}, change)

    def put_right(
        self,
        house: House,
        name: str,
        wrong: Told,
        amounts: dict[str, int] | None,
        change: dict[str, int],
    ) -> None:
        refusal: type[LarderError] | None = None
        by_code = {lot.code: lot for lot in house.lots}
        chain = _chain(wrong)
        turned = chain[-1].turned
        loss = -sum(_amount(one, code) for one in chain for code in turned)
        loss -= sum(amount for code, amount in change.items() if code in turned)
        if wrong.corrected:
            refusal = AlreadyCorrected
        elif any(by_code[code].left + amount < 0 for code, amount in change.items()):
            refusal = TakenSince
        elif loss < 0:
            refusal = NotConserved
        told = self.tell(
            house,
            name,
            lambda entry: correct(
                house.studio, entry=entry, corrects=wrong.posted.entry, amounts=amounts
            ),
            refusal,
            corrects=wrong,
        )
        if told is not None:
            wrong.corrected = True

    # What comes twice

    @rule(who=st.booleans(), n=st.integers(0, 60))
    def send_again(self, who: bool, n: int) -> None:
        house = self.houses[who]
        told = house.told[n % len(house.told)]

        again = told.send()

        RAN["send again"] += 1
        assert again == told.posted
        assert again.again

    @rule(who=st.booleans(), n=st.integers(0, 60))
    def send_other_words_under_an_old_entry(self, who: bool, n: int) -> None:
        house = self.houses[who]
        told = house.told[n % len(house.told)]

        with pytest.raises(EntryUsed):
            ledger.draw(
                house.studio,
                entry=told.posted.entry,
                at=THE_END,
                takes=[(house.lots[0].code, 77)],
                note="other words",
            )
        RAN["old entry, other words"] += 1

    @precondition(lambda self: len(self.houses[0].told) > 4)
    @rule(n=st.integers(0, 60), grams=GRAMS)
    def use_the_other_studio_s_entry(self, n: int, grams: int) -> None:
        one, two = self.houses
        entry = one.told[n % len(one.told)].posted.entry
        if any(told.posted.entry == entry for told in two.told):
            return
        code = self.code()
        lot = NewLot(code, "avocado stones", state="fresh", place=FRIDGE)
        two.lots.append(Lot(code, 0, 0))
        self.tell(
            two,
            "entry of another studio",
            lambda entry: ledger.receive(
                two.studio, entry=entry, at=MONDAY_NINE, lot=lot, amount=grams * G
            ),
            None,
            counted={code},
            entry=entry,
        )

    # How it is told and what is expected

    def tell(
        self,
        house: House,
        name: str,
        send: Callable[[UUID], Posted],
        refusal: type[LarderError] | None,
        *,
        turned: set[str] | None = None,
        counted: set[str] | None = None,
        corrects: Told | None = None,
        entry: UUID | None = None,
    ) -> Told | None:
        key = entry or uuid4()
        if refusal is not None:
            with pytest.raises(refusal):
                send(key)
            RAN[f"{name}, refused"] += 1
            return None
        posted = send(key)
        RAN[name] += 1
        assert not posted.again
        by_code = {lot.code: lot for lot in house.lots}
        for row in posted.moved:
            by_code[row.lot].left += row.amount
            assert by_code[row.lot].left == row.left_after >= 0
        told = Told(
            posted,
            lambda: send(key),
            frozenset(turned or ()),
            frozenset(counted or ()),
            corrects,
        )
        house.told.append(told)
        return told

    def code(self) -> str:
        self.codes += 1
        return f"L-{self.codes:03d}"

    def some(self, house: House, *numbers: int) -> list[Lot]:
        picked = {lot.code: lot for n in numbers if (lot := house.pick(n)) is not None}
        return list(picked.values())

    def first(self, lots: list[Lot], day: int, amount: int) -> type[LarderError] | None:
        """The refusal that comes first, lot by lot as they are named."""
        for lot in lots:
            refusal = self.late([lot], day) or self.short([lot], amount)
            if refusal is not None:
                return refusal
        return None

    def late(self, lots: list[Lot], day: int) -> type[LarderError] | None:
        return BeforeItBegan if any(day < lot.began for lot in lots) else None

    def short(self, lots: list[Lot], amount: int) -> type[LarderError] | None:
        return NotEnough if any(lot.left < amount for lot in lots) else None

    def empty(self, lot: Lot) -> type[LarderError] | None:
        return None if lot.left else NothingLeft


def _chain(told: Told) -> list[Told]:
    chain = [told]
    while chain[-1].corrects is not None:
        chain.append(chain[-1].corrects)
    return chain


def _amount(told: Told, code: str) -> int:
    return sum(row.amount for row in told.posted.moved if row.lot == code)


def test_no_history_finds_a_fault(db: Any, capsys: pytest.CaptureFixture[str]) -> None:
    RAN.clear()

    run_state_machine_as_test(Ledger, settings=PROFILE)

    with capsys.disabled():
        print(f"\n{PROFILE.max_examples} histories:", end="")
        for name, times in sorted(RAN.items()):
            print(f" {name} {times};", end="")
        print()
    wanted = {"receive", "count", "draw", "tip out", "recount", "weigh again", "take back", "dye"}
    assert wanted <= set(RAN)
    assert RAN["draw, refused"] > 0
