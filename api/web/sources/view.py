"""Sources ready to show: words, marks, and the last six as a small row of bars."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from urllib.parse import urlencode

from django.urls import NoReverseMatch, reverse

from api.question import Question
from api.tongue.trade import trade
from api.web.note.deeds import Deed
from api.web.note.ways import ways_from
from api.web.sources.words import (
    amount_said,
    carrying_said,
    closed_said,
    days_said,
    full_day,
    grounds_said,
    nesting_said,
    permission_said,
    record_said,
    season_said,
    silent_said,
    state_of,
    tubs_said,
    weekdays_said,
    window_said,
)
from inventory.science.saying import say
from sourcing.reliability import LAST, Came
from sourcing.sources_seen import (
    SOURCES_AT_MOST,
    Coming,
    GiftFacts,
    SourceFacts,
    SourcesFacts,
    TubsMoved,
)
from sourcing.week.words import day_in_words, grams, listed

BAR_HIGH = 40  # of the highest, in units of the drawing
BAR_STEP = 22
# What happens with a source, and what is agreed with it, as forms.
HAPPENS = ("pick-up", "miss-pick-up", "report-pick-up", "leave-tubs", "fetch-tubs")
TERMS = ("agree", "note-leave", "end-leave", "note-carrying", "close-days", "rename-source")
TONES = {"told of": "yes", "expected": "wait", "closed": "no", "called off": "no"}


@dataclass(frozen=True, slots=True)
class BarShown:
    """One hand-over of the last six: a bar, or a cross where it was missed."""

    x: int
    y: str
    height: str
    missed: bool


@dataclass(frozen=True, slots=True)
class CameShown:
    """One hand-over that was made or missed."""

    on: str
    word: str
    tone: str
    amount: str
    lot: str


@dataclass(frozen=True, slots=True)
class ComingShown:
    """One hand-over to come."""

    when: str
    word: str
    tone: str
    said: str
    note: str


@dataclass(frozen=True, slots=True)
class GiftShown:
    """One thing that a source gives."""

    what: str
    word: str
    tone: str
    days: str
    hour: str
    window: str
    closed: tuple[str, ...]
    permission: str
    lately: str
    last_six: str
    bars: tuple[BarShown, ...]
    bars_wide: int
    ever: str
    weekdays: str
    last_made: str
    silent: str
    coming: tuple[ComingShown, ...]
    came: tuple[CameShown, ...]
    seasons: tuple[str, ...]
    nesting: str
    grounds: tuple[str, ...]  # what the seasons rest on


@dataclass(frozen=True, slots=True)
class SourceShown:
    """One source."""

    name: str
    address: str
    about: str  # café in Ottersill
    note: str
    carrying: str
    carrying_tone: str
    tubs: str
    moves: tuple[str, ...]
    gifts: tuple[GiftShown, ...]
    more_gifts: int
    tone: str  # the best of what it gives
    thanks: str  # address; empty where there is no such page
    links: str
    often: tuple[Deed, ...]  # to the forms of what happens most
    ways: tuple[Deed, ...]  # to those of all that happens with it
    terms: tuple[Deed, ...]  # to those of what is agreed


@dataclass(frozen=True, slots=True)
class SourcesShown:
    """The whole page."""

    rows: tuple[SourceShown, ...]
    here: str
    before: str
    next: str
    all_sources: str
    ways: tuple[Deed, ...]
    missed: str  # addresses of other pages; empty where they are not there
    coming: str


def sources_shown(facts: SourcesFacts, question: Question) -> SourcesShown:
    """Everything on the page in words and shapes."""
    first = (facts.page - 1) * SOURCES_AT_MOST
    last = first + len(facts.sources)
    part = facts.in_all > len(facts.sources)
    return SourcesShown(
        rows=tuple(_source(row, facts, question) for row in facts.sources),
        here=say(
            "{first:,} to {last:,} of {in_all:,}", first=first + 1, last=last, in_all=facts.in_all
        )
        if part and facts.sources
        else "",
        before=_page(question, facts.page - 1) if facts.page > 1 else "",
        next=_page(question, facts.page + 1) if facts.in_all > last and facts.sources else "",
        all_sources=reverse("sources") + question.carried,
        ways=ways_from(question, "add-source", "pick-up"),
        missed=address("missed", question),
        coming=address("coming", question),
    )


def address(name: str, question: Question, *args: int) -> str:
    """The address of a page by its name, asking on; empty where there is no such page."""
    try:
        return reverse(name, args=args) + question.carried
    except NoReverseMatch:
        return ""


def _page(question: Question, number: int) -> str:
    return f"{reverse('sources')}?{urlencode((*question.said, ('page', str(number))))}"


def _source(row: SourceFacts, facts: SourcesFacts, question: Question) -> SourceShown:
    carrying, tone = carrying_said(row.carrying_note, row.carrying_until, facts.today)
    needed = any(not gift.foraged for gift in row.gifts)
    if not row.carrying_note and not needed:
        carrying, tone = say("none on record, and none asked for what is gathered"), "plain"
    gifts = tuple(_gift(gift, facts) for gift in row.gifts)
    tones = [gift.tone for gift in gifts]
    return SourceShown(
        name=row.name,
        address=reverse("source", args=(row.key,)) + question.carried,
        about=_about(row.kind, row.place),
        note=row.note,
        carrying=carrying,
        carrying_tone=tone,
        tubs=tubs_said(row.tubs),
        moves=tuple(_move(move) for move in row.moves),
        gifts=gifts,
        more_gifts=row.more_gifts,
        tone=next((each for each in ("yes", "wait", "no") if each in tones), "plain"),
        thanks=address("thanks", question, row.key),
        links=address("source-links", question, row.key),
        often=ways_from(question, *HAPPENS[:2], source=row.name),
        ways=ways_from(question, *HAPPENS, source=row.name),
        terms=ways_from(question, *TERMS, source=row.name),
    )


def _about(kind: str, place: str) -> str:
    """What a source is and where, as far as either is written down."""
    if not (kind and place):
        return trade(kind) or place
    return say("{kind} in {place}", kind=kind, place=place)


def _gift(gift: GiftFacts, facts: SourcesFacts) -> GiftShown:
    today, promise, record = facts.today, gift.promise, gift.record
    word, tone = state_of(gift, today)
    latest = gift.came[:LAST]
    bars = _bars(latest)
    return GiftShown(
        what=promise.gives,
        word=word,
        tone=tone,
        days=days_said(promise, today),
        hour=f"{promise.at:%H:%M}",
        window=window_said(promise),
        closed=closed_said(promise, today),
        permission=permission_said(gift),
        lately=record_said(gift, record.lately),
        last_six=listed(_short(gift, row) for row in latest),
        bars=bars,
        bars_wide=len(bars) * BAR_STEP,
        ever=record_said(gift, record.ever, least=False),
        weekdays=weekdays_said(gift),
        last_made=full_day(record.last_made) if record.last_made else "",
        silent=silent_said(record.nobody_said),
        coming=tuple(_coming(gift, row) for row in gift.coming),
        came=tuple(_came(gift, row) for row in gift.came),
        seasons=tuple(season_said(season, today) for season in gift.seasons),
        nesting=nesting_said(gift),
        grounds=grounds_said(gift),
    )


def _short(gift: GiftFacts, row: Came) -> str:
    if row.missed:
        return say("missed")
    return f"{row.pieces:,}" if row.pieces is not None else grams(row.mg)


def _bars(rows: Sequence[Came]) -> tuple[BarShown, ...]:
    """Latest first, as the words beside them; the highest stands for the most that came."""
    most = max((row.mg or row.pieces or 0 for row in rows), default=0) or 1
    found = []
    for place, row in enumerate(rows):
        height = (Decimal(BAR_HIGH) * (row.mg or row.pieces or 0) / most).quantize(Decimal("0.1"))
        found.append(
            BarShown(
                x=place * BAR_STEP + 2,
                y=f"{BAR_HIGH + 2 - height}",
                height=f"{height}",
                missed=row.missed,
            )
        )
    return tuple(found)


def _coming(gift: GiftFacts, row: Coming) -> ComingShown:
    return ComingShown(
        when=say("{date} {at:%H:%M}", date=day_in_words(row.at.date()), at=row.at),
        word=row.how,
        tone=TONES[row.how],
        said=_coming_said(gift, row),
        note=row.note,
    )


def _coming_said(gift: GiftFacts, row: Coming) -> str:
    if row.how in ("closed", "called off"):
        return row.why_not if row.how == "closed" else say("nothing comes")
    if row.expected is None:
        return say("nobody has said how much")
    found = row.expected
    if found.confirmed_mg is not None:
        return _mass(gift, found.confirmed_mg, found.piece_mg)
    likely = _mass(gift, found.likely_mg, found.piece_mg)
    return say(
        "likely {likely}, at worst {mass}: a guess",
        likely=likely,
        mass=_mass(gift, found.worst_mg, found.piece_mg),
    )


def _mass(gift: GiftFacts, mg: int, piece_mg: int | None) -> str:
    return amount_said(gift, mg, round(mg / piece_mg) if piece_mg and mg else None)


def _came(gift: GiftFacts, row: Came) -> CameShown:
    return CameShown(
        on=full_day(row.on),
        word=say("missed") if row.missed else say("came"),
        tone="no" if row.missed else "yes",
        amount="" if row.missed else amount_said(gift, row.mg, row.pieces),
        lot=row.lot,
    )


def _move(move: TubsMoved) -> str:
    note = say(" ({note})", note=move.note) if move.note else ""
    return say(
        "{full_day}: {tubs_said} {how}{note}",
        full_day=full_day(move.at.date()),
        tubs_said=tubs_said(move.tubs),
        how=move.how,
        note=note,
    )
