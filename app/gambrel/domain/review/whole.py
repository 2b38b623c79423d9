"""Whether a whole trade can have happened: every row that cannot be is named, all of them at once.

Two passes. The first looks at each row and at the rows that it names. The second follows weight
through the rows that the first found sound (`review_flow`), so that one wrong row is told once and
not again by everything that hangs on it.

What is odd but possible is not refused: pieces heavier than the input, a stage that is still open,
a cut that costs more to finish than it sells for. The costing tells of those, and `oddities` of two
figures that contradict each other.
"""

from __future__ import annotations

from gambrel.domain.refusals import Problem
from gambrel.domain.review.catalogue import review_cuts, review_lists, review_prices
from gambrel.domain.review.findings import NOTHING_REFUSED, Findings, Refused
from gambrel.domain.review.flow import flow_problems
from gambrel.domain.review.work import (
    review_bodies,
    review_inputs,
    review_pieces,
    review_reweighs,
    review_stages,
    review_taken_back,
)
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.rows import TABLES, RowKey, row_key, rows_of

__all__ = ["NOTHING_REFUSED", "Refused", "review"]


def review(trade: Trade, refused: Refused = NOTHING_REFUSED) -> list[Problem]:
    """Everything in a trade that cannot be.

    Args:
        trade: A whole book, or what it would be with the rows of a folder.
        refused: Rows that are missing from the trade because they were refused before; what only
            hangs on them is not held against a row.
    Returns:
        One problem for each thing that is wrong, by table; none where the trade is sound. Tables
        and columns are those of the plain files.
    """
    found = Findings(trade, refused)
    for table in TABLES:
        _review_doubles(table, trade, found)
    review_cuts(trade.cuts, found)
    review_lists(trade.lists, found)
    review_bodies(trade.bodies, found)
    review_reweighs(trade.reweighs, found)
    review_stages(trade.stages, found)
    review_pieces(trade.pieces, found)
    review_inputs(trade.inputs, found)
    review_taken_back(trade, found)
    review_prices(trade.prices, found)
    return found.problems + flow_problems(trade, found.bad)


def _review_doubles(table: str, trade: Trade, found: Findings) -> None:
    seen: set[RowKey] = set()
    for row in rows_of(trade, table):
        key = row_key(row)
        if key in seen:
            message = f"{' '.join(key)} is there twice, expected it once"
            found.refuse(table, row, KEY_COLUMNS[table], message)
        seen.add(key)


KEY_COLUMNS = {
    "suppliers": "supplier",
    "cuts": "cut",
    "cutting_lists": "cut",
    "bodies": "body",
    "reweighs": "weighed_at",
    "stages": "stage",
    "pieces": "piece",
    "inputs": "stage",
    "voids": "piece",
    "prices": "from",
    "writeoffs": "written_off_at",
}
"""The column at fault when a row's key is there already."""
