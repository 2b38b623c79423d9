"""``shop.toml``: the shop's settings, read strictly and written back."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Callable, Mapping
from datetime import time
from decimal import Decimal
from pathlib import Path
from typing import Any
from zoneinfo import available_timezones

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.texts import LONGEST_TEXT
from gambrel.services.currencies import find_currency
from gambrel.services.folder.cells import MOST
from gambrel.services.folder.sheet import FileFault, check_file

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

Refuse = Callable[[int | None, str, str], None]

_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)", re.ASCII)
_PLAIN = re.compile(r"-?\d{1,9}(?:\.\d{1,6})?", re.ASCII)
_AT_LINE = re.compile(r" \(at line (\d+), column (\d+)\)")
_KEY = re.compile(r"^\s*[\"']?([\w-]+)[\"']?\s*=", re.MULTILINE)


def read_shop(path: Path, refuse: Refuse) -> Shop | None:
    """Read the settings; None where something was refused.

    Raises:
        FileFault: The file cannot be read.
        OSError: The disk says no.
    """
    check_file(path)
    text = _decoded(path.read_bytes())
    try:
        table = tomllib.loads(text)
    except ValueError as error:  # TOML's own error is one; so is a number of 4300 digits
        raise _syntax_fault(str(error)) from None
    except RecursionError:
        raise FileFault(None, "this nests too deep, expected plain settings") from None
    return _Settings(table, text, refuse).shop()


def shop_of(values: Mapping[str, str | bool], refuse: Refuse) -> Shop | None:
    """The shop of settings that came from elsewhere, by the file's own rules.

    Args:
        values: By the names of the file; see `shop_values`.
        refuse: Told no line, a setting's name, and what is wrong with it.
    """
    return _Settings(dict(values), "", refuse).shop()


def shop_values(shop: Shop) -> dict[str, str | bool]:
    """The settings by their names, in the order of the file."""
    return {
        "name": shop.name,
        "currency": shop.currency.code,
        "time_zone": shop.time_zone,
        "day_starts": f"{shop.day_starts:%H:%M}",
        "week_starts": WEEKDAYS[shop.week_starts],
        "work_per_hour": shop.currency.text(shop.work_per_hour),
        "tax_percent": f"{shop.tax_percent:f}",
        "prices_include_tax": shop.prices_include_tax,
        "target_margin_percent": f"{shop.target_margin_percent:f}",
    }


def shop_text(shop: Shop) -> str:
    """The settings as the text of the file."""
    return "".join(f"{name} = {_written(value)}\n" for name, value in shop_values(shop).items())


def _written(value: object) -> str:
    """A TOML value; JSON's escapes are TOML's too, but TOML forbids a bare DEL."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _decoded(raw: bytes) -> str:
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        message = f"this is not UTF-8 (byte {raw[error.start]:#04x}), expected UTF-8"
        raise FileFault(line, message) from None


def _syntax_fault(said: str) -> FileFault:
    match = _AT_LINE.search(said)
    line = int(match[1]) if match else None
    reason = _AT_LINE.sub(f" (at place {match[2]})" if match else "", said)
    example = 'expected lines such as name = "My shop"'
    return FileFault(line, f"this is not TOML: {reason}, {example}")


