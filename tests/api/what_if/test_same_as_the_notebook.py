"""A what-if answers what a studio would hear whose notebook were really written so."""

from __future__ import annotations

import os
from typing import Any

import pytest

from api.what_if.kinds import KINDS
from sourcing.notebook.load import load_files
from tests.api.what_if.asking import asked, plain
from tests.sourcing.notebook.desk import yard_files

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("yard")]

CAFE = "Lantern Steps café"
STONES = "avocado stones"
Edit = tuple[str, str, str]  # page, what stands there, what is written instead; "": at the end
CASES: dict[str, tuple[dict[str, Any], list[Edit]]] = {
    "pick-up missed": (
        {"source": CAFE, "on": "2026-11-26"},
        [("pickups", "", f"{CAFE},{STONES},Thu 26 Nov 2026 17:00,missed,,,,\n")],
    ),
    "pick-up comes": (
        {"source": CAFE, "on": "2026-11-26", "gives": STONES, "amount": "49 stones",
         "lot": "AV-1126"},
        [("pickups", "",
          f"{CAFE},{STONES},Thu 26 Nov 2026 17:00,reported,49 stones,AV-1126,fridge,\n")],
    ),
    "pick-up comes on a day that is not agreed": (
        {"source": CAFE, "on": "2026-11-25", "gives": STONES, "amount": "2 kg", "at": "16:00",
         "lot": "AV-1125", "place": "bench"},
        [("pickups", "", f"{CAFE},{STONES},Wed 25 Nov 2026 16:00,reported,2 kg,AV-1125,bench,\n")],
    ),
    "pick-up comes with less than was told": (
        {"source": CAFE, "on": "2026-11-23", "gives": STONES, "amount": "20 stones",
         "lot": "AV-1123"},
        [("pickups", "reported,58 stones", "reported,20 stones")],
    ),
    "line room": ({"more": "0.5 kg"}, [("lines", "line,3 kg", "line,3.5 kg")]),
    "pot away": (
        {"vessel": "P1"},
        [("vessels", "P1,pot,stainless,60 L,48 L,no,no,no,,Mon 16 Nov 2026,\n", ""),
         ("rings", "R2,3.0 kW,P1,", "R2,3.0 kW,,")],
    ),
    "pot away for a stretch": (
        {"vessel": "P1", "from": "2026-11-24T00:00", "until": "2026-11-25T18:00"},
        [("blocks", "", "lent,P1 away,Tue 24 Nov 2026 00:00,Wed 25 Nov 2026 18:00,,P1,,,no,no\n")],
    ),
    "one pot more": (
        {"vessel": "P9", "kind": "iron pot", "working": "40 L"},
        [("vessels", "", "P9,pot,stainless,40 L,40 L,yes,no,no,,,\n")],
    ),
    "ring away": (
        {"ring": "R1"},
        [("rings", "R1,3.5 kW,,\n", ""), ("blocks", '"R1, R2"', "R2")],
    ),
    "one ring more": (
        {"ring": "R3", "watts": 3000},
        [("rings", "", "R3,3.0 kW,,\n")],
    ),
    "somebody in": (
        {"day": "2026-11-25", "from": "09:00", "until": "18:00", "hands_min": 360},
        [("hours", "", "guest,Wed 25 Nov 2026,6 h,09:00,18:00,,,,\n")],
    ),
    "somebody away": (
        {"day": "2026-11-27"},
        [("hours", "", "dyer,Fri 27 Nov 2026,0 h,,,,,,\n")],
    ),
    "somebody away from one o'clock": (
        {"day": "2026-11-27", "from": "13:00"},
        [("hours", "", "dyer,Fri 27 Nov 2026,4 h,09:00,13:00,,,,\n")],
    ),
    "somebody away of two": (
        {"day": "2026-11-24", "hands_min": 240},
        [("hours", "assistant,Tue,4 h,09:00,18:00,,,,\n", "")],
    ),
    "another due date": (
        {"run": "E", "due": "2026-12-01T17:59"},
        [("runs", "T-07,Fri 4 Dec 2026 18:00", "T-07,Tue 1 Dec 2026 17:59")],
    ),
    "another due date: none": (
        {"run": "E", "due": None},
        [("runs", "T-07,Fri 4 Dec 2026 18:00", "T-07,")],
    ),
    "another weight": (
        {"run": "G", "weight": "2 kg"},
        [("runs", '"4,000 g"', '"2,000 g"')],
    ),
    "run left out": (
        {"run": "A"},
        [("runs", 'A,blush,wool,"2,000 g",W-88,Mon 30 Nov 2026 09:00,,,yes,,,no,\n', ""),
         ("gates", "A,shade card,,,,,yes\n", "")],
    ),
    "one run more": (
        {"run": "H", "recipe": "slate", "fibre": "silk", "weight": "100 g",
         "due": "2026-11-30T00:00"},
        [("runs", "", "H,slate,silk,100 g,,Mon 30 Nov 2026 00:00,,,yes,,,no,\n"),
         ("gates", "", "H,shade card,,,,,yes\n")],
    ),
    "lot weighed": (
        {"lot": "AV-0911", "amount": "1 kg"},
        [("lots", 'AV-0911,avocado stones,"1,900 g"', 'AV-0911,avocado stones,"1,000 g"')],
    ),
    "lot found bad": (
        {"lot": "AV-1030"},
        [("verdicts", "", "lot,at,looks\nAV-1030,Mon 23 Nov 2026 07:30,bad\n")],
    ),
    "more of a supply": (
        {"supply": "alum", "amount": {"amount": "500", "unit": "g"}},
        [("supplies", "alum,alum,900 g", 'alum,alum,"1,400 g"')],
    ),
    "jar dipped": (
        {"jar": "J3", "strip": 4},
        [("dips", "", "J3,Mon 23 Nov 2026 07:30,4,\n")],
    ),
    "jar gone": (
        {"jar": "J4"},
        [("jars", "J4,Copper 4,copper,1 water : 1 vinegar,5 %,Sun 22 Nov 2026 16:00,1.0 L,1.0 L,"
          "8 °C,,yes,,,\n", ""),
         ("runs", "18:00,J4,", "18:00,,")],
    ),
    "another bath": (
        {"bath": "N2", "what": "nettle bath", "amount": "8 L"},
        [("baths", "", "N2,nettle bath,Mon 23 Nov 2026 07:30,8 L,8 °C,0,,,,,,\n")],
    ),
    "another figure": (
        {"item": "wool", "rule": "scour loss fraction", "value": "20 %"},
        [("rules", "wool,scour loss fraction,5 %", "wool,scour loss fraction,20 %")],
    ),
    "another figure that pick-ups are counted with": (
        {"item": STONES, "rule": "piece mass g", "value": "50 g"},
        [("rules", f"{STONES},piece mass g,42 g", f"{STONES},piece mass g,50 g")],
    ),
    "another figure that was not the studio's own": (
        {"item": "studio", "rule": "horizon days", "value": "21 d"},
        [("rules", "studio,horizon days,42 d", "studio,horizon days,21 d")],
    ),
}  # fmt: skip
# A notebook takes a second to load, so several are written together; each alone in the long round.
TOGETHER = (
    ("pick-up missed", "line room", "somebody in", "another weight", "lot found bad"),
    ("pick-up comes", "pot away", "another due date", "lot weighed", "more of a supply"),
    ("pick-up comes on a day that is not agreed", "ring away", "run left out", "another figure"),
    ("pick-up comes with less than was told", "one pot more", "somebody away", "jar dipped"),
    ("pot away for a stretch", "one ring more", "one run more", "somebody away of two"),
    ("another figure that pick-ups are counted with", "another bath",
     "somebody away from one o'clock"),
    ("another figure that was not the studio's own", "jar gone", "another due date: none"),
)  # fmt: skip
LONG = os.environ.get("DYE_LARDER_LONG") == "1"
ASKED = [(case,) for case in CASES] if LONG else TOGETHER


