"""Reminders as JSON: what goes out next, who is told what, what became of the last letters.

Whoever is not the owner sees addresses shortened, as on the page.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.conf import settings
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.reminders import REMINDERS
from api.question import question_of
from api.reminders.readers import shortened
from api.reminders.words import words_of
from api.rest.contract import QUESTION, said
from api.rest.shelf_values import Json
from api.visitor import Right, visitor_of
from api.web.reminders.page import MOST_NEXT, MOST_READERS, TABLES
from sourcing.gather import Cells
from sourcing.reminder_facts import reminder_facts_and_rows
from sourcing.reminding.due import Reminder, reminders_between
from sourcing.reminding.facts import ReminderFacts, Wish

Address = Callable[[str], str]  # as it may be shown


class RemindersView(APIView):
    """GET: the reminders of a studio over so many days."""

    @said(
        "reminders",
        summary="What is written to whom next, and what became of the last letters",
        about="Addresses are whole for the owner only; others see them shortened.",
        asks=QUESTION,
        answer=REMINDERS,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="The list of reminders")
        whole = visitor_of(request).right.covers(Right.OWNER)
        facts, rows = reminder_facts_and_rows(question.studio, at=question.at, tables=TABLES)
        until = question.at + timedelta(days=question.days)
        found = reminders_between(facts, since=question.at, until=until)
        letters = sorted(rows["letters"], key=lambda row: (row["due_at"], row["id"]), reverse=True)
        zone, address = facts.week.zone, str if whole else shortened
        return Response({
            "studio": question.studio.name,
            "at": _moment(question.at, zone),
            "until": _moment(until, zone),
            "sender": settings.MAIL.sender if settings.MAIL is not None else None,
            "whole_addresses": whole,
            "next": [_next(row, facts, address) for row in found[:MOST_NEXT]],
            "next_left_out": max(len(found) - MOST_NEXT, 0),
            "readers": [_reader(wish, address) for wish in facts.wishes[:MOST_READERS]],
            "readers_left_out": max(len(facts.wishes) - MOST_READERS, 0),
            "letters": [_letter(row, zone, address) for row in letters],
        })  # fmt: skip


def _next(row: Reminder, facts: ReminderFacts, address: Address) -> Json:
    zone = facts.week.zone
    return {
        "at": _moment(row.at, zone),
        "until": _moment(row.until, zone),
        "kind": row.kind,
        "subject": words_of(row, facts)[0],
        "reader": row.wish.reader,
        "to": address(row.wish.address),
    }


def _reader(wish: Wish, address: Address) -> Json:
    quiet = wish.quiet
    return {
        "name": wish.reader,
        "to": address(wish.address),
        "source": wish.source or None,
        "since": wish.since.isoformat(),
        "kinds": [{"kind": kind, "goes": wish.wants(kind)} for kind in wish.kinds],
        "sheet_at": _clock(wish.sheet_at),
        "quiet_from": _clock(None if quiet is None else quiet.since),
        "quiet_until": _clock(None if quiet is None else quiet.until),
    }


def _letter(row: Cells, zone: ZoneInfo, address: Address) -> Json:
    sent, let_go = row["sent_at"], row["let_go_at"]
    state = "sent" if sent is not None else "let go" if let_go is not None else "waits"
    return {
        "due_at": _moment(row["due_at"], zone),
        "kind": row["kind"],
        "subject": row["subject"],
        "to": address(row["to"]),
        "state": state,
        "state_at": _moment(sent or let_go or row["next_at"], zone),
        "why": row["let_go_why"] or None,
        "tries": row["tries"],
        "perhaps_twice": bool(row["repeats"]),
    }


def _moment(moment: datetime, zone: ZoneInfo) -> str:
    return moment.astimezone(zone).isoformat(timespec="seconds")


def _clock(clock: time | None) -> str | None:
    return None if clock is None else f"{clock:%H:%M}"
