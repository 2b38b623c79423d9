"""What a station keeps about its printers, paper by paper. Kept as a text, read back strictly."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from gambrel.domain.refusals import Refusal

DPI = (203, 300, 600)
"""Dots an inch that can be chosen: two that label printers have, and an office printer's."""

MOST_TENTHS = 100
"""Tenths of a millimetre by which a page may be shifted each way: a centimetre."""

MOST_COPIES = 1000


@dataclass(frozen=True, slots=True)
class PrinterAtHand:
    """A printer as the system knows it; ``trouble`` is a word or two, empty where all is well."""

    name: str
    about: str = ""
    is_default: bool = False
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class PaperSetting:
    """How one paper is printed at one station.

    ``printer`` is empty where none was chosen. ``right`` and ``down`` are tenths of a millimetre
    by which everything is moved, since the printer puts it that much too far left or up.
    """

    printer: str = ""
    dpi: int = 300
    right: int = 0
    down: int = 0

    def __post_init__(self) -> None:
        if self.dpi not in DPI:
            known = ", ".join(map(str, DPI))
            raise Refusal(f"{self.dpi} dots an inch cannot be chosen. Choose one of {known}.")
        if max(abs(self.right), abs(self.down)) > MOST_TENTHS:
            raise Refusal(
                f"A page can be moved by {MOST_TENTHS // 10} mm at most. Set the paper straight in "
                "the printer first."
            )

    @property
    def shift(self) -> tuple[float, float]:
        """Millimetres to the right and down."""
        return self.right / 10, self.down / 10


def check_copies(copies: int) -> int:
    """The copies, where they can be printed.

    Raises:
        Refusal: None at all, or too many.
    """
    if not 1 <= copies <= MOST_COPIES:
        raise Refusal(f"{copies} copies cannot be printed. Choose 1 to {MOST_COPIES}.")
    return copies


def settings_text(settings: Mapping[str, PaperSetting]) -> str:
    """Settings by paper as the text that `read_settings` reads back."""
    rows = {
        paper: {"printer": each.printer, "dpi": each.dpi, "right": each.right, "down": each.down}
        for paper, each in sorted(settings.items())
    }
    return json.dumps(rows, ensure_ascii=False)


def read_settings(text: str) -> dict[str, PaperSetting]:
    """Settings by paper.

    Raises:
        Refusal: The text is not what `settings_text` writes.
    """
    try:
        rows: Any = json.loads(text)
        return {paper: _setting(row) for paper, row in rows.items()}
    except (AttributeError, ValueError, TypeError, KeyError) as error:
        raise Refusal(
            "What this station kept about its printers cannot be read. Set them up again."
        ) from error


def _setting(row: Mapping[str, Any]) -> PaperSetting:
    printer, numbers = row["printer"], [row[name] for name in ("dpi", "right", "down")]
    if len(row) != 4 or not isinstance(printer, str) or any(type(n) is not int for n in numbers):
        raise ValueError(row)
    return PaperSetting(printer, *numbers)
