"""The frame that every page stands in: its headers, its links, its refusals, its files."""

from __future__ import annotations

import logging
import re
from pathlib import Path

import pytest
from django.db.utils import OperationalError, ProgrammingError
from django.templatetags.static import static
from django.test import Client
from django.utils import translation
from django.utils.safestring import mark_safe

from api.static_names import name_with_mark
from inventory.errors import Busy
from inventory.science.figures import NoFigure
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard() -> None:
    """Pellitory Yard, loaded from its notebook."""
    load()


@pytest.mark.usefixtures("yard")
def test_a_page_says_whose_studio_it_shows_and_as_of_when(client: Client) -> None:
    page = client.get("/", {"at": MONDAY})

    assert page.headers["Content-Type"] == "text/html; charset=utf-8"
    assert "Pellitory Yard as of Mon 23 Nov 2026, 07:30" in words(page)
    assert sound(page) == []


@pytest.mark.usefixtures("yard")
def test_a_page_lets_nothing_in_and_tells_nobody_where_one_comes_from(client: Client) -> None:
    headers = client.get("/").headers

    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert headers["X-Frame-Options"] == "DENY"


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("address", ["/", "/note/dip/", "/note/kept/"])
def test_its_style_sheet_is_asked_for_with_the_first_bytes(client: Client, address: str) -> None:
    """RFC 8288, the link type `preload` as in W3C Preload."""
    page = client.get(address)

    (sheet,) = (
        link.attrs["href"]
        for link in read(page).query("link")
        if link.attrs.get("rel") == "stylesheet"
    )
    assert page.headers["Link"] == f"<{sheet}>; rel=preload; as=style"


@pytest.mark.usefixtures("yard")
def test_links_go_on_asking_the_same(client: Client) -> None:
    page = client.get("/", {"at": MONDAY, "studio": "Pellitory Yard"}).content.decode()

    assert 'href="/?at=2026-11-23T07%3A30&amp;studio=Pellitory+Yard" aria-current="page"' in page
    assert '<input type="hidden" name="studio" value="Pellitory Yard">' in page


@pytest.mark.usefixtures("yard")
def test_a_link_of_a_page_that_asks_nothing_asks_nothing(client: Client) -> None:
    page = client.get("/").content.decode()

    assert 'href="/" aria-current="page"' in page
    assert 'type="hidden"' not in page


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    ("asked", "status", "sentence"),
    [
        ({"days": "29"}, 400, "29 days asked for; a period has 1 to 28 days."),
        ({"day": "3"}, 400, "The week is asked for with at, days and studio; not with “day”."),
        ({"studio": "<b>Nowhere"}, 404, "No studio is called “<b>Nowhere”."),
    ],
)
def test_what_cannot_be_shown_is_a_page_with_the_sentence(
    client: Client, asked: dict[str, str], status: int, sentence: str
) -> None:
    page = client.get("/", asked)

    assert page.status_code == status
    assert sentence in words(page)
    assert sound(page) == []


def test_before_any_studio_is_written_down_a_page_leads_to_where_one_is_begun(
    client: Client,
) -> None:
    for address in ("/", "/shelves/", "/figures/"):
        assert client.get(address)["Location"] == "/begin/"
    page = client.get("/begin/")

    assert page.status_code == 200
    assert "python3 manage.py load FOLDER" in words(page)
    assert sound(page) == []


def test_an_unknown_address_and_a_strange_host_are_pages_too(client: Client) -> None:
    nowhere, strange = client.get("/nothing/"), client.get("/", headers={"host": "elsewhere.test"})

    assert (nowhere.status_code, strange.status_code) == (404, 400)
    assert "Nothing is kept at this address." in words(nowhere)
    assert sound(nowhere) == sound(strange) == []


def test_files_are_named_by_their_content_and_kept_for_ever(client: Client) -> None:
    address = static("larder.css")

    marked, plain = client.get(address), client.get("/static/larder.css")

    assert address != "/static/larder.css"
    assert marked.status_code == plain.status_code == 200
    assert b"".join(marked) == b"".join(plain)  # type: ignore[call-overload]
    assert "immutable" in marked.headers["Cache-Control"]
    assert "immutable" not in plain.headers["Cache-Control"]
    assert marked.headers["Content-Type"].startswith("text/css")


