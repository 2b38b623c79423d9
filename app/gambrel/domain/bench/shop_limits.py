"""The limits that a shop sets itself: what of, within what bounds, and what is usual. Pure.

The usual is what holds while a shop has set nothing. None of them is a law: local codes come first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from enum import StrEnum

from gambrel.domain.bench.cautions import OFF_RAIL_MINUTES, OFF_RAIL_SETTING, PAUSE_SETTING
from gambrel.domain.bench.lean import STEP_G, STEP_SETTING
from gambrel.domain.bench.rail import HANG_DAYS, hang_days_setting
from gambrel.domain.bench.receiving import WARMEST_CARCASE, WARMEST_SETTING
from gambrel.domain.bench.trim import TRIM_AGE_DAYS, TRIM_AGE_SETTING
from gambrel.domain.bench.worktime import PAUSE_AFTER
from gambrel.domain.refusals import Refusal

LONGEST_HANG_DAYS = 365
LONGEST_TRIM_DAYS = 30
LARGEST_STEP_G = 1000
LONGEST_MINUTES = 600
LONGEST_BACKUP_DAYS = 90
MOST_COPIES = 60
WARMEST_OF_ALL = 15
"""Bounds that keep out slips of the finger (common practice, no source)."""


class Where(StrEnum):
    """The place at which a limit is used."""

    DOOR = "At the door"
    RAIL = "On the rail"
    BLOCK = "At the block"
    TUB = "At the tub"
    LABEL = "On labels"
    BOOK = "The book"


@dataclass(frozen=True, slots=True)
class ShopLimit:
    """A number that a shop may set, from ``least`` to ``most``, both allowed.

    ``setting`` names it in the book, ``short`` in a list under its place; ``used`` says where it is
    used, ``why`` where the usual comes from. With ``free`` nought sets no limit.
    """

    setting: str
    where: Where
    name: str
    short: str
    unit: str
    usual: Decimal
    least: int
    most: int
    decimals: int
    used: str
    why: str
    free: bool = False

    @property
    def bounds(self) -> str:
        """What may be typed, for example ``0 to 15 °C``."""
        free = ", 0 for no limit" if self.free else ""
        return f"{self.least} to {self.most} {self.unit}{free}"

    def shown(self, number: Decimal) -> str:
        """A number with its unit, without noughts that say nothing."""
        if self.free and not number:
            return "no limit"
        return f"{number.normalize():f} {self.unit}"

    def read(self, kept: str | None) -> Decimal:
        """What holds, of what the book keeps; what cannot be read counts as not set."""
        own = self.own(kept)
        return self.usual if own is None else own

    def own(self, kept: str | None) -> Decimal | None:
        """What the shop has set; None where it has set nothing that can be read."""
        try:
            return self.parse(kept) if kept else None
        except Refusal:
            return None

    def parse(self, text: str) -> Decimal:
        """The number that a text means.

        Raises:
            Refusal: No plain number, too many decimals, or outside the bounds.
        """
        whole, mark, part = text.partition(".")
        digits = whole + part
        sound = whole and digits.isascii() and digits.isdigit() and (bool(part) or not mark)
        if not sound or len(digits) > 9:
            raise Refusal(f"{text!r} is no number here. Type {self.bounds}.")
        if len(part) > self.decimals:
            exact = f"{self.decimals} decimal" if self.decimals else "no decimals"
            raise Refusal(f"{self.name} has {exact}. Type {self.bounds}.")
        number = Decimal(text)
        if not self.least <= number <= self.most:
            raise Refusal(f"{number:f} {self.unit} cannot be here. Type {self.bounds}.")
        return number


WARMEST = ShopLimit(
    WARMEST_SETTING, Where.DOOR, "Warmest core on arrival", "Warmest core", "°C", WARMEST_CARCASE,
    0, WARMEST_OF_ALL, 1,
    "The rail marks a body that comes in warmer.",
    "7 °C for carcases: Regulation (EC) 853/2004.",
)  # fmt: skip

OFF_RAIL = ShopLimit(
    OFF_RAIL_SETTING, Where.BLOCK, "Out of the cold for at most", "Out of the cold", "minutes",
    Decimal(OFF_RAIL_MINUTES), 1, LONGEST_MINUTES, 0,
    "The block and the rail mark a body that has been off the rail for longer.",
    "Common practice, no source.",
)  # fmt: skip

PAUSE = ShopLimit(
    PAUSE_SETTING, Where.BLOCK, "The work clock pauses after", "Clock pauses after", "minutes",
    Decimal(int(PAUSE_AFTER / timedelta(minutes=1))), 1, LONGEST_MINUTES, 0,
    "So long after a weighing that no other follows nobody is taken to cut.",
    "Common practice, no source.",
)  # fmt: skip

TRIM_AGE = ShopLimit(
    TRIM_AGE_SETTING, Where.TUB, "Trim may stand for", "Trim may stand", "days",
    Decimal(TRIM_AGE_DAYS), 0, LONGEST_TRIM_DAYS, 0,
    "Older trim is marked at the tub and not taken into a blend.",
    "Common practice, no source.",
)  # fmt: skip

BLEND_STEP = ShopLimit(
    STEP_SETTING, Where.TUB, "A mix goes in steps of", "Steps of a mix", "g", Decimal(STEP_G),
    1, LARGEST_STEP_G, 0,
    "Kilos of a lean mix are rounded to it, so that the scale can show them.",
    "Common practice, no source.",
)  # fmt: skip


BACKUP_DAYS = ShopLimit(
    "backup-days", Where.BOOK, "Remind of a backup after", "Remind of a backup", "days", Decimal(7),
    1, LONGEST_BACKUP_DAYS, 0,
    "So many days after the last backup the window reminds of one.",
    "Common practice, no source.",
)  # fmt: skip

COPIES_KEPT = ShopLimit(
    "copies-kept", Where.BOOK, "Keep the copies of so many days", "Daily copies", "days",
    Decimal(7), 0, MOST_COPIES, 0,
    "Made at a day's first start, beside the book. A lost disk takes them along.",
    "Common practice, no source.",
)  # fmt: skip


def _hang(kind: str, days: int) -> ShopLimit:
    short = kind.capitalize()
    return ShopLimit(
        hang_days_setting(kind), Where.RAIL, f"{short}, break within", short, "days", Decimal(days),
        1, LONGEST_HANG_DAYS, 0,
        "The rail shows the day by which to break it, counted from slaughter.",
        "Common practice, no source.",
    )  # fmt: skip


HANG: Mapping[str, ShopLimit] = {kind: _hang(kind, days) for kind, days in HANG_DAYS.items()}
"""By species, or species and portion."""

SHOP_LIMITS: tuple[ShopLimit, ...] = (
    WARMEST,
    *HANG.values(),
    OFF_RAIL,
    PAUSE,
    TRIM_AGE,
    BLEND_STEP,
    BACKUP_DAYS,
    COPIES_KEPT,
)
"""All of them, in the order of the meat's way."""
