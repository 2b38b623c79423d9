"""Tables of values as CSV files: plain numbers with a point, and no text that a sheet would run."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from io import StringIO

from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.formats import whole
from gambrel.reports.data_table import DataTable, Kind, Value

_RUNS_AS_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def csv_files(tables: Iterable[DataTable], currency: Currency) -> dict[str, str]:
    r"""Each table as a file's name and its text (UTF-8, a header row, ``\\n`` line ends)."""
    return {f"{table.name}.csv": _csv(table, currency) for table in tables}


def _csv(table: DataTable, currency: Currency) -> str:
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(field.name for field in table.fields)
    for row in table.rows:
        writer.writerow(
            _cell(value, field.kind, currency)
            for value, field in zip(row, table.fields, strict=True)
        )
    return out.getvalue()


def _cell(value: Value, kind: Kind, currency: Currency) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return safe_text(value)
    if isinstance(value, date):
        return value.isoformat()
    if kind == "kg":
        return kg_text(whole(value))
    if kind == "money":
        return currency.text(whole(value))
    if kind == "share":
        return f"{Decimal(value):.4f}"
    return f"{value}"


def safe_text(words: str) -> str:
    """Text that a spreadsheet would take for a formula gets an apostrophe before it."""
    return f"'{words}" if words.startswith(_RUNS_AS_FORMULA) else words
