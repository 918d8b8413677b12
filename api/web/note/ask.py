"""The questions of a form: how each stands on the page, and what its answer says in an entry.

The name of a question is that of the field in the body; `lot=AV-1116` in an address fills it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING, Any

from api.tongue.customs import custom_of
from api.tongue.trade import trade
from api.web.note.hand import Choice, Counted, Hand
from inventory.science.custom import CELSIUS, ONE_MARK
from inventory.science.measures import read_temperature
from inventory.science.saying import say
from inventory.science.unclear import Unclear
from inventory.science.wording import warmth as warmth_said
from sourcing.week.words import decimal_string, rounded

if TYPE_CHECKING:
    from api.web.note.several import RowShown

Fields = Mapping[str, str]  # as a form sends them, outer spaces taken off
Body = dict[str, Any]
Choices = Callable[[Hand], Sequence[Choice]]
FEW = 6  # choices that stand open; the others are folded away
MOST = 60  # the rest is found by typing its code
MASS, VOLUME = ("g", "kg"), ("mL", "L")
LETTER = re.compile(r"[^\W\d_]|[%½¼¾⅓⅔]")


@dataclass(frozen=True, slots=True)
class Shown:
    """One question, ready to be put on the page."""

    part: str  # which way it is asked: note/asks/PART.html
    name: str
    words: str
    hint: str
    value: str
    needed: bool
    kind: str = ""  # of a field: text, datetime-local, date
    mode: str = ""  # of the keys that a phone shows
    most: int = 0  # characters
    choices: tuple[Choice, ...] = ()
    others: tuple[Choice, ...] = ()
    can_type: bool = False
    typed: str = ""
    typed_words: str = ""
    unit: str = ""
    units: tuple[str, ...] = ()
    counted: tuple[Counted, ...] = ()  # units that a thumb can count
    rows: tuple[RowShown, ...] = ()  # of a small table

    @property
    def template(self) -> str:
        """What puts it on the page."""
        return f"note/asks/{self.part}.html"


@dataclass(frozen=True, kw_only=True)
class Ask:
    """A question that is answered with some words."""

    name: str
    words: str
    hint: str = ""
    needed: bool = True

    @property
    def names(self) -> tuple[str, ...]:
        """The names that it sends."""
        return (self.name,)

    def said(self, fields: Fields) -> Body:
        """What its answer says in the body of the entry; nothing where it was left empty."""
        text = fields.get(self.name, "")
        return {self.name: text} if text else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        """What would have been sent to say that body."""
        found = body.get(self.name)
        return {} if found is None else {self.name: str(found)}

    def in_words(self, body: Mapping[str, Any]) -> str:
        """The answer as it is told afterwards; empty where there is none."""
        found = body.get(self.name)
        return "" if found is None else str(found)

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        """The question with what is known of its answer."""
        return Shown(
            "text", self.name, self.words, self.hint, fields.get(self.name, ""), self.needed,
            kind="text", most=120,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Text(Ask):
    """Some words."""

    most: int = 120
    kind: str = "text"

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        value = fields.get(self.name, "")
        return Shown(
            "text", self.name, self.words, self.hint, value, self.needed,
            kind=self.kind, most=self.most,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Number(Ask):
    """A plain number, `whole` where the entry wants it without quotes."""

    whole: bool = False

    def said(self, fields: Fields) -> Body:
        text = fields.get(self.name, "")
        if not text:
            return {}
        plain = ONE_MARK.sub(_ungrouped, text)
        plain = plain.replace(",", ".") if not self.whole else plain
        return {self.name: int(plain) if self.whole and _is_whole(plain) else plain}

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        return Shown(
            "text", self.name, self.words, self.hint, fields.get(self.name, ""), self.needed,
            kind="text", mode="numeric" if self.whole else "decimal", most=20,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Warmth(Number):
    """A warmth in the degrees that the studio reads; whoever writes others is taken at their word.

    An entry has it in °C, to the tenth. What says no degrees, as in an address, is in °C too.
    """

    @property
    def names(self) -> tuple[str, ...]:
        return (self.name, f"{self.name}_unit")

    def written(self, fields: Fields) -> str:
        """The number with its degrees; empty where it was left empty."""
        text, unit = fields.get(self.name, ""), fields.get(f"{self.name}_unit", "")
        return text if not text or LETTER.search(text) else f"{text} {unit or CELSIUS}"

    def said(self, fields: Fields) -> Body:
        text = self.written(fields)
        if not text:
            return {}
        try:
            warmth = rounded(read_temperature(text), "0.1")
        except Unclear:  # told by whoever takes the form
            return {self.name: fields.get(self.name, "")}
        return {self.name: decimal_string(warmth)}

    def in_words(self, body: Mapping[str, Any]) -> str:
        found = body.get(self.name)
        try:
            return "" if found is None else warmth_said(Decimal(str(found)))
        except InvalidOperation:  # of an entry that needs a look
            return str(found)

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        units = custom_of(hand.studio).degrees
        unit = fields.get(f"{self.name}_unit", "")
        if not unit and fields.get(self.name):
            unit = CELSIUS  # of a number that an address fills in
        return Shown(
            "amount", self.name, self.words, self.hint, fields.get(self.name, ""), self.needed,
            mode="decimal", most=20, unit=unit if unit in units else units[0], units=units,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Amount(Ask):
    """An amount by its number and unit; whoever writes a unit too is taken at their word."""

    units: Sequence[str] | Callable[[Hand], Sequence[str]] = MASS

    @property
    def names(self) -> tuple[str, ...]:
        return (self.name, f"{self.name}_unit")

    def said(self, fields: Fields) -> Body:
        text = amount_said(fields, self.name)
        return {self.name: text} if text else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        found = body.get(self.name)
        return {} if found is None else {self.name: amount_words(found)}

    def in_words(self, body: Mapping[str, Any]) -> str:
        found = body.get(self.name)
        return "" if found is None else amount_words(found)

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        metric = tuple(self.units(hand) if callable(self.units) else self.units)
        units = custom_of(hand.studio).offered(metric)
        unit = fields.get(f"{self.name}_unit", "")
        if not unit and fields.get(self.name):
            unit = metric[0]  # of a number that an address fills in
        return Shown(
            "amount", self.name, self.words, self.hint, fields.get(self.name, ""), self.needed,
            mode="decimal", most=80, unit=unit if unit in units else units[0], units=units,
            counted=hand.counted if callable(self.units) else (),
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Pick(Ask):
    """One of the things that are there, the likely one first; any other by typing its code."""

    among: Choices
    can_type: bool = True
    typed_words: str = say("What is written on it")
    first: bool = True  # the first is chosen already
    part: str = "pick"

    @property
    def names(self) -> tuple[str, ...]:
        return (self.name, f"{self.name}_typed") if self.can_type else (self.name,)

    def said(self, fields: Fields) -> Body:
        return self.chosen(fields.get(f"{self.name}_typed", "") or fields.get(self.name, ""))

    def chosen(self, value: str) -> Body:
        """What a choice says."""
        return {self.name: value} if value else {}

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        found = tuple(self.among(hand))[:MOST]
        typed = fields.get(f"{self.name}_typed", "") if self.can_type else ""
        value = typed or fields.get(self.name, "")
        known = {choice.value for choice in found}
        few = 1 if value else FEW  # who came for one thing sees the others only on asking
        if value in known:
            found = tuple(sorted(found, key=lambda choice: choice.value != value))
        elif value and self.can_type:
            found = (Choice(value, value), *found)
        if not value and self.first and found:
            value = found[0].value
        return Shown(
            self.part, self.name, self.words, self.hint, value, self.needed, kind="pick",
            choices=found[:few], others=found[few:], can_type=self.can_type,
            typed_words=self.typed_words,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class One(Ask):
    """One of a few answers that are always the same."""

    options: tuple[Choice, ...]
    default: str = ""
    reads: Callable[[str], Any] = str
    writes: Callable[[Any], str] = str
    part: str = "pick"

    def said(self, fields: Fields) -> Body:
        text = fields.get(self.name, "")
        if not text:
            return {}
        known = {choice.value for choice in self.options}
        return {self.name: self.reads(text) if text in known else text}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        found = body.get(self.name)
        return {} if found is None else {self.name: self.writes(found)}

    def in_words(self, body: Mapping[str, Any]) -> str:
        found = body.get(self.name)
        value = "" if found is None else self.writes(found)
        return next((row.words for row in self.options if row.value == value), value)

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        value = fields.get(self.name, "") or self.default
        return Shown(
            self.part, self.name, self.words, self.hint, value, self.needed, choices=self.options
        )


YES_NO = {"yes": True, "no": False}


def yes_or_no(
    name: str, words: str, yes: str, no: str, *, default: str = "", hint: str = "",
    needed: bool = False,
) -> One:  # fmt: skip
    """A question that is answered yes or no, each in words of its own."""
    options = (Choice("yes", yes), Choice("no", no))
    return One(
        name=name, words=words, hint=hint, options=options, default=default, needed=needed,
        reads=YES_NO.__getitem__, writes=lambda said: "yes" if said else "no",
    )  # fmt: skip


def options(*pairs: str | tuple[str, str] | tuple[str, str, str]) -> tuple[Choice, ...]:
    """Answers, each by its value alone, with other words, or with more beside it."""
    return tuple(
        Choice(pair, trade(pair)) if isinstance(pair, str) else Choice(*pair) for pair in pairs
    )


def amount_said(fields: Fields, name: str) -> str:
    """A number with the unit that was chosen beside it, or as it was written with its own."""
    text, unit = fields.get(name, ""), fields.get(f"{name}_unit", "")
    return (
        text
        if not text or not unit or LETTER.search(text)
        else say("{text} {unit}", text=text, unit=unit)
    )


def amount_words(found: Any) -> str:
    """An amount of a body as one would write it."""
    if isinstance(found, Mapping):
        return say(
            "{mark} {mark_2}", mark=found.get("amount", ""), mark_2=found.get("unit", "")
        ).strip()
    return str(found)


def _ungrouped(found: re.Match[str]) -> str:
    """“3,500” is thirty-five hundred, as in an amount; a point is left as it is."""
    return found[1] + found[3] if found[2] == "," else found[0]


def _is_whole(text: str) -> bool:
    return bool(re.fullmatch(r"-?\d{1,12}", text, re.ASCII))
