"""Published figures as rows, and a bench to work them on.

Status words in the tables: SEEN, the figure was read in the source named; MEMORY, remembered, the
text not found; COMPUTED, worked out by hand, not printed there. Where a source contradicts its
own inputs the slip is named in the row's note and never expected here.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path

from gambrel.domain.numbers.money import Currency, round_half_up
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Source
from tests.trades import Bench, a_shop

DATA = Path(__file__).parent / "data"
MICRO = 10**6
FINE = Currency("XTS", 6)
"""The code that ISO 4217 keeps for tests (from memory), with a minor unit so small that no
rounding of ours can hide in a figure printed in cents."""

Row = dict[str, str]


def rows(name: str) -> list[Row]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def fine(amount: str) -> int:
    """An amount in major units as millionths."""
    return FINE.parse(amount)


def plain(millionths: int | Decimal) -> Decimal:
    return Decimal(millionths) / MICRO


def kilos(quantity: str) -> int:
    """A published quantity, whatever its unit, as so many kilograms; in grams."""
    grams = Decimal(quantity) * 1000
    assert grams == int(grams), quantity
    return int(grams)


def prints_as(found: Decimal, printed: str, within: str = "") -> bool:
    """Whether a figure is the published one at the decimals that the source prints.

    ``within`` is a wider distance, where the source says that it rounded on the way.
    """
    wanted = Decimal(printed)
    if within:
        return abs(found - wanted) <= Decimal(within)
    return found.quantize(wanted, ROUND_HALF_UP) == wanted


@dataclass(frozen=True)
class Part:
    """What comes off a body: grams, and whole amounts of money (not rates) in major units."""

    name: str
    grams: int
    value: str = ""
    finish: str = "0"
    credit: str = ""
    kind: CutKind = CutKind.TRAY

    def cut(self, currency: Currency = FINE) -> Cut:
        kind = CutKind.BYPRODUCT if self.credit else self.kind
        price = self._rate(self.value, currency) if self.value else None
        finish = self._rate(self.finish, currency)
        credit = self._rate(self.credit or "0", currency)
        return Cut(self.name, self.name, "any", kind, price, finish, credit)

    def _rate(self, amount: str, currency: Currency) -> int:
        rate = Fraction(currency.parse(amount) * 1000, self.grams)
        return round_half_up(rate.numerator, rate.denominator)


def broken(parts: Sequence[Part], cost: str, currency: Currency = FINE) -> Bench:
    """A bench on which one body that cost so much was broken into these parts, nothing lost."""
    cuts = tuple({part.name: part.cut(currency) for part in parts}.values())
    bench = Bench(a_shop(currency=currency), cuts)
    body = bench.body(sum(part.grams for part in parts), 0, currency.parse(cost))
    stage = bench.stage((Source.BODY, body, None))
    for part in parts:
        bench.piece(stage, part.name, part.grams)
    return bench
