"""*Figures and cautions*: figures in use with range and source, the catalogue, a plain search."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command
from django.test import Client
from django.utils.text import slugify
from pytest_django import DjangoAssertNumQueries

from api.web.figures import view
from inventory.models import Studio, StudioRule
from inventory.science.cautions import shipped_cautions, shipped_parts
from inventory.science.library import KINDS, library
from tests.api.web.pages import read, sound, words

pytestmark = pytest.mark.django_db

NOTEBOOK = Path(__file__).resolve().parents[3] / "fixtures" / "pellitory-yard"
MONDAY = {"at": "2026-11-23T07:30"}
IRON = "/figures/mordant/iron-liquor-home-made-iron-acetate/"


@pytest.fixture(autouse=True)
def yard() -> Studio:
    """Pellitory Yard, loaded from its notebook."""
    call_command("load", str(NOTEBOOK), stdout=StringIO())
    return Studio.objects.get()


def row_of(client: Client, anchor: str, **asked: str) -> str:
    """The words of one figure's row."""
    page = client.get("/figures/", {**MONDAY, **asked})
    (row,) = read(page).query(f"#{anchor}")
    return re.sub(r" (?=[,;:])", "", " ".join(row.to_text().split()))


def test_the_page_is_sound_and_every_figure_of_the_sums_has_its_row(client: Client) -> None:
    page = client.get("/figures/", MONDAY)

    assert page.status_code == 200
    assert sound(page) == []
    assert len(read(page).query(".figures tbody tr")) > 180


def test_the_studio_s_own_figure_stands_before_the_shipped_one(client: Client) -> None:
    row = row_of(client, "silk-metal_ceiling_percent")

    assert "2 %" in row
    assert "the studio's own, measured here" in row
    assert "careful ceiling" in row
    assert "shipped: 2 %, 1 to 4 % (published)" in row


def test_a_figure_that_nobody_measured_here_says_what_it_rests_on(client: Client) -> None:
    row = row_of(client, "avocado-stones-keeps_dried_days")

    assert "365 days" in row
    assert "180 to 1,095 days" in row
    assert "published" in row
    assert "towndyer.wordpress.com" in row
    assert "the studio's own" not in row


def test_a_fraction_is_said_in_per_cent(client: Client) -> None:
    assert "lost in scouring 5 % 1 to 6 %" in row_of(client, "wool-scour_loss_fraction")


def test_a_figure_holds_from_its_day_on_and_says_so(client: Client, yard: Studio) -> None:
    StudioRule.objects.of(yard).create(
        item="cotton", name="scour_loss_fraction",
        value=Decimal("0.07"), since=date(2026, 11, 23), source="four cones weighed",
    )  # fmt: skip

    on_the_day = row_of(client, "cotton-scour_loss_fraction")
    before = row_of(client, "cotton-scour_loss_fraction", at="2026-11-22T23:59")
    assert "7 %" in on_the_day
    assert "measured here, Mon 23 Nov 2026; four cones weighed" in on_the_day
    assert "the studio's own" not in before
    assert "5 %" in before


def test_the_page_ends_however_many_figures_a_studio_writes(
    client: Client, yard: Studio, monkeypatch: pytest.MonkeyPatch
) -> None:
    count = len(read(client.get("/figures/", MONDAY)).query(".figures tbody tr"))

    monkeypatch.setattr(view, "FIGURES_AT_MOST", count)
    assert "look for them by name" not in words(client.get("/figures/", MONDAY))
    StudioRule.objects.of(yard).create(item="fern", name="wet_out_h", value=Decimal(3))
    page = client.get("/figures/", MONDAY)
    assert len(read(page).query(".figures tbody tr")) == count
    assert "1 more figure of the studio's own stands behind these" in words(page)
    assert "3 h" in row_of(client, "fern-wet_out_h", find="fern")


