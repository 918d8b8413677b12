"""Where material comes from, as records: sources, what they agreed to give, what came, tubs."""

from __future__ import annotations

from api.records.columns import (
    clock,
    closed,
    count,
    dates,
    day,
    key,
    mass,
    moment,
    said,
    text,
    wants,
    weekdays,
)
from api.records.noun import Filter, Noun, by, happened, one_of
from api.visitor import Right
from sourcing.models import Agreement, PickUp, Reader, ReaderSaid, Source, TubMove
from sourcing.models.reminders import COLUMN_OF
from sourcing.reminding.facts import ALL, BEGUN, STOPPED

HOW = ("reported", "made", "missed")
TUBS = ("left", "fetched", "lost")

SOURCES = Noun(
    name="plain-sources",
    one="source",
    about="People and places that save material, as they are written down; `sources` adds what "
    "came and how far each can be relied on.",
    model=Source,
    columns=(
        text("name"),
        said("kind"),
        said("place"),
        said("carrying_note"),
        day("carrying_until", empty=True),
        count("tubs_there"),
        said("note"),
    ),
    filters=by("kind", "place"),
    order=("name",),
    key="name",
)

AGREEMENTS = Noun(
    name="agreements",
    one="agreement",
    about="What a source agreed to give: on which days, at what hour, by whose leave.",
    model=Agreement,
    columns=(
        count("id"),
        text("source", "source__name"),
        text("gives"),
        weekdays("weekdays", "days"),
        dates("days", "days"),
        clock("hour", "at"),
        day("since", empty=True),
        day("last_on", empty=True),
        closed("closed"),
        said("permission_by"),
        day("permission_on", empty=True),
        day("permission_ended", empty=True),
        count("hands_min"),
        mass("likely", "likely_mg", empty=True),
        count("likely_pieces", empty=True),
        said("note"),
    ),
    filters=by("gives", source="source__name"),
    key_kind="number",
)

PICKUPS = Noun(
    name="pickups",
    one="pick-up",
    about="Hand-overs from sources, in the order of their moments: reported, made or missed.",
    model=PickUp,
    columns=(
        count("id"),
        text("source", "source__name"),
        text("gives"),
        moment("at"),
        text("how", among=HOW),
        mass("weight", "weight_mg", empty=True),
        count("pieces", empty=True),
        said("lot", "lot_code"),
        said("state"),
        said("place"),
        said("place_kind"),
        said("nests_by"),
        day("nests_on", empty=True),
        said("note"),
        key("entry", "posting__entry", empty=True),
    ),
    filters=(
        *by("gives", source="source__name", lot="lot_code"),
        one_of("how", HOW),
        *happened("at"),
    ),
    order=("at", "id"),
    key_kind="number",
)

TUB_MOVES = Noun(
    name="tub-moves",
    one="move of tubs",
    about="Clean tubs that were left with a source, fetched back, or lost there.",
    model=TubMove,
    columns=(
        key("entry"),
        text("source", "source__name"),
        moment("at"),
        text("how", among=TUBS),
        count("tubs"),
        said("note"),
    ),
    filters=(*by(source="source__name"), one_of("how", TUBS), *happened("at")),
    order=("at", "id"),
    key="entry",
    key_kind="uuid",
)

READERS = Noun(
    name="readers",
    one="reader",
    about="Who is written to about what, and when not.",
    model=Reader,
    columns=(
        text("name"),
        text("address"),
        said("source", "source__name"),
        wants("wants"),
        clock("sheet_at", empty=True),
        clock("quiet_from", empty=True),
        clock("quiet_until", empty=True),
        day("since"),
        said("leave_by"),
        day("leave_on", empty=True),
        said("note"),
    ),
    filters=(*by(source="source__name"), Filter("address", "address")),
    order=("name",),
    key="name",
    least=Right.OWNER,  # addresses of people, whom nobody else needs
)

KINDS = (*COLUMN_OF, ALL)
READERS_SAID = Noun(
    name="readers-said",
    one="word of a reader",
    about="Which letters a reader stopped or took up again, and when; the last word holds.",
    model=ReaderSaid,
    columns=(
        count("id"),
        text("reader", "reader__name"),
        text("kind", among=KINDS),
        text("what", among=(STOPPED, BEGUN)),
        moment("at"),
    ),
    filters=(*by(reader="reader__name"), one_of("kind", KINDS), *happened("at")),
    order=("at", "id"),
    key_kind="number",
    least=Right.OWNER,
)

NOUNS = (SOURCES, AGREEMENTS, PICKUPS, TUB_MOVES, READERS, READERS_SAID)
