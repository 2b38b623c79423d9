"""A costing for a screen that must show one, though a price may be missing."""

from __future__ import annotations

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.records import Trade


def costed(trade: Trade, method: Method = Method.NRV) -> tuple[Costing, str]:
    """A costing by the method, or by weight where a price is missing, and then why.

    Raises:
        RowsRefused: The book contradicts itself.
    """
    try:
        return roll_up(trade, method), ""
    except RowsRefused:
        raise
    except Refusal as refusal:
        return roll_up(trade, Method.WEIGHT), f"Shared by weight: {refusal}."
