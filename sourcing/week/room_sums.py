"""The rooms of a period under their stable names, amounts as exact decimal strings in g."""

from __future__ import annotations

from decimal import Decimal

from sourcing.week.room_remedies import Remedy, RoomsOfWeek
from sourcing.week.rooms import Room, RoomEvening
from sourcing.week.words import decimal_string


def rooms_as_sums(rooms: RoomsOfWeek) -> list[dict[str, object]]:
    """Freezers, then fridges, then trays; each evening with what makes it hold."""
    return [
        {
            "kind": room.kind,
            "site": room.site,
            "places": list(room.places),
            "holds_g": _g(room.holds_mg),
            "evenings": [_evening(rooms, room, row) for row in room.evenings],
        }
        for room in rooms.rooms
    ]


def _evening(rooms: RoomsOfWeek, room: Room, row: RoomEvening) -> dict[str, object]:
    return {
        "date": row.day.isoformat(),
        "there_g": _g(row.there_mg),
        "put_by_g": _g(row.put_by_mg),
        "comes_g": _g(row.comes_mg),
        "likely_g": _g(row.likely_mg),
        "free_g": _g(row.free_mg(likely=False)),
        "over_g": _g(row.over_mg),
        "over_if_likely_g": _g(row.likely_over_mg),
        "todo": [_remedy(each) for each in rooms.todo(room, row, likely=False)],
        "todo_if_likely": [_remedy(each) for each in rooms.todo(room, row, likely=True)],
    }


def _remedy(row: Remedy) -> dict[str, object]:
    return {
        "how": row.how,
        "lot": None if row.guess or not row.lot else row.lot,
        "source": row.lot if row.guess else None,
        "what": row.what,
        "g": _g(row.mg),
        "until": None if row.until is None else row.until.isoformat(),
        "guess": row.guess,
        "text": row.text,
    }


def _g(mg: int | None) -> str | None:
    return None if mg is None else decimal_string(Decimal(mg) / 1000)
