"""How the fields of an entry are read: amounts as people write them, days, moments, places.

A field that has not the form of its schema is refused with 400; one that has it and still cannot
be understood (an amount in no known unit, an hour that does not exist) carries the code `UNCLEAR`
and is refused with 422.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from rest_framework import serializers
from rest_framework.exceptions import ValidationError
from rest_framework.fields import empty

from api.asked import Unreadable, day_asked, moment_asked
from api.rest.fields import unfit
from inventory.entries import Place
from inventory.science.amounts import KIND_WORDS, Amount, read_plain
from inventory.science.custom import Custom
from inventory.science.saying import kept, say
from inventory.science.unclear import Unclear, UnknownPiece
from inventory.science.units import Kind
from sourcing.week.words import listed

UNCLEAR = "unclear"
LONGEST_AMOUNT = 100
LONGEST_NUMBER = 40  # characters, of an amount whose unit stands apart
LONGEST_UNIT = 20
PLACE_KINDS = ("bench", "fridge", "freezer", "dry store", "tray")
HOUR = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]", re.ASCII)
NUMBER = re.compile(r"-?\d{1,12}(\.\d{1,9})?", re.ASCII)
EXACT = re.compile(r"-?\d+(\.\d+)?", re.ASCII)


class Said(serializers.Serializer[Any]):
    """Fields of an entry or of a part of one; a member that nobody knows is refused."""

    def to_internal_value(self, data: Any) -> Any:
        strange = self._strange(data) if isinstance(data, Mapping) else {}
        try:
            found = super().to_internal_value(data)
        except ValidationError as wrong:
            if strange and isinstance(wrong.detail, dict):
                raise ValidationError({**wrong.detail, **strange}) from wrong
            raise
        if strange:
            raise ValidationError(strange)
        return found

    def _strange(self, data: Mapping[Any, Any]) -> dict[str, Any]:
        """Members that no field is called by, each with what it may have been meant for."""
        found = {}
        for name in data:
            if name not in self.fields:
                near = get_close_matches(str(name), list(self.fields), n=1)
                known = (
                    say("Did you mean {name}?", name=kept(near[0]))
                    if near
                    else say(
                        "Known are {names}.", names=listed(kept(str(name)) for name in self.fields)
                    )
                )
                strange = say("Nothing is called so here. {known}", known=known)
                found[str(name)] = unfit(strange).detail
        return found


def unclear(sentence: str) -> ValidationError:
    """A field of the right form that cannot be understood."""
    return unfit(sentence, UNCLEAR)


class Words(serializers.CharField):
    """A text of one to so many characters, as written but for outer spaces."""

    def __init__(self, *, most: int = 120, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", most)
        super().__init__(**kwargs)

    def run_validation(self, data: Any = empty) -> Any:
        if isinstance(data, str) and data and not data.strip() and not self.allow_blank:
            # It has a length, so it has the form; and says no more than an empty one.
            raise unclear(str(self.error_messages["blank"]))
        return super().run_validation(data)

    def to_internal_value(self, data: Any) -> str:
        if not isinstance(data, str):
            raise unfit(say("Write a text."))
        text: str = super().to_internal_value(data)
        if not text.replace("\n", " ").isprintable():
            raise unclear(say("The text holds a character that cannot be seen. Leave it out."))
        return text


class Code(Words):
    """What is written on a lot, jar, pot or bag."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("most", 40)
        super().__init__(**kwargs)


class Note(Words):
    """Anything worth keeping in words."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(most=400, required=False, allow_blank=True, **kwargs)


class Yes(serializers.BooleanField):
    """True or false as JSON says it; no text stands for it."""

    def to_internal_value(self, data: Any) -> bool:
        if not isinstance(data, bool):
            raise unfit(say("Write true or false."))
        return data


class OwnId(serializers.UUIDField):
    """A UUID as text; the framework would also make one of a number, or of false."""

    def to_internal_value(self, data: Any) -> UUID:
        if not isinstance(data, str):
            raise unfit(say("Write the UUID as text."))
        return super().to_internal_value(data)


class Whole(serializers.IntegerField):
    """A whole number as JSON says it."""

    def __init__(self, *, least: int, most: int, **kwargs: Any) -> None:
        super().__init__(min_value=least, max_value=most, **kwargs)

    def to_internal_value(self, data: Any) -> int:
        if isinstance(data, float) and data.is_integer():
            data = int(data)  # 1.0 is whole in JSON Schema
        if isinstance(data, bool) or not isinstance(data, int):
            raise unfit(say("Write a whole number."))
        return data


class Moment(serializers.Field[datetime, Any, Any, Any]):
    """Day and time, ISO 8601, with an offset or by the studio's clock."""

    def to_internal_value(self, data: Any) -> datetime:
        if not isinstance(data, str):
            raise unfit(say("Write day and time such as 2026-11-23T07:30+00:00."))
        try:
            return moment_asked(_without_fraction(data), zone_of(self))
        except Unreadable as wrong:
            raise unclear(wrong.detail) from None

    def to_representation(self, value: datetime) -> str:
        return value.isoformat()


class Day(serializers.Field[date, Any, Any, Any]):
    """A day of the calendar, ISO 8601."""

    def to_internal_value(self, data: Any) -> date:
        if not isinstance(data, str):
            raise unfit(say("Write a day such as 2026-11-26."))
        try:
            return day_asked("day", data)
        except Unreadable as wrong:
            raise unclear(wrong.detail) from None

    def to_representation(self, value: date) -> str:
        return value.isoformat()


