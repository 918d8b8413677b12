"""Words of the trade that are written down as they are and said in the language of the reader.

A notebook keeps `avocado stones`, `frozen` and `alum`; they are values, not sentences. Where a
page shows one, or a sentence has one in a hole, a word of this list is said as others say it. What
the list has not, such as the name of a source or a dyestuff of the studio's own, stays as it is.
"""

from __future__ import annotations

from api.tongue.named import KINDS, NAMES
from inventory.science.saying import Said, first_large, say

FIBRES = (
    *(say("wool"), say("silk"), say("cotton"), say("linen"), say("lyocell"), say("hemp")),
    *(say("alpaca"), say("mohair"), say("cashmere"), say("ramie"), say("jute"), say("viscose")),
    *(say("yarn"), say("cloth"), say("fleece"), say("scoured"), say("unscoured")),
    *(say("as meant"), say("second quality"), say("for re-dyeing")),
    *(say("streaky"), say("too pale"), say("too dark"), say("boiled brown"), say("felted")),
    *(say("uneven"), say("another hue"), say("mixed")),
)
DYESTUFFS = (
    *(say("acorns"), say("alder cones"), say("apple prunings"), say("artichoke outer bracts")),
    *(say("avocado skins"), say("avocado stones"), say("beetroot"), say("birch leaves")),
    *(say("black beans"), say("blackberries"), say("bramble"), say("buckthorn bark")),
    *(say("buddleja flowers"), say("carrot tops"), say("cherry prunings"), say("coffee grounds")),
    *(say("coreopsis"), say("dahlia"), say("dock leaves"), say("dock root")),
    *(say("dyer's chamomile"), say("elderberries"), say("eucalyptus"), say("goldenrod")),
    *(say("ivy"), say("lavender prunings"), say("madder"), say("marigold"), say("nettle")),
    *(say("oak galls"), say("onion skins"), say("plum prunings"), say("pomegranate rind")),
    *(say("privet"), say("red cabbage"), say("red onion skins"), say("rhubarb leaves")),
    *(say("rhubarb root"), say("rosemary prunings"), say("spent black tea"), say("tansy")),
    *(say("turmeric trimmings"), say("walnut hulls"), say("weld"), say("woad")),
    *(say("any dyestuff"), say("stone"), say("stones"), say("skin"), say("skins")),
)
STATES = (
    *(say("fresh"), say("frozen"), say("dried"), say("damp"), say("bench"), say("fridge")),
    *(say("freezer"), say("dry store"), say("tray"), say("compost"), say("council site")),
    *(say("kept for collection"), say("foul drain"), say("smells sour"), say("mould on it")),
    *(say("no label"), say("not sure of it"), say("sound"), say("bad")),
)
SUPPLIES = (
    *(say("alum"), say("tannin"), say("iron"), say("copper"), say("vinegar"), say("water")),
    *(say("soda"), say("soda ash"), say("soda crystals"), say("cream of tartar")),
    *(say("citric acid"), say("lemon juice"), say("chalk"), say("supply"), say("dyestuff")),
    *(say("aluminium acetate"), say("acetic acid"), say("copper acetate")),
    *(say("copper sulphate"), say("ferrous sulphate"), say("iron sulphate")),
)
LIQUORS = (
    *(say("iron liquor"), say("copper liquor"), say("nettle bath"), say("alum bath")),
    *(say("tannin bath"), say("dyebath"), say("any bath"), say("steeping")),
    *(say("ready to dip"), say("matured"), say("retest"), say("set aside"), say("spent")),
    *(say("town water"), say("rain water"), say("orange"), say("green"), say("blue")),
)
VESSELS = (
    *(say("pot"), say("tub"), say("bucket"), say("iron pot"), say("enamel"), say("plastic")),
    *(say("stainless"), say("aluminium"), say("brass"), say("cast iron"), say("line")),
    *(say("ring"), say("rings"), say("studio"), say("café"), say("greengrocer"), say("hedge")),
    say("household"),
)
STEPS = (
    *(say("scour"), say("hot alum"), say("cold alum"), say("soak"), say("extract"), say("dye")),
    *(say("rinse"), say("mordant"), say("after-bath"), say("group day"), say("decoct")),
    *(say("strain"), say("snippet"), say("light"), say("wash"), say("rub"), say("colour")),
    *(say("shade card"), say("wet out"), say("hang"), say("dip"), say("make nettle bath")),
)
ANSWERS = (
    *(say("day"), say("days"), say("thing"), say("things"), say("draw"), say("draws")),
    *(say("time"), say("times"), say("hour"), say("hours"), say("month"), say("months")),
    *(say("night"), say("nights"), say("rinse"), say("rinses"), say("at once"), say("blend")),
    *(say("step"), say("dose"), say("same"), say("load"), say("dye load"), say("answer")),
    *(say("first step"), say("takes"), say("jobs")),
    say("night"),
    say("held"),
    say("taken"),
    say("hand"),
    say("nobody"),
    say("by hand"),
    say("whenever it fits"),
    say("all year"),
    say("any pot"),
    say("blank swatch passed"),
    say("strained"),
    say("furry"),
    say("mildew"),
    say("young tops"),
    say("leaves"),
    say("flower heads"),
    say("root"),
    say("bark"),
    say("undated"),
    say("heat"),
    *(say("dry"), say("mordanted"), say("dyed"), say("shed"), say("drying trays")),
    *(say("trays"), say("indoors"), say("outdoors"), say("linen (flax)"), say("modal")),
    *(say("polyamide"), say("skein"), say("skeins"), say("washing soda"), say("neutral soap")),
    *(say("iron jar"), say("copper jar"), say("iron bath"), say("copper bath"), say("ammonia")),
    *(say("nettles"), say("piece"), say("pieces"), say("pots"), say("tubs"), say("kettle")),
    *(say("vessel"), say("jar"), say("bath"), say("lot"), say("lots"), say("fibre")),
    *(say("source"), say("sources"), say("run"), say("recipe"), say("shade"), say("liquor")),
    *(say("swatch"), say("label"), say("strip"), say("hands"), say("room"), say("steel")),
    *(say("glass"), say("published"), say("common practice"), say("assumed")),
    *(say("assumed, not measured"), say("measured here"), say("the studio's own")),
    *(say("studio's own"), say("learnt here"), say("yes"), say("not yet"), say("no")),
    *(say("waits"), say("begun"), say("late"), say("in time"), say("not in sight")),
    *(say("tonight"), say("tomorrow"), say("today"), say("by then"), say("told of")),
    *(say("expected"), say("likely"), say("there"), say("none"), say("all"), say("anything")),
    *(say("past"), say("nests not checked"), say("comes later"), say("found bad")),
    *(say("given"), say("foraged"), say("tubs are"), say("tub is"), say("written")),
    *(say("sent"), say("confirmed"), say("received"), say("received in part")),
    *(say("called off"), say("missed"), say("made"), say("closed"), say("reported")),
    *(say("stopped"), say("begun again"), say("faint"), say("pale"), say("grey"), say("dark")),
    *(say("black"), say("first quality"), say("rinse hot"), say("modify"), say("sadden")),
    *(say("cool"), say("settle"), say("make bath"), say("put by"), say("make")),
    *(say("dry or use"), say("use or dry"), say("freeze or use"), say("use"), say("freeze")),
    *(say("Freeze"), say("Dry"), say("to freeze it"), say("falls"), say("fall"), say("both")),
    *(say("all three"), say("all four"), say("all five"), say("all six"), say("is chipped")),
    *(say("is not there"), say("holds too little"), say("is not ready"), say("fits no ring")),
    *(say("none written down"), say("no reading"), say("frost"), say("attended")),
    *(say("another ring"), say("line room"), say("a lighter shade"), say("leave")),
    *(say("unscoured "), say("make "), say("Monday"), say("Tuesday"), say("Wednesday")),
    *(say("Thursday"), say("Friday"), say("Saturday"), say("Sunday"), say("client")),
    *(say("shop"), say("own"), say("group"), say("tree"), say("food"), say("drain")),
    *(say("held for collection"), say("shut"), say("is empty"), say("is not known here")),
    *(say("is no id"), say("is no moment"), say("is no text"), say("cannot be")),
    *(say("is said"), say("nothing is written"), say("it is nothing"), say("is no day")),
    *(say("0 or more"), say("at least 0"), say("measure"), say("a weight"), say("a volume")),
    *(say("a weight such as 500 g"), say("a volume such as 750 mL")),
    *(say("a count such as 58 stones"), say("a length such as 2.5 m"), say("owner")),
    *(say("dyer"), say("helper"), say("looker-on"), say("extremely flammable gas")),
    *(say("flammable liquid and vapour"), say("gas under pressure")),
    *(say("harmful if swallowed"), say("harmful in contact with skin")),
    *(say("burns skin and eyes severely"), say("irritates skin")),
    *(say("damages eyes seriously"), say("irritates eyes seriously")),
    *(say("harmful if breathed in"), say("may irritate the airways")),
    *(say("very harmful to life in water"), say("very harmful to life in water, for long")),
    *(say("harmful to life in water, for long"), say("morning sheet"), say("day before")),
    *(say("last good day"), say("order-by day"), say("light test"), say("pick-up"), say("law")),
    *(say("farm rule"), say("local rule"), say("advice"), say("risk season")),
)
KNOWN: dict[str, Said] = {
    str.__str__(word): word
    for words in (
        FIBRES,
        DYESTUFFS,
        STATES,
        SUPPLIES,
        LIQUORS,
        VESSELS,
        STEPS,
        ANSWERS,
        NAMES,
        KINDS,
    )
    for word in words
}


def trade(text: str) -> str:
    """A word as the reader says it, where it is one of these; any other text as it is."""
    if isinstance(text, Said):
        return text
    if text in KNOWN:
        return KNOWN[text]
    small = text[:1].lower() + text[1:]
    return first_large(KNOWN[small]) if small in KNOWN else text
