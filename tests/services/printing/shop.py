"""A small shop's book, and printers that keep what they were sent, or will not."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from gambrel.devices.printer import Sending, Told
from gambrel.domain.prices.printer_setting import PrinterAtHand
from gambrel.domain.refusals import Refusal
from gambrel.services.bench.act import Act
from gambrel.services.books import open_book
from gambrel.services.folder.load import load_folder
from tests.small_shop import write_shop

FRIDAY = datetime(2026, 11, 20, 2, tzinfo=UTC)
"""Noon and an hour in the shop; its rump went to 27.99 that day."""


def load_small(folder: Path) -> Path:
    """Make the small shop's book in a folder; it is closed when this returns."""
    with open_book(str(folder / "shop.gambrel")) as opened:
        load_folder(opened, write_shop(folder / "shop"))
    return folder / "shop.gambrel"


@dataclass
class KeepingPrinters:
    """Printers that take everything, or refuse with a sentence."""

    refusal: str = ""
    pages: int = 1
    names: tuple[str, ...] = ("Office", "Labels")
    sent: list[Sending] = field(default_factory=list)

    def at_hand(self) -> tuple[PrinterAtHand, ...]:
        return tuple(PrinterAtHand(name, is_default=name == "Office") for name in self.names)

    def send(self, sending: Sending, told: Told) -> None:
        from gambrel.devices.printer import PrintingStopped

        if self.refusal:
            raise Refusal(self.refusal)
        for page in range(1, self.pages + 1):
            if not told(page, self.pages):
                raise PrintingStopped
        self.sent.append(sending)


@dataclass
class Clock:
    """Every look at it is a second later."""

    now: datetime = FRIDAY

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


def an_act(number: int = 1, now: datetime = FRIDAY, person: str = "Ana") -> Act:
    return Act(person, "desk", now, number.to_bytes(8))


def go_on(_done: int, _total: int) -> bool:
    return True
