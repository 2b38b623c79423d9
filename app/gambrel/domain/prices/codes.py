"""Numbers for barcodes: GS1 check digits, and a shop's own numbers in the in-store range.

Figures of the sources are checked in tests/published/test_gs1.py.
"""

from __future__ import annotations

import re
from itertools import cycle

SHELF_NUMBER = "20IIIII00000C"
"""Our layout for a shelf ticket: the item, and no price, because a shelf has no weight."""

TRAY_PRICE = "22IIIIVPPPPPC"
"""Our layout for a tray: the item, the price of the tray, and the digit that guards the price."""

TRAY_WEIGHT = "23IIIIVWWWWWC"
"""Our layout for a tray whose till knows the price per kilo: the item and its grams."""

_PREFIXES = re.compile(r"02|04|2\d")
_RUNS = re.compile(r"I+|P+|W+|V+|C+|\d+")

_TIMES_TWO_LESS = (0, 2, 4, 6, 8, 9, 1, 3, 5, 7)
_TIMES_THREE = (0, 3, 6, 9, 2, 5, 8, 1, 4, 7)
_TIMES_FIVE_MORE = (0, 5, 1, 6, 2, 7, 3, 8, 4, 9)
_TIMES_FIVE_LESS = (0, 5, 9, 4, 8, 3, 7, 2, 6, 1)
_FOUR_PLACES = (_TIMES_TWO_LESS, _TIMES_TWO_LESS, _TIMES_THREE, _TIMES_FIVE_LESS)
_FIVE_PLACES = (
    _TIMES_FIVE_MORE,
    _TIMES_TWO_LESS,
    _TIMES_FIVE_LESS,
    _TIMES_FIVE_MORE,
    _TIMES_TWO_LESS,
)


def check_digit(number: str) -> int:
    """The last digit of a GS1 number (EAN-13, EAN-8, GTIN-14, SSCC ...), given the digits before.

    Raises:
        ValueError: Something other than digits.
    Source: gs1.org, "How to calculate a check digit manually": weights 3, 1, 3 ... from the digit
    next to the check digit, and what the sum lacks to a multiple of ten.
    """
    digits = _digits(number)
    total = sum(digit * weight for digit, weight in zip(reversed(digits), cycle((3, 1))))
    return -total % 10


def price_check_digit(field: str) -> int:
    """The digit that guards a price or weight field of four or five digits.

    Raises:
        ValueError: Not four or five digits.
    Source: GS1 General Specifications, section 7.9: weighted products 2-, 3, 5+ and 5-, where
    the tens digit is added to or taken from the units.
    """
    digits = _digits(field)
    if len(digits) == 4:
        return 3 * _products(digits, _FOUR_PLACES) % 10
    if len(digits) == 5:
        return _TIMES_FIVE_LESS.index(-_products(digits, _FIVE_PLACES) % 10)
    raise ValueError(f"a price field has four or five digits, not {len(digits)}: {field!r}")


def in_store_number(
    layout: str, *, item: int, price: int | None = None, grams: int | None = None
) -> str:
    """A thirteen-digit number that means something only in this shop.

    Args:
        layout: Thirteen places, for example ``"24IIIIIVPPPPC"``: digits stand for themselves,
            I is the item, P the price in minor units, W the weight in grams, V the price check
            digit of the price or the weight, C the check digit at the end. It begins with a
            prefix for restricted circulation: 02, 04 or 20 to 29.
        item: The shop's own number of the cut (its PLU).
        price: Minor units, where the layout has a P.
        grams: Where the layout has a W.
    Raises:
        ValueError: The layout is not one, or a number is missing, negative or too long for it.
    Source: prefixes by the GS1 prefix list; the fields behind them are a national or a shop's
    own choice (GS1 General Specifications, section on restricted circulation numbers).
    """
    runs = _read_layout(layout)
    values = {"I": item, "P": price, "W": grams}
    texts = {run[0]: _field(run, values[run[0]]) for run in runs if run[0] in values}
    guarded = texts.get("P") or texts.get("W") or ""
    if "V" in layout:
        texts["V"] = str(price_check_digit(guarded))
    body = "".join(texts.get(run[0], run) for run in runs[:-1])
    return f"{body}{check_digit(body)}"


def _read_layout(layout: str) -> list[str]:
    runs = _RUNS.findall(layout)
    letters = [run[0] for run in runs if not run.isdigit()]
    sound = (
        len(layout) == 13
        and "".join(runs) == layout
        and _PREFIXES.match(layout)
        and len(set(letters)) == len(letters)
        and "I" in letters
        and runs[-1] == "C"
        and layout.count("V") <= 1
        and ("V" not in letters or ("P" in letters) != ("W" in letters))
    )
    if not sound:
        raise ValueError(
            f"{layout!r} is not a layout of an in-store number; expected thirteen places such as "
            f"{SHELF_NUMBER}, a prefix 02, 04 or 20 to 29 first and C last"
        )
    return runs


def _field(run: str, value: int | None) -> str:
    if value is None or value < 0 or len(str(value)) > len(run):
        raise ValueError(
            f"{value!r} does not fit in {run}; expected a whole number of up to {len(run)} digits"
        )
    return f"{value:0{len(run)}d}"


def _digits(text: str) -> list[int]:
    if not (text.isascii() and text.isdigit()):
        raise ValueError(f"{text!r} should be digits only")
    return [int(letter) for letter in text]


def _products(digits: list[int], tables: tuple[tuple[int, ...], ...]) -> int:
    return sum(table[digit] for table, digit in zip(tables, digits, strict=True))