class _Settings:
    """The file's table; each setting is read by one method, and every wrong one is refused."""

    def __init__(self, table: dict[str, Any], text: str, refuse: Refuse) -> None:
        self._table = table
        self._refuse = refuse
        self._lines = {
            match[1]: text.count("\n", 0, match.start(1)) + 1 for match in _KEY.finditer(text)
        }

    def shop(self) -> Shop | None:
        currency = self._read("currency", self._currency)
        values = {
            "name": self._read("name", self._name),
            "currency": currency,
            "time_zone": self._read("time_zone", self._zone),
            "day_starts": self._read("day_starts", self._clock),
            "week_starts": self._read("week_starts", self._weekday),
            "work_per_hour": self._read(
                "work_per_hour", lambda value: self._money(value, currency)
            ),
            "tax_percent": self._read("tax_percent", lambda value: self._percent(value, 100)),
            "prices_include_tax": self._read("prices_include_tax", self._yes_or_no),
            "target_margin_percent": self._read("target_margin_percent", self._margin),
        }
        unknown = [name for name in self._table if name not in values]
        for name in unknown:
            missing = [key for key in values if key not in self._table]
            guess = did_you_mean(name, missing)
            self._no(name, f"this setting is not known, expected only {', '.join(values)}{guess}")
        if unknown or None in values.values():
            return None
        return Shop(**values)

    def _read(self, name: str, read: Callable[[Any], Any]) -> Any:  # noqa: ANN401 - many kinds
        if name not in self._table:
            self._no(name, "this setting is missing, expected it in the file")
            return None
        try:
            return read(self._table[name])
        except ValueError as error:
            self._no(name, str(error))
            return None

    def _no(self, name: str, message: str) -> None:
        self._refuse(self._lines.get(name), name, message)

    def _name(self, value: object) -> str:
        name = _text(value, '"My shop"')
        if len(name) > LONGEST_TEXT:
            raise ValueError(
                f"{len(name)} characters are too many, expected at most {LONGEST_TEXT}"
            )
        return name

    def _currency(self, value: object) -> Currency:
        return find_currency(_text(value, '"AUD"'))

    def _zone(self, value: object) -> str:
        name = _text(value, '"Australia/Melbourne"')
        zones = available_timezones()
        if name not in zones:
            near = [zone for zone in zones if zone[:1].casefold() == name[:1].casefold()]
            expected = "expected an IANA name like Australia/Melbourne"
            raise ValueError(f"{name!r} is not a time zone, {expected}{did_you_mean(name, near)}")
        return name

    def _clock(self, value: object) -> time:
        match = _CLOCK.fullmatch(_text(value, '"04:00"'))
        if match is None:
            raise ValueError(f'{value!r} is not a time of day, expected hours and minutes, "04:00"')
        return time(int(match[1]), int(match[2]))

    def _weekday(self, value: object) -> int:
        name = _text(value, '"monday"').lower()
        if name not in WEEKDAYS:
            guess = did_you_mean(name, WEEKDAYS)
            raise ValueError(f'{value!r} is not a day, expected a name such as "monday"{guess}')
        return WEEKDAYS.index(name)

    def _money(self, value: object, currency: Currency | None) -> int:
        amount = (currency or Currency("money", 4)).parse(_number_text(value))
        if amount < 0:
            raise ValueError(f"{value!r} is negative, expected zero or more")
        return amount

    def _percent(self, value: object, most: int) -> Decimal:
        text = _number_text(value)
        if _PLAIN.fullmatch(text) is None or not 0 <= (number := Decimal(text)) <= most:
            expected = f'expected 0 to {most} in quotes, such as "38" or "37.5"'
            raise ValueError(f"{value!r} is not such a per cent, {expected}")
        return number

    def _margin(self, value: object) -> Decimal:
        margin = self._percent(value, MOST)
        if margin >= 100:
            raise ValueError(f"{value!r} is out of reach, expected a margin below 100 per cent")
        return margin

    def _yes_or_no(self, value: object) -> bool:
        if not isinstance(value, bool):
            raise ValueError(f"{value!r} is not yes or no, expected true or false without quotes")
        return value


def _text(value: object, example: str) -> str:
    if not isinstance(value, str) or not value.strip() or "\0" in value:
        raise ValueError(f"{value!r} is not a text, expected one in quotes such as {example}")
    return value


def _number_text(value: object) -> str:
    """A number's text: a string or a whole number, never a float."""
    if isinstance(value, float):
        expected = f'expected it in quotes, "{value}", so that it stays exact'
        raise ValueError(f"{value} is a floating-point number, {expected}")
    if isinstance(value, bool) or not isinstance(value, str | int):
        raise ValueError(f'{value!r} is not a number, expected one in quotes such as "37.50"')
    return str(value).strip()
