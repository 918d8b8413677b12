"""The page that documents the columns."""

from __future__ import annotations

import re

import pytest

from sourcing.notebook.guide import guide
from sourcing.notebook.notebook import read_page
from sourcing.notebook.page import Page
from sourcing.notebook.yard_pages import PAGES
from tests.sourcing.notebook.desk import YARD, yard

# Words of the office that never reach a screen or paper here.
OFFICE = (
    "sku|entity|warehouse|pallet|ticket|backlog|sprint|workflow|lifecycle|dashboard|widget|"
    "tenant|workspace|upload|import|admin|template|resource|allocate|vendor|quarantine|expire|"
    "stock|capacity|throughput|object|record id|user"
)


def test_the_paper_beside_the_notebooks_is_the_one_that_the_columns_make() -> None:
    paper = (YARD.parent / "README.md").read_text(encoding="utf-8")

    assert paper == guide()


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_page_made_of_its_examples_is_read(page: Page) -> None:
    head = ",".join(f'"{column.name}"' for column in page.columns)
    cells = ",".join(f'"{column.example}"' for column in page.columns)

    rows, problems = read_page(page, f"{head}\n{cells}\n".encode(), yard().setting)

    assert problems == []
    assert set(rows[0].values) == {column.name for column in page.columns}


def test_no_office_word_stands_in_it() -> None:
    assert re.findall(rf"\b(?:{OFFICE})s?\b", guide(), re.IGNORECASE) == []
