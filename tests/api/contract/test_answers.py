"""What is answered has the form that the contract says, with no member that it leaves out."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from tests.api.contract.forms import JSON, Found, faults, operations

MORE = {
    "missed": ["&source=Lantern Steps café&on=2026-11-26"],
    "put_by": ["&of=privet&runs=4&each=480 g&from=2027-03"],
    "coming": ["&gives=privet"],
    "thanks": ["&source=Lantern Steps café&since=2025-11", "&page=2"],
    "totals": ["&since=2025-11"],
    "figures": ["&kind=sums", "&item=weld", "&item=wool&property=scour_loss_fraction"],
    "shelves": ["&part=lots&page=2", "&part=moved"],
}
WHEN = ("2026-11-23T07:30", "2026-11-27T18:00", "2027-02-20T12:00")
READ = [
    row
    for row in operations()
    if row.method == "get" and "{" not in row.path and JSON in row.answer.get("content", {})
]


def asked(row: Found) -> list[str]:
    words = {each["$ref"].rpartition("/")[2] for each in row.said.get("parameters", ())
             if "$ref" in each}  # fmt: skip
    if "studio" not in words:
        return [row.path]
    return [
        f"{row.path}?studio={studio}{f'&at={at}' if 'at' in words else ''}{more}"
        for studio in ("Pellitory Yard", "Kelpwick Loft")
        for at in WHEN
        for more in ["", *MORE.get(row.name, [])]
    ]


@pytest.mark.parametrize("row", READ, ids=[row.name for row in READ])
@pytest.mark.usefixtures("two_studios", "db")
def test_an_answer_has_the_form_that_the_contract_says(row: Found) -> None:
    form: dict[str, Any] = row.answer["content"][JSON]["schema"]
    read = 0

    for address in asked(row):
        answer = Client().get(address)
        if answer.status_code == 200:
            assert faults(answer.json(), form, closed=True) == [], address
            read += 1

    assert read
