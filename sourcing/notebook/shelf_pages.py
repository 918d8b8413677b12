"""The pages about things: the studio and its rooms, vessels, lots, jars, baths and fibre."""

from __future__ import annotations

from decimal import Decimal

from sourcing.notebook.page import Column, Page

STATES = ("fresh", "frozen", "dried", "damp")
PLACE_KINDS = ("bench", "fridge", "freezer", "dry store", "tray")
FIBRES = ("wool", "silk", "cotton", "linen", "lyocell")
SITE = Column("site", "code", "shed", "the site it is at; empty: any", refers=("sites",))
NOTE = Column("note", "text", "furry", "anything worth keeping in words", most=400)
LABELLED = Column("labelled", "yes or no", "yes", "no: nobody may use it; empty means yes")
SET_ASIDE = Column("set aside", "text", "damp", "why it is kept out of use; empty: in use")

STUDIO = Page(
    "studio",
    "The studio itself, one row.",
    (
        Column("studio", "name", "Pellitory Yard", "what the studio is called", required=True),
        Column("zone", "zone", "Europe/London", "time zone by its full name", required=True),
        Column("country", "country", "GB", "two letters; decides which pint and gallon"),
        Column("region", "name", "Ottersill", "town or county"),
        Column("currency", "currency", "GBP", "three letters"),
        Column(
            "begins",
            "day",
            "1 Jan 2026",
            "what has no date of its own has been there since; empty: 1 Jan 2000",
        ),
        Column("language", "code", "de", "what all pages are said in; empty: as it is", most=10),
        Column(
            "numbers",
            "choice",
            "comma",
            "sign before tenths; empty: as it is",
            choices=("point", "comma"),
        ),
        Column(
            "units",
            "choice",
            "imperial",
            "what pages weigh and measure in; empty: as it is",
            choices=("metric", "imperial", "us"),
        ),
    ),
    ("studio",),
    "studio",
    required=True,
    most=1,
)
SITES = Page(
    "sites",
    "Places that the studio works at, when it has more than one; the main one first.",
    (
        Column("site", "code", "shed", "short name of the place", required=True),
        Column("note", "text", "behind the mill", "what it is", most=120),
    ),
    ("site",),
    "site",
)
RULES = Page(
    "rules",
    "Figures of the studio's own; each stands above the shipped one from its day on.",
    (
        Column("item", "name", "wool", "what the figure is of, or studio", required=True),
        Column(
            "rule",
            "rule",
            "scour loss fraction",
            "which figure; its unit is the last word",
            required=True,
        ),
        Column("value", "figure", "5 %", "the figure, in the unit of its rule", required=True),
        Column("since", "day", "1 Mar 2026", "day from which it holds; empty: always"),
        Column("low", "number", "0.04", "least that was found"),
        Column("high", "number", "0.06", "most that was found"),
        Column("note", "text", "own scale", "how it was found", most=400),
    ),
    ("item", "rule", "since"),
    "rule",
)
VESSELS = Page(
    "vessels",
    "Pots, tubs and buckets.",
    (
        Column("vessel", "code", "P1", "what is painted on it", required=True),
        Column("kind", "choice", "pot", "what it is", True, ("pot", "tub", "bucket")),
        Column(
            "material",
            "choice",
            "stainless",
            "what it is made of",
            True,
            ("stainless", "enamel", "aluminium", "copper", "iron", "plastic", "glass", "ceramic"),
        ),
        Column("brim", "volume", "60 L", "what it holds to the brim", required=True),
        Column("working", "volume", "48 L", "what is filled safely; empty: by the fill rule"),
        Column("iron pot", "yes or no", "no", "yes: kept for iron"),
        Column("chipped", "yes or no", "no", "yes: barred for brights"),
        Column("food", "yes or no", "no", "yes: a food pot, never used for dye"),
        Column("iron on", "day", "Mon 9 Nov 2026", "last day it held iron"),
        Column("blank swatch passed", "day", "Mon 16 Nov 2026", "last clean blank swatch"),
        SITE,
    ),
    ("vessel",),
    "vessel",
)
RINGS = Page(
    "rings",
    "Heat places on the stove.",
    (
        Column("ring", "code", "R1", "which ring", required=True),
        Column("power", "power", "3.5 kW", "as written on the stove", required=True),
        Column("not for", "codes", "P1", "vessels it does not take", refers=("vessels",)),
        SITE,
    ),
    ("ring",),
    "ring",
)
LINES = Page(
    "lines",
    "Drying room, by dry weight.",
    (
        Column("line", "code", "line", "which line", required=True),
        Column("holds", "weight", "3 kg", "dry weight that dries at once", required=True),
        Column("outdoors", "yes or no", "no", "yes: no use in frost"),
        SITE,
    ),
    ("line",),
    "line",
)
COLD_PLACES = Page(
    "cold_places",
    "Fridge, freezer and drying trays.",
    (
        Column("place", "code", "freezer", "which place", required=True),
        Column("kind", "choice", "freezer", "what it is", True, ("fridge", "freezer", "tray")),
        Column("holds", "weight", "6 kg", "what it takes; empty: without limit"),
        Column("warmth", "warmth", "4 °C", "read from its own thermometer"),
        SITE,
    ),
    ("place",),
    "cold place",
)
WATERS = Page(
    "waters",
    "Where water comes from.",
    (
        Column("water", "code", "town water", "which water", required=True),
        Column("ph", "number", "7.4", "by strip or meter", low=Decimal(0), high=Decimal(14)),
        Column("warmth", "warmth", "8 °C", "as it comes from the tap", required=True),
        SITE,
    ),
    ("water",),
    "water",
)
DYESTUFFS = Page(
    "dyestuffs",
    "What the studio itself has to say about a dyestuff.",
    (
        Column("dyestuff", "name", "avocado stones", "its name, as on the lots", required=True),
        Column("piece", "code", "stone", "what one piece is called, where it is counted"),
        Column("fugitive", "yes or no", "no", "yes: it soon fades"),
        Column("foraged", "yes or no", "no", "yes: needs leave to be gathered"),
        Column("caution", "text", "poisonous to dogs", "goes with it to label and sheet"),
    ),
    ("dyestuff",),
    "dyestuff",
)
LOTS = Page(
    "lots",
    "Dyestuff on the shelves, one row a lot.",
    (
        Column("lot", "code", "AV-1116", "what is written on the bag", required=True),
        Column("dyestuff", "name", "avocado stones", "what it is", required=True),
        Column(
            "amount",
            "weight or count",
            "1,180 g",
            "what is left, weighed or counted, in the state beside it",
            required=True,
        ),
        Column("state", "choice", "fresh", "the state it was weighed in", True, STATES),
        Column("place", "place", "fridge", "where it is kept", required=True),
        Column("since", "moment", "Mon 16 Nov 2026 17:00", "in that place since", required=True),
        Column("warmth", "warmth", "4 °C", "how warm it is there, where it was read"),
        Column("arrives", "moment", "Mon 23 Nov 2026 17:00", "on its way: when it comes"),
        Column("gathered", "day", "16 Nov 2026", "day it was gathered or handed over"),
        Column("source", "name", "Lantern Steps café", "who gave it", refers=("sources",)),
        Column("permission", "text", "corner house, 1 Oct 2026", "who said yes, and when"),
        Column("nest checked", "yes or no", "yes", "hedge looked over for nests; empty: unknown"),
        LABELLED,
        SET_ASIDE,
        SITE,
        NOTE,
    ),
    ("lot",),
    "lot",
)
STAYS = Page(
    "stays",
    "Where a lot was before it came to the place on its own row.",
    (
        Column("lot", "code", "AV-1116", "which lot", required=True, refers=("lots",)),
        Column("since", "moment", "Sun 15 Nov 2026 18:00", "from when", required=True),
        Column("state", "choice", "fresh", "its state then", True, STATES),
        Column("place", "place", "bench", "where it was", required=True),
        Column("warmth", "warmth", "8 °C", "how warm it was there, where it was read"),
    ),
    ("lot", "since"),
    "stay",
)
VERDICTS = Page(
    "verdicts",
    "What somebody saw when looking at a lot; it stands above any sum of days.",
    (
        Column("lot", "code", "AV-1109", "which lot", required=True, refers=("lots",)),
        Column("at", "moment", "Mon 23 Nov 2026 07:30", "when", required=True),
        Column("looks", "choice", "bad", "what it was", True, ("sound", "bad")),
    ),
    ("lot", "at"),
    "look",
)
METALS = ("iron", "copper")
JARS = Page(
    "jars",
    "Home-made liquors.",
    (
        Column("jar", "code", "J1", "which jar", required=True),
        Column("name", "name", "Iron 7", "what the tape says"),
        Column("metal", "choice", "iron", "what is in it; empty: nobody knows", choices=METALS),
        Column("parts", "parts", "2 water : 1 vinegar", "what was poured in"),
        Column(
            "vinegar",
            "percent",
            "5 %",
            "strength of that vinegar, g in 100 mL",
            low=Decimal(0),
            high=Decimal(30),
        ),
        Column("begun", "moment", "Tue 17 Nov 2026 09:00", "when it was begun; empty: unknown"),
        Column("begun with", "volume", "3.0 L", "liquor at the beginning"),
        Column("left", "volume", "3.0 L", "what is left; 0 mL when empty", required=True),
        Column("warmth", "warmth", "8 °C", "where it stood at first"),
        Column("metal put in", "weight", "200 g", "empty: more than can dissolve"),
        LABELLED,
        SET_ASIDE,
        Column("looks", "text", "orange", "for a jar without a label", most=80),
        SITE,
    ),
    ("jar",),
    "jar",
)
JAR_EVENTS = Page(
    "jar_events",
    "What happened to a jar after it was begun.",
    (
        Column("jar", "code", "J2", "which jar", required=True, refers=("jars",)),
        Column("at", "moment", "Sun 1 Nov 2026 09:00", "when", required=True),
        Column(
            "what",
            "choice",
            "strained",
            "what was done",
            True,
            ("topped up", "drawn", "strained", "kept at", "evaporated", "measured"),
        ),
        Column("amount", "volume", "500 mL", "poured in, taken, lost; of measured: what is there"),
        Column("parts", "parts", "1 water : 1 vinegar", "of a topping-up"),
        Column("vinegar", "percent", "5 %", "of a topping-up", low=Decimal(0), high=Decimal(30)),
        Column("warmth", "warmth", "20 °C", "of kept at: how warm it stands from then on"),
    ),
    ("jar", "at", "what"),
    "event of a jar",
)
DIPS = Page(
    "dips",
    "Tests of a jar.",
    (
        Column("jar", "code", "J2", "which jar", required=True, refers=("jars",)),
        Column("at", "moment", "Mon 2 Nov 2026 09:00", "when", required=True),
        Column("strip", "whole", "4", "1 faint to 5 black", low=Decimal(1), high=Decimal(5)),
        Column(
            "reading",
            "number",
            "3500",
            "mg of metal in a litre, by test strip",
            low=Decimal(0),
            high=Decimal(200_000),
        ),
    ),
    ("jar", "at"),
    "dip",
)
BATHS = Page(
    "baths",
    "Baths kept for use: nettle bath, alum bath, dyebath.",
    (
        Column("bath", "code", "J6", "which bath", required=True),
        Column("what", "name", "nettle bath", "what it is", required=True),
        Column("made", "moment", "Thu 19 Nov 2026 12:00", "when it was made", required=True),
        Column("left", "volume", "8 L", "what is left", required=True),
        Column("warmth", "warmth", "8 °C", "how warm it is kept", required=True),
        Column("times used", "whole", "0", "how often", low=Decimal(0), high=Decimal(50)),
        Column("shade", "name", "Blush", "of a dyebath: the shade that came first"),
        Column("depth", "whole", "3", "of that shade", low=Decimal(0), high=Decimal(5)),
        Column("metal", "choice", "iron", "metal in it, if any", choices=METALS),
        Column("alum left", "weight", "24 g", "of an alum bath, reckoned"),
        SET_ASIDE,
        SITE,
    ),
    ("bath",),
    "bath",
)
SUPPLIES = Page(
    "supplies",
    "Alum, soda crystals, tannin and other things that keep.",
    (
        Column("supply", "code", "alum", "which tub or bag", required=True),
        Column("what", "name", "alum", "what is in it", required=True),
        Column("left", "weight", "900 g", "what is left", required=True),
        SITE,
    ),
    ("supply",),
    "supply",
)
FIBRE = Page(
    "fibre",
    "Fibre waiting to be dyed, by dry weight.",
    (
        Column("fibre lot", "code", "W-88", "what is on its tag", required=True),
        Column("fibre", "choice", "wool", "what it is", True, FIBRES),
        Column("form", "choice", "yarn", "how it comes", True, ("yarn", "cloth", "fleece")),
        Column(
            "left",
            "weight or length",
            "2,400 g",
            "dry weight left; of measured cloth also metres",
            required=True,
        ),
        Column("scoured", "yes or no", "no", "yes: clean", required=True),
        Column("mordant", "mordant", "alum 12 %", "what it was mordanted with"),
        Column("damp", "yes or no", "no", "yes: put away damp"),
        Column("since", "day", "3 Nov 2026", "day of its present state"),
        Column("arrives", "moment", "Thu 26 Nov 2026 12:00", "still in the post: when it comes"),
        Column("client's own", "yes or no", "no", "yes: belongs to the client"),
        Column("weighed", "yes or no", "yes", "client's own: weighed here; empty means yes"),
        Column(
            "iron",
            "percent",
            "1 %",
            "iron already in it, as ferrous sulphate",
            low=Decimal(0),
            high=Decimal(20),
        ),
        Column("dyed", "name", "Blush", "the shade in it; empty: not dyed"),
        Column("depth", "whole", "3", "of that shade", low=Decimal(1), high=Decimal(5)),
        Column(
            "quality",
            "choice",
            "second quality",
            "what dyed fibre is kept as; empty: as it was meant to be",
            choices=("second quality", "for re-dyeing"),
        ),
        Column("came out", "text", "streaky", "what went wrong with it", most=120),
        Column("per m2", "per m2", "180 g per m²", "of cloth: what a square metre weighs dry"),
        Column("width", "length", "150 cm", "of cloth: how wide it lies"),
        LABELLED,
        SET_ASIDE,
        SITE,
    ),
    ("fibre lot",),
    "fibre lot",
)
SHELF_PAGES = (
    STUDIO,
    SITES,
    RULES,
    WATERS,
    VESSELS,
    RINGS,
    LINES,
    COLD_PLACES,
    DYESTUFFS,
    LOTS,
    STAYS,
    VERDICTS,
    JARS,
    JAR_EVENTS,
    DIPS,
    BATHS,
    SUPPLIES,
    FIBRE,
)
