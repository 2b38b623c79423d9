"""Numbers as people read them, the same on every screen and paper.

Pure: the currency's symbol is passed in, nothing is looked up. What is missing is written as a
dash, never as a zero. For numbers that programs read back, see ``kg_text`` and ``Currency.text``.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal
from zoneinfo import ZoneInfo

from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import TradeWeek

DASH = "\N{EM DASH}"
"""Stands where there is no figure."""

MINUS = "\N{MINUS SIGN}"
"""The sign of a loss; it is as wide as a digit's plus, which a hyphen is not."""

_NARROW_SPACE = "\N{NARROW NO-BREAK SPACE}"
_NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class Formats:
    """How one shop writes money and weights. ``symbol`` stands before every amount."""

    currency: Currency
    symbol: str

    def money(self, minor: int | None, *, signed: bool = False) -> str:
        """Minor units as ``$1,234.50``; ``signed`` puts a plus before a gain."""
        if minor is None:
            return DASH
        gap = _NO_BREAK_SPACE if self.symbol[-1:].isalpha() else ""
        amount = f"{self.symbol}{gap}{_grouped(self.currency.text(abs(minor)))}"
        return _sign(minor, signed=signed) + amount

    def per_kilo(self, minor: Decimal | int | None, *, signed: bool = False) -> str:
        """Minor units per kilogram as ``$14.44``, half up to a whole minor unit."""
        return self.money(None if minor is None else whole(minor), signed=signed)

    def kg(self, grams: int | None, decimals: int = 3, *, signed: bool = False) -> str:
        """Grams as kilograms, ``4.386``, without the unit; fewer decimals round half up."""
        if grams is None:
            return DASH
        text = kg_text(abs(grams), decimals)
        return _sign(grams if text.strip("0.") else 0, signed=signed) + _grouped(text)

    def grams(self, grams: int | None, *, signed: bool = False) -> str:
        """Whole grams as ``1,240`` and the unit."""
        if grams is None:
            return DASH
        return f"{_sign(grams, signed=signed)}{abs(grams):,}{_NO_BREAK_SPACE}g"

    def percent(self, share: Decimal | None, decimals: int = 1, *, signed: bool = False) -> str:
        """A share of one as ``46.5 %``, half up to ``decimals``."""
        if share is None:
            return DASH
        scaled = whole(share.scaleb(decimals + 2))
        front, part = divmod(abs(scaled), 10**decimals)
        text = f"{front:,}.{part:0{decimals}d}" if decimals else f"{front:,}"
        return f"{_sign(scaled, signed=signed)}{text}{_NARROW_SPACE}%"

    def points(self, difference: Decimal | None, decimals: int = 1) -> str:
        """The way from one share to another as ``+2.8 points``; per cent would be said of it."""
        if difference is None:
            return DASH
        scaled = whole(difference.scaleb(decimals + 2))
        number = self.percent(difference, decimals, signed=True)
        unit = "point" if abs(scaled) == 10**decimals else "points"
        return f"{number.rstrip('%').rstrip(_NARROW_SPACE)}{_NO_BREAK_SPACE}{unit}"

    def minutes(self, minutes: Decimal | int) -> str:
        """Minutes of work as ``1 h 05`` or ``25 min``, to the nearest minute."""
        hours, rest = divmod(whole(minutes), 60)
        if not hours:
            return f"{rest}{_NO_BREAK_SPACE}min"
        return f"{hours}{_NO_BREAK_SPACE}h{_NO_BREAK_SPACE}{rest:02d}"

    def day(self, day: date) -> str:
        """A date as ``Fri 20 Nov 2026``."""
        return f"{near_day(day)} {day.year}"

    def short_day(self, day: date) -> str:
        """A date as ``20 Nov``, where the year is plain."""
        return short_day(day)

    def week(self, week: TradeWeek) -> str:
        """A trade week as ``16 Nov \N{EN DASH} 22 Nov 2026``."""
        return (
            f"{self.short_day(week.first)} \N{EN DASH} {self.short_day(week.last)} {week.last.year}"
        )

    def time(self, moment: datetime, shop: Shop) -> str:
        """A moment on the shop's own clock, as ``10:42``."""
        return f"{moment.astimezone(ZoneInfo(shop.time_zone)):%H:%M}"


def short_day(day: date) -> str:
    """A date as ``20 Nov``."""
    return f"{day.day} {_MONTHS[day.month - 1]}"


def near_day(day: date) -> str:
    """A date as ``Fri 20 Nov``: a day about now, whose weekday says more than its year."""
    return f"{_DAYS[day.weekday()]} {short_day(day)}"


def whole(number: Decimal | int) -> int:
    """The nearest whole number; a half goes away from zero."""
    if isinstance(number, int):
        return number
    return int(number.to_integral_value(rounding=ROUND_HALF_UP))


def _sign(number: int, *, signed: bool) -> str:
    if number < 0:
        return MINUS
    return "+" if signed and number else ""


def _grouped(plain: str) -> str:
    """Group the whole part of a plain decimal in threes with commas."""
    front, point, part = plain.partition(".")
    return f"{int(front):,}{point}{part}"
