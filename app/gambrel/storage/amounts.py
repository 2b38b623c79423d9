"""Whether any amount of money stands in a book: while none does, its currency may change."""

from __future__ import annotations

from sqlalchemy import ColumnElement, exists, or_, select
from sqlalchemy.engine import Connection

from gambrel.storage import around, tables

_AMOUNTS: tuple[ColumnElement[bool], ...] = (
    exists().where(tables.body.c.key.is_not(None)),  # every body has a price
    exists().where(tables.price.c.cut.is_not(None)),
    exists().where(
        or_(
            tables.cut.c.price.is_not(None),
            tables.cut.c.finish != 0,
            tables.cut.c.credit != 0,
        )
    ),
    exists().where(tables.stage_input.c.cost != 0),
    exists().where(around.ingredient.c.key.is_not(None)),
    exists().where(
        or_(around.printed_item.c.price.is_not(None), around.printed_item.c.amount.is_not(None))
    ),
)
"""One for each table with money. The shop's work per hour is a fact of its own."""


def holds_money(connection: Connection) -> bool:
    """Whether a body, a price, a cut, an ingredient or a print has an amount."""
    return bool(connection.execute(select(or_(*_AMOUNTS))).scalar())
