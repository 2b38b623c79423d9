"""The shop and its catalogue: cuts, their kinds, and the lists by which a portion is cut."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time
from decimal import Decimal
from enum import StrEnum

from gambrel.domain.numbers.money import Currency


class CutKind(StrEnum):
    """What a cut is to the shop's sums."""

    TRAY = "tray"
    TRIM = "trim"
    BYPRODUCT = "byproduct"
    WASTE = "waste"

    @property
    def bears_cost(self) -> bool:
        """Tray and trim share the joint cost; a by-product takes its credit, waste nothing."""
        return self in (CutKind.TRAY, CutKind.TRIM)


@dataclass(frozen=True, slots=True)
class Shop:
    """One shop's settings. Money is minor units; percentages are plain (``Decimal("38")``)."""

    name: str
    currency: Currency
    time_zone: str
    day_starts: time
    week_starts: int
    """The first day of the trade week, Monday 0 to Sunday 6."""
    work_per_hour: int
    tax_percent: Decimal
    prices_include_tax: bool
    target_margin_percent: Decimal


@dataclass(frozen=True, slots=True)
class Supplier:
    """Who sells bodies to the shop."""

    key: str
    name: str
    contact: str = ""


@dataclass(frozen=True, slots=True)
class Cut:
    """A line of the catalogue. Rates are minor units per kilogram.

    ``price`` is the one in force from the beginning; later ones are price changes. ``credit`` is
    for by-products and may be negative (a disposal fee).
    """

    key: str
    name: str
    species: str
    kind: CutKind
    price: int | None = None
    finish: int = 0
    credit: int = 0
    shelf_life_days: int | None = None
    plu: str = ""
    unece: str = ""


@dataclass(frozen=True, slots=True)
class ListLine:
    """One cut of a cutting list: its place in the order of work and its norm in per cent."""

    list: str
    species: str
    portion: str
    position: int
    cut: str
    norm_percent: Decimal | None = None
