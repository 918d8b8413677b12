"""What is said as the larder is served: address, code, fingerprint, and how a phone trusts it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from typing import TYPE_CHECKING

import segno

from inventory.science.saying import say

if TYPE_CHECKING:
    from api.https.keeping import Kept  # with a library that pages do without

QUIET = 2  # modules round a code on a screen; enough for a phone held before it
# By which of two modules, one above the other, are light; a terminal is dark.
BLOCKS = {(True, True): "█", (True, False): "▀", (False, True): "▄", (False, False): " "}
MEANING = say(
    "Trusting it means: this phone believes that whatever this machine vouches for is what it "
    "says it is, for names of a studio's own network and for nothing else. Trust it only where "
    "the fingerprint is the one shown here, and take the trust off a phone that you give away."
)
STEPS = (
    (
        "Any phone",
        say(
            "Be in the studio's network. Open the address of this page. The first time the "
            "phone warns that it does not know the larder: go on this once, fetch the file "
            "here, and do not sign in before the warning is gone."
        ),
    ),
    (
        "Android",
        say(
            "Settings, then look for “certificate”: install a certificate, CA certificate, and "
            "choose the file. The phone says that others could read along: that is what this "
            "means in general, and this one is bound to the studio's own names."
        ),
    ),
    (
        "iPhone and iPad",
        say(
            "Open the file in Safari and allow it. Settings, Profile downloaded, Install. Then "
            "Settings, General, About, Certificate trust settings: switch on Dye Larder."
        ),
    ),
    (
        "A desk",
        say(
            "Firefox: Settings, look for “certificates”, Authorities, Import, for websites. "
            "Others ask the machine itself: its list of trusted roots."
        ),
    ),
)
WITHOUT = say(
    "Without it everything works but what needs no signal: pages and notes go to the larder at "
    "once, and nothing is kept on the phone."
)


def told(kept: Kept, *, address: str, others: tuple[str, ...]) -> Iterator[str]:
    """What the command says before it serves."""
    trust = f"{address}trust/"
    yield say("The larder is at {address}", address=address)
    yield from (say("            and at {other}", other=other) for other in others)
    yield ""
    yield from code_in_text(trust)
    yield say("The code leads to {trust}, which says how a phone comes to trust it.", trust=trust)
    yield say("Fingerprint (SHA-256) {fingerprint}", fingerprint=kept.fingerprint)
    yield say(
        "The certificate is good until {until:%-d %B %Y} and renewed before that.", until=kept.until
    )
    if kept.is_new_authority:
        yield say("The authority is new: every phone that is to keep notes has to trust it once.")


def code_in_text(text: str) -> Iterator[str]:
    """A code that a phone reads off the screen, two modules to a sign."""
    dark = [
        [bool(module) for module in row]
        for row in segno.make(text, error="m").matrix_iter(border=QUIET)
    ]
    for above, below in zip_longest(dark[::2], dark[1::2]):
        under = below or [True] * len(above)
        yield "".join(BLOCKS[not one, not other] for one, other in zip(above, under, strict=True))
