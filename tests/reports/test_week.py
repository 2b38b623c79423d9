"""The weekly cost sheet, read back from its PDF, its workbook and its CSV files."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO
from typing import Any

import openpyxl
import pytest

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.numbers.money import Currency
from gambrel.domain.sheets.flow_nodes import flow_columns
from gambrel.domain.sheets.remarks import remarks
from gambrel.domain.sheets.week_sheet import WeekSheet, week_sheet
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.clock import trade_week
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Source, Trade, WriteOff
from gambrel.reports.cost_picture import MOST_CUTS
from gambrel.reports.csv_files import csv_files, safe_text
from gambrel.reports.flow_picture import MOST
from gambrel.reports.week import draw_week
from gambrel.reports.week_data import week_data
from gambrel.reports.workbook import workbook
from tests.reports.reading import assert_fonts_inside, ledger_of, outside, pages_of, plain, text_of
from tests.trades import Bench

WEEKS = ["2026-W45", "2026-W46", "2026-W47", "2026-W48"]
AUD, JPY = Currency("AUD", 2), Currency("JPY", 0)


def sheet_of(ledger: Ledger, name: str) -> WeekSheet:
    return week_sheet(ledger, trade_week(name, ledger.trade.shop))


@pytest.mark.parametrize("name", WEEKS)
def test_the_paper_itself_is_sound(ledger: Ledger, formats: Formats, name: str) -> None:
    sheet = sheet_of(ledger, name)
    pdf = draw_week(sheet, formats)
    assert outside(pdf) == []
    assert_fonts_inside(pdf)
    assert draw_week(sheet, formats) == pdf
    pages = pages_of(pdf)
    assert len(pages) <= 4
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page


@pytest.mark.parametrize("name", WEEKS[1:3])
def test_the_flow_stands_on_paper_with_all_its_money(
    ledger: Ledger, formats: Formats, name: str
) -> None:
    sheet = sheet_of(ledger, name)
    text = text_of(draw_week(sheet, formats))
    assert "Where the money went" in text
    nodes = [node for column in flow_columns(sheet.flow, MOST).columns for node in column]
    assert len(nodes) >= 12
    for node in nodes:
        assert node.name in text
        assert f"{formats.money(node.money)}, " in text


@pytest.mark.parametrize("name", WEEKS[1:3])
def test_cost_by_week_ends_with_this_weeks_figure(
    ledger: Ledger, formats: Formats, name: str
) -> None:
    sheet = sheet_of(ledger, name)
    told = text_of(draw_week(sheet, formats)).partition("Cost per kilo by week")[2]
    for line in (*sheet.costs.portions, *sheet.costs.cuts[:MOST_CUTS]):
        if line.last is not None:
            assert line.name in told
            assert formats.per_kilo(line.last) in told


def test_the_usual_stands_under_the_five_figures(ledger: Ledger, formats: Formats) -> None:
    sheet = sheet_of(ledger, "2026-W47")
    text = text_of(draw_week(sheet, formats))
    assert f"usual {formats.money(sheet.usual.bought)} (2 wk)" in text
    first = text_of(draw_week(sheet_of(ledger, "2026-W45"), formats))
    assert "usual —" in first


@pytest.mark.parametrize("name", WEEKS[1:3])
def test_five_figures_stand_beside_last_weeks(ledger: Ledger, formats: Formats, name: str) -> None:
    sheet = sheet_of(ledger, name)
    text = text_of(draw_week(sheet, formats))
    for now, last in (
        (sheet.now.bought, sheet.last.bought),
        (sheet.now.summary.taken_cost, sheet.last.summary.taken_cost),
        (sheet.now.summary.earning.margin, sheet.last.summary.earning.margin),
        (sheet.now.summary.unexplained, sheet.last.summary.unexplained),
    ):
        assert formats.money(now) in text
        assert f"last week {formats.money(last)}" in text
    saleable = formats.kg(sheet.last.summary.saleable_g, 1)
    assert f"last week {saleable} kg" in text


@pytest.mark.parametrize("name", WEEKS[1:3])
def test_every_cut_body_and_sentence_is_on_the_paper(
    ledger: Ledger, formats: Formats, name: str
) -> None:
    sheet = sheet_of(ledger, name)
    text = text_of(draw_week(sheet, formats))
    for line in sheet.cuts:
        if line.row.cut.kind.bears_cost:
            assert f"{line.row.cut.name} " in text
            assert formats.money(line.row.sales) in text
            assert formats.per_kilo(line.last_cost_per_kilo) in text
    for section in sheet.breaks:
        assert section.bodies[0].body.key in text
    for supplier in sheet.suppliers:
        assert supplier.name in text
    for thrown in sheet.thrown_away:
        assert f"{thrown.cut}, {thrown.piece} {thrown.reason}" in text
    told = remarks(sheet, formats)
    assert told
    for sentence in told:
        assert plain(sentence) in text


def test_an_empty_week_says_so_and_still_shows_the_rail(ledger: Ledger, formats: Formats) -> None:
    sheet = sheet_of(ledger, "2026-W48")
    text = text_of(draw_week(sheet, formats))
    assert "Nothing was bought, worked on or thrown away in this week." in text
    assert all(row.body.key in text for row in sheet.now.hanging)
    assert "Page 1 of 1" in text
    nothing = text_of(draw_week(sheet_of(ledger, "2020-W10"), formats))
    assert "Hanging" not in nothing


def evil_trade() -> Trade:
    """Texts that a spreadsheet would run, markup, and amounts without decimals."""
    bench = Bench()
    cut = replace(bench.cuts[0], key="=cut", name='=HYPERLINK("http://x.example")')
    bench.cuts = (cut, *bench.cuts)
    bench.shop = replace(bench.shop, currency=JPY, name="<b>=Shop</b>" * 6)
    stage = bench.stage((Source.BODY, bench.body(9_876_543, 123_456), None))
    piece = bench.piece(stage, "=cut", 9_000_000)
    trade = bench.trade()
    return replace(
        trade,
        suppliers=(Supplier("farm", "@SUM(A1)"),),
        writeoffs=(WriteOff(piece, 1_000, bench.tick(), "+dropped; -1\nand lost"),),
    )


def test_a_foreign_currency_and_wild_texts_stay_on_the_paper() -> None:
    sheet = week_sheet(ledger_of(evil_trade()), trade_week("2026-W47", evil_trade().shop))
    formats = Formats(JPY, "¥")
    pdf = draw_week(sheet, formats)
    assert outside(pdf) == []
    text = text_of(pdf)
    assert formats.money(sheet.now.bought) in text
    assert "<b>=Shop</b>" in text
    assert "+dropped; -1 and lost" in text


# The workbook, read back by openpyxl


def book_of(sheet: WeekSheet, formats: Formats) -> Any:
    data = week_data(sheet, formats)
    made = workbook(data, formats.currency, title="Week", shop=sheet.shop.name)
    assert made == workbook(data, formats.currency, title="Week", shop=sheet.shop.name)
    return openpyxl.load_workbook(BytesIO(made))


def columns_of(page: Any) -> dict[str, list[Any]]:
    heads = [cell.value for cell in page[1]]
    return {
        head: [row[n].value for row in page.iter_rows(min_row=2)] for n, head in enumerate(heads)
    }


def test_the_workbook_holds_numbers(ledger: Ledger, formats: Formats) -> None:
    sheet = sheet_of(ledger, "2026-W47")
    cuts = columns_of(book_of(sheet, formats)["Cuts"])
    assert cuts["Cut"] == [line.row.cut.name for line in sheet.cuts]
    for head, wanted in (
        ("Weighed kg", [Decimal(line.row.net_g) / 1000 for line in sheet.cuts]),
        ("Cost (AUD)", [Decimal(line.row.rest_cost) / 100 for line in sheet.cuts]),
    ):
        assert [Decimal(repr(value)) for value in cuts[head]] == wanted
    found = sum(Decimal(repr(v)) for v in cuts["Expected sales (AUD)"] if v is not None)
    assert found == Decimal(sheet.now.summary.earning.sales) / 100


def test_the_workbooks_formats_fit_the_currency(ledger: Ledger, formats: Formats) -> None:
    page = book_of(sheet_of(ledger, "2026-W47"), formats)["Week beside last week"]
    shown = {cell.value: page.cell(2, cell.column).number_format for cell in page[1]}
    assert shown["Bought (AUD)"] == "#,##0.00"
    assert shown["Bought kg"] == "#,##0.000"
    assert shown["Margin"] == "0.0%"
    assert page.cell(2, 2).value.date() == date(2026, 11, 16)
    yen = week_sheet(ledger_of(evil_trade()), trade_week("2026-W47", evil_trade().shop))
    page = book_of(yen, Formats(JPY, "¥"))["Week beside last week"]
    heads = {cell.value: cell.column for cell in page[1]}
    cell = page.cell(2, heads["Bought (JPY)"])
    assert (cell.value, cell.number_format) == (yen.now.bought, "#,##0")


def test_no_text_becomes_a_formula() -> None:
    sheet = week_sheet(ledger_of(evil_trade()), trade_week("2026-W47", evil_trade().shop))
    book = book_of(sheet, Formats(JPY, "¥"))
    cells = [cell for page in book for row in page.iter_rows() for cell in row]
    assert not [cell for cell in cells if cell.data_type == "f"]
    values = {cell.value for cell in cells}
    assert '=HYPERLINK("http://x.example")' in values
    assert "@SUM(A1)" in values


# The CSV files


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(text)))


def test_csv_files_hold_what_the_sheet_holds(ledger: Ledger, formats: Formats) -> None:
    sheet = sheet_of(ledger, "2026-W47")
    files = csv_files(week_data(sheet, formats), AUD)
    now, last = rows_of(files["week.csv"])
    assert (now["week"], last["week"]) == ("2026-W47", "2026-W46")
    assert AUD.parse(now["bought"]) == sheet.now.bought
    assert AUD.parse(last["unexplained"]) == sheet.last.summary.unexplained
    cuts = rows_of(files["cuts.csv"])
    sales = sum(AUD.parse(row["expected_sales"]) for row in cuts if row["expected_sales"])
    assert sales == sheet.now.summary.earning.sales
    bodies = rows_of(files["bodies.csv"])
    taken = sum(AUD.parse(row["input_cost"]) for row in bodies)
    assert taken == sheet.now.summary.taken_cost
    assert [row["remark"] for row in rows_of(files["remarks.csv"])] == remarks(sheet, formats)


def test_csv_text_is_never_run() -> None:
    sheet = week_sheet(ledger_of(evil_trade()), trade_week("2026-W47", evil_trade().shop))
    files = csv_files(week_data(sheet, Formats(JPY, "¥")), JPY)
    cells = [cell for text in files.values() for row in csv.reader(StringIO(text)) for cell in row]
    assert "'=cut" in cells
    assert "'@SUM(A1)" in cells
    runs = [cell for cell in cells if cell.startswith(("=", "+", "@"))]
    assert runs == []
    # What begins with a minus is a number.
    assert all(Decimal(cell) < 0 for cell in cells if cell.startswith("-"))


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@a", "\t=1", "\r=1"])
def test_safe_text_defuses(words: str) -> None:
    assert safe_text(words) == f"'{words}"
    assert safe_text(f"a{words}") == f"a{words}"


def test_the_pictures_stand_in_the_files_with_all_their_figures(
    ledger: Ledger, formats: Formats
) -> None:
    sheet = sheet_of(ledger, "2026-W47")
    files = csv_files(week_data(sheet, formats), AUD)
    assert sum(AUD.parse(row["money"]) for row in rows_of(files["flow.csv"])) == sheet.flow.total
    [usual] = rows_of(files["usual.csv"])
    assert usual["weeks"] == "2"
    assert AUD.parse(usual["bought"]) == sheet.usual.bought
    yields = rows_of(files["yields.csv"])
    whole = {row["bodies"]: row["share"] for row in yields if not row["cut"]}
    body = ledger.bodies["HQ-16"]
    assert whole["HQ-16"] == f"{Decimal(body.saleable_g) / body.input_g:.4f}" == "0.6791"
    costs = [row for row in rows_of(files["cost_by_week.csv"]) if row["name"] == "Striploin"]
    assert [(row["week"], row["cost_per_kg"]) for row in costs] == [
        ("2026-W46", "26.85"),
        ("2026-W47", "27.96"),
    ]
