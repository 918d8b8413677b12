"""What a person would press and write in each form, and what the page says afterwards."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

Before = tuple[str, dict[str, Any]]  # entries that come first, as a program sends them
KEPT = ("keep-swatch", {"lot": "W-90", "number": 31, "shade": "Hedge Olive"})
DYED = ("finish-run", {
    "run": "C", "takes": [{"lot": "W-90"}, {"lot": "PR-1003", "amount": "300 g"}],
    "makes": [{"of": "W-90", "code": "C-1", "amount": "590 g"}],
    "losses": [{"material": "wool", "amount": "10 g"}],
})  # fmt: skip
TUBS = ("leave-tubs", {"source": "Lantern Steps café", "tubs": 3})


@dataclass(frozen=True)
class Filling:
    """One form filled: what its address names, what is answered, what is said then."""

    says: str
    answers: dict[str, str] = field(default_factory=dict)
    asked: dict[str, str] = field(default_factory=dict)
    before: tuple[Before, ...] = ()
    # An answer that is refused, with the sentence; None: nothing that a person can send is.
    wrong: dict[str, str] | None = None
    why: str = ""


ORDER = ("write-order", {"supplier": "near shop", "lines": [{"offer": 2, "packs": 4}]})
SENT = (ORDER, ("send-order", {"order": 2026001}))
READER = ("add-reader", {"reader": "weaver", "address": "weaver@pellitory-yard.example",
                         "kinds": ["dip"], "since": "2026-11-23"})  # fmt: skip
CAFE = "Lantern Steps café"
CLAIMED = ("claim", {"run": "C", "lot": "ON-0801", "amount": "100 g"})
NOWHERE = "Nothing here is called"
ANSWERS: dict[str, Filling] = {
    "pick-up": Filling(
        "AV-1124: 2,436 g left", {"amount": "58"}, {"gives": "avocado stones"},
        wrong={"amount": "half a dozen or so"}, why="How much?",
    ),
    "report-pick-up": Filling(
        "How much will there be? 40 stones", {"amount": "40"}, {"gives": "avocado stones"},
        wrong={"amount": ""}, why="How much will there be?",
    ),
    "miss-pick-up": Filling(
        "Three Crates greengrocer: onion skins", {}, {"gives": "onion skins"},
        wrong={"due_at": "yesterday"}, why="When was it due?",
    ),
    "receive": Filling(
        "NE-1124: 400 g left", {"what": "dyestuff:nettle", "amount": "400"},
        wrong={"amount": ""}, why="How much? Say what it weighs",
    ),
    "draw": Filling(
        "ON-0801: 780 g left", {"amount": "40"}, {"lot": "ON-0801"},
        wrong={"amount": "5", "amount_unit": "kg"}, why="ON-0801",
    ),
    "tip-out": Filling(
        "AV-1109: 0 g left", {}, {"lot": "AV-1109", "where_to": "compost"},
        wrong={"where_to": ""}, why="Where does it go? It is not said yet.",
    ),
    "weigh-again": Filling(
        "AV-1116: 1,100 g left", {"amount": "1100"}, {"lot": "AV-1116"},
        wrong={"amount": "1100 mL"}, why="What does it weigh?",
    ),
    "recount": Filling(
        "J2: 850 mL left", {"lot_typed": "J2", "amount": "850", "amount_unit": "mL"},
        wrong={"lot_typed": "J99", "amount": "850"}, why="J99",
    ),
    "put-by": Filling(
        "How? frozen, freezer", {}, {"lot": "AV-1116"},
        wrong={"becomes": "2 kg"}, why="",
    ),
    "set-aside": Filling(
        "Why? smells sour", {"reason": "smells sour"}, {"lot": "AV-1030"},
        wrong={"reason": ""}, why="Why? It is not said yet.",
    ),
    "use-again": Filling(
        "What was set aside? ON-1114", {}, wrong={"lot_typed": "ON-1115"}, why="ON-1115",
    ),
    "label": Filling(
        "What? J5 Has it a label? it has one now", {}, wrong={"lot_typed": "J99"}, why="J99",
    ),
    "arrive": Filling(
        "What was on its way? T-07", {}, wrong={"lot_typed": "T-99"}, why="T-99",
    ),
    "check-nest": Filling(
        "Was it looked over before the cut? looked, and none", {"lot_typed": "PR-1003"},
        wrong={"lot_typed": "PR-1004"}, why="PR-1004",
    ),
    "judge": Filling(
        "How does it look? bad", {"looks": "bad"}, {"lot": "AV-1116"},
        wrong={"looks": ""}, why="How does it look? It is not said yet.",
    ),
    "begin-jar": Filling(
        "J8: 3 L left", {"volume": "3"}, {"jar": "J8"}, wrong={"volume": "3 kg"},
        why="How much liquor is in it?",
    ),
    "dip": Filling(
        "How dark is the strip? dark grey", {"grade": "4"}, {"jar": "J2"},
        wrong={"grade": ""}, why="",
    ),
    "top-up": Filling(
        "J1: 3.25 L left", {"volume": "250", "vinegar_share": "1"}, {"jar": "J1"},
        wrong={"volume": ""}, why="How much went in? It is not said yet.",
    ),
    "strain": Filling(
        "Which jar? J3", {}, {"jar": "J3"}, wrong={"left": "9 kg"}, why="How much is left?",
    ),
    "evaporate": Filling(
        "J3: 1.4 L left", {"left": "1.4 L"}, {"jar": "J3"}, wrong={"left": ""},
        why="How much is left? It is not said yet.",
    ),
    "draw-liquor": Filling(
        "J2: 780 mL left", {"volume": "120"}, {"jar": "J2"}, wrong={"volume": "3 L"}, why="J2",
    ),
    "keep-at": Filling(
        "How warm is it there? 20 °C", {"warmth_c": "20"}, {"jar": "J1"},
        wrong={"warmth_c": "warm"}, why="How warm is it there?",
    ),
    "make-bath": Filling(
        "NE-0620: 300 g left",
        {"volume": "8", "warmth_c": "8", "lot": "NE-0620", "amount": "100"},
        wrong={"warmth_c": ""}, why="How warm is it kept? It is not said yet.",
    ),
    "use-bath": Filling("J6: 7 L left", {"left": "7"}, wrong={"bath_typed": "J9"}, why="J9"),
    "move-bath": Filling(
        "Where does it stand? bench", {"place": "bench:"}, wrong={"bath_typed": "J9"}, why="J9",
    ),
    "receive-fibre": Filling(
        "W-91: 1,000 g left", {"amount": "1", "amount_unit": "kg"},
        wrong={"amount": "1 L"}, why="What does it weigh dry?",
    ),
    "scour": Filling(
        "W-88-S: 2,000 g left",
        {"amount": "2105", "weighs": "2000", "taken": "40"}, {"lot": "W-88"},
        wrong={"weighs": "3 kg"}, why="",
    ),
    "mordant": Filling(
        "alum: 852 g left", {"mordant": "alum", "percent": "12", "taken": "48"}, {"lot": "S-12"},
        wrong={"percent": "a lot"}, why="How much, in % of its dry weight?",
    ),
    "dry": Filling("Which fibre? W-85", {}, wrong={"lot_typed": "W-99"}, why="W-99"),
    "measure": Filling(
        "How wide does it lie, in mm? 1500", {"g_per_m2": "180", "width_mm": "1500"},
        wrong={"width_mm": "wide"}, why="How wide does it lie, in mm?",
    ),
    "judge-dyed": Filling(
        "What is it kept as? second quality",
        {"quality": "second quality", "came_out": "streaky"}, {"lot": "C-1"}, before=(DYED,),
        wrong={"quality": "second quality", "came_out": ""}, why="",
    ),
    "begin-run": Filling("Which run? C", {}, {"run": "C"}, wrong={"run_typed": "Z"}, why="Z"),
    "step-done": Filling(
        "Which run? D Which step? cold alum Other litres 11 L", {"litres": "11"},
        {"run": "D", "step": "cold alum"}, wrong={"step": "boil"},
        why="Run D has no step boil. It has cold alum, dye, iron and rinse.",
    ),
    "step-not-done": Filling(
        "The step is to be done again", {}, {"run": "D", "step": "cold alum"},
        (("step-done", {"run": "D", "step": "cold alum"}),), wrong={"step": "dye"},
        why="Run D, dye: nobody said that it is done.",
    ),
    "chore-done": Filling(
        "Which chore? group prep", {}, {"what": "2026-11-27|group prep"},
        wrong={"what_typed": "sweep"},
        why="Tue 24 Nov has no chore “sweep”. It has none. Look at the day again.",
    ),
    "chore-not-done": Filling(
        "The chore is to be done again", {}, {"what": "2026-11-27|group prep"},
        (("chore-done", {"day": "2026-11-27", "what": "group prep"}),),
        wrong={"what_typed": "sweep"}, why="has no chore “sweep”",
    ),
    "not-begun": Filling(
        "Which run? D", {}, {"run": "D"}, (("begin-run", {"run": "D"}),), wrong={"run": "C"},
        why="Run C is not begun. Look at its code again.",
    ),
    "snippet": Filling(
        "How does it look? not as wanted", {"good": "no", "looks": "too pale", "lot": "W-90"},
        {"run": "C"}, wrong={"good": ""}, why="How does it look? It is not said yet.",
    ),
    "finish-run": Filling(
        "C-1: 590 g left", {"made": "590"}, {"run": "C"},
        wrong={"take_1": "W-99"}, why="What was taken? None of these is a lot of fibre.",
    ),
    "keep-bath": Filling(
        "C-bath: 16 L left", {"volume": "16", "warmth_c": "8"}, {"run": "C"},
        (("begin-run", {"run": "C"}),), wrong={"run_typed": "D"},
        why="Run D is not begun. Look at its code again.",
    ),
    "take-back-run": Filling(
        "Which run? C", {}, before=(DYED,), wrong={"run_typed": "A"}, why="",
    ),
    "mark-iron": Filling(
        "Which pot? P1", {}, {"vessel": "P1"}, wrong={"vessel_typed": "P9"}, why="P9",
    ),
    "blank-swatch": Filling(
        "From which pot? P3 How did it come out? white", {}, wrong={"vessel_typed": "P9"}, why="P9",
    ),
    "chip": Filling(
        "Which pot? P4 How is it now? mended", {}, {"vessel": "P4", "mended": "yes"},
        wrong={"vessel_typed": "P9"}, why="P9",
    ),
    "keep-swatch": Filling(
        "Its shade Hedge Olive", {"shade": "Hedge Olive"}, {"lot": "W-90"},
        wrong={"number": "-1"}, why="Its number",
    ),
    "read-swatch": Filling(
        "Read for what? light Which grade? 4", {"grade": "4", "days": "14"}, before=(KEPT,),
        wrong={"grade": ""}, why="",
    ),
    "leave-tubs": Filling(
        "How many? 3", {"tubs": "3", "source_typed": "Lantern Steps café"},
        wrong={"tubs": "some"}, why="How many? Write a whole number.",
    ),
    "fetch-tubs": Filling(
        "How many? 1", {"tubs": "1"}, before=(TUBS,), wrong={"source_typed": "Nobody"}, why="",
    ),
    "lose-tubs": Filling(
        "How many? 1", {"tubs": "1"}, before=(TUBS,), wrong={"tubs": ""},
        why="How many? It is not said yet.",
    ),
    "add-source": Filling(
        "What is it called? Quince Row bakery", {"source": "Quince Row bakery", "kind": "bakery"},
        wrong={"source": CAFE}, why="There is a source called Lantern Steps café already.",
    ),
    "agree": Filling(
        "On which weekdays? Tuesday, Friday At which hour? 16:00",
        {"source": CAFE, "gives": "onion skins", "weekdays_2": "yes", "weekdays_5": "yes",
         "hour": "16:00"},
        wrong={"hour": ""}, why="At which hour? It is not said yet.",
    ),
    "note-leave": Filling(
        "Who said yes? the baker", {"by": "the baker"}, {"source": CAFE},
        wrong={"by": ""}, why="Who said yes? It is not said yet.",
    ),
    "end-leave": Filling(
        "First day without it 2026-12-01", {"ended_on": "2026-12-01"}, {"source": CAFE},
        wrong={"ended_on": "in spring"}, why="First day without it",
    ),
    "note-carrying": Filling(
        "What does the note say? by-product note of today",
        {"carrying_note": "by-product note of today"}, {"source": CAFE},
        wrong={"source_typed": "Nobody"}, why="Nobody",
    ),
    "close-days": Filling(
        "From which day? 2026-12-24 Up to which day? 2026-12-27",
        {"source": CAFE, "first": "2026-12-24", "last": "2026-12-27"},
        wrong={"last": "2026-12-20"}, why="",
    ),
    "reopen-days": Filling(
        "The days are open again",
        {"source": CAFE, "first": "2026-12-24", "last": "2026-12-24"},
        before=(("close-days", {"source": CAFE, "first": "2026-12-24", "last": "2026-12-27"}),),
        wrong={"first": ""}, why="From which day? It is not said yet.",
    ),
    "rename-source": Filling(
        "What is it called now? The Lantern", {"source": CAFE, "name": "The Lantern"},
        wrong={"name": "Three Crates greengrocer"}, why="Three Crates greengrocer",
    ),
    "add-supplier": Filling(
        "On which days does it work? Monday, Tuesday, Wednesday, Thursday, Friday When is it shut? "
        "2026-12-24 2027-01-02",
        {"supplier": "weir mill", "lead_days": "8", "carriage": "6.50",
         "shutdowns_1_first": "2026-12-24", "shutdowns_1_last": "2027-01-02"},
        wrong={"lead_days": "a week"}, why="How many working days till it comes?",
    ),
    "change-supplier": Filling(
        "How many working days till it comes? 9", {"supplier": "far mill", "lead_days": "9"},
        wrong={"carriage": "6.505"}, why="Carriage of an order Write money to the hundredth",
    ),
    "add-offer": Filling(
        "What does a pack cost? 0 g 14; 5 kg 12.50",
        {"supplier": "far mill", "fibre_typed": "linen", "form": "cloth", "pack": "500",
         "pack_unit": "g", "prices_1_price": "14", "prices_2_from_weight": "5 kg",
         "prices_2_price": "12.50"},
        wrong={"prices_2_price": "16"}, why="",
    ),
    "end-offer": Filling(
        "What is its last day? 2027-03-31", {"offer": "1", "last_on": "2027-03-31"},
        wrong={"last_on": ""}, why="What is its last day? It is not said yet.",
    ),
    "write-order": Filling(
        "The order is written", {"lines_1_packs": "5"}, {"supplier": "far mill"},
        wrong={"lines_1_packs": "none"}, why="How many packs? Write a whole number.",
    ),
    "send-order": Filling(
        "Which order? 2026001", {}, before=(ORDER,), wrong={"order_typed": "2026009"},
        why="2026-009",
    ),
    "confirm-order": Filling(
        "On which day? 2026-12-01", {"day": "2026-12-01"}, before=SENT,
        wrong={"day": ""}, why="On which day? It is not said yet.",
    ),
    "order-came": Filling(
        "What came? 1 2 W-91 2010 g", {"came_1_packs": "2", "came_1_weight": "2010 g"}, before=SENT,
        wrong={"came_1_weight": "2 L"}, why="What came?",
    ),
    "call-off-order": Filling(
        "The order is called off", {}, before=SENT, wrong={"order_typed": "2026009"},
        why="2026-009",
    ),
    "claim": Filling(
        "Of what? ON-0801 How much? 100 g", {"amount": "100"}, {"run": "C", "lot": "ON-0801"},
        wrong={"amount": "9", "amount_unit": "kg"}, why="ON-0801",
    ),
    "release": Filling(
        "Which run? C Of which lots? ON-0801", {"lots": "ON-0801"}, {"run": "C"},
        before=(CLAIMED,), wrong={"run_typed": "Z"}, why="Z",
    ),
    "add-reader": Filling(
        "Which letters? a jar to dip, a last good day",
        {"reader": "weaver", "address": "weaver@pellitory-yard.example", "kinds_3": "yes",
         "kinds_4": "yes", "quiet_since": "20:00", "quiet_until": "07:00"},
        wrong={"address": "at home"}, why="at home",
    ),
    "change-reader": Filling(
        "Which letters? the morning sheet",
        {"reader": "weaver", "kinds_1": "yes", "sheet_at": "06:30"}, before=(READER,),
        wrong={"kinds_1": "", "sheet_at": ""}, why="Which letters? It is not said yet.",
    ),
    "readdress-reader": Filling(
        "Their e-mail address loom@pellitory-yard.example",
        {"reader": "weaver", "address": "loom@pellitory-yard.example"}, before=(READER,),
        wrong={"address": ""}, why="Their e-mail address It is not said yet.",
    ),
    "stop-letters": Filling(
        "Which letters? all of them", {}, before=(READER,),
        wrong={"reader_typed": "Nobody"}, why="Nobody",
    ),
    "begin-letters": Filling(
        "Which letters? a jar to dip", {"kind": "dip"},
        before=(READER, ("stop-letters", {"reader": "weaver", "kind": "dip"})),
        wrong={"reader_typed": "Nobody"}, why="Nobody",
    ),
    "correct": Filling(
        "ON-0801: 770 g left", {"amounts_1_amount": "50 g"},
        before=(("draw", {"takes": [{"lot": "ON-0801", "amount": "40 g"}]}),),
        wrong={"amounts_1_amount": "40 g"}, why="",
    ),
}  # fmt: skip
