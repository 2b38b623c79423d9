"""A small invented shop with a hindquarter to break, for tests of the block and its pictures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from gambrel.domain.trade.catalogue import Cut, CutKind, ListLine, Supplier
from gambrel.domain.trade.records import Body, PricedOn, Reweigh
from gambrel.services.bench import Act
from gambrel.storage.book import Book
from tests.trades import a_shop

NOW = datetime(2026, 11, 20, 23, 20, tzinfo=UTC)
"""10:20 on Saturday 21 November at the shop."""

_TRAY = (
    # key, name, price, finishing, norm of the list "Round whole", of the list "Round trimmed"
    ("flank", "Flank", 2799, 50, "5.8", "5.8"),
    ("tenderloin", "Tenderloin", 6299, 40, "2.3", "2.3"),
    ("striploin", "Striploin", 4199, 35, "6.2", "6.2"),
    ("rump", "Rump", 2799, 30, "5.6", "5.6"),
    ("knuckle", "Knuckle", 2199, 30, "4.7", None),
    ("topside", "Topside", 2199, 30, "8.4", "8.0"),
    ("silverside", "Silverside", 2099, 30, "7.0", None),
    ("shin", "Shin", 1899, 40, "3.6", "3.6"),
    ("marrow-bones", "Marrow bones", 699, 30, "1.2", "1.2"),
    ("diced", "Diced beef", 2299, 55, None, "12.0"),
    ("corned", "Corned silverside", 1799, 45, None, None),
)

CUTS = (
    *(Cut(key, name, "beef", CutKind.TRAY, price, fin) for key, name, price, fin, _, _ in _TRAY),
    Cut("trim-90", "Beef trim 90", "beef", CutKind.TRIM, 1150),
    Cut("trim-70", "Beef trim 70", "beef", CutKind.TRIM, 800),
    Cut("suet", "Suet", "beef", CutKind.BYPRODUCT, credit=120),
    Cut("fat", "Beef fat", "beef", CutKind.BYPRODUCT, credit=25),
    Cut("bone", "Beef bone", "beef", CutKind.BYPRODUCT, credit=10),
    Cut("waste", "Beef waste", "beef", CutKind.WASTE),
    Cut("lamb-leg", "Lamb leg", "lamb", CutKind.TRAY, 1799, 30),
    Cut("lamb-loin-chops", "Lamb loin chops", "lamb", CutKind.TRAY, 3299, 55),
    Cut("lamb-bone", "Lamb bone", "lamb", CutKind.BYPRODUCT, credit=-18),
)

_REST = (("trim-90", "5.0"), ("trim-70", "11.0"), ("suet", "3.0"), ("fat", "10.0"))
_LAST = (("bone", "24.2"), ("waste", "0.8"))


def _list(name: str, column: int) -> list[ListLine]:
    tray = [(row[0], row[column]) for row in _TRAY if row[column] is not None]
    lines = [*tray, *_REST, *_LAST]
    return [
        ListLine(name, "beef", "hindquarter", place, str(cut), Decimal(str(norm)))
        for place, (cut, norm) in enumerate(lines, start=1)
    ]


LISTS = (
    *_list("Round whole", 4),
    *_list("Round trimmed", 5),
    ListLine("Lamb", "lamb", "whole", 1, "lamb-leg", Decimal("31.6")),
    ListLine("Lamb", "lamb", "whole", 2, "lamb-loin-chops", Decimal("9.8")),
    ListLine("Lamb", "lamb", "whole", 3, "lamb-bone", Decimal("4.0")),
)

BODIES = (
    Body(
        "HQ-17", "beef", "hindquarter", "longbarn", NOW - timedelta(days=6), 84_200, 1005,
        PricedOn.DOCKET, 84_400, 600, "L-0612",
    ),
    Body("LAMB-26", "lamb", "whole", "threegate", NOW - timedelta(days=3), 24_150, 1060),
    Body("FQ-09", "beef", "forequarter", "longbarn", NOW - timedelta(days=2), 73_500, 795),
)  # fmt: skip


def fill(book: Book, cuts: Sequence[Cut] = CUTS) -> None:
    """Give a new book this shop, its catalogue and what hangs."""
    suppliers = (Supplier("longbarn", "Longbarn Cattle"), Supplier("threegate", "Threegate Lamb"))
    with book.transaction() as work:
        work.set_shop(a_shop(name="Bench test butchers"))
        reweigh = Reweigh("HQ-17", NOW - timedelta(hours=4), 82_400)
        work.add([*suppliers, *cuts, *LISTS, *BODIES, reweigh])


class Hand:
    """Somebody at a block: every act is a second later and has a key of its own."""

    def __init__(self, now: datetime = NOW, person: str = "Ana", station: str = "block-1") -> None:
        self.now, self.person, self.station = now, person, station
        self._acts = 0

    def act(self, after: timedelta = timedelta(seconds=1)) -> Act:
        self.now += after
        self._acts += 1
        return Act(self.person, self.station, self.now, self._acts.to_bytes(8))
