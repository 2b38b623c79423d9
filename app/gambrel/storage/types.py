"""The column types of the book: the same on SQLite (STRICT) and on PostgreSQL, and exact.

Every table uses these and no others. Each takes only the value that it was made for: a float, a
moment without a zone or a text in the place of a number is a bug, and raises ``ValueError``.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import Any, TypeVar

from sqlalchemy import BigInteger, Integer, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator, TypeEngine

read_moment = datetime.fromisoformat
"""A stored moment as an aware value in UTC."""

Value = TypeVar("Value")
Choices = TypeVar("Choices", bound=StrEnum)

DECIMALS = 6
"""Decimals that an `Exact` column keeps."""

_LARGEST = 2**63 - 1
_MILLION = 1_000_000


class _Column(TypeDecorator[Value]):
    """What all have in common: nothing stays nothing, and a value is checked as it is written."""

    cache_ok = True

    def process_bind_param(self, value: Value | None, dialect: Dialect) -> Any:  # noqa: ANN401, ARG002
        return None if value is None else self.written(value)

    def written(self, value: Value) -> object:
        """What is stored for a value."""
        raise NotImplementedError


class _Text(_Column[Value]):
    """Kept as text that sorts by code point, as Python sorts it, on both databases."""

    impl = Text
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[str]:
        return Text(collation="C") if dialect.name == "postgresql" else Text()


class _Number(_Column[Value]):
    """Kept as a whole number of 64 bits; SQLite's STRICT tables know it as INTEGER only."""

    impl = BigInteger
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[int]:
        return Integer() if dialect.name == "sqlite" else BigInteger()


class Words(_Text[str]):
    """Any text without a NUL character, which PostgreSQL refuses and SQLite cuts short at."""

    cache_ok = True

    def written(self, value: str) -> str:
        """The text itself."""
        if "\x00" in value:
            raise ValueError(f"text with a NUL character: {value!r}")
        return value


class Whole(_Number[int]):
    """A whole number: grams, minor units of money, days, places in an order."""

    cache_ok = True

    def written(self, value: object) -> int:
        """The number itself; never a float or a truth value."""
        if (
            not isinstance(value, int)
            or isinstance(value, bool)
            or not -_LARGEST <= value <= _LARGEST
        ):
            raise ValueError(f"not a whole number of 64 bits: {value!r}")
        return value


class Exact(_Number[Decimal]):
    """A decimal of at most six decimals, kept as a whole number of millionths.

    Comparing, sorting and summing in SQL are exact; averages and products are not scaled and
    belong in Python.
    """

    cache_ok = True

    def written(self, value: object) -> int:
        """Millionths; never rounded."""
        if not isinstance(value, Decimal) or not value.is_finite():
            raise ValueError(f"not an exact decimal: {value!r}")
        numerator, denominator = value.as_integer_ratio()
        millionths, rest = divmod(numerator * _MILLION, denominator)
        if rest or not -_LARGEST <= millionths <= _LARGEST:
            raise ValueError(f"not a decimal of {DECIMALS} decimals and 64 bits: {value!r}")
        return millionths

    def process_result_value(self, value: int | None, dialect: Dialect) -> Decimal | None:  # noqa: ARG002
        """Give the shortest form back: 38, 37.5."""
        if value is None:
            return None
        whole, rest = divmod(value, _MILLION)
        return Decimal(value).scaleb(-DECIMALS).normalize() if rest else Decimal(whole)


class Moment(_Text[datetime]):
    """A moment in UTC as text of fixed width, so that it sorts: 2026-11-20T10:42:00.000000Z."""

    cache_ok = True

    def written(self, value: object) -> str:
        """In UTC, to the microsecond; never without a zone."""
        if not isinstance(value, datetime) or value.tzinfo is None:
            raise ValueError(f"not a moment with a time zone: {value!r}")
        in_utc = value.astimezone(UTC).replace(tzinfo=None)
        return in_utc.isoformat(timespec="microseconds") + "Z"

    def process_result_value(self, value: str | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        """Give an aware moment in UTC back."""
        return None if value is None else read_moment(value)


class Day(_Text[date]):
    """A calendar day as ISO text."""

    cache_ok = True

    def written(self, value: object) -> str:
        """YYYY-MM-DD; never a moment."""
        if not isinstance(value, date) or isinstance(value, datetime):
            raise ValueError(f"not a calendar day: {value!r}")
        return value.isoformat()

    def process_result_value(self, value: str | None, dialect: Dialect) -> date | None:  # noqa: ARG002
        """Give a date back."""
        return None if value is None else date.fromisoformat(value)


class Choice(_Text[Choices]):
    """One word out of a few. The table's own CHECK holds the list, frozen in its migration."""

    cache_ok = True

    def __init__(self, words: type[Choices]) -> None:
        super().__init__()
        self.words = words

    def written(self, value: Choices) -> str:
        """The word, not the name of the choice."""
        return self.words(value).value

    def process_result_value(self, value: str | None, dialect: Dialect) -> Choices | None:  # noqa: ARG002
        """Give the choice back."""
        return None if value is None else self.words(value)
