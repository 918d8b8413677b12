"""The pages about buying fibre: who sells, at what price, what was ordered, what came."""

from __future__ import annotations

from decimal import Decimal

from sourcing.notebook.page import Column, Page
from sourcing.notebook.shelf_pages import FIBRES, NOTE
from sourcing.ordering.facts import LEAD_AT_MOST, PACKS_AT_MOST
from sourcing.suppliers import FORMS, OFFERS_AT_MOST, SUPPLIERS_AT_MOST

EVENTS = ("sent", "confirmed", "called off")
LEAD = (Decimal(0), Decimal(LEAD_AT_MOST))
PACKS = (Decimal(1), Decimal(PACKS_AT_MOST))
LINES = (Decimal(1), Decimal(60))

SUPPLIERS = Page(
    "suppliers",
    "Who sells fibre, how long it takes, and what an order costs beside the fibre.",
    (
        Column("supplier", "name", "far mill", "its name", required=True),
        Column("lead", "whole", "12", "working days till it comes", True, (), (), *LEAD),
        Column("works on", "weekdays", "Mon, Tue, Wed, Thu, Fri", "empty: Monday to Friday"),
        Column("closed", "days", "24 Dec 2026 to 4 Jan 2027", "days on which nobody works"),
        Column("country", "country", "GB", "whose public holidays it keeps; empty: none"),
        Column("region", "name", "ENG", "part of the country, as its calendar says it", most=10),
        Column("carriage", "money", "6.50", "of one order"),
        Column("free from", "money", "150.00", "value of fibre that goes free of carriage"),
        Column("least order", "money", "30.00", "least value of fibre in one order"),
        Column("contact", "text", "order book by post", "where an order goes", most=400),
        NOTE,
    ),
    ("supplier",),
    "supplier",
    most=SUPPLIERS_AT_MOST,
)
OFFERS = Page(
    "offers",
    "Price lists: one row for a fibre in a pack.",
    (
        Column(
            "supplier", "name", "far mill", "who sells it", required=True, refers=("suppliers",)
        ),
        Column("fibre", "choice", "wool", "what it is", True, FIBRES),
        Column("form", "choice", "yarn", "how it comes", True, FORMS),
        Column("pack", "weight", "1,000 g", "what one pack holds", required=True),
        Column(
            "prices",
            "prices",
            "22.00; from 10,000 g 20.00",
            "of a pack; from a weight on for the whole line",
            required=True,
        ),
        Column("least", "weight", "5,000 g", "least that is sold at once"),
        Column("scoured", "yes or no", "no", "yes: sold ready to dye"),
        Column("scour loss", "percent", "5 %", "empty: the studio's figure for the fibre"),
        Column("packs there", "whole", "40", "that the supplier has; empty: as many as wanted"),
        Column("code", "code", "WY-2", "as the supplier writes it"),
        Column("since", "day", "1 Sep 2026", "first day of the price; empty: always"),
        Column("until", "day", "28 Feb 2027", "last day of the price; empty: for good"),
        NOTE,
    ),
    ("supplier", "fibre", "form", "pack", "code", "since"),
    "offer",
    most=OFFERS_AT_MOST,
)
ORDERS = Page(
    "orders",
    "Orders of fibre that were written; lines and what happened stand on their own pages.",
    (
        Column("order", "code", "2026-001", "year, and its number in the year", required=True),
        Column(
            "supplier", "name", "far mill", "who it goes to", required=True, refers=("suppliers",)
        ),
        Column("written", "moment", "Mon 23 Nov 2026 09:00", "when", required=True),
        Column("currency", "currency", "GBP", "of its prices", required=True),
        Column("carriage", "money", "6.50", "as it was then"),
        Column("runs", "codes", "G", "the runs that it is for"),
        Column("needed by", "day", "Mon 7 Dec 2026", "when the fibre must be here"),
        Column("note", "text", "two dye lots will do", "anything worth keeping in words", most=400),
    ),
    ("order",),
    "order",
)
ORDER_LINES = Page(
    "order_lines",
    "What was ordered, at the price of that day.",
    (
        Column("order", "code", "2026-001", "which order", required=True, refers=("orders",)),
        Column("no", "whole", "1", "its place in the order", True, (), (), *LINES),
        Column("fibre", "choice", "wool", "what it is", True, FIBRES),
        Column("form", "choice", "yarn", "how it comes", True, FORMS),
        Column("pack", "weight", "1,000 g", "what one pack holds", required=True),
        Column("packs", "whole", "4", "how many", True, (), (), *PACKS),
        Column("price", "money", "28.00", "of one pack", required=True),
        Column("scoured", "yes or no", "no", "yes: sold ready to dye"),
        Column("scour loss", "percent", "5 %", "as it was counted"),
        Column("code", "code", "WY-2", "as the supplier writes it"),
    ),
    ("order", "no"),
    "line of an order",
)
ORDER_EVENTS = Page(
    "order_events",
    "What happened to an order after it was written.",
    (
        Column("order", "code", "2026-001", "which order", required=True, refers=("orders",)),
        Column("what", "choice", "confirmed", "what happened", True, EVENTS),
        Column("at", "moment", "Tue 24 Nov 2026 10:00", "when", required=True),
        Column("arrives", "day", "Mon 30 Nov 2026", "sent: as counted; confirmed: as said"),
        Column("note", "text", "by telephone", "anything worth keeping in words", most=400),
    ),
    ("order", "what", "at"),
    "event of an order",
)
DELIVERIES = Page(
    "deliveries",
    "What came of an order, one row a line that was weighed in.",
    (
        Column("order", "code", "2026-001", "which order", required=True, refers=("orders",)),
        Column("at", "moment", "Mon 30 Nov 2026 11:00", "when", required=True),
        Column("no", "whole", "1", "line of the order", True, (), (), *LINES),
        Column("packs", "whole", "4", "how many came", True, (), (), *PACKS),
        Column("net", "weight", "3,985 g", "what they weigh, dry", required=True),
        Column("lot", "code", "W-99", "the lot that they became", required=True),
        Column("note", "text", "one cone wet", "anything worth keeping in words", most=400),
    ),
    ("order", "at", "no"),
    "line of a delivery",
)
ORDER_PAGES = (SUPPLIERS, OFFERS, ORDERS, ORDER_LINES, ORDER_EVENTS, DELIVERIES)
