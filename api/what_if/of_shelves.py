"""Changes of what lies on the shelves: lots, supplies, jars and baths."""

from __future__ import annotations

from api.entries.fields import AmountOf, Code, Whole, Words
from api.what_if.kind import kind
from sourcing.week.what_if.shelf import (
    AnotherBath,
    JarDipped,
    JarGone,
    JarHolds,
    LotFoundBad,
    LotWeighed,
    MoreOfASupply,
)

OF_SHELVES = (
    kind(
        "lot weighed",
        "A lot of dyestuff or fibre, or a supply, is of another weight than is written down.",
        {"lot": Code(), "amount": AmountOf("mass", may_be_zero=True)},
        lambda read: LotWeighed(read["lot"], read["amount"].mg),
        {"lot": "AV-0911", "amount": "1 kg"},
    ),
    kind(
        "lot found bad",
        "A lot of dyestuff has gone bad, whatever the days say; fibre is set aside.",
        {"lot": Code()},
        lambda read: LotFoundBad(read["lot"]),
        {"lot": "AV-1030"},
    ),
    kind(
        "more of a supply",
        "So much more of a supply is there.",
        {"supply": Words(), "amount": AmountOf("mass")},
        lambda read: MoreOfASupply(read["supply"], read["amount"].mg),
        {"supply": "alum", "amount": "500 g"},
    ),
    kind(
        "jar dipped",
        "A jar's strip shows a grade at the moment asked for.",
        {"jar": Code(), "strip": Whole(least=1, most=5, help_text="1 faint to 5 black")},
        lambda read: JarDipped(read["jar"], read["strip"]),
        {"jar": "J3", "strip": 4},
    ),
    kind(
        "jar holds",
        "So much is left in a jar.",
        {"jar": Code(), "amount": AmountOf("volume", may_be_zero=True)},
        lambda read: JarHolds(read["jar"], read["amount"].ul),
        {"jar": "J2", "amount": "600 mL"},
    ),
    kind(
        "jar gone",
        "A jar is not there any more.",
        {"jar": Code()},
        lambda read: JarGone(read["jar"]),
        {"jar": "J2"},
    ),
    kind(
        "another bath",
        "A bath was made at the moment asked for, and stands in the shed.",
        {
            "bath": Code(help_text="how it is called in the answer"),
            "what": Words(help_text="such as nettle bath"),
            "amount": AmountOf("volume"),
            "site": Code(required=False, help_text="where the studio has several; else any"),
        },
        lambda read: AnotherBath(
            read["bath"], read["what"], read["amount"].ul, read.get("site", "")
        ),
        {"bath": "N2", "what": "nettle bath", "amount": "8 L"},
    ),
)
