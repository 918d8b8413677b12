"""A form as a browser has it: what it would send as it stands, and with other answers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qs, urlencode, urlsplit

from django.http import HttpResponse
from django.test import Client
from justhtml import Element, JustHTML

from tests.api.web.pages import as_read, read


@dataclass(frozen=True)
class Filled:
    """What a form sends, by name."""

    action: str
    verb: str
    fields: dict[str, str]
    choices: dict[str, tuple[str, ...]]
    page: HttpResponse


def opened(client: Client, verb: str, **asked: str) -> Filled:
    """The form of a verb as it opens."""
    page = client.get(f"/note/{verb}/", asked)
    assert page.status_code == 200, page.content
    return form_of(page)


def form_of(page: HttpResponse) -> Filled:
    """The form that stands on a page."""
    tree = read(page)
    (form,) = tree.query("form.note")
    fields: dict[str, str] = {}
    choices: dict[str, list[str]] = {}
    for node in tree.query("form.note input"):
        attrs = {name: text or "" for name, text in (node.attrs or {}).items()}
        name, value = attrs["name"], attrs.get("value", "")
        if attrs.get("type") == "radio":
            choices.setdefault(name, []).append(value)
            if "checked" not in attrs:
                continue
        if attrs.get("type") == "checkbox" and "checked" not in attrs:
            continue
        fields[name] = value
    found = {name: tuple(values) for name, values in choices.items()}
    return Filled(form.attrs["action"], form.attrs.get("data-verb") or "", fields, found, page)


def sent(client: Client, form: Filled, /, **answers: str) -> Any:
    """The form sent with other answers in place of those that stood there."""
    said = {**form.fields, **answers}
    return client.post(form.action, urlencode(said), content_type=FORM)


FORM = "application/x-www-form-urlencoded"


def told(client: Client, answer: Any) -> str:
    """What the page says that a form leads to."""
    assert answer.status_code == 303, faults(answer)
    return main_of(client.get(answer["Location"]))


def main_of(page: HttpResponse) -> str:
    """What the middle of a page says, with single spaces."""
    (main,) = read(page).query("main")
    return as_read(main.to_text())


def faults(page: HttpResponse) -> list[str]:
    """The sentences that refuse a form."""
    tree: JustHTML = read(page)
    return [as_read(node.to_text()) for node in tree.query("[role=alert] li") if _is(node)]


def entry_of(answer: Any) -> str:
    """The id of the entry that a form led to."""
    return urlsplit(answer["Location"]).path.split("/")[3]


def asked_in(address: str) -> dict[str, str]:
    """What an address asks for."""
    return {name: values[0] for name, values in parse_qs(urlsplit(address).query).items()}


def _is(node: Any) -> bool:
    return isinstance(node, Element)
