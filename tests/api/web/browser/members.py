"""Lets somebody into a larder and prints the links that are their own keys, one line of JSON.

    python -m tests.api.web.browser.members

The environment names the larder. From then on everyone signs in there.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from playwright.sync_api import Page

from tests.api.web.browser.server import ROOT, environment_of

EMAIL, PASSWORD = "wren@pellitory.example", "walnut hull by moonlight"


def let_in(larder: Path) -> list[str]:
    """An owner of the studio in a larder; the addresses that nobody finds by a link."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.api.web.browser.members"],
        cwd=ROOT,
        env=environment_of(larder),
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    found: list[str] = json.loads(done.stdout)
    return found


def sign_in(page: Page) -> None:
    """Through the page for it, as everybody does."""
    page.goto("/sign-in/")
    page.get_by_label("E-mail").fill(EMAIL)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda address: "sign-in" not in address)


def main() -> None:
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    django.setup()
    from django.utils import timezone

    from api.invitations import invite
    from api.members import add_account, join
    from api.recovery import recovery_path
    from api.reminders.stopping import stop_path
    from api.rights import Right
    from api.source_links.links import make_link
    from inventory.models import Studio
    from sourcing.models import Source
    from sourcing.reminders import wishes_of

    now, studio = timezone.now(), Studio.objects.get()
    wren = add_account(email=EMAIL, name="Wren", password=PASSWORD, at=now)
    member = join(studio, wren, right=Right.OWNER, at=now)
    _, secret = invite(member, email="sorrel@pellitory.example", right=Right.HELPER, at=now)
    wish = wishes_of(studio)[0]
    stopping = [stop_path(wish.mark, kind) for kind in ("all", *wish.kinds)]
    cafe = Source.objects.of(studio).select_related("studio")[0]
    _, opens = make_link(cafe, asks="Wren", wish="In the clean tub.", made_by="Wren", at=now)
    own = [f"/join/{secret}/", recovery_path(wren), f"/saved/{opens}/"]
    print(json.dumps([*own, *stopping[:2]]))


if __name__ == "__main__":
    main()
