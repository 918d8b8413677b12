"""*Recipes*: listed by shade, one in its versions, written new and changed in a form."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.rights import Right
from inventory.models import Studio
from sourcing.models import Recipe, RecipeDose, RecipeStep, Run
from tests.api.members import member, signed_in
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, said

pytestmark = pytest.mark.usefixtures("yard")
QUERIES = 8


def one(client: Client, code: str, **asked: str) -> Any:
    return client.get(f"/recipes/{code}/", {"at": MONDAY, **asked})


def fields(page: Any) -> dict[str, Any]:
    """What a browser would send of the form as it stands."""
    sent: dict[str, Any] = {}
    form = read(page).query("form.recipe-form")[0]
    for row in form.query("input"):
        attrs = row.attrs
        if attrs.get("type") == "checkbox" and "checked" not in attrs:
            continue
        sent.setdefault(str(attrs.get("name")), []).append(attrs.get("value") or "")
    for row in form.query("select"):
        chosen = [each for each in row.query("option") if "selected" in each.attrs]
        sent[str(row.attrs["name"])] = [str(chosen[0].attrs["value"] or "") if chosen else ""]
    return sent


def test_every_recipe_stands_in_the_list_with_its_doses(client: Client) -> None:
    page = client.get("/recipes/", {"at": MONDAY})
    names = [said(row) for row in read(page).query("h2.recipe-name")]

    assert sound(page) == []
    assert names == ["Blush", "Group day: nettle and cabbage", "Hedge Olive", "Oak Grey",
                     "Old Rose", "Slate"]  # fmt: skip
    assert "wool, wanted 2 times" in words(page)
    found = client.get("/recipes/", {"at": MONDAY, "find": "linen rose"})
    assert [said(row) for row in read(found).query("h2.recipe-name")] == ["Old Rose"]


def test_a_recipe_says_each_step_with_warmth_times_and_doses(client: Client) -> None:
    page = one(client, "slate")
    steps = [said(row) for row in read(page).query("ol.recipe-steps > li")]

    assert sound(page) == []
    assert steps[0] == (
        "Cold alum in a bucket or tub, 30 L per kg 12 % alum Stands 24 h Hands 30 min per load"
    )
    assert "Heats to 80 °C, held 60 min Heats from 70 to 80 °C, held 45 min Cools 180 min" in (
        steps[1].replace("3 h", "180 min")
    )
    assert "50 mL per 100 g of iron liquor" in steps[2]


def test_few_questions_are_asked_and_no_more_of_a_hundred_recipes(
    client: Client, yard: Studio
) -> None:
    few = questions(client)
    recipe = Recipe.objects.of(yard).get(code="slate")
    for number in range(100):
        recipe.pk, recipe.code, recipe.shade = None, f"s-{number}", f"Zinc {number:03}"
        recipe.save(force_insert=True)

    assert questions(client) == few
    assert max(few) <= QUERIES
    listed = client.get("/recipes/", {"at": MONDAY, "page": "3"})
    assert len(read(listed).query("h2.recipe-name")) == 106 - 2 * 48


def questions(client: Client) -> list[int]:
    found = []
    for address in ("/recipes/", "/recipes/slate/", "/recipes/slate/change/", "/new-recipe/"):
        with CaptureQueriesContext(connection) as asked:
            assert client.get(address, {"at": MONDAY}).status_code == 200
        found.append(len(asked))
    return found


def test_a_change_is_a_new_version_and_runs_keep_theirs(client: Client, yard: Studio) -> None:
    page = client.get("/recipes/slate/change/", {"at": MONDAY})
    form = fields(page)
    assert sound(page) == []
    assert (form["d2-what"], form["d2-amount"]) == (["onion skins"], ["50 %"])
    form["d2-amount"] = ["60 %"]

    kept = client.post("/recipes/slate/change/", form)

    assert kept.status_code == 303
    assert words(one(client, "slate")).count("60 % onion skins") == 1
    assert "slate, version 2" in words(one(client, "slate"))
    old = one(client, "slate", version="1")
    assert "50 % onion skins" in words(old)
    assert "(an older one)" in words(old)
    assert Run.objects.of(yard).get(code="D").recipe.version == 1


def test_a_form_sent_as_it_stands_writes_no_version(client: Client, yard: Studio) -> None:
    for code in ("slate", "blush", "hedge-olive", "oak-grey"):
        client.post(f"/recipes/{code}/change/", fields(client.get(f"/recipes/{code}/change/")))

    assert set(Recipe.objects.of(yard).values_list("version", flat=True)) == {1}


def test_a_step_put_between_two_others_stands_there(client: Client, yard: Studio) -> None:
    form = fields(client.get("/recipes/blush/change/"))
    form |= {"s6-no": "3.5", "s6-step": "look", "s6-kind": "wet out", "s6-vessels": ["bucket"]}

    client.post("/recipes/blush/change/", form)

    rows = RecipeStep.objects.of(yard).filter(recipe__code="blush", recipe__version=2)
    names = list(rows.order_by("number").values_list("name", flat=True))
    assert names == ["scour", "hot alum", "extract", "look", "dye", "rinse"]


def test_a_new_recipe_is_written_and_asked_for(client: Client, yard: Studio) -> None:
    form = fields(client.get("/new-recipe/"))
    assert form["s4-step"] == ["dye"]
    form |= {"r-recipe": "dock", "r-shade": "Dock gold", "r-fibres": ["wool", "silk"]}
    for number in (1, 2, 3, 4):
        form |= {f"s{number}-vessels": ["pot"], f"s{number}-heats": "fresh > 80 hold 60 min"}
    form |= {"d1-step": "extract", "d1-what": "dock root", "d1-kind": "dyestuff",
             "d1-amount": "100 %"}  # fmt: skip

    assert client.post("/new-recipe/", form).status_code == 303

    recipe = Recipe.objects.of(yard).get(code="dock")
    assert recipe.fibres == ["wool", "silk"]
    assert RecipeDose.objects.of(yard).get(recipe=recipe).what == "dock root"
    assert client.post("/new-recipe/", form).status_code == 422  # its code is taken now


def test_what_is_wrong_with_a_recipe_is_said_and_all_of_it_stays(client: Client) -> None:
    form = fields(client.get("/recipes/blush/change/"))
    form |= {"s1-heats": "hot", "d1-step": "soaking", "s4-hands": "a while"}

    page = client.post("/recipes/blush/change/", form)

    assert page.status_code == 422
    assert sound(page) == []
    faults = [said(row) for row in read(page).query("div.faults li")]
    assert any("fresh > 55 hold 60 min" in fault for fault in faults)
    assert fields(page)["s1-heats"] == ["hot"]
    assert fields(page)["d1-step"] == ["soaking"]


def test_two_who_change_one_recipe_hear_of_each_other(client: Client) -> None:
    form = fields(client.get("/recipes/slate/change/"))
    client.post("/recipes/slate/change/", {**form, "d2-amount": "60 %"})

    page = client.post("/recipes/slate/change/", {**form, "d2-amount": "70 %"})

    assert page.status_code == 422
    assert "Somebody wrote version 2 of slate meanwhile." in words(page)
    assert fields(page)["d2-amount"] == ["70 %"]


def test_a_helper_reads_recipes_and_writes_none(client: Client, yard: Studio) -> None:
    helper = signed_in(member(yard, Right.HELPER, "jo@yard.example"))
    form = fields(helper.get("/recipes/slate/change/"))

    assert helper.post("/recipes/slate/change/", {**form, "d2-amount": "60 %"}).status_code == 403
    assert helper.post("/recipes/", {"start": "start-onion"}).status_code == 403
    assert Recipe.objects.of(yard).count() == 6


def test_a_shipped_start_is_taken_over_with_its_sources(client: Client) -> None:
    kept = client.post("/recipes/", {"start": "start-onion"})

    page = client.get(kept["Location"])

    assert sound(page) == []
    assert "A start, try a snippet." in words(page)
    rows = [said(row) for row in read(page).query("tbody tr")]
    alum = next(row for row in rows if row.startswith("Alum 12 %"))
    assert "8 to 12, typically 10 % of weight of fibre" in alum
    assert "girlsownstore" not in alum or "published" in alum


@pytest.mark.parametrize("address", ["/recipes/puce/", "/recipes/slate/?version=9"])
def test_a_recipe_that_there_is_not_is_not_there(client: Client, address: str) -> None:
    assert client.get(address).status_code == 404


@pytest.mark.parametrize("address", ["/recipes/slate/?version=0", "/recipes/?page=x"])
def test_a_number_that_is_none_is_refused(client: Client, address: str) -> None:
    assert client.get(address).status_code == 400
