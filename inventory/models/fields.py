"""Columns that keep a number exactly: SQLite would turn a decimal column into a float."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from django.core.exceptions import ValidationError
from django.db import models

if TYPE_CHECKING:
    AnyText = models.CharField[Any, Any]
else:
    AnyText = models.CharField


class DecimalText(AnyText):
    """A decimal number, kept as the text it was written as."""

    description = "exact decimal"
    _pyi_private_set_type: Any
    _pyi_private_get_type: Any

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 40)
        super().__init__(*args, **kwargs)

    def from_db_value(self, value: str | None, *_: object) -> Decimal | None:
        return None if value is None else Decimal(value)

    def to_python(self, value: Any) -> Any:
        if value is None or isinstance(value, Decimal):
            return value
        try:
            number = Decimal(str(value))
        except InvalidOperation as wrong:
            raise ValidationError(f"{value!r} is not a decimal number.") from wrong
        if not number.is_finite():
            raise ValidationError(f"{value!r} is not a finite number.")
        return number

    def get_prep_value(self, value: Any) -> Any:
        number = self.to_python(value)
        return None if number is None else format(number, "f")


class FractionText(AnyText):
    """A fraction, kept as numerator/denominator."""

    description = "exact fraction"
    _pyi_private_set_type: Any
    _pyi_private_get_type: Any

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 60)
        super().__init__(*args, **kwargs)

    def from_db_value(self, value: str | None, *_: object) -> Fraction | None:
        return None if value is None else Fraction(value)

    def to_python(self, value: Any) -> Any:
        if value is None or isinstance(value, Fraction):
            return value
        try:
            return Fraction(value)
        except (ValueError, ZeroDivisionError, TypeError, OverflowError) as wrong:
            raise ValidationError(f"{value!r} is not a fraction.") from wrong

    def get_prep_value(self, value: Any) -> Any:
        number = self.to_python(value)
        return None if number is None else str(number)
