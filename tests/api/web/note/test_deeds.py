"""Each flag of the morning and each thing on the shelves leads to the form that sees to it."""

from __future__ import annotations

import pytest
from django.test import Client

from inventory.models import Lot, Site, Studio
from tests.api.web.note.filled import faults, form_of, main_of, opened, sent, told
from tests.api.web.pages import as_read, read, sound
from tests.api.web.yard import MONDAY

pytestmark = pytest.mark.usefixtures("yard")


def deeds(client: Client, page: str, within: str) -> dict[str, str]:
    """Addresses of the links, by the whole text that they stand in."""
    answer = client.get(page, {"at": MONDAY})
    assert sound(answer) == []
    found = {}
    for row in read(answer).query(within):
        for link in row.query("a.deed"):
            found[as_read(row.to_text())] = str((link.attrs or {})["href"])
    return found


def filled_by(client: Client, address: str) -> dict[str, str]:
    """What the form at an address would send as it stands."""
    return form_of(client.get(address)).fields


def of(found: dict[str, str], text: str) -> str:
    return next(address for said, address in found.items() if text in said)


def test_a_lot_on_its_last_good_day_is_two_taps_from_the_freezer(
    client: Client, yard: Studio
) -> None:
    address = of(deeds(client, "/", ".flags li"), "AV-1116 today")

    page = client.get(address)
    form = form_of(page)
    said = told(client, sent(client, form))

    assert (form.fields["lot"], form.fields["how"]) == ("AV-1116", "frozen|freezer:freezer")
    assert "Which lot? AV-1116 How? frozen, freezer" in said
    assert "When Mon 23 Nov 07:30" in said


def test_a_part_that_is_carried_to_another_site_is_a_lot_of_its_own_there(
    client: Client, yard: Studio
) -> None:
    Site.objects.of(yard).create(code="shed")
    form = opened(client, "put-by", lot="ON-0801", amount="250 g")
    assert "open" in (read(form.page).query("form.note details")[-1].attrs or {})
    plain = opened(client, "put-by", lot="ON-0801")
    assert "open" not in (read(plain.page).query("form.note details")[-1].attrs or {})

    nowhere = faults(sent(client, form, how="dried|dry store:", site="barn"))
    said = told(client, sent(client, form, how="dried|dry store:", site="shed", becomes="248 g"))

    assert "No site has the code barn" in " ".join(nowhere)
    assert "Carried to which other site? shed" in said
    part = Lot.objects.of(yard).get(parent__code="ON-0801")
    assert (part.site.code, part.code.startswith("ON-0801")) == ("shed", True)


def test_each_flag_of_the_worked_monday_leads_to_its_form(client: Client) -> None:
    found = deeds(client, "/", ".flags li")

    wanted = {
        "compost AV-1109": ("tip-out", {"lot": "AV-1109", "where_to": "compost"}),
        "dip Iron 7": ("dip", {"jar": "J1"}),
        "dip Iron 3": ("dip", {"jar": "J3"}),
        "J5": ("label", {"lot": "J5", "labelled": "yes"}),
        "J6": ("use-bath", {"bath": "J6"}),
        "W-85": ("dry", {"lot": "W-85"}),
        "ON-1114": ("put-by", {"lot": "ON-1114", "how": "dried|dry store:"}),
        "P4": ("chip", {"vessel": "P4", "mended": "yes"}),
    }
    for text, (verb, said) in wanted.items():
        address = next(a for row, a in found.items() if text.casefold() in row.casefold())
        assert address.startswith(f"/note/{verb}/"), (text, address)
        assert filled_by(client, address).items() >= said.items(), text


@pytest.mark.parametrize(
    ("part", "wanted"),
    [
        ("#lots + .lots > li, .lots > li", {"AV-1116": "put-by", "ON-0801": "draw", "W-88": "scour",
                                          "S-12": "mordant", "T-07": "arrive", "W-85": "dry"}),
        (".jar-tickets article", {"J1": "dip", "J2": "draw-liquor", "J5": "label"}),
        (".pots > li", {"P1": "mark-iron", "P4": "chip"}),
    ],
)  # fmt: skip
def test_each_thing_on_the_shelves_has_its_one_deed(
    client: Client, part: str, wanted: dict[str, str]
) -> None:
    found = deeds(client, "/shelves/", part)

    assert {code: of(found, code).split("/")[2] for code in wanted} == wanted
    assert all("at=2026-11-23" in address for address in found.values())


def test_two_links_of_the_same_words_say_what_each_is_about(client: Client) -> None:
    found = deeds(client, "/", ".flags li")

    assert sorted(text.partition("Dip it: ")[2].split()[0] for text in found if "Dip it" in text) \
        == ["J1", "J3"]  # fmt: skip


def test_whoever_opens_a_jar_reads_what_it_can_do(client: Client) -> None:
    said = main_of(client.get("/note/dip/"))

    assert "GAS iron in vinegar gives off hydrogen: lid loose, away from flame and ring" in said
    assert "GLOVES copper liquor" in said
