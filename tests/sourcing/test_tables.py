"""Rules of the tables of intentions, as the database itself keeps them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import time
from decimal import Decimal
from fractions import Fraction
from uuid import uuid4

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, models, transaction

from inventory.models import Lot, Posting, Studio
from inventory.models.scope import NoStudioNamed
from inventory.swatches import keep_swatch, swatch_of
from sourcing import models as tables
from sourcing.models import (
    Agreement,
    Block,
    Chore,
    ChoreDone,
    Claim,
    ClaimUsed,
    Delivery,
    DeliveryLine,
    FastnessWish,
    Hanging,
    Hours,
    KeptPlan,
    KeptStep,
    KeptTake,
    Making,
    NotBegun,
    Offer,
    Order,
    OrderEvent,
    OrderLine,
    PickUp,
    PutByWish,
    Reader,
    ReaderSaid,
    Recipe,
    RecipeDose,
    RecipeStep,
    Run,
    ShadeCard,
    Snippet,
    Source,
    StepDone,
    StepNotDone,
    Supplier,
    TakenWeek,
    TubMove,
    Weather,
)
from sourcing.notebook.load import load_files
from sourcing.snippets import record_snippet
from tests.once import once
from tests.sourcing.notebook.desk import altered, without_readers, yard_files
from tests.sourcing.week.pellitory import MONDAY, MONDAY_0730, nov

pytestmark = pytest.mark.django_db
TABLES = [getattr(tables, name) for name in tables.__all__]


def _load() -> None:
    load_files(without_readers(yard_files()))
    load_files(without_readers(altered("studio.csv", "Pellitory Yard", "Wash House")))


made = once(_load)


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


@pytest.fixture
def other(made: None, db: None) -> Studio:
    return Studio.objects.get(name="Wash House")


def refused(write: Callable[[], object]) -> None:
    """The database refuses it, at once or at the end of the transaction."""

    def whole() -> None:
        with transaction.atomic():
            write()
            connection.check_constraints()

    with pytest.raises(IntegrityError):
        whole()


def test_every_table_is_listed() -> None:
    assert set(apps.get_app_config("sourcing").get_models()) == set(TABLES)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_no_listing_forgets_to_name_a_studio(table: type[models.Model]) -> None:
    with pytest.raises(NoStudioNamed):
        table.objects.all()  # type: ignore[attr-defined]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_no_key_can_be_followed_back_from_below(table: type[models.Model]) -> None:
    for field in table._meta.concrete_fields:
        if isinstance(field, models.ForeignKey):
            below = field.related_model._meta.app_label == "inventory"
            assert not below or field.remote_field.related_name == "+", field.name


def keys() -> list[object]:
    """Every key of every table that points at a row of a studio."""
    return [
        pytest.param(table, field.name, id=f"{table.__name__}.{field.name}")
        for table in TABLES
        for field in table._meta.concrete_fields
        if isinstance(field, models.ForeignKey) and field.name != "studio"
    ]


@pytest.mark.parametrize(("table", "name"), keys())
def test_a_key_points_at_a_row_of_its_own_studio(
    table: type[models.Model], name: str, studio: Studio, other: Studio
) -> None:
    field = table._meta.get_field(name)
    target = field.related_model
    assert isinstance(target, type)
    row = _row_of(table, studio)
    stranger = _row_of(target, other)

    refused(lambda: type(row)._base_manager.filter(pk=row.pk).update(**{name: stranger.pk}))


def _row_of(table: type[models.Model], studio: Studio) -> models.Model:
    """Some row of a table, made where the demo studio has none."""
    found = table.objects.of(studio).order_by("pk").first()  # type: ignore[attr-defined]
    return found or MAKE[table.__name__](studio)


def _site(studio: Studio) -> models.Model:
    site: models.Model = apps.get_model("inventory", "Site").objects.of(studio).create(code="shed")
    return site


def _claim(studio: Studio, **more: object) -> Claim:
    values = {"run": run(studio), "lot": Lot.objects.of(studio).get(code="J2"), "amount": 1}
    return Claim.objects.of(studio).create(
        **{**values, "made_at": MONDAY_0730, "entry": uuid4(), **more}
    )


def _claim_used(studio: Studio) -> ClaimUsed:
    lot = Lot.objects.of(studio).get(code="J2")
    return ClaimUsed.objects.of(studio).create(run=run(studio), lot=lot, entry=uuid4(), amount=1)


def _swatch(studio: Studio) -> models.Model:
    entry = uuid4()
    keep_swatch(studio, entry=entry, at=MONDAY_0730, lot="W-88")
    return swatch_of(studio, entry)


def _put_by(studio: Studio) -> PutByWish:
    return PutByWish.objects.of(studio).create(
        code="olive",
        recipe=Recipe.objects.of(studio).get(code="hedge-olive"),
        runs=4,
        each_mg=600_000,
        since=MONDAY,
        last_on=MONDAY,
    )


def _snippet(studio: Studio) -> models.Model:
    record_snippet(studio, entry=uuid4(), at=MONDAY_0730, run="A", lot="W-88", good=True)
    return Snippet.objects.of(studio).get()


def _reader(studio: Studio, **more: object) -> Reader:
    return Reader.objects.of(studio).create(**{**READER, "mark": uuid4(), **more})


def _of_the_cafe(studio: Studio) -> Reader:
    leave = {"leave_by": "the owner", "leave_on": MONDAY}
    told = {"wants_sheet": False, "wants_day_before": True}
    return _reader(studio, source=cafe(studio), **leave, **told)


def _said(studio: Studio, **more: object) -> ReaderSaid:
    reader = Reader.objects.of(studio).first() or _of_the_cafe(studio)
    values = {"reader": reader, "kind": "dip", "what": "stopped", "at": MONDAY_0730}
    return ReaderSaid.objects.of(studio).create(**{**values, **more})


def supplier(studio: Studio) -> Supplier:
    found = Supplier.objects.of(studio).filter(name="mill").first()
    return found or Supplier.objects.of(studio).create(name="mill", lead_days=5, weekdays=[0])


def offer(studio: Studio) -> Offer:
    found = Offer.objects.of(studio).first()
    return found or Offer.objects.of(studio).create(supplier=supplier(studio), **SOLD)


def order(studio: Studio) -> Order:
    found = Order.objects.of(studio).first()
    return found or Order.objects.of(studio).create(
        **{**ORDERED, "supplier": supplier(studio), "entry": uuid4(), "number": 2026001}
    )


def order_line(studio: Studio) -> OrderLine:
    found = OrderLine.objects.of(studio).first()
    return found or OrderLine.objects.of(studio).create(
        order=order(studio), number=1, offer=offer(studio), **LINE
    )


def _order_event(studio: Studio) -> OrderEvent:
    return OrderEvent.objects.of(studio).create(
        order=order(studio), entry=uuid4(), what="sent", at=MONDAY_0730, arrives_on=MONDAY
    )


def delivery(studio: Studio) -> Delivery:
    found = Delivery.objects.of(studio).first()
    return found or Delivery.objects.of(studio).create(
        order=order(studio), entry=uuid4(), body_sha256="", at=MONDAY_0730
    )


def posting(studio: Studio) -> Posting:
    found = Posting.objects.of(studio).order_by("pk").first()
    assert found is not None
    return found


def _delivery_line(studio: Studio) -> DeliveryLine:
    return DeliveryLine.objects.of(studio).create(
        delivery=delivery(studio),
        line=order_line(studio),
        packs=1,
        net_mg=1,
        lot_code="W-99",
        posting=posting(studio),
    )


def _tubs(studio: Studio) -> TubMove:
    values = {"source": cafe(studio), "at": MONDAY_0730, "how": "left", "tubs": 1}
    return TubMove.objects.of(studio).create(**values, entry=uuid4())


def plan(studio: Studio) -> KeptPlan:
    found = KeptPlan.objects.of(studio).first()
    return found or KeptPlan.objects.of(studio).create(
        run=run(studio), entry=uuid4(), begun_at=MONDAY_0730
    )


def kept_step(studio: Studio) -> KeptStep:
    return KeptStep.objects.of(studio).create(plan=plan(studio), **KEPT_STEP)


def kept_take(studio: Studio) -> KeptTake:
    return KeptTake.objects.of(studio).create(plan=plan(studio), **KEPT_TAKE)


def step_done(studio: Studio) -> StepDone:
    return StepDone.objects.of(studio).create(plan=plan(studio), **SAID_DONE, entry=uuid4())


def not_done(studio: Studio) -> StepNotDone:
    return StepNotDone.objects.of(studio).create(
        done=step_done(studio), entry=uuid4(), at=MONDAY_0730
    )


def not_begun(studio: Studio) -> NotBegun:
    return NotBegun.objects.of(studio).create(plan=plan(studio), entry=uuid4(), at=MONDAY_0730)


def _taken(studio: Studio, **values: object) -> TakenWeek:
    given = {"entry": uuid4(), "at": MONDAY_0730, "until": nov(30), **values}
    return TakenWeek.objects.of(studio).create(**given)


def _chore_done(studio: Studio) -> ChoreDone:
    values = {"entry": uuid4(), "day": nov(27).date(), "what": "group prep", "at": MONDAY_0730}
    return ChoreDone.objects.of(studio).create(**values)


MAKE: dict[str, Callable[[Studio], models.Model]] = {
    "Supplier": supplier,
    "Offer": offer,
    "Order": order,
    "OrderLine": order_line,
    "OrderEvent": _order_event,
    "Delivery": delivery,
    "DeliveryLine": _delivery_line,
    "Site": _site,
    "Claim": _claim,
    "ClaimUsed": _claim_used,
    "PutByWish": _put_by,
    "KeptPlan": plan,
    "KeptStep": kept_step,
    "KeptTake": kept_take,
    "StepDone": step_done,
    "StepNotDone": not_done,
    "NotBegun": not_begun,
    "Swatch": _swatch,
    "Snippet": _snippet,
    "TakenWeek": _taken,
    "ChoreDone": _chore_done,
    "TubMove": _tubs,
    "Reader": _of_the_cafe,
    "ReaderSaid": _said,
}


def run(studio: Studio) -> Run:
    return Run.objects.of(studio).get(code="A")


def blush(studio: Studio) -> Recipe:
    return Recipe.objects.of(studio).get(code="blush")


def cafe(studio: Studio) -> Source:
    return Source.objects.of(studio).get(name="Lantern Steps café")


def make(table: type[models.Model], **values: object) -> Callable[[Studio], models.Model]:
    """A row with such values; what is a function is asked of the studio."""

    def made(studio: Studio) -> models.Model:
        given = {
            name: value(studio) if callable(value) else value for name, value in values.items()
        }
        row: models.Model = table.objects.of(studio).create(**given)  # type: ignore[attr-defined]
        return row

    return made


SOLD = {"fibre": "wool", "form": "yarn", "pack_mg": 1, "tiers": [[0, 1]]}
LINE = {"fibre": "wool", "form": "yarn", "pack_mg": 1, "packs": 1, "pack_minor": 1}
ORDERED = {"body_sha256": "", "written_at": nov(1), "currency": "GBP"}
OFFERED = {"supplier": supplier, **SOLD}
AN_ORDER = {"supplier": supplier, "entry": lambda _: uuid4(), "number": 2026002, **ORDERED}
A_LINE = {"order": order, "number": 2, **LINE}
EVENT = {"order": order, "entry": lambda _: uuid4(), "at": nov(1)}
SENT = {**EVENT, "what": "sent", "arrives_on": MONDAY}
CAME = {
    "delivery": delivery,
    "line": order_line,
    "packs": 1,
    "net_mg": 1,
    "lot_code": "x",
    "posting": posting,
}
AGREED = {"source": cafe, "gives": "nettle", "at": time(9)}
LEAVE = {**AGREED, "permission_by": "x", "permission_on": MONDAY, "permission_ended": MONDAY}
PICKED = {"source": cafe, "gives": "nettle", "at": nov(1), "how": "made", "weight_mg": 1}
IN = {"who": "x", "weekday": 0, "hands_min": 60, "opens": time(9), "closes": time(10)}
STEP = {"recipe": blush, "number": 9, "name": "x", "kind": "dye"}
DOSE = {"recipe": blush, "number": 9, "step": "dye", "what": "x", "kind": "supply"}
SHADE = {
    "code": "x",
    "body_sha256": "",
    "shade": "X",
    "l_per_kg": Fraction(30),
    "bright": True,
}
PUT_BY = {"code": "x", "dyestuff": "privet", "runs": 1, "each_mg": 1, "since": MONDAY,
          "last_on": MONDAY}  # fmt: skip
TUBS = {"source": cafe, "at": nov(1), "how": "left", "tubs": 1, "entry": uuid4()}
WANTED = {"code": "x", "recipe": blush, "fibre": "wool", "weight_mg": 1}
CLASS = {"code": "x", "what": "class", "since": nov(1), "until": nov(2)}
HUNG = {"line": "line", "since": nov(1), "until": nov(2), "weight_mg": 1}
MADE = {"bath": "x", "dyestuff": "y", "state": "dried", "g_per_litre": Decimal(1), "hands_min": 1}
READER = {
    "name": "x",
    "address": "x@pellitory-yard.example",
    "wants_sheet": True,
    "sheet_at": time(7, 30),
    "since": MONDAY,
    "mark": uuid4(),
}
TOLD = {
    **READER,
    "source": cafe,
    "wants_sheet": False,
    "wants_day_before": True,
    "leave_by": "y",
    "leave_on": MONDAY,
}
KEPT_STEP = {"number": 1, "step": "scour", "kind": "scour", "round": 1, "load": 1,
             "since": nov(1), "until": nov(2), "held_until": nov(2), "hands_min": 0,
             "volume_ul": 0, "weight_mg": 0, "heat_min": 0, "hold_min": 0}  # fmt: skip
KEPT_TAKE = {"number": 1, "lot_code": "J2", "what": "iron", "amount": 1, "unit": "µL",
             "at": nov(1), "left_after": 0}  # fmt: skip
SAID_DONE = {"step": "scour", "round": 1, "at": nov(2)}
A_STEP = {"plan": plan, **KEPT_STEP}
A_TAKE = {"plan": plan, **KEPT_TAKE}
A_DONE = {"plan": plan, **SAID_DONE, "entry": lambda _: uuid4(), "begun_at": nov(2)}
WISH = {"run": run, "what": "rub", "wanted": Decimal(4)}


@pytest.mark.parametrize(
    ("table", "right", "wrong"),
    [
        (Source, {"name": "x"}, {"name": ""}),
        (Source, {"name": "x"}, {"name": "Lantern Steps café"}),
        (Source, {"name": "x"}, {"carrying_until": MONDAY}),
        (Agreement, AGREED, {"gives": ""}),
        (Agreement, AGREED, {"permission_ended": MONDAY}),
        (Agreement, LEAVE, {"permission_ended": nov(22).date()}),
        (Agreement, AGREED, {"gives": "avocado stones"}),
        (Agreement, {**AGREED, "since": MONDAY, "last_on": MONDAY}, {"since": nov(24).date()}),
        (PickUp, PICKED, {"how": "hoped for"}),
        (PickUp, PICKED, {"how": "missed"}),
        (PickUp, PICKED, {"weight_mg": None}),
        (PickUp, {**PICKED, "nests_by": "x", "nests_on": MONDAY}, {"nests_on": None}),
        (PickUp, PICKED, {"nests_on": MONDAY}),
        (PickUp, PICKED, {"gives": "avocado stones", "at": nov(2, 17)}),
        (Source, {"name": "x"}, {"tubs_there": -1}),
        (TubMove, TUBS, {"tubs": 0}),
        (TubMove, TUBS, {"how": "lent"}),
        (Hours, IN, {"day": MONDAY}),
        (Hours, IN, {"weekday": None}),
        (Hours, IN, {"weekday": 7}),
        (Hours, IN, {"closes": time(9)}),
        (Hours, IN, {"opens": None, "closes": time(8)}),
        (Hours, {**IN, "hands_min": 1440}, {"hands_min": 1441}),
        (Block, CLASS, {"until": nov(1)}),
        (Block, CLASS, {"code": "group"}),
        (
            Chore,
            {"day": MONDAY, "what": "x", "hands_min": 0},
            {"what": "check W-85 for mould, re-scour"},
        ),
        (Hanging, HUNG, {"until": nov(1)}),
        (Recipe, SHADE, {"code": "blush"}),
        (Recipe, SHADE, {"version": 0}),
        (Recipe, SHADE, {"match": "any"}),
        (Recipe, SHADE, {"depth": 6}),
        (Recipe, {**SHADE, "depth": 1}, {"depth": 0}),
        (RecipeStep, STEP, {"number": 1}),
        (RecipeStep, STEP, {"name": "dye"}),
        (RecipeStep, STEP, {"hands_per": "day"}),
        (RecipeStep, {**STEP, "stand_min": 60, "stand_max": 60}, {"stand_max": 59}),
        (RecipeDose, DOSE, {"kind": "magic"}),
        (RecipeDose, DOSE, {"number": 1}),
        (Making, MADE, {"dyestuff": "x"}),
        (Making, MADE, {"bath": "nettle bath"}),
        (Run, WANTED, {"weight_mg": 0}),
        (Run, WANTED, {"code": "A"}),
        (KeptStep, A_STEP, {"since": nov(3)}),
        (KeptTake, A_TAKE, {"amount": 0}),
        (KeptTake, A_TAKE, {"unit": "kg"}),
        (StepDone, A_DONE, {"begun_at": nov(3)}),
        (FastnessWish, WISH, {"what": "smell"}),
        (
            FastnessWish,
            WISH,
            {"what": "light", "run": lambda studio: Run.objects.of(studio).get(code="B")},
        ),
        (Reader, READER, {"name": ""}),
        (Reader, READER, {"address": "nobody"}),
        (Reader, READER, {"address": "two words@pellitory-yard.example"}),
        (Reader, READER, {"address": "x@pellitory-yard.example\nBcc:y@mill.example"}),
        (Reader, READER, {"wants_sheet": False}),
        (Reader, READER, {"sheet_at": None}),
        (Reader, READER, {"wants_day_before": True}),
        (Reader, READER, {"quiet_from": time(21)}),
        (Reader, READER, {"quiet_from": time(21), "quiet_until": time(21)}),
        (Reader, TOLD, {"wants_dip": True}),
        (Reader, TOLD, {"wants_day_before": False, "wants_sheet": True}),
        (Reader, TOLD, {"leave_by": ""}),
        (Reader, TOLD, {"leave_on": None}),
        (Weather, {"day": MONDAY}, {"day": None}),
        (Supplier, {"name": "x", "lead_days": 400}, {"lead_days": 401}),
        (Supplier, {"name": "x", "lead_days": 0}, {"name": ""}),
        (Offer, OFFERED, {"pack_mg": 0}),
        (Offer, OFFERED, {"fibre": ""}),
        (Offer, OFFERED, {"form": ""}),
        (Offer, {**OFFERED, "scoured": True}, {"scour_loss": Fraction(1, 20)}),
        (Offer, {**OFFERED, "since": MONDAY, "last_on": MONDAY}, {"since": nov(24).date()}),
        (Order, AN_ORDER, {"number": 999}),
        (Order, {**AN_ORDER, "number": 2_199_999}, {"number": 2_200_000}),
        (OrderLine, A_LINE, {"packs": 0}),
        (OrderLine, A_LINE, {"pack_mg": 0}),
        (OrderEvent, SENT, {"what": "lost"}),
        (OrderEvent, SENT, {"arrives_on": None}),
        (OrderEvent, {**EVENT, "what": "called off"}, {"arrives_on": MONDAY}),
        (DeliveryLine, CAME, {"packs": 0}),
        (DeliveryLine, CAME, {"net_mg": 0}),
        (DeliveryLine, CAME, {"lot_code": ""}),
        (PutByWish, PUT_BY, {"dyestuff": ""}),
        (PutByWish, PUT_BY, {"recipe": blush}),
        (PutByWish, {**PUT_BY, "dyestuff": "", "recipe": blush}, {"state": "dried"}),
        (PutByWish, {**PUT_BY, "state": "dried"}, {"state": "fresh"}),
        (PutByWish, PUT_BY, {"runs": 0}),
        (PutByWish, {**PUT_BY, "runs": 100}, {"runs": 101}),
        (PutByWish, PUT_BY, {"each_mg": 0}),
        (PutByWish, PUT_BY, {"last_on": nov(22).date()}),
        (PutByWish, {**PUT_BY, "spread": "evenly"}, {"spread": "oddly"}),
        (PutByWish, PUT_BY, {"code": ""}),
    ],
)
def test_a_rule_lets_the_right_row_in_and_keeps_the_wrong_one_out(
    table: type[models.Model], right: dict[str, object], wrong: dict[str, object], studio: Studio
) -> None:
    refused(lambda: make(table, **{**right, **wrong})(studio))

    make(table, **right)(studio)
    connection.check_constraints()


def test_a_supplier_and_an_order_have_names_and_numbers_of_their_own(studio: Studio) -> None:
    supplier(studio)
    order(studio)

    refused(lambda: Supplier.objects.of(studio).create(name="mill", lead_days=1))
    refused(lambda: make(Order, **{**AN_ORDER, "number": 2026001})(studio))


def test_an_offer_stands_once_from_a_day_on(studio: Studio) -> None:
    make(Offer, **OFFERED)(studio)
    refused(lambda: make(Offer, **OFFERED)(studio))
    make(Offer, **{**OFFERED, "since": MONDAY})(studio)
    refused(lambda: make(Offer, **{**OFFERED, "since": MONDAY})(studio))


def test_an_order_is_sent_and_called_off_once_but_confirmed_again(studio: Studio) -> None:
    make(OrderEvent, **SENT)(studio)
    refused(lambda: make(OrderEvent, **SENT)(studio))
    make(OrderEvent, **{**SENT, "what": "confirmed"})(studio)
    make(OrderEvent, **{**SENT, "what": "confirmed"})(studio)
    make(OrderEvent, **{**EVENT, "what": "called off"})(studio)
    refused(lambda: make(OrderEvent, **{**EVENT, "what": "called off"})(studio))


def test_a_run_has_one_shade_card(studio: Studio) -> None:
    refused(lambda: ShadeCard.objects.of(studio).create(run=run(studio), approved=True))


def test_a_claim_is_of_something_and_released_after_it_was_made(studio: Studio) -> None:
    refused(lambda: _claim(studio, amount=0))
    refused(lambda: _claim(studio, released_at=nov(1)))
    _claim(studio, released_at=MONDAY_0730)


def test_a_person_is_written_to_once_in_any_case_of_letters(studio: Studio) -> None:
    _reader(studio)
    refused(lambda: _reader(studio, name="y", address="X@Pellitory-Yard.example"))
    _reader(studio, name="y", address="y@pellitory-yard.example")


def test_a_source_is_written_to_once(studio: Studio) -> None:
    _of_the_cafe(studio)
    told = {"wants_sheet": False, "wants_day_before": True, "leave_by": "y", "leave_on": MONDAY}
    refused(lambda: _reader(studio, name="y", source=cafe(studio), **told))


@pytest.mark.parametrize("wrong", [{"kind": "gossip"}, {"what": "paused"}])
def test_a_reader_stops_or_begins_a_kind_that_is_known(
    wrong: dict[str, object], studio: Studio
) -> None:
    refused(lambda: _said(studio, **wrong))
    _said(studio)
    _said(studio, kind="all", what="begun again")


def test_a_taken_week_ends_after_it_is_taken(studio: Studio) -> None:
    refused(lambda: _taken(studio, until=MONDAY_0730))
    _taken(studio)
