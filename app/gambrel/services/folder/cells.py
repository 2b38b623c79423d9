"""One cell and the value that it stands for, in both directions.

A value that is not given is an empty cell. Readers get text without blanks around it (but for
those that are `exact`) and raise ``ValueError`` with the rest of a sentence:
what is wrong, and what was expected.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import Any
from zoneinfo import ZoneInfo

from gambrel.domain.numbers.mass import kg_text, parse_kg
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day, day_begins
from gambrel.domain.trade.keys import LONGEST_KEY, fits_key
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.texts import LONGEST_SETTING, LONGEST_TEXT

FIRST_YEAR, LAST_YEAR = 1970, 2199
MOST = 100_000
"""No count, per cent or number of minutes in a shop passes it (common practice, no source)."""

_WHOLE = re.compile(r"-?\d{1,9}", re.ASCII)
_NUMBER = re.compile(r"-?\d{1,9}(?:\.\d{1,6})?", re.ASCII)
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_MOMENT = re.compile(
    r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(?::\d{2}(?:\.\d{1,6})?)?"
    r"(?P<offset>Z|[+-]\d{2}(?::?\d{2}(?::\d{2})?)?)?",
    re.ASCII,
)


class Terms:
    """What cells are read and written by: the shop's currency, its zone and its business day."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.zone = ZoneInfo(shop.time_zone)

    def local(self, moment: datetime) -> datetime:
        """A moment on the shop's own clock."""
        return moment.astimezone(self.zone)


@dataclass(frozen=True, slots=True)
class Cell:
    """How a kind of cell is read and written; ``example`` says what was expected where none is.

    ``exact`` keeps the blanks around a text.
    """

    read: Callable[[Terms, str], Any]
    write: Callable[[Terms, Any], str]
    example: str
    exact: bool = False


def _read_key(_terms: Terms, text: str) -> str:
    if fits_key(text):
        return text
    if len(text) > LONGEST_KEY:
        raise ValueError(f"{len(text)} characters are too many, expected at most {LONGEST_KEY}")
    raise ValueError(f"{_shown(text)} has an unseen character in it, expected plain text")


def _read_words(_terms: Terms, text: str) -> str:
    if len(text) > LONGEST_TEXT:
        raise ValueError(f"{len(text)} characters are too many, expected at most {LONGEST_TEXT}")
    return text


def _read_setting(_terms: Terms, text: str) -> str:
    if len(text) > LONGEST_SETTING:
        raise ValueError(f"{len(text)} characters are too many, expected at most {LONGEST_SETTING}")
    return text


def _read_money(terms: Terms, text: str) -> int:
    return terms.shop.currency.parse(text)


def _read_whole(_terms: Terms, text: str) -> int:
    if _WHOLE.fullmatch(text) is None or abs(number := int(text)) > MOST:
        raise ValueError(f"{_shown(text)} is not a count, expected a whole number such as 5")
    return number


def read_number(_terms: Terms, text: str) -> Decimal:
    """Read a per cent or minutes: a plain number with at most six decimals."""
    if _NUMBER.fullmatch(text) is None or abs(number := Decimal(text)) > MOST:
        expected = "expected a plain number such as 37.5"
        raise ValueError(f"{_shown(text)} is not a number that can be, {expected}")
    return number or Decimal(0)


def _read_day(_terms: Terms, text: str) -> date:
    if _DAY.fullmatch(text) is None:
        raise ValueError(f"{_shown(text)} is not a date, expected one such as 2026-11-20")
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{_shown(text)} is no day, expected one of the calendar") from None
    _check_year(day.year, text)
    return day


def _read_moment(terms: Terms, text: str) -> datetime:
    """Read a time with an offset, a time of the shop's own clock, or a business day's start."""
    cleaned = text.upper()
    if _DAY.fullmatch(cleaned):
        return day_begins(_read_day(terms, cleaned), terms.shop)
    match = _MOMENT.fullmatch(cleaned)
    try:
        moment = datetime.fromisoformat(cleaned) if match else None
    except ValueError:
        moment = None
    if match is None or moment is None:
        expected = "expected one such as 2026-11-20T10:42:00+11:00"
        raise ValueError(f"{_shown(text)} is not a time, {expected}")
    _check_year(moment.year, text)
    return moment.astimezone(UTC) if match["offset"] else _on_the_shops_clock(terms, moment, text)


def _on_the_shops_clock(terms: Terms, wall: datetime, text: str) -> datetime:
    """A wall-clock time as a moment: of two the earlier, of none a refusal."""
    moment = wall.replace(tzinfo=terms.zone).astimezone(UTC)
    if terms.local(moment).replace(tzinfo=None) != wall:
        raise ValueError(
            f"{_shown(text)} did not exist in {terms.shop.time_zone} (the clocks went forward), "
            "expected a later time or one with an offset"
        )
    return moment


def _check_year(year: int, text: str) -> None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        expected = f"expected a year from {FIRST_YEAR} to {LAST_YEAR}"
        raise ValueError(f"{_shown(text)} is out of our time, {expected}")


def _write_since(terms: Terms, moment: datetime) -> str:
    day = business_day(moment, terms.shop)
    return (
        day.isoformat() if day_begins(day, terms.shop) == moment else _write_moment(terms, moment)
    )


def _write_moment(terms: Terms, moment: datetime) -> str:
    return terms.local(moment).isoformat()


def _shown(text: str) -> str:
    """A cell as a refusal shows it: in quotes and not too long."""
    return repr(text if len(text) <= 60 else f"{text[:57]}...")


def choice(words: type[StrEnum]) -> Cell:
    """A cell that holds one of a few words."""
    known = {word.value: word for word in words}

    def read(_terms: Terms, text: str) -> StrEnum:
        found = known.get(text)
        if found is None:
            expected = f"expected one of {', '.join(known)}"
            raise ValueError(f"{_shown(text)} is not known, {expected}{did_you_mean(text, known)}")
        return found

    return Cell(read, lambda _terms, value: value.value, f"one of {', '.join(known)}")


KEY = Cell(_read_key, lambda _terms, value: value, "a short text")
WORDS = Cell(_read_words, lambda _terms, value: value, "a text", exact=True)
SETTING = Cell(_read_setting, lambda _terms, value: value, "a text", exact=True)
KG = Cell(
    lambda _terms, text: parse_kg(text),
    lambda _terms, grams: kg_text(grams),
    "kilograms such as 4.386",
)
MONEY = Cell(
    _read_money, lambda terms, minor: terms.shop.currency.text(minor), "an amount such as 12.50"
)
WHOLE = Cell(_read_whole, lambda _terms, number: str(number), "a whole number such as 5")
NUMBER = Cell(read_number, lambda _terms, number: f"{number:f}", "a number such as 37.5")
DAY = Cell(_read_day, lambda _terms, day: day.isoformat(), "a date such as 2026-11-20")
MOMENT = Cell(_read_moment, _write_moment, "a time such as 2026-11-20T10:42:00+11:00")
SINCE = Cell(_read_moment, _write_since, "a date such as 2026-11-20, or a time")