def test_the_figures_ask_little_of_the_database(
    client: Client, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    client.get("/figures/", MONDAY)

    for address in ("/figures/", "/figures/cautions/", IRON):
        with django_assert_max_num_queries(3):
            client.get(address, MONDAY)


def test_every_thing_of_the_catalogue_has_an_address_of_its_own_and_a_sound_page(
    client: Client,
) -> None:
    things = library().things
    addresses = {f"/figures/{row.kind}/{slugify(row.name)}/" for row in things}

    assert len(addresses) == len(things)
    linked = {link.attrs["href"] for link in read(client.get("/figures/")).query(".things a")}
    assert linked == addresses
    for address in sorted(addresses):
        page = client.get(address)
        assert page.status_code == 200, address
        assert sound(page) == [], address


def test_sources_that_disagree_stand_side_by_side_with_the_range_of_all(client: Client) -> None:
    page = words(client.get(IRON))

    assert "25 to 50, typically 33 % v/v of the liquid" in page
    assert "67 to 100, typically 100 % v/v of the liquid" in page
    assert "All rows together: 25 to 100 % v/v" in page


def test_a_property_in_two_units_has_two_headings(client: Client) -> None:
    headings = [part.to_text() for part in read(client.get(IRON)).query("h2")]

    assert "Iron to put in, in words" in headings
    assert "Iron to put in, grams a litre" in headings
    assert len(headings) == len(set(headings))


def test_a_range_is_drawn_on_one_scale_for_all_its_sources(client: Client) -> None:
    (said,) = [
        part for part in read(client.get(IRON)).query(".said")
        if "Vinegar in the liquid" in part.to_text()
    ]  # fmt: skip

    bars = [bar.attrs for bar in said.query("rect")]
    assert [(bar["x"], bar["width"]) for bar in bars] == [("4.0", "30.7"), ("55.5", "40.5")]


def test_what_is_only_remembered_says_so(client: Client) -> None:
    page = words(client.get("/figures/fibre/lyocell/"))

    assert "13 % on dry mass" in page
    assert "memory, not checked against a source" in page


def test_of_a_substance_the_stricter_codes_stand_first(client: Client) -> None:
    page = words(client.get("/figures/hazard/copperii-acetate/"))

    assert "the stricter wins: H302 harmful if swallowed H312" in page
    assert page.index("H314 burns skin") < page.index("H302 H315 H319 H400 H411")


@pytest.mark.parametrize(
    ("address", "sentence"),
    [
        ("dyestuff/privet", "POISON all of privet is poisonous to people, horses and dogs"),
        ("mordant/iron-liquor-home-made-iron-acetate", "GAS iron in vinegar gives off hydrogen"),
        ("mordant/copper-liquor-home-made-copper-acetate", "HOLD copper harms fish and plants"),
        ("hazard/yew-taxus-baccata", "POISON yew is deadly in leaf, bark and seed"),
    ],
)
def test_a_caution_stands_at_the_head_of_the_thing_that_it_belongs_to(
    client: Client, address: str, sentence: str
) -> None:
    assert sentence in words(client.get(f"/figures/{address}/"))


def test_a_harmless_thing_has_no_caution(client: Client) -> None:
    assert read(client.get("/figures/dyestuff/weld/")).query(".caution") == []


def test_a_duty_says_where_it_holds_and_when_it_was_known(client: Client) -> None:
    page = words(client.get("/figures/duty/cutting-hedges/"))

    assert "check your local rules. England" in page
    assert "as known on Thu 26 Nov 2026" in page


def test_every_caution_is_shown_with_basis_and_source(client: Client) -> None:
    page = client.get("/figures/cautions/")

    shown = {node.attrs["id"] for node in read(page).query("dd")}
    assert sound(page) == []
    assert shown == {
        f"caution-{row.code}"
        for row in (*(r for _, r in shipped_cautions()), *(r for _, _, r in shipped_parts()))
    }


def test_a_search_finds_figures_and_things_by_every_word(client: Client) -> None:
    page = client.get("/figures/", {"find": "  Privet   dried "})

    found = [link.to_text() for link in read(page).query(".things a")]
    assert "privet" in found
    assert "wool" not in found
    assert all("privet" in row.to_text() for row in read(page).query(".figures tbody th"))
    assert sound(page) == []


def test_a_search_among_one_kind_shows_that_kind_only(client: Client) -> None:
    page = read(client.get("/figures/", {"kind": "fibre"}))

    assert [part.to_text() for part in page.query("section h3")] == ["Fibres"]
    assert page.query(".figures") == []


def test_a_search_that_finds_nothing_says_what_to_try(client: Client) -> None:
    page = client.get("/figures/", {"find": "unicorn"})

    assert page.status_code == 200
    assert "Nothing is called that. Try fewer words" in words(page)


@pytest.mark.parametrize(
    ("asked", "status", "sentence"),
    [
        ({"find": "x" * 60}, 200, ""),
        ({"find": "x" * 61}, 400, "Look for no more than 60 letters; 61 were asked for."),
        ({"kind": "plant"}, 400, f"The catalogue has {', '.join([*KINDS][:-1])} and waste; not"),
        ({"sort": "name"}, 400, "The page of figures is asked for with at, days, studio, find"),
    ],
)
def test_what_cannot_be_read_is_answered_with_a_sentence(
    client: Client, asked: dict[str, str], status: int, sentence: str
) -> None:
    page = client.get("/figures/", asked)

    assert page.status_code == status
    assert sentence in words(page)


@pytest.mark.parametrize("address", ["/figures/fibre/asbestos/", "/figures/plant/privet/"])
def test_a_thing_that_is_not_there_is_not_found(client: Client, address: str) -> None:
    page = client.get(address)

    assert page.status_code == 404
    assert "Look for it among the figures." in words(page)


def test_the_page_goes_on_asking_for_the_same_moment_and_studio(client: Client) -> None:
    page = client.get("/figures/", {**MONDAY, "studio": "Pellitory Yard", "find": "silk"})

    carried = "?at=2026-11-23T07%3A30&amp;studio=Pellitory+Yard"
    assert f'href="/figures/fibre/silk/{carried}"' in page.content.decode()
    assert '<input type="hidden" name="studio" value="Pellitory Yard">' in page.content.decode()


def test_no_name_of_a_column_reaches_the_screen(client: Client) -> None:
    for address in ("/figures/", "/figures/cautions/", IRON, "/figures/process/heat-up-time/"):
        text = re.sub(r"\S+/\S+", "", words(client.get(address)))  # addresses of sources

        assert not re.search(r"[a-z]_[a-z]", text), address


def test_what_somebody_typed_is_shown_and_never_run(client: Client) -> None:
    page = client.get("/figures/", {"find": '<b onclick="x">'})

    assert sound(page) == []
    assert "&lt;b onclick=" in page.content.decode()
