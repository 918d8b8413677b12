"""Each rule of the ledger in the database itself: raw SQL that breaks it is refused."""

from __future__ import annotations

import uuid

import pytest
from django.apps import apps
from django.db import connection, models

from inventory import fibre, guards, jars, ledger
from inventory.corrections import correct
from inventory.entries import Fibre, NewLot
from inventory.models import Loss, Lot, Movement, Posting, Seal, Sealed, Stay, Studio
from inventory.models.movements import OfPosting
from inventory.models.scope import OfStudio
from inventory.posting import Posted
from inventory.seal import seal
from tests.inventory.larder import BENCH, DAY, HOUR, MONDAY_NINE, G, stones
from tests.inventory.raw import copy, execute, insert, key, refused, row_of

MOVEMENT = "inventory_movement"
POSTING = "inventory_posting"


def _draw(studio: Studio, grams: int = 200, code: str = "AV-1116") -> Posted:
    return ledger.draw(studio, entry=uuid.uuid4(), at=MONDAY_NINE, takes=[(code, grams * G)])


def _posting(studio: Studio, posted: Posted) -> Posting:
    return Posting.objects.of(studio).get(entry=posted.entry)


def _last(studio: Studio) -> Movement:
    found = Movement.objects.of(studio).order_by("number").last()
    assert found is not None
    return found


def _open(studio: Studio, posted: Posted, *, kind: str = "draw", **changes: object) -> uuid.UUID:
    """The key of a posting still to be written, and what to write it with."""
    new = uuid.uuid4()
    row = row_of(POSTING, key(_posting(studio, posted).pk))
    row |= {"id": key(new), "entry": key(uuid.uuid4()), "kind": kind, **changes}
    _WAITING[new] = row
    return new


_WAITING: dict[uuid.UUID, dict[str, object]] = {}


def _close(new: uuid.UUID) -> None:
    insert(POSTING, _WAITING.pop(new))


def _move(studio: Studio, new: uuid.UUID, amount: int, **changes: object) -> None:
    last = _last(studio)
    row = {
        "posting_id": key(new),
        "number": last.number + 1,
        "follows": last.number,
        "amount": amount,
        "left_before": last.left_after,
        "left_after": last.left_after + amount,
        "counted": None,
    }
    copy(MOVEMENT, last.pk, **(row | changes))


@pytest.mark.parametrize("table", [MOVEMENT, POSTING, "inventory_lot", "inventory_stay"])
def test_what_was_written_is_never_changed(studio: Studio, table: str) -> None:
    stones(studio)

    with refused("never_changed"):
        execute(f'UPDATE "{table}" SET studio_id = studio_id')


@pytest.mark.parametrize("table", [MOVEMENT, POSTING, "inventory_lot", "inventory_stay"])
def test_what_was_written_is_never_deleted(studio: Studio, table: str) -> None:
    stones(studio)

    with refused("never_deleted"):
        execute(f'DELETE FROM "{table}"')


@pytest.mark.needs_sqlite
def test_what_was_written_is_never_replaced_by_its_key(studio: Studio) -> None:
    stones(studio)
    row = row_of(MOVEMENT, _last(studio).pk)

    with refused("movement_never_replaced"):
        insert(MOVEMENT, row | {"posting_id": key(uuid.uuid4())}, how="INSERT OR REPLACE")


@pytest.mark.needs_sqlite
def test_what_was_written_is_never_replaced_by_its_number(studio: Studio) -> None:
    stones(studio)
    row = row_of(MOVEMENT, _last(studio).pk)
    del row["id"]

    with refused("movement_never_replaced"):
        insert(MOVEMENT, row | {"posting_id": key(uuid.uuid4())}, how="REPLACE")


@pytest.mark.needs_postgres
def test_what_was_written_is_never_emptied_away(studio: Studio) -> None:
    stones(studio)
    connection.check_constraints()

    with refused("never_emptied"):
        execute(f'TRUNCATE "{MOVEMENT}"')


