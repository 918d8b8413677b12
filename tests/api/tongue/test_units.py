"""A studio that weighs in pounds reads pounds wherever something is shown, and nowhere else."""

from __future__ import annotations

import io
import re
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.test import Client

from api.tongue.measures import units_of
from inventory.models import Studio
from inventory.science.amounts import read_amount
from inventory.science.saying import Said
from tests.api.web.pages import sound, words
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db
PAGES = (
    *("/", "/today/", "/coming/", "/orders/", "/totals/", "/labels/?of=J2&of=AV-1116"),
    "/put-by/?of=privet&runs=4&each=480%20g&from=2027-03",
    *("/runs/A/", "/runs/A/sheet/", "/missed/", "/ask/"),
)
METRIC = re.compile(r"(?<!per )\b(\d[\d,.]*) (g|kg|mL|L)\b")
# A dose for 100 g, and what is less than an ounce.
RATE = re.compile(r"(?:mL (?:of [\w ]+ )?per 100 g|L per kg)")
SMALL = 28.35
VALUES = re.compile(r'<(?:input|option)[^>]*\bvalue="([^"]*)"')
MADE_ANEW = re.compile(r"[0-9a-f]{8}-[0-9a-f-]{27}|\w{64}")


def _in_pounds() -> None:
    load()
    Studio.objects.update(units="us")


def _at_monday(address: str) -> str:
    return f"{address}{'&' if '?' in address else '?'}at={MONDAY}"


def _metric(text: str) -> list[str]:
    found = METRIC.findall(re.sub(rf"[\d.]+ {RATE.pattern}", "", text))
    holds = {"g": 1, "kg": 1000, "mL": 0.95, "L": 950}
    return [
        f"{number} {unit}"
        for number, unit in found
        if float(number.replace(",", "")) * holds[unit] >= SMALL
    ]


@pytest.mark.parametrize("address", PAGES)
def test_a_page_says_every_amount_in_pounds(client: Client, address: str) -> None:
    load()
    before = client.get(_at_monday(address))
    Studio.objects.update(units="us")

    page = client.get(_at_monday(address))

    assert _metric(words(before))
    assert _metric(words(page)) == []
    assert sound(page) == []


@pytest.mark.parametrize("address", ["/runs/A/", "/note/draw/?lot=AV-1116", "/note/finish-run/"])
def test_what_a_form_has_filled_in_stays_as_it_is_kept(client: Client, address: str) -> None:
    """An amount that was rounded to ounces would be another when it comes back."""
    load()
    before = _values(client, address)
    Studio.objects.update(units="us")

    after = _values(client, address)

    more = {"oz", "lb", "fl oz", "pt", "gal"}
    assert sorted(after) == sorted([*before, *(more & set(after))])


def _values(client: Client, address: str) -> list[str]:
    page = client.get(address).content.decode()
    return [value for value in VALUES.findall(page) if not MADE_ANEW.fullmatch(value)]


def test_programs_read_grams(client: Client) -> None:
    load()
    before = client.get("/api/v1/week/", {"at": MONDAY}).content
    Studio.objects.update(units="us")

    assert client.get("/api/v1/week/", {"at": MONDAY}).content == before


def test_the_sheet_on_paper_is_in_pounds_too() -> None:
    _in_pounds()
    out = io.StringIO()

    call_command("week", at=MONDAY, stdout=out)

    assert "freeze or use AV-1116 today (avocado stones, 2 lb 9.6 oz)" in out.getvalue()


def test_a_pint_that_is_written_down_is_the_pint_of_the_studio(client: Client) -> None:
    load()
    taken = []
    for units in ("imperial", "us"):
        Studio.objects.update(units=units)
        said = client.post(
            "/api/v1/entries/draw-liquor/",
            {"id": str(uuid4()), "occurred_at": MONDAY, "jar": "J2", "volume": "half a pint"},
            content_type="application/json",
        )
        assert said.status_code == 201, said.content
        taken.append(said.json()["understood"][0]["amount"])

    assert taken == ["284.131", "236.588"]


def test_who_writes_pounds_is_told_grams_and_not_pounds_again() -> None:
    amount = read_amount("2 lb 3 oz")

    with units_of("imperial"):
        assert Said.aloud(amount.understood) == "2 lb 3 oz = 992 g"
        assert Said.aloud(read_amount("992 g").understood) == "2 lb 3 oz"


def test_an_owner_chooses_the_units_of_the_studio(client: Client) -> None:
    load()

    client.post("/language/", {"do": "studio", "language": "", "numbers": "", "units": "imperial"})

    assert Studio.objects.get().units == "imperial"
    assert "2 lb 9.6 oz" in words(client.get("/", {"at": MONDAY}))


def test_units_that_are_none_are_refused(client: Client) -> None:
    load()

    page = client.post("/language/", {"do": "studio", "units": "stone"})

    assert page.status_code == 422
    assert Studio.objects.get().units == ""
