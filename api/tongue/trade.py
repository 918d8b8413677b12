"""Words of the trade that are written down as they are and said in the language of the reader.

A notebook keeps `avocado stones`, `frozen` and `alum`; they are values, not sentences. Where a
page shows one, or a sentence has one in a hole, a word of this list is said as others say it. What
the list has not, such as the name of a source or a dyestuff of the studio's own, stays as it is.
"""

from __future__ import annotations

from inventory.science.saying import Said, say

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
KNOWN: dict[str, Said] = {
    str.__str__(word): word
    for words in (FIBRES, DYESTUFFS, STATES, SUPPLIES, LIQUORS, VESSELS, STEPS)
    for word in words
}


def trade(text: str) -> str:
    """A word as the reader says it, where it is one of these; any other text as it is."""
    return text if isinstance(text, Said) else KNOWN.get(text, text)