def test_a_name_that_a_template_hands_over_is_marked_too(tmp_path: Path) -> None:
    """Templates have a kind of text of their own, which is no path to every Python."""
    file = tmp_path / "ink.css"
    file.write_text("p { color: black }", encoding="utf-8")

    assert re.fullmatch(r"a/ink\.[0-9a-f]{12}\.css", name_with_mark(mark_safe("a/ink.css"), file))


def test_a_file_that_is_not_there_stops_the_page_that_names_it() -> None:
    with pytest.raises(ValueError, match=r"There is no static file nothing\.css\."):
        static("nothing.css")


def test_no_style_sheet_reaches_outside_or_hides_the_focus() -> None:
    sheets = sorted((Path(__file__).resolve().parents[3] / "api" / "static").glob("*.css"))

    assert sheets
    for sheet in sheets:
        text = sheet.read_text(encoding="utf-8")
        assert "url(" not in text, sheet.name
        assert "@import" not in text, sheet.name


def test_a_figure_that_nobody_has_is_asked_for_on_a_page(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def look_up(*args: object, **named: object) -> None:
        raise NoFigure("hemp", "scour_loss_fraction")

    monkeypatch.setattr("api.web.week.question_of", look_up)

    page = client.get("/")

    assert page.status_code == 409
    assert "Write one in the studio's rules: hemp, scour_loss_fraction." in words(page)
    assert sound(page) == []


@pytest.mark.usefixtures("yard")
def test_a_page_is_looked_at_again_and_sent_again_only_if_it_has_changed(client: Client) -> None:
    first = client.get("/", {"at": MONDAY})

    again = client.get("/", {"at": MONDAY}, headers={"if-none-match": first.headers["ETag"]})
    other = client.get("/", {"at": MONDAY, "days": "8"},
                       headers={"if-none-match": first.headers["ETag"]})  # fmt: skip

    assert first.headers["Cache-Control"] == "no-cache"
    assert (again.status_code, other.status_code) == (304, 200)


@pytest.mark.parametrize("trouble", [OperationalError("database is locked"), Busy(3)])
def test_while_the_database_is_busy_a_page_says_so_and_when_to_come_back(
    client: Client, monkeypatch: pytest.MonkeyPatch, trouble: Exception
) -> None:
    def wait_in_vain(*args: object, **named: object) -> None:
        raise trouble

    monkeypatch.setattr("api.web.week.question_of", wait_in_vain)

    page = client.get("/")

    assert (page.status_code, page.headers["Retry-After"]) == (503, "5")
    assert "Not just now" in words(page)
    assert sound(page) == []


def test_what_a_database_says_of_a_fault_of_ours_is_no_excuse(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def ask_wrongly(*args: object, **named: object) -> None:
        raise ProgrammingError("no such column")

    monkeypatch.setattr("api.web.week.question_of", ask_wrongly)

    with pytest.raises(ProgrammingError):
        client.get("/")


def test_a_fault_that_nobody_foresaw_is_a_page_and_is_told_where_the_service_runs(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def break_down(*args: object, **named: object) -> None:
        raise RuntimeError("the kettle fell over")

    heard: list[logging.LogRecord] = []
    listening = logging.getLogger("django.request").handlers[0]
    monkeypatch.setattr(listening, "emit", heard.append)
    monkeypatch.setattr("api.web.week.question_of", break_down)
    client.raise_request_exception = False

    page = client.get("/")

    assert page.status_code == 500
    assert "What is written down is untouched." in words(page)
    assert "kettle" not in page.content.decode()
    assert sound(page) == []
    assert [str(record.exc_info[1]) for record in heard if record.exc_info] == [
        "the kettle fell over"
    ]


@pytest.mark.usefixtures("yard")
def test_a_drawing_has_points_in_its_numbers_whatever_the_language(client: Client) -> None:
    with translation.override("de"):
        page = client.get("/shelves/", {"at": MONDAY}).content.decode()

    assert re.findall(r'="[\d.]*\d,\d[\d ,.]*"', page) == []
    assert re.search(r' (?:x|y|width|height)="\d+\.\d+"', page)


def test_every_page_says_in_one_line_what_it_is_for(client: Client) -> None:
    head = client.get("/problems/").content.decode().partition("</head>")[0]

    assert re.findall(r'<meta name="description" content="([^"]+)">', head) == [
        "What can be dyed this week, in which pot, starting when, for whom, and what stops it."
    ]
