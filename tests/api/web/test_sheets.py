"""The style sheets of a page are one file under the name of its content, whoever asks for it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.conf import settings
from django.template import engines
from django.test import Client

from api.web.sheets.joined import FOLDER, are_sheets, joined, sheets_address, without_comments
from tests.api.web.pages import read, sound, words

TEMPLATES = settings.ROOT / "api" / "templates"
NAMED = re.compile(r"{% block styles %}(.*?){% endblock %}", re.DOTALL)
SHEETS = sorted(path.stem for path in FOLDER.glob("*.css"))


def names_in(template: Path) -> list[str]:
    """What a template names in its block, conditions left out."""
    found = NAMED.search(template.read_text(encoding="utf-8"))
    return re.sub(r"{%.*?%}", " ", found[1]).split() if found else []


def test_the_sheets_of_a_page_are_kept_for_ever_under_the_name_of_their_content(
    client: Client,
) -> None:
    named = client.get(sheets_address(("larder", "week")))
    former = client.get("/style/larder-week.0123456789ab.css")

    assert named.headers["Cache-Control"] == "public, max-age=31536000, immutable"
    assert former.headers["Cache-Control"] == "no-cache"
    assert named.headers["Content-Type"] == "text/css; charset=utf-8"
    assert named.content == former.content == joined(("larder", "week")).encode()


def test_a_page_asks_for_one_style_sheet(client: Client) -> None:
    page = client.get("/no-signal/")

    links = [node.attrs["href"] for node in read(page).query('link[rel="stylesheet"]')]
    assert links == [sheets_address(("larder", "phone"))]


def test_sheets_are_joined_in_the_order_in_which_they_are_named() -> None:
    one, other = joined(("larder", "plan")), joined(("plan", "larder"))

    assert one == joined(("larder",)) + joined(("plan",))
    assert other == joined(("plan",)) + joined(("larder",))
    assert sheets_address(("larder", "plan")) != sheets_address(("plan", "larder"))


def test_a_changed_sheet_has_another_address(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(settings, "DEBUG", True)  # while typing nothing is kept
    monkeypatch.setattr("api.web.sheets.joined.FOLDER", tmp_path)
    (tmp_path / "larder.css").write_text("p { color: black }", encoding="utf-8")
    before = sheets_address(("larder",))

    (tmp_path / "larder.css").write_text("p { color: navy }", encoding="utf-8")

    assert sheets_address(("larder",)) != before


@pytest.mark.parametrize("names", ["nothing", "larder-nothing", "larder-larder", "larder-", "-"])
def test_what_is_no_sheet_or_is_named_twice_is_a_page_that_says_so(
    client: Client, names: str
) -> None:
    page = client.get(f"/style/{names}.0123456789ab.css")

    assert page.status_code == 404
    assert "There are no such style sheets." in words(page)
    assert sound(page) == []


def test_a_page_that_names_what_is_no_sheet_is_stopped() -> None:
    template = engines["django"].from_string("{% load sheets %}{% sheets %}ink{% endsheets %}")

    with pytest.raises(ValueError, match="There are no style sheets ink"):
        template.render({})


def test_every_sheet_that_a_template_names_is_there_and_each_is_named() -> None:
    named = {path: names_in(path) for path in TEMPLATES.rglob("*.html")}

    assert [path for path, names in named.items() if not are_sheets(("larder", *names))] == []
    assert {"larder", *(name for names in named.values() for name in names)} == set(SHEETS)


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_loses_its_comments_and_no_rule(name: str) -> None:
    text = (FOLDER / f"{name}.css").read_text(encoding="utf-8")
    rules = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)  # none has this sign in quotes

    left = without_comments(text)

    assert "/*" not in left
    assert left.split() == rules.split()


def test_what_stands_in_quotation_marks_stays_as_it_is() -> None:
    text = "q::before { content: '/* „  ' } /* a note */\n\n  p { font-family: \"A  /* B\" }\n"

    left = without_comments(text)

    assert left.split("\n") == [
        "q::before { content: '/* „  ' } ", 'p { font-family: "A  /* B" }', ""
    ]  # fmt: skip
