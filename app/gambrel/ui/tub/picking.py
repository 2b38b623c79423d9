"""What is in hand at the tub's left side: a class, pieces, and digits typed. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from enum import StrEnum

from gambrel.domain.numbers.mass import parse_kg


class Pad(StrEnum):
    """What the keypad types while a class is open."""

    KILOS = "kilos"
    LEAN = "lean"


@dataclass(frozen=True, slots=True)
class Picking:
    """What is in hand at the left: the class that is open, pieces chosen, digits typed."""

    cut: str = ""
    chosen: frozenset[str] = frozenset()
    typed: str = ""
    pad: Pad = Pad.KILOS

    @property
    def grams(self) -> int:
        """What was typed as kilos; zero where that is no weight."""
        return typed_grams(self.typed)

    @property
    def percent(self) -> Decimal | None:
        """What was typed as per cent; None where that is none."""
        return typed_percent(self.typed)


def typed_grams(typed: str) -> int:
    """Grams of a keypad's text; 0 while it is no weight yet."""
    try:
        return parse_kg(typed.removesuffix(".") or "0")
    except ValueError:
        return 0


def typed_percent(typed: str) -> Decimal | None:
    """Per cent of a keypad's text; None while it is none."""
    try:
        found = Decimal(typed.removesuffix("."))
    except InvalidOperation:
        return None
    return found if 0 <= found <= 100 else None
