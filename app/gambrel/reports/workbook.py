"""Tables of values as a workbook: numbers stay numbers, text never becomes a formula."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from io import BytesIO
from typing import TYPE_CHECKING

from xlsxwriter import Workbook

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.formats import whole
from gambrel.reports.data_table import DataTable, Field, Kind, Value

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

_ANY_DAY = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)
"""The file's own date, always the same, so that the same week gives the same bytes."""

_WIDEST = 60


def workbook(tables: Sequence[DataTable], currency: Currency, *, title: str, shop: str) -> bytes:
    """One sheet a table, in the order given; the head stays in sight and can be filtered.

    Money stands in whole currency with the currency's decimals; its column names the currency.
    """
    out = BytesIO()
    book = Workbook(
        out,
        {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_numbers": False,
            "strings_to_urls": False,
        },
    )
    book.set_properties({"title": title, "author": shop, "created": _ANY_DAY})
    formats = _formats(book, currency)
    for table in tables:
        _write(book.add_worksheet(table.title), table, formats, currency)
    book.close()
    return out.getvalue()


def _formats(book: Workbook, currency: Currency) -> dict[Kind | str, Format]:
    decimals = f".{'0' * currency.digits}" if currency.digits else ""
    patterns: dict[Kind | str, str] = {
        "text": "@",
        "count": "#,##0",
        "kg": "#,##0.000",
        "money": f"#,##0{decimals}",
        "share": "0.0%",
        "date": "yyyy-mm-dd",
    }
    found = {kind: book.add_format({"num_format": pattern}) for kind, pattern in patterns.items()}
    found["head"] = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
    return found


def _write(
    sheet: Worksheet, table: DataTable, formats: dict[Kind | str, Format], currency: Currency
) -> None:
    for column, field in enumerate(table.fields):
        sheet.write_string(0, column, _title(field, currency), formats["head"])
        sheet.set_column(column, column, _width(table, column, field))
    for n, row in enumerate(table.rows, start=1):
        for column, (value, field) in enumerate(zip(row, table.fields, strict=True)):
            _cell(sheet, n, column, value, field.kind, formats[field.kind], currency)
    sheet.freeze_panes(1, 0)
    if table.rows:
        sheet.autofilter(0, 0, len(table.rows), len(table.fields) - 1)


def _title(field: Field, currency: Currency) -> str:
    return f"{field.title} ({currency.code})" if field.kind == "money" else field.title


def _width(table: DataTable, column: int, field: Field) -> int:
    if field.kind != "text":
        return 13
    longest = max((len(str(row[column] or "")) for row in table.rows), default=0)
    return min(max(longest, len(field.title)) + 2, _WIDEST)


def _cell(
    sheet: Worksheet,
    row: int,
    column: int,
    value: Value,
    kind: Kind,
    shown: Format,
    currency: Currency,
) -> None:
    if value is None:
        return
    if isinstance(value, str):
        sheet.write_string(row, column, value, shown)
    elif isinstance(value, date):
        sheet.write_datetime(row, column, value, shown)
    else:
        sheet.write_number(row, column, _number(value, kind, currency), shown)


def _number(value: int | Decimal, kind: Kind, currency: Currency) -> Decimal:
    """In the unit that people read: kilograms and whole currency, exactly."""
    if kind == "kg":
        return Decimal(whole(value)).scaleb(-3)
    if kind == "money":
        return Decimal(whole(value)).scaleb(-currency.digits)
    return Decimal(value)
