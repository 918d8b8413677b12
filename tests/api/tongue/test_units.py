"""A studio that weighs in pounds reads pounds wherever something is shown, and nowhere else."""

from __future__ import annotations

import io
import re
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.test import Client

from api.tongue.measures import units_of
from inventory.models import JarEvent, Studio
from inventory.science.amounts import read_amount
from inventory.science.saying import Said
from tests.api.web.pages import sound, words
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db
PAGES = (
    *("/", "/today/", "/coming/", "/orders/", "/totals/", "/labels/?of=J2&of=AV-1116"),
    "/put-by/?of=privet&runs=4&each=480%20g&from=2027-03",
    *("/runs/A/", "/runs/A/sheet/", "/runs/C/", "/runs/D/sheet/", "/missed/", "/ask/"),
    *("/recipes/", "/recipes/blush/", "/recipes/slate/", "/recipes/hedge-olive/"),
    *("/labels/?of=J6", "/sources/"),
)
METRIC = re.compile(r"(?<!per )\b(\d[\d,.]*) (g|kg|mL|L)\b")
# Degrees, cloth and doses, whatever their size.
OTHERS = re.compile(r"[\d,.]+ (?:°C|m|cm|g/m²|L per kg)(?!\w)|per 100 g\b")
SMALL = 28.35
# A figure stands as its source has it.
FIGURE = re.compile(r": [\d.]+ °C \([\d.]+ to [\d.]+ °C\)")
VALUES = re.compile(r'<(?:input|option)[^>]*\bvalue="([^"]*)"')
MADE_ANEW = re.compile(r"[0-9a-f]{8}-[0-9a-f-]{27}|\w{64}")


def _in_pounds() -> None:
    load()
    Studio.objects.update(units="us")


def _at_monday(address: str) -> str:
    return f"{address}{'&' if '?' in address else '?'}at={MONDAY}"


def _metric(text: str) -> list[str]:
    text = FIGURE.sub(":", text)
    found = METRIC.findall(text)
    holds = {"g": 1, "kg": 1000, "mL": 0.95, "L": 950}
    many = [
        f"{number} {unit}"
        for number, unit in found
        if float(number.replace(",", "")) * holds[unit] >= SMALL
    ]
    return many + OTHERS.findall(text)


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


def test_the_shelves_say_cloth_and_warmth_so_too(client: Client) -> None:
    load("kelpwick-loft")
    Studio.objects.update(units="us")

    text = words(client.get("/shelves/", {"at": MONDAY, "studio": "Kelpwick Loft"}))

    # 4 lb of 4.4 oz on a square yard, 60 in wide, is 8.727 yd: see the same in metres.
    assert "8.7 yd of 4.4 oz/yd², 60 in wide" in text
    assert "kept at 48 °F" in text  # as the notebook has it, and kept as 8.9 °C


@pytest.mark.parametrize(
    ("units", "said", "kept", "echo"),
    [
        ("", {"warmth_c": "180 °F"}, 82.2, "82.2 °C"),
        ("", {"warmth_c": "180", "warmth_c_unit": "°F"}, 82.2, "82.2 °C"),
        ("us", {"warmth_c": "50", "warmth_c_unit": "°F"}, 10, "50 °F"),
        ("us", {"warmth_c": "10", "warmth_c_unit": "°C"}, 10, "50 °F"),
        ("us", {"warmth_c": "10 °C", "warmth_c_unit": "°F"}, 10, "50 °F"),
        ("us", {"warmth_c": "20"}, 20, "68 °F"),  # as an address or an older form says it
        ("imperial", {"warmth_c": "-4", "warmth_c_unit": "°F"}, -20, "-4 °F"),
    ],
)
def test_a_warmth_is_understood_in_either_degrees(
    client: Client, units: str, said: dict[str, str], kept: float, echo: str
) -> None:
    load()
    Studio.objects.update(units=units)

    page = client.post("/note/keep-at/", {"id": str(uuid4()), "jar": "J1", **said}, follow=True)

    assert f"How warm is it there? {echo}" in words(page)
    assert _moved_to() == [pytest.approx(kept)]


def _moved_to() -> list[float]:
    """The warmths to which jars were moved."""
    rows = JarEvent.objects.of(Studio.objects.get()).filter(temperature_c__isnull=False)
    return [float(row.temperature_c or 0) for row in rows]


def test_a_warmth_that_is_none_is_refused_with_what_to_write(client: Client) -> None:
    load()
    fields = {"id": str(uuid4()), "jar": "J1", "warmth_c": "tepid", "warmth_c_unit": "°F"}

    page = client.post("/note/keep-at/", fields)

    assert page.status_code == 422
    assert "“tepid”" in words(page)
    assert _moved_to() == []


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
