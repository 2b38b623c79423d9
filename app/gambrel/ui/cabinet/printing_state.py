"""What the Cabinet says about prints: which tickets are wrong, which pieces can be labelled."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from gambrel.domain.prices.reprint import Reprint
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.ui.cabinet.piece_list import PieceRow

if TYPE_CHECKING:
    from gambrel.domain.prices.label_source import Packed

NAMED = 4
"""How many wrong tickets a sentence names; the table shows them all once they are ticked."""


def reprint_words(found: Sequence[Reprint]) -> str:
    """What stands on the button that chooses them."""
    return f"Reprint · {len(found)}" if found else "Reprint"


def reprint_sentence(found: Sequence[Reprint], formats: Formats) -> str:
    """Which tickets in the cabinet no longer say what is asked; nothing where all are right."""
    if not found:
        return ""
    named = "; ".join(_reprint(each, formats) for each in found[:NAMED])
    rest = len(found) - NAMED
    more = f"; and {rest} more" if rest > 0 else ""
    return f"In the cabinet stands another price than is asked: {named}{more}."


def _reprint(each: Reprint, formats: Formats) -> str:
    now = formats.money(each.now) if each.now is not None else DASH
    return f"{each.cut.name} {formats.money(each.printed)} → {now} ({each.why.value})"


def piece_rows(
    found: Sequence[Packed], formats: Formats, shop: Shop, today: date
) -> tuple[PieceRow, ...]:
    """Pieces as rows, the last weighed first."""
    return tuple(_piece(packed, formats, shop, today) for packed in reversed(found))


def _piece(packed: Packed, formats: Formats, shop: Shop, today: date) -> PieceRow:
    weighed = packed.piece.weighed_at
    day = business_day(weighed, shop)
    when = f"{formats.short_day(day)} {formats.time(weighed, shop)}"
    return PieceRow(
        key=packed.piece.key,
        name=f"{packed.cut.name} {formats.kg(packed.left_g)} kg",
        more=f"{when}, use by {formats.short_day(packed.use_by)}",
        left_g=packed.left_g,
        today=day == today,
    )