class Clock(serializers.Field[time, Any, Any, Any]):
    """An hour of the day by the studio's clock, `17:00`."""

    def to_internal_value(self, data: Any) -> time:
        if not isinstance(data, str) or not HOUR.fullmatch(data):
            raise unfit(say("Write an hour such as 17:00."))
        return time.fromisoformat(data)

    def to_representation(self, value: time) -> str:
        return f"{value:%H:%M}"


class Number(serializers.Field[Decimal, Any, Any, Any]):
    """An exact number as text, `"12.5"`, within bounds."""

    def __init__(self, *, least: int, most: int, unit: str = "", **kwargs: Any) -> None:
        self.least, self.most, self.unit = least, most, unit
        super().__init__(**kwargs)

    def to_internal_value(self, data: Any) -> Decimal:
        if isinstance(data, bool) or not isinstance(data, str | int):
            raise unfit(say('Write the number as text, such as "12.5".'))
        text = str(data).strip()
        try:
            number = Decimal(text) if NUMBER.fullmatch(text) else None
        except InvalidOperation:
            number = None
        if number is None:
            raise unfit(say("{text} is no number such as 12.5.", text=text[:40]))
        if not self.least <= number <= self.most:
            raise unclear(
                say("Write a number from {least} to {most}.", least=self.least, most=self.most)
            )
        return number

    def to_representation(self, value: Decimal) -> str:
        return f"{value:f}"


class AmountOf(serializers.Field[Amount, Any, Any, Any]):
    """An amount as people write it (`"2 lb 3 oz"`, `"58 stones"`), or a number with its unit.

    Parameters
    ----------
    kinds : what it may be: mass, volume, count, container
    may_be_zero : for what may be empty
    """

    def __init__(self, *kinds: Kind, may_be_zero: bool = False, **kwargs: Any) -> None:
        self.kinds, self.may_be_zero = kinds, may_be_zero
        super().__init__(**kwargs)

    def to_internal_value(self, data: Any) -> Amount:
        words = _words_of(data)
        if len(words) > LONGEST_AMOUNT:
            raise unfit(say("Write an amount of at most {most} characters.", most=LONGEST_AMOUNT))
        try:
            amount = self._custom(data).amount(
                words, pieces=self.context["pieces"](), may_be_zero=self.may_be_zero
            )
            amount.must_be(*self.kinds)
        except (Unclear, UnknownPiece) as wrong:
            raise unclear(str(wrong)) from None
        return amount

    def _custom(self, data: Any) -> Custom:
        """How it is written: a number in a member of its own is a decimal of JSON for all."""
        custom: Custom = self.context["custom"]
        return replace(custom, point_groups=False) if isinstance(data, Mapping) else custom

    def to_representation(self, value: Amount) -> str:
        return value.words

    @property
    def kinds_said(self) -> str:
        """What may be written, for the contract."""
        return " or ".join(KIND_WORDS[kind] for kind in self.kinds)


@dataclass(frozen=True, slots=True)
class Length:
    """A length as it was written, and in whole millimetres."""

    words: str
    mm: int


class LengthOf(serializers.Field[Length, Any, Any, Any]):
    """A length of cloth as people write it, `"2.5 m"`."""

    def to_internal_value(self, data: Any) -> Length:
        if not isinstance(data, str) or len(data) > LONGEST_AMOUNT:
            raise unfit(say('Write a length such as "2.5 m".'))
        try:
            return Length(data, round(read_plain(data, "length")))
        except Unclear as wrong:
            raise unclear(str(wrong)) from None

    def to_representation(self, value: Length) -> str:
        return value.words


class PlaceSaid(Said):
    """Where a lot is kept."""

    kind = serializers.ChoiceField(PLACE_KINDS)
    code = Code(required=False, help_text="of one of the studio's own cold places or trays")
    warmth_c = Number(least=-60, most=110, required=False, help_text="°C read there")

    def to_internal_value(self, data: Any) -> Place:
        found = super().to_internal_value(data)
        warmth = found.get("warmth_c")
        return Place(
            found["kind"], found.get("code", ""), None if warmth is None else float(warmth)
        )


def zone_of(field: serializers.Field[Any, Any, Any, Any]) -> ZoneInfo:
    """The zone of the studio that is asked about."""
    zone: ZoneInfo = field.context["zone"]
    return zone


def _words_of(data: Any) -> str:
    """The words of an amount: as written, or of a number and its unit."""
    if isinstance(data, str):
        return data
    if isinstance(data, Mapping) and set(data) == {"amount", "unit"}:
        amount, unit = data["amount"], data["unit"]
        if isinstance(amount, str) and isinstance(unit, str) and _is_exact(amount, unit):
            return f"{amount} {unit}"
    raise unfit(
        say(
            'Write an amount such as "640 g", or {"amount": "640", "unit": "g"}, the number '
            "as text."
        )
    )


def _is_exact(amount: str, unit: str) -> bool:
    """Whether number and unit have the form of the contract; whether they mean anything is
    asked of the words that they make."""
    fits = len(amount) <= LONGEST_NUMBER and 0 < len(unit) <= LONGEST_UNIT
    return fits and EXACT.fullmatch(amount) is not None


def _without_fraction(text: str) -> str:
    """A moment without fractions of its second, which no entry needs."""
    return re.sub(r"(:\d{2})[.,]\d{1,9}", r"\1", text, count=1, flags=re.ASCII)


def studio_context(
    *,
    zone: ZoneInfo,
    custom: Custom,
    pieces: Callable[[], Iterable[str]],
) -> dict[str, Any]:
    """What the fields of a studio are read with.

    Parameters
    ----------
    custom : how its people write amounts
    pieces : its own words for what it counts
    """
    return {"zone": zone, "custom": custom, "pieces": pieces}
