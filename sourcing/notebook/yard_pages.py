"""The pages about intentions: who is in, who gives, how a shade is made, what is wanted."""

from __future__ import annotations

from decimal import Decimal

from sourcing.notebook.begun_pages import BEGUN_PAGES
from sourcing.notebook.order_pages import ORDER_PAGES
from sourcing.notebook.page import Column, Page
from sourcing.notebook.shelf_pages import FIBRES, NOTE, SHELF_PAGES, SITE, STATES
from sourcing.notebook.taken_pages import TAKEN_PAGES
from sourcing.reminding.facts import ALL, BEGUN, KINDS, MOST_READERS, STOPPED
from sourcing.week.sharing import MAY_SHARE

STEP_KINDS = (
    "wet out",
    "scour",
    "mordant",
    "tannin",
    "soak",
    "extract",
    "dye",
    "after-bath",
    "rinse",
)
KEPT = ("dried", "frozen")  # states that keep over a season
VESSEL_WORDS = ("pot", "iron pot", "bucket", "tub", "same")

HOURS = Page(
    "hours",
    "Who is in on which day, and for how many hours of hands.",
    (
        Column("who", "name", "dyer", "who", required=True),
        Column("day", "weekday or day", "Mon", "day of every week, or one day", required=True),
        Column("hands", "minutes", "6 h", "time at the pots; 0 h: not in", required=True),
        Column("from", "clock", "09:00", "there from"),
        Column("to", "clock", "18:00", "there until"),
        Column("since", "day", "1 Sep 2026", "first day it holds; empty: always"),
        Column("until", "day", "28 Feb 2027", "last day it holds; empty: for good"),
        SITE,
        NOTE,
    ),
    ("who", "day", "since", "site"),
    "row of hours",
)
BLOCKS = Page(
    "blocks",
    "What takes the room: group days, teaching, holidays, power cuts.",
    (
        Column("block", "code", "group", "short name", required=True),
        Column("what", "name", "group day", "what it is", required=True),
        Column("from", "moment", "Sat 28 Nov 2026 10:00", "begins", required=True),
        Column("until", "moment", "Sat 28 Nov 2026 14:00", "ends", required=True),
        Column("rings", "codes", "R1, R2", "rings it takes", refers=("rings",)),
        Column("vessels", "codes", "B1", "vessels it takes", refers=("vessels",)),
        Column("line", "weight", "500 g", "line room it takes, dry weight"),
        Column("hands", "minutes", "240 min", "time at the pots it takes"),
        Column("no iron", "yes or no", "no", "yes: no metal baths meanwhile"),
        Column("group", "yes or no", "yes", "yes: a group day"),
    ),
    ("block",),
    "block",
)
CHORES = Page(
    "chores",
    "Fixed work on a day, outside any run.",
    (
        Column("day", "day", "Mon 23 Nov 2026", "which day", required=True),
        Column("what", "name", "check W-85 for mould", "what is done", required=True),
        Column("hands", "minutes", "30 min", "time it takes", required=True),
        Column("clears", "code", "W-85", "lot that may be used after it", refers=("lots", "fibre")),
        Column("at", "clock", "09:00", "time of day, where it has one"),
        Column("done at", "moment", "Mon 23 Nov 2026 09:40", "when; empty: it is still to do"),
    ),
    ("day", "what"),
    "chore",
)
SOURCES = Page(
    "sources",
    "People and places that save material.",
    (
        Column("source", "name", "Lantern Steps café", "its name", required=True),
        Column("kind", "name", "café", "café, greengrocer, hedge …"),
        Column("where", "name", "Ottersill", "where it is"),
        Column("carrying note", "text", "registered carrier", "why it may be carried", most=400),
        Column("carrying until", "day", "1 Sep 2029", "its last day; empty: for good"),
        NOTE,
    ),
    ("source",),
    "source",
)
AGREEMENTS = Page(
    "agreements",
    "What a source gives, and when; one row for each thing it gives.",
    (
        Column(
            "source", "name", "Lantern Steps café", "who gives", required=True, refers=("sources",)
        ),
        Column("gives", "name", "avocado stones", "what it gives", required=True),
        Column("days", "weekdays or days", "Mon, Thu", "days of every week, or single days"),
        Column("at", "clock", "17:00", "hour of the pick-up", required=True),
        Column("since", "day", "1 Sep 2026", "window opens; empty: always open"),
        Column("until", "day", "28 Feb 2027", "last day of the window"),
        Column("closed", "days", "24 Dec 2026 to 4 Jan 2027", "days on which nothing is given"),
        Column("permission by", "name", "the owner", "who said yes; empty: nobody yet"),
        Column("permission on", "day", "1 Oct 2026", "when"),
        Column("permission ended", "day", "1 Mar 2027", "withdrawn: first day without it"),
        Column("hands", "minutes", "45 min", "time that a pick-up takes from the day"),
        Column("likely", "weight or count", "2 kg", "what the source expects to give"),
        NOTE,
    ),
    ("source", "gives"),
    "agreement",
)
PICKUPS = Page(
    "pickups",
    "Hand-overs that were made or missed, and those a source has reported.",
    (
        Column(
            "source", "name", "Lantern Steps café", "who gave", required=True, refers=("sources",)
        ),
        Column("gives", "name", "avocado stones", "what", required=True),
        Column("at", "moment", "Mon 23 Nov 2026 17:00", "when", required=True),
        Column(
            "pick-up",
            "choice",
            "reported",
            "how it stands",
            True,
            ("reported", "made", "missed"),
        ),
        Column("amount", "weight or count", "58 stones", "weighed or counted; a missed one: none"),
        Column("lot", "code", "AV-1123", "the lot that it becomes or became"),
        Column("place", "place", "fridge", "of a reported one: where it will be kept"),
        Column("nests by", "name", "the gardener", "who looked for nests before the cut"),
        Column("nests on", "day", "Mon 4 May 2026", "when"),
        NOTE,
    ),
    ("source", "gives", "at"),
    "pick-up",
)
TUBS = Page(
    "tubs",
    "Clean tubs left with a source and fetched back.",
    (
        Column(
            "source",
            "name",
            "Lantern Steps café",
            "where they stand",
            required=True,
            refers=("sources",),
        ),
        Column("at", "moment", "Mon 23 Nov 2026 17:00", "when", required=True),
        Column("tubs", "whole", "2", "how many", True, low=Decimal(1), high=Decimal(500)),
        Column("how", "choice", "left", "what was done", True, ("left", "fetched", "lost")),
        NOTE,
    ),
    ("source", "at", "how"),
    "move of tubs",
)
RECIPES = Page(
    "recipes",
    "How a shade is made; its steps and doses stand on their own pages.",
    (
        Column("recipe", "code", "blush", "short name", required=True),
        Column("shade", "name", "Blush", "the shade", required=True),
        Column("fibres", "choices", "wool", "fibres it is for", True, FIBRES),
        Column("ratio", "ratio", "30:1", "litres of liquor per kg of dry fibre", required=True),
        Column("mordant", "mordant", "alum 12 %", "what the fibre needs before the dye"),
        Column("bright", "yes or no", "yes", "yes: spoiled by iron", required=True),
        Column("needs scoured", "yes or no", "yes", "empty means yes"),
        Column(
            "match", "choice", "blend", "how lots may mix; empty: blend", False, ("blend", "lot")
        ),
        Column("water", "code", "town water", "water it was worked out with", refers=("waters",)),
        Column("ph low", "number", "6.5", "least pH", low=Decimal(0), high=Decimal(14)),
        Column("ph high", "number", "8", "highest pH", low=Decimal(0), high=Decimal(14)),
        Column("fugitive", "yes or no", "no", "yes: soon fades"),
        Column("depth", "whole", "3", "1 light to 5 dark", low=Decimal(1), high=Decimal(5)),
        Column(
            "may share",
            "choices",
            "scour, mordant",
            "work for one pot with another run",
            False,
            MAY_SHARE,
        ),
        Column(
            "second bath of",
            "code",
            "blush",
            "the recipe in whose used bath it dyes; empty: in its own",
            refers=("recipes",),
        ),
        Column(
            "strength",
            "percent",
            "40 %",
            "of that recipe's shade; empty: as much as the bath gives",
            low=Decimal(1),
            high=Decimal(100),
        ),
    ),
    ("recipe",),
    "recipe",
)
STEPS = Page(
    "steps",
    "The steps of each recipe, in order.",
    (
        Column("recipe", "code", "blush", "whose step", required=True, refers=("recipes",)),
        Column("no", "whole", "1", "its place", required=True, low=Decimal(1), high=Decimal(40)),
        Column("step", "name", "scour", "the word on the sheet", required=True),
        Column("kind", "choice", "scour", "what sort of step", True, STEP_KINDS),
        Column("vessels", "choices", "bucket, tub", "what may be used", False, VESSEL_WORDS),
        Column("water", "litres per kg", "20 L per kg", "where it differs from the ratio"),
        Column("heats", "heats", "fresh > 55 hold 60 min", "from, to and hold of each heating"),
        Column(
            "stands",
            "stands",
            "12 to 48 h",
            "in the liquor without flame, least and most; wet out, empty: the fibre's own time",
        ),
        Column("night", "yes or no", "yes", "yes: stands until the night is over"),
        Column("cools", "minutes", "3 h", "cools before the next step"),
        Column("hands", "hands", "30 min per load", "time at the pots"),
        Column("follows", "choice", "at once", "at once: without a pause", False, ("at once",)),
        Column("strain", "yes or no", "yes", "yes: strained into the pots afterwards"),
        Column("strained at", "warmth", "70 °C", "how warm the extract is then"),
        Column("from", "clock", "14:00", "not begun earlier in the day"),
        Column("one lot", "yes or no", "yes", "yes: the whole run at once, then shared out"),
        Column("aired", "yes or no", "no", "yes: only where it is aired"),
        Column(
            "leaves", "choice", "iron", "metal left in pot and cloth", False, ("iron", "copper")
        ),
        Column("begun at", "warmth", "30 °C", "its water, where it is warmed and not heated"),
        Column("snippet", "minutes", "20 min", "a snippet stands in what is strained first"),
        Column("snippet hands", "minutes", "10 min", "time at it"),
    ),
    ("recipe", "no"),
    "step",
)
DOSES = Page(
    "doses",
    "What each step takes, by dry weight of fibre.",
    (
        Column("recipe", "code", "blush", "whose dose", required=True, refers=("recipes",)),
        Column("step", "name", "extract", "the step that takes it", required=True),
        Column("what", "name", "avocado stones", "what it takes", required=True),
        Column(
            "kind",
            "choice",
            "dyestuff",
            "what sort of thing",
            True,
            ("dyestuff", "supply", "liquor", "bath"),
        ),
        Column("amount", "dose", "150 %", "%, mL per 100 g, or L per kg", required=True),
        Column("state", "choice", "dried", "state of a dyestuff; empty: any", choices=STATES),
    ),
    ("recipe", "step", "what"),
    "dose",
)
MAKINGS = Page(
    "makings",
    "Baths that the studio makes itself before they are needed.",
    (
        Column("bath", "name", "nettle bath", "which bath", required=True),
        Column("dyestuff", "name", "nettle", "what it is made from", required=True),
        Column("state", "choice", "dried", "in which state", True, STATES),
        Column("amount", "grams per litre", "50 g per L", "how much", required=True),
        Column("heats", "heats", "fresh > 95 hold 25 min", "from, to and hold", required=True),
        Column("hands", "minutes", "40 min", "time at the pots", required=True),
        Column("vessels", "choices", "pot", "what it is made in", False, VESSEL_WORDS[:-1]),
    ),
    ("bath",),
    "making",
)
RUNS = Page(
    "runs",
    "What is wanted.",
    (
        Column("run", "code", "A", "short name", required=True),
        Column("recipe", "code", "blush", "how it is made", required=True, refers=("recipes",)),
        Column("fibre", "choice", "wool", "on which fibre", True, FIBRES),
        Column(
            "weight",
            "weight or length",
            "2,000 g",
            "dry and scoured; or metres of a fibre lot that is measured",
            required=True,
        ),
        Column("fibre lot", "code", "W-88", "meant for it; empty: any", refers=("fibre",)),
        Column("due", "moment", "Mon 30 Nov 2026 09:00", "dry by then; empty: no date"),
        Column("jar", "code", "J1", "pencilled: a wish", refers=("jars",)),
        Column("for whom", "name", "the weavers", "who wants it"),
        Column("for a client", "yes or no", "yes", "empty means yes"),
        Column("group block", "code", "group", "group day it belongs to", refers=("blocks",)),
        Column("people", "whole", "12", "on a group day", low=Decimal(0), high=Decimal(500)),
        Column("begun", "yes or no", "no", "yes: under way"),
        Column("fibre needed by", "day", "Mon 7 Dec 2026", "when its fibre must be here"),
    ),
    ("run",),
    "run",
)
PUT_BY = Page(
    "putby",
    "Runs that something is to be put by for, over months in which nothing comes.",
    (
        Column("put by", "code", "olive", "short name", required=True),
        Column("recipe", "code", "hedge-olive", "how it is dyed", refers=("recipes",)),
        Column("dyestuff", "name", "privet", "or what is put by, where it is for no one recipe"),
        Column("state", "choice", "dried", "of the dyestuff; empty: as it keeps best", False, KEPT),
        Column("runs", "whole", "4", "how many", required=True, low=Decimal(1), high=Decimal(100)),
        Column(
            "each",
            "weight",
            "600 g",
            "fibre that one run dyes; of a dyestuff, what one run takes",
            required=True,
        ),
        Column("from", "day", "1 Mar 2027", "first day that one is wanted", required=True),
        Column("until", "day", "31 Aug 2027", "last day", required=True),
        Column("spread", "choice", "monthly", "empty: monthly", choices=("monthly", "evenly")),
        NOTE,
    ),
    ("put by",),
    "row of putting-by",
)
GATES = Page(
    "gates",
    "What must be passed before a run is promised: shade card and readings.",
    (
        Column("run", "code", "B", "which run", required=True, refers=("runs",)),
        Column(
            "gate", "choice", "light", "which gate", True, ("shade card", "light", "wash", "rub")
        ),
        Column("wanted", "number", "4", "reading asked for", low=Decimal(0), high=Decimal(8)),
        Column("reading", "number", "3", "reading so far", low=Decimal(0), high=Decimal(8)),
        Column("begun", "day", "Mon 2 Nov 2026", "day the card was hung"),
        Column("days", "days long", "28 d", "days before a reading counts"),
        Column(
            "passed", "yes or no", "yes", "shade card agreed, or accepted in writing", required=True
        ),
    ),
    ("run", "gate"),
    "gate",
)
WEATHER = Page(
    "weather",
    "Days on which an outdoor line or airing is barred.",
    (
        Column("day", "day", "Tue 24 Nov 2026", "which day", required=True),
        Column("frost", "yes or no", "yes", "yes: no outdoor line"),
        Column("aired", "yes or no", "yes", "no: metal baths cannot be aired; empty means yes"),
    ),
    ("day",),
    "day of weather",
)
HANGINGS = Page(
    "hangings",
    "Cloth that hangs on a line already.",
    (
        Column("line", "code", "line", "which line", required=True, refers=("lines",)),
        Column("since", "moment", "Sun 22 Nov 2026 16:00", "hung up", required=True),
        Column("until", "moment", "Tue 24 Nov 2026 16:00", "dry", required=True),
        Column("weight", "weight", "400 g", "dry weight", required=True),
        Column("what", "name", "Slate", "what it is"),
    ),
    ("line", "since", "what"),
    "hanging",
)
REMINDERS = Page(
    "reminders",
    "Who is written to about what: people of the studio, and sources by their leave.",
    (
        Column("reader", "name", "the dyer", "who is written to", required=True),
        Column("address", "address", "dyer@example.org", "e-mail address", required=True),
        Column(
            "source",
            "name",
            "Lantern Steps café",
            "the source that it is; empty: a person of the studio",
            refers=("sources",),
        ),
        Column(
            "wants",
            "choices",
            "morning sheet, dip",
            "day before is for a source, and nothing else is",
            True,
            KINDS,
        ),
        Column("sheet at", "clock", "07:30", "hour of the morning sheet"),
        Column("quiet from", "clock", "21:00", "no letters from this hour"),
        Column("quiet until", "clock", "06:30", "to this one, over midnight too"),
        Column("since", "day", "1 Nov 2026", "first day", required=True),
        Column("leave by", "name", "the owner", "who said that the source may be written to"),
        Column("leave on", "day", "1 Oct 2026", "when"),
        NOTE,
    ),
    ("reader",),
    "reader",
    most=MOST_READERS,
)
STOPS = Page(
    "stops",
    "What readers of reminders have stopped, and taken up again; the last word holds.",
    (
        Column("reader", "name", "the dyer", "who said so", required=True, refers=("reminders",)),
        Column("kind", "choice", "dip", "of which letters", True, (*KINDS, ALL)),
        Column("what", "choice", "stopped", "what was said", True, (STOPPED, BEGUN)),
        Column("at", "moment", "Mon 23 Nov 2026 09:00", "when", required=True),
    ),
    ("reader", "kind", "at"),
    "word of a reader",
)
PAGES: tuple[Page, ...] = (
    *SHELF_PAGES,
    HOURS,
    BLOCKS,
    CHORES,
    SOURCES,
    AGREEMENTS,
    PICKUPS,
    TUBS,
    RECIPES,
    STEPS,
    DOSES,
    MAKINGS,
    RUNS,
    GATES,
    *BEGUN_PAGES,
    *TAKEN_PAGES,
    PUT_BY,
    WEATHER,
    HANGINGS,
    REMINDERS,
    STOPS,
    *ORDER_PAGES,
)
BY_NAME = {page.name: page for page in PAGES}
