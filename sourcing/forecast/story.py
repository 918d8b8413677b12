"""The record of a stream as arrays: its past, agreed day by agreed day, and the days to come."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from sourcing.forecast.facts import Stream, Visit
from sourcing.forecast.lattice import Ahead
from sourcing.forecast.record import MADE, MISSED, NONE, Record, scatters_by_piece

DAYS_BACK = 120  # agreed days; what is older would count for less than a tenth of a pick-up


def record_of(
    stream: Stream, *, before: date, piece_mg: float | None, scatter_up_to: float
) -> Record:
    """The past of one stream, in pieces where it is counted, else in mg.

    Parameters
    ----------
    before : only what happened before this day
    piece_mg : to read a weight of counted things as pieces; without it such a pick-up says nothing
    scatter_up_to : mean count up to which pieces are learnt one by one, and not as a weight
    """
    seen = {visit.on: visit for visit in stream.visits if visit.on < before}
    seen = {day: visit for day, visit in seen.items() if visit.how != "reported"}
    days = _days(stream, seen, before)
    amounts = [_amount(stream, seen.get(day), piece_mg) for day in days]
    happened = [_happened(seen.get(day), each) for day, each in zip(days, amounts, strict=True)]
    amount = np.array([[each or 0.0 for each in amounts]])
    promised = np.array([_promised(stream, piece_mg)])
    known = amount if amount.any() else np.nan_to_num(promised)
    return Record(
        counted=stream.by_piece and scatters_by_piece(known, up_to=scatter_up_to),
        happened=np.array([happened], dtype=np.int8),
        amount=amount,
        weekday=np.array([[day.weekday() for day in days]], dtype=np.intp),
        season=np.array([[stream.season[day.month - 1] or 1.0 for day in days]]),
        promised=promised,
    )


def ahead_of(stream: Stream, days: Sequence[date]) -> Ahead:
    """Days to come of one stream."""
    return Ahead(
        weekday=np.array([[day.weekday() for day in days]], dtype=np.intp),
        season=np.array([[stream.season[day.month - 1] * stream.is_open(day) for day in days]]),
    )


def _days(stream: Stream, seen: dict[date, Visit], before: date) -> list[date]:
    """Days of the record: every agreed one since the first pick-up, and pick-ups beside those."""
    if not seen:
        return []
    since = max(min(seen), before - timedelta(DAYS_BACK * 7))
    days = {*stream.agreed(since, before), *(day for day in seen if day >= since)}
    return sorted(days)[-DAYS_BACK:]


def _amount(stream: Stream, visit: Visit | None, piece_mg: float | None) -> float | None:
    """What a pick-up brought, in the unit of the stream; None: it cannot be said."""
    if visit is None or not visit.brought:
        return None
    if not stream.by_piece:
        return None if visit.weight_mg is None else float(visit.weight_mg)
    if visit.pieces:
        return float(visit.pieces)
    return max(1.0, round((visit.weight_mg or 0) / piece_mg)) if piece_mg else None


def _happened(visit: Visit | None, amount: float | None) -> int:
    if visit is None:
        return NONE
    if not visit.brought:
        return MISSED
    return NONE if amount is None else MADE


def _promised(stream: Stream, piece_mg: float | None) -> float:
    """What one pick-up was said to bring; NaN where nothing was said."""
    if stream.by_piece:
        if stream.promised_pieces:
            return float(stream.promised_pieces)
        return stream.promised_mg / piece_mg if stream.promised_mg and piece_mg else np.nan
    return float(stream.promised_mg) if stream.promised_mg else np.nan