def test_every_table_of_what_happened_is_guarded(db: None) -> None:
    kept = [
        m for m in apps.get_models() if issubclass(m, OfPosting) or m in (Posting, Seal, Sealed)
    ]
    rules = {guard.rule for guard in guards.guards()}

    for model in kept:
        assert f"{model._meta.model_name}_never_changed" in rules
        assert f"{model._meta.model_name}_never_deleted" in rules
    assert guards.missing() == []
    assert len(kept) >= 18


def test_a_guard_that_is_down_is_named(db: None) -> None:
    on = ' ON "inventory_movement"' if connection.vendor == "postgresql" else ""
    execute(f'DROP TRIGGER "guard_movement_never_deleted"{on}')

    assert guards.missing() == ["movement_never_deleted"]


def test_a_movement_number_is_given_once_in_a_lot(studio: Studio) -> None:
    stones(studio)
    draw = _draw(studio)
    new = _open(studio, draw)

    with refused("movement_n"):  # its own key on PostgreSQL, the guard before it on SQLite
        copy(MOVEMENT, _last(studio).pk, posting_id=key(new))


def test_a_movement_number_is_never_left_out(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_begins_where_the_last_one_left"):
        _move(studio, new, -1, number=4, follows=3)


def test_a_movement_follows_the_number_before_its_own(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_follows_the_one_before"):
        _move(studio, new, -1, number=4)


def test_only_the_first_movement_follows_none(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_follows_the_one_before"):
        _move(studio, new, -1, follows=None)


def test_a_movement_begins_where_the_last_one_left(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_begins_where_the_last_one_left"):
        _move(studio, new, -1, left_before=999_999_999, left_after=999_999_998)


def test_what_is_left_is_what_was_before_and_the_amount(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_adds_up"):
        _move(studio, new, -1, left_after=5)


def test_no_lot_goes_below_nothing(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_leaves_no_less_than_nothing"):
        _move(studio, new, -980 * G - 1)


def test_a_lot_may_be_drawn_to_nothing(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    _move(studio, new, -980 * G)
    _close(new)

    assert _last(studio).left_after == 0


def test_a_first_movement_begins_from_nothing(studio: Studio) -> None:
    new = _open(studio, stones(studio), kind="receive")
    first = _last(studio)

    with refused("movement_follows_the_one_before"):
        copy("inventory_lot", first.lot_id, code="AV-1117", posting_id=key(new))
        lot = Lot.objects.of(studio).get(code="AV-1117")
        copy(
            MOVEMENT,
            first.pk,
            posting_id=key(new),
            lot_id=lot.pk,
            left_before=5,
            amount=1,
            left_after=6,
            counted=None,
        )


def test_a_count_is_what_is_left(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio), kind="recount")

    with refused("movement_counted_is_what_is_left"):
        _move(studio, new, -1, counted=7)


def test_a_recount_says_what_was_counted(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio), kind="recount")

    with refused("posting_recounts_what_is_there"):
        _move(studio, new, -1)
        _close(new)


def test_gross_less_tare_is_the_amount(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_gross_less_tare_is_its_amount"):
        _move(studio, new, -100, gross=150, tare=49)


def test_gross_never_stands_without_tare(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_gross_less_tare_is_its_amount"):
        _move(studio, new, -100, gross=150)


def test_pieces_make_the_amount(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_pieces_make_its_amount"):
        _move(studio, new, 43, pieces=1, piece_mg=42)


def test_a_posting_takes_no_movement_once_written(studio: Studio) -> None:
    stones(studio)
    draw = _draw(studio)

    with refused("movement_before_its_posting"):
        _move(studio, _posting(studio, draw).pk, -1)


def test_a_posting_takes_no_detail_once_written(studio: Studio) -> None:
    receive = stones(studio)
    stay = Stay.objects.of(studio).get()

    with refused("stay_before_its_posting"):
        copy("inventory_stay", stay.pk, posting_id=key(_posting(studio, receive).pk))


def test_a_movement_without_a_posting_is_refused_at_the_end(studio: Studio) -> None:
    stones(studio)

    with refused("movement_and_its_posting_share_a_studio"):
        _move(studio, uuid.uuid4(), -1)


def test_an_entry_is_recorded_once_in_a_studio(studio: Studio) -> None:
    stones(studio)
    draw = _draw(studio)
    new = _open(studio, draw, entry=key(draw.entry))

    with refused("posting_"):
        _move(studio, new, -1)
        _close(new)


def test_the_same_entry_in_another_studio_looks_unused(studio: Studio, other: Studio) -> None:
    entry = uuid.uuid4()

    first = stones(studio, entry=entry)
    second = stones(other, grams=5, entry=entry)

    assert not first.again
    assert not second.again
    assert second.moved[0].left_after == 5 * G


def test_an_entry_is_corrected_at_most_once(studio: Studio) -> None:
    stones(studio)
    draw = _draw(studio)
    correct(studio, entry=uuid.uuid4(), corrects=draw.entry)
    new = _open(studio, draw, kind="correct", corrects_id=key(_posting(studio, draw).pk))

    with refused("posting_"):
        _move(studio, new, 1)
        _close(new)


def test_a_correction_names_what_it_corrects(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio), kind="correct")

    with refused("posting_names_what_it_corrects"):
        _close(new)


def test_only_a_correction_names_what_it_corrects(studio: Studio) -> None:
    stones(studio)
    draw = _draw(studio)
    new = _open(studio, draw, corrects_id=key(_posting(studio, draw).pk))

    with refused("posting_names_what_it_corrects"):
        _move(studio, new, -1)
        _close(new)


def test_only_a_correction_undoes(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio), undoes=True)

    with refused("posting_undoes"):
        _move(studio, new, 0)
        _close(new)


def test_an_undoing_takes_back_to_the_milligram(studio: Studio) -> None:
    stones(studio)
    draw = _draw(studio)
    wrong = key(_posting(studio, draw).pk)
    new = _open(studio, draw, kind="correct", corrects_id=wrong, undoes=True)

    with refused("posting_undoes_to_the_milligram"):
        _move(studio, new, 200 * G - 1)
        _close(new)


def test_a_correction_touches_only_the_lots_of_what_it_corrects(studio: Studio) -> None:
    stones(studio, "AV-0911")
    draw = _draw(studio, code="AV-0911")
    stones(studio)
    wrong = key(_posting(studio, draw).pk)
    new = _open(studio, draw, kind="correct", corrects_id=wrong)
    last = Movement.objects.of(studio).get(lot__code="AV-1116")

    with refused("posting_corrects_only_its_lots"):
        copy(
            MOVEMENT,
            last.pk,
            posting_id=key(new),
            number=2,
            follows=1,
            left_before=last.left_after,
            amount=5,
            left_after=last.left_after + 5,
            counted=None,
        )
        _close(new)


def test_a_correction_is_dated_as_what_it_corrects(studio: Studio) -> None:
    stones(studio)
    draw = _draw(studio)
    later = MONDAY_NINE + DAY
    new = _open(
        studio,
        draw,
        kind="correct",
        corrects_id=key(_posting(studio, draw).pk),
        occurred_at=later.replace(tzinfo=None) if connection.vendor == "sqlite" else later,
    )

    with refused("posting_dated_as_what_it_corrects"):
        _move(studio, new, 1)
        _close(new)


def test_nothing_happens_to_a_lot_before_it_began(studio: Studio) -> None:
    stones(studio)
    early = MONDAY_NINE - HOUR
    moment = early.replace(tzinfo=None) if connection.vendor == "sqlite" else early
    new = _open(studio, _draw(studio), occurred_at=moment)

    with refused("posting_not_before_its_lot_began"):
        _move(studio, new, -1)
        _close(new)


def test_a_tip_out_says_where_to(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio), kind="tip out")

    with refused("posting_tipped_out_says_where_to"):
        _move(studio, new, -1)
        _close(new)


def test_a_draw_adds_nothing(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("posting_takes_out_and_adds_nothing"):
        _move(studio, new, 1)
        _close(new)


def test_what_is_put_by_adds_up_with_its_loss(studio: Studio) -> None:
    stones(studio)
    put_by = ledger.put_by(
        studio,
        entry=uuid.uuid4(),
        at=MONDAY_NINE,
        lot="AV-1116",
        state="dried",
        place=BENCH,
        becomes=1000 * G,
    )
    new = _open(studio, put_by, kind="put by")
    loss = Loss.objects.of(studio).get()

    with refused("posting_conserves_each_material"):
        _move(studio, new, -100 * G, turns=True)
        copy("inventory_loss", loss.pk, posting_id=key(new), amount=99 * G)
        _close(new)


def test_fibre_is_not_made_from_nothing(studio: Studio) -> None:
    posted = fibre.receive(
        studio,
        entry=uuid.uuid4(),
        at=MONDAY_NINE,
        lot=NewLot("W-88", "wool"),
        amount=2400 * G,
        form="yarn",
        fibre=Fibre(),
    )
    new = _open(studio, posted, kind="dye")

    with refused("posting_makes_nothing_from_nothing"):
        _move(studio, new, 1)
        _close(new)


def test_a_posting_is_of_a_known_kind(studio: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio), kind="lend")

    with refused("posting_of_a_known_kind"):
        _move(studio, new, -1)
        _close(new)


def test_a_dip_is_of_a_jar(studio: Studio) -> None:
    stones(studio)
    lot = Lot.objects.of(studio).get()
    row = {
        "studio_id": studio.pk,
        "posting_id": key(uuid.uuid4()),
        "lot_id": lot.pk,
        "at": MONDAY_NINE if connection.vendor == "postgresql" else "2026-11-23 09:00:00",
        "grade": 4,
    }

    with refused("dip_is_of_a_jar"):
        insert("inventory_dip", row)


@pytest.mark.parametrize("grade", [0, 6])
def test_a_dip_grade_runs_from_1_to_5(studio: Studio, grade: int) -> None:
    jars.begin(
        studio,
        entry=uuid.uuid4(),
        at=MONDAY_NINE,
        code="J1",
        name="Iron 7",
        metal="iron",
        volume=3_000_000,
    )
    lot = Lot.objects.of(studio).get()
    row = {
        "studio_id": studio.pk,
        "posting_id": key(uuid.uuid4()),
        "lot_id": lot.pk,
        "at": MONDAY_NINE if connection.vendor == "postgresql" else "2026-11-23 09:00:00",
        "grade": grade,
    }

    with refused("dip_grade_from_1_to_5"):
        insert("inventory_dip", row)


def test_a_movement_and_its_lot_share_a_studio(studio: Studio, other: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio))

    with refused("movement_and_its_lot_share_a_studio"):
        _move(studio, new, -1, studio_id=other.pk)


def test_a_posting_and_its_movements_share_a_studio(studio: Studio, other: Studio) -> None:
    stones(studio)
    new = _open(studio, _draw(studio), studio_id=other.pk)

    with refused("movement_and_its_posting_share_a_studio"):
        _move(studio, new, -1)
        _close(new)


def test_every_key_between_rows_of_studios_is_a_composite_one(db: None) -> None:
    from inventory.models.scope import SameStudio

    for model in apps.get_models():
        if not issubclass(model, OfStudio):
            continue
        ruled = {r.field for r in model._meta.constraints if isinstance(r, SameStudio)}
        keys = {
            field.name
            for field in model._meta.get_fields()
            if isinstance(field, models.ForeignKey)
            and isinstance(field.related_model, type)
            and issubclass(field.related_model, OfStudio)
        }
        assert keys == ruled, f"{model.__name__}: {sorted(keys ^ ruled)}"


def test_every_table_but_the_studio_itself_has_a_studio_key(db: None) -> None:
    ours = [m for m in apps.get_models() if m._meta.app_label in {"inventory", "sourcing"}]

    assert [m.__name__ for m in ours if not issubclass(m, OfStudio)] == ["Studio"]


def test_a_row_stays_in_its_studio(studio: Studio, other: Studio) -> None:
    from inventory.models import Ring

    Ring.objects.of(studio).create(code="R1", watts=3500)

    with refused("ring_stays_in_its_studio"):
        execute("UPDATE inventory_ring SET studio_id = %s", other.pk)


def test_a_seal_begins_where_the_last_one_ended(studio: Studio) -> None:
    stones(studio)
    seal(studio)
    first = Seal.objects.of(studio).get()

    with refused("seal_begins_where_the_last_one_ended"):
        copy(
            "inventory_seal",
            first.pk,
            number=2,
            follows=1,
            digest_before="0" * 64,
            digest="1" * 64,
        )