def written(edits: list[Edit]) -> dict[str, bytes]:
    """The notebook of another studio, in which all that is really written."""
    files = yard_files()
    files["studio.csv"] = files["studio.csv"].replace(b"Pellitory Yard", b"Other Yard")
    for page, old, new in edits:
        name = f"{page}.csv"
        text = files.get(name, b"").decode()
        assert old in text, (page, old)
        files[name] = (text.replace(old, new, 1) if old else text + new).encode()
    return files


def change(case: str) -> dict[str, Any]:
    word = next(word for word in sorted(KINDS, key=len, reverse=True) if case.startswith(word))
    return {"change": word, **CASES[case][0]}


@pytest.mark.parametrize("cases", ASKED, ids=[" + ".join(cases) for cases in ASKED])
def test_a_what_if_is_the_week_of_a_notebook_written_so(cases: tuple[str, ...]) -> None:
    load_files(written([edit for case in cases for edit in CASES[case][1]]))

    answer = asked(*map(change, cases), studio="Pellitory Yard")
    there = {**plain(studio="Other Yard"), "studio": "Pellitory Yard"}

    del answer["changed"], answer["understood"]
    assert answer == there
    assert answer != plain(studio="Pellitory Yard")


def test_every_kind_of_change_is_held_against_a_notebook() -> None:
    """A jar's liquid is of its own history in a notebook, so its measure is none of its cells."""
    assert {change(case)["change"] for case in CASES} == KINDS.keys() - {"jar holds"}
    assert {case for cases in TOGETHER for case in cases} == set(CASES)
