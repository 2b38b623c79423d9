"""The rows behind a figure of the week as a table of plain values."""

from __future__ import annotations

from gambrel.domain.sheets.behind import Behind, BehindRow
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day
from gambrel.reports.data_table import DataTable, Field, Value

_FIELDS = (
    Field("kind", "Kind", "text"),
    Field("key", "Key", "text"),
    Field("bodies", "Body", "text"),
    Field("cut", "Cut", "text"),
    Field("day", "Day", "date"),
    Field("at", "Moment", "text"),
    Field("person", "Who", "text"),
    Field("net_kg", "Net kg", "kg"),
    Field("money", "Cost", "money"),
    Field("money_per_kg", "Cost/kg", "money"),
)


def behind_table(behind: Behind, shop: Shop) -> DataTable:
    """One row for each body, piece or stage; moments are in UTC (ISO 8601)."""
    return DataTable("behind", behind.title, _FIELDS, [_row(row, shop) for row in behind.rows])


def _row(row: BehindRow, shop: Shop) -> tuple[Value, ...]:
    return (
        row.kind.value,
        row.key,
        row.bodies,
        row.cut,
        None if row.at is None else business_day(row.at, shop),
        None if row.at is None else row.at.isoformat(timespec="seconds"),
        row.person,
        row.grams,
        row.money,
        row.per_kilo,
    )
