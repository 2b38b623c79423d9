"""GS1 element strings: a tray's number, weight, dates and lot as one text that a scanner reads.

Source of the formats: references, gs1-application-identifiers.csv (the GS1 list of application
identifiers); checked against python-stdnum in tests/published/test_gs1.py.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

GROUP_SEPARATOR = "\x1d"
"""What a scanner sends for the FNC1 that ends an element of open length."""

_LOT = re.compile(r"[!-\"%-/0-9:-?A-Z_a-z]{1,20}")
"""Character set 82 of the GS1 General Specifications, figure 7.11-1, up to twenty (AI 10)."""

_HEAVIEST_G = 999_999


class Element(NamedTuple):
    """One application identifier and its value; ``open_ended`` where its length may vary."""

    ai: str
    value: str
    open_ended: bool = False


def number_of(ean13: str) -> Element:
    """AI 01: an EAN-13 as fourteen digits, a zero before.

    A number of the in-store range stays one: it means something in this shop only.
    """
    if len(ean13) != 13 or not (ean13.isascii() and ean13.isdigit()):
        raise ValueError(f"{ean13!r} is not an EAN-13 number; expected thirteen digits")
    return Element("01", f"0{ean13}")


def net_weight(grams: int) -> Element:
    """AI 3103: net weight in kilograms with three decimals, that is whole grams.

    Raises:
        ValueError: Negative, or more than six digits of grams.
    """
    if not 0 <= grams <= _HEAVIEST_G:
        raise ValueError(f"{grams} g does not fit in six digits of grams")
    return Element("3103", f"{grams:06d}")


def packed(day: date) -> Element:
    """AI 13: the day of packing."""
    return Element("13", f"{day:%y%m%d}")


def use_by(day: date) -> Element:
    """AI 17: the last day on which it may be used."""
    return Element("17", f"{day:%y%m%d}")


def lot(key: str) -> Element:
    """AI 10: the batch or lot.

    Raises:
        ValueError: Empty, longer than twenty characters, or one that GS1 does not know.
    """
    if _LOT.fullmatch(key) is None:
        raise ValueError(
            f"the lot {key!r} fits in no GS1 code; expected up to twenty plain letters and digits"
        )
    return Element("10", key, open_ended=True)


def as_text(elements: Sequence[Element]) -> str:
    """As people read it: ``(01)02000101000007(17)261128(10)HQ-17``."""
    return "".join(f"({each.ai}){each.value}" for each in elements)


def as_message(elements: Sequence[Element]) -> str:
    """As a scanner sends it: elements of open length end with a separator, unless they are last."""
    *front, last = elements
    parts = [f"{each.ai}{each.value}{GROUP_SEPARATOR if each.open_ended else ''}" for each in front]
    return f"{''.join(parts)}{last.ai}{last.value}"
