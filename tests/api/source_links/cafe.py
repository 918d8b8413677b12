"""A café with a phone: opens its link, reads the page, fills in the form as a browser would."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from django.test import Client

from api.source_links.links import make_link
from sourcing.models import Source
from tests.api.web.pages import read
from tests.api.web.yard import said

CAFE, STONES = "Lantern Steps café", "avocado stones"
MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)
THURSDAY = "2026-11-26T17:00:00+00:00"
NEXT_MONDAY = "2026-11-30T17:00:00+00:00"
WISH = "In the clean tub, please."


@dataclass
class Clock:
    """The clock of the pages, which a test sets on."""

    at: datetime = MONDAY

    def now(self) -> datetime:
        return self.at


def link_for(source: Source, *, at: datetime = MONDAY) -> str:
    """The address of a new link."""
    _, secret = make_link(source, asks="Ada", wish=WISH, made_by="Ada Rook", at=at)
    return f"/saved/{secret}/"


@dataclass
class Phone:
    """A browser that keeps cookies by their path and is checked for forgery."""

    client: Client
    page: Any = None
    path: str = ""

    def open(self, address: str) -> Any:
        """Open a link, and go where it leads."""
        answer = self.client.get(address)
        if answer.status_code != 303:
            return answer
        self.path = answer["Location"]
        return self.look()

    def look(self, query: str = "") -> Any:
        self.page = self.client.get(self.path + query)
        return self.page

    def fields(self, number: int = 0) -> dict[str, str]:
        """What the form of one thing holds."""
        form = read(self.page).query("form")[number]
        found: dict[str, str] = {}
        for field in form.query("input"):
            attrs = field.attrs
            if attrs.get("type") != "radio" or "checked" in attrs:
                found[attrs["name"] or ""] = attrs.get("value") or ""
        return found

    def send(self, number: int = 0, **said: str) -> Any:
        """Fill in a form and send it; go where that leads."""
        answer = self.client.post(self.path, {**self.fields(number), **said})
        if answer.status_code == 303:
            assert answer["Location"] == f"{self.path}?told=1"
            return self.look("?told=1")
        self.page = answer
        return answer

    def told(self) -> list[str]:
        """What stands under “You told us”."""
        return [
            said(row).removesuffix("Change it").strip()
            for row in read(self.page).query("ul.told p:first-child")
        ]

    def faults(self) -> list[str]:
        return [said(row) for row in read(self.page).query("ul.faults li")]


def phone() -> Phone:
    return Phone(Client(enforce_csrf_checks=True))
