"""Tray labels: read back, decoded as a scanner would, and never printed wrong."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from itertools import product

import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency, extend
from gambrel.domain.prices import elements
from gambrel.domain.prices.codes import SHELF_NUMBER, TRAY_PRICE, TRAY_WEIGHT, in_store_number
from gambrel.domain.prices.elements import as_message, as_text
from gambrel.domain.prices.labels import TrayCode, TrayLabel
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.reports.fonts import CAP_HEIGHT
from gambrel.reports.label_head import LEAST, weight_height
from gambrel.reports.labels import draw_labels
from gambrel.reports.look import MM
from gambrel.reports.papers import LABELS, Placing, Sheet, label_sheet
from gambrel.reports.sheet_pages import Stopped
from tests.reports.reading import (
    Box,
    assert_fonts_inside,
    boxes_of,
    fonts_on,
    outside,
    pages_of,
    plain,
    rasters,
    text_of,
)

AUD = Formats(Currency("AUD", 2), "$")
USE_BY, PACKED = date(2026, 11, 28), date(2026, 11, 25)
EAN = {TrayCode.PRICE: TRAY_PRICE, TrayCode.WEIGHT: TRAY_WEIGHT}
SHEETS = [label_sheet(name) for name in (*LABELS, "70x45.5mm", "a4-8", "a4-15", "a4-24")]
sheets = pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
printers = pytest.mark.parametrize("printer", [203, 300])

IRISH = ("Origin: Ireland", "Slaughtered in: Ireland, IE 303 EC", "Cut in: Ireland, IE 411 EC")
SAUSAGE = (
    ("Ingredients: Pork (85 %), water, ", False), ("wheat", True), (" crumb, salt, ", False),
    ("mustard", True), (".", False),
)  # fmt: skip


def label(code: TrayCode = TrayCode.PRICE, grams: int = 482, **changes: object) -> TrayLabel:
    price = extend(3299, grams)
    item = elements.number_of(in_store_number(SHELF_NUMBER, item=101))
    parts: tuple[elements.Element, ...] = ()
    if code is TrayCode.QR:
        parts = item, elements.packed(PACKED), elements.use_by(USE_BY), elements.lot("HQ-17")
    elif code is TrayCode.GS1_128:
        parts = item, elements.net_weight(grams), elements.use_by(USE_BY), elements.lot("HQ-17")
    number = ""
    if code in EAN:
        layout = EAN[code]
        number = in_store_number(layout, item=101, price=price, grams=grams)
    made = TrayLabel(
        piece="P-1", cut="rump", name="Rump steak", grams=grams, per_kilo=3299, price=price,
        packed_on=PACKED, use_by=USE_BY, lot="HQ-17", origin=("Origin: Australia",),
        ingredients=(), storage="Keep refrigerated.", cooking="", code=code, number=number,
        elements=parts,
    )  # fmt: skip
    return replace(made, **changes)  # type: ignore[arg-type]  # names are checked by TrayLabel


def pdf_of(*labels: TrayLabel, sheet: Sheet, printer: int = 203, formats: Formats = AUD) -> bytes:
    return draw_labels(labels, sheet, formats, shop="Test bench", dpi=printer).pdf


def codes_for(sheet: Sheet) -> list[TrayCode]:
    """A GS1-128 of number, weight, day and lot is 85 mm wide; it fits on wide labels only."""
    wide = sheet.cell[0] >= 90
    return [code for code in TrayCode if wide or code is not TrayCode.GS1_128]


# What they say


@sheets
def test_every_label_says_its_piece(sheet: Sheet) -> None:
    for code in codes_for(sheet):
        sold = label(code, cooking="Cook through.")
        pdf = pdf_of(sold, sheet=sheet)
        assert_fonts_inside(pdf)
        said = text_of(pdf)
        for words in (
            "Rump steak", "0.482 kg", "$15.90", "$32.99 per kg", "Use by 28 Nov 2026",
            "Packed 25 Nov 2026, lot HQ-17", "Origin: Australia.", "Keep refrigerated.",
            "Cook through.", "Test bench",
        ):  # fmt: skip
            assert words in said, code
        if sold.number:
            assert f"{sold.number[0]} {sold.number[1:7]} {sold.number[7:]}" in said
        if code is TrayCode.GS1_128:
            assert as_text(sold.elements) in said


def test_allergens_are_bold_and_the_rest_of_the_list_is_not() -> None:
    pdf = pdf_of(label(ingredients=SAUSAGE), sheet=label_sheet("label-58x60"))
    bold = fonts_on(pdf, "Bold")
    assert "wheat" in bold
    assert "mustard" in bold
    assert "crumb" not in bold
    assert "Pork" not in bold


def test_the_same_labels_give_the_same_bytes() -> None:
    sheet = label_sheet("label-58x40")
    assert pdf_of(label(), sheet=sheet) == pdf_of(label(), sheet=sheet)


# How they look


ODD = [
    label(origin=IRISH, ingredients=SAUSAGE, cooking="Cook through.", grams=1_482),
    label(name="Donaudampfschifffahrtsgesellschaftskapitänsschnitzel"),
    label(name="W" * 300, lot="L" * 18),
    label(name="<b>&amp;</b>\tx", storage="a\nb", code=TrayCode.QR, number="",
          elements=label(TrayCode.QR).elements),
    label(TrayCode.NONE, name="", origin=()),
]  # fmt: skip


@pytest.mark.parametrize("name", ["label-58x60", "label-80x50", "label-100x60", "a4-8"])
@pytest.mark.parametrize(
    "formats", [AUD, Formats(Currency("JPY", 0), "¥"), Formats(Currency("KWD", 3), "KWD")]
)
def test_nothing_is_drawn_beside_the_label_and_nothing_small(name: str, formats: Formats) -> None:
    pdf = pdf_of(*ODD, sheet=label_sheet(name), formats=formats)
    assert outside(pdf) == []
    letters = [box for _, page in boxes_of(pdf) for box in page if len(box.what) == 1]
    assert min(box.bottom - box.top for box in letters) >= LEAST - 0.05


@sheets
def test_words_and_bars_never_touch(sheet: Sheet) -> None:
    for code in codes_for(sheet):
        pdf = pdf_of(label(code), sheet=sheet)
        (_, boxes), *_ = boxes_of(pdf)
        code_boxes = [box for box in boxes if box.what in ("rect", "curve")][1:]
        if code is TrayCode.NONE:
            continue
        left, top = min(box.left for box in code_boxes), min(box.top for box in code_boxes)
        for box in boxes:
            below = box.bottom > top + 0.5 and len(box.what) == 1 and box.what.strip()
            digits = box.top > max(each.bottom for each in code_boxes) - 4 * MM
            assert not below or digits or box.right <= left - 1.4 * MM, (code, box)


@pytest.mark.parametrize(
    ("grams", "least"), [(49, 2), (51, 3), (200, 3), (201, 4), (1000, 4), (1001, 6), (9_500, 6)]
)
def test_a_weight_is_as_high_as_the_directive_wants(grams: int, least: int) -> None:
    """Directive 76/211/EEC, read on usda-eu.org (references, legal-limits.csv; SEEN)."""
    assert weight_height(grams) == least
    for name in ("label-58x40", "label-100x60"):
        pdf = pdf_of(label(TrayCode.NONE, grams), sheet=label_sheet(name))
        # pdfplumber's box of a letter is the type size; the digit itself is its cap height.
        assert min(figure_sizes(pdf)[0]) * CAP_HEIGHT / MM >= least - 0.01


def figure_sizes(pdf: bytes) -> tuple[list[float], list[float]]:
    """The type sizes of the digits of the weight and of the price on the first label."""
    (_, boxes), *_ = boxes_of(pdf)
    letters = [box for box in boxes if len(box.what) == 1]
    said = "".join(box.what for box in letters)
    found = re.search(r"([\d,]+\.\d{3}) kg(\D*[\d,.]+)", said)
    assert found is not None, said
    weight, price = (
        [box.bottom - box.top for box in letters[slice(*found.span(n))]] for n in (1, 2)
    )
    return weight, price


@pytest.mark.parametrize("name", [*LABELS, "70x45.5mm", "a4-24"])
@pytest.mark.parametrize("grams", [85, 482, 999])
def test_the_price_to_pay_is_the_largest_figure(name: str, grams: int) -> None:
    weight, price = figure_sizes(pdf_of(label(grams=grams), sheet=label_sheet(name)))
    assert min(price) > max(weight)


@pytest.mark.parametrize("grams", [1_482, 12_500])
def test_a_weight_that_the_law_wants_large_leaves_the_price_larger_still(grams: int) -> None:
    """Over a kilo digits are 6 mm high: side by side the price would be left smaller."""
    pdf = pdf_of(label(TrayCode.NONE, grams), sheet=label_sheet("label-58x60"))
    weight, price = figure_sizes(pdf)
    assert min(price) > max(weight)
    assert min(weight) * CAP_HEIGHT / MM >= 6 - 0.01


@sheets
def test_no_date_and_no_lot_is_broken_over_two_lines(sheet: Sheet) -> None:
    for code, grams in product(codes_for(sheet), (85, 482, 29_000)):
        if sheet.cell[1] < 40 and grams > 1000:
            continue
        pdf = pdf_of(label(code, grams), sheet=sheet)
        rows = words_in_rows(pdf)
        for words in ("Use by 28 Nov 2026", "Packed 25 Nov 2026", "lot HQ-17"):
            assert any(words in row for row in rows), (code, grams, rows)


def words_in_rows(pdf: bytes) -> list[str]:
    """The words of the first page, line by line."""
    (_, boxes), *_ = boxes_of(pdf)
    rows: dict[float, list[Box]] = {}
    for box in boxes:
        if len(box.what) == 1:
            rows.setdefault(round(box.bottom, 1), []).append(box)
    return [plain("".join(box.what for box in row)) for row in rows.values()]


def test_a_name_that_is_cut_short_is_told() -> None:
    sheet = label_sheet("label-58x60")
    fine = draw_labels([label()], sheet, AUD, shop="Shop")
    assert (fine.cut_short, fine.pages) == ((), 1)
    told = draw_labels([ODD[2], label()], sheet, AUD, shop="Shop")
    assert (told.cut_short, told.pages) == (("W" * 300,), 2)
    assert "…" in text_of(told.pdf)


@pytest.mark.parametrize(
    ("name", "odd"),
    [
        ("30x20mm", label(TrayCode.NONE)),
        ("40x30mm", label()),
        ("58x40mm", label(TrayCode.GS1_128)),
        ("58x40mm", label(ingredients=((("word " * 200).strip(), False),))),
        ("58x40mm", label(TrayCode.NONE, per_kilo=10**9, price=10**11)),
    ],
)
def test_a_label_too_small_for_its_words_is_refused(name: str, odd: TrayLabel) -> None:
    with pytest.raises(Refusal, match=r"too small for .*: it lacks \d+ mm more"):
        pdf_of(odd, sheet=label_sheet(name))


# What a scanner reads


def decoded(picture: object, code: TrayCode) -> list[str]:
    found = zxingcpp.read_barcodes(picture)
    kinds = {
        TrayCode.QR: zxingcpp.BarcodeFormat.QRCode,
        TrayCode.GS1_128: zxingcpp.BarcodeFormat.Code128,
    }
    wanted = kinds.get(code, zxingcpp.BarcodeFormat.EAN13)
    return [str(each.text) for each in found if each.valid and each.format == wanted]


def expected(each: TrayLabel) -> str:
    return each.number or as_text(each.elements)


@sheets
@printers
@pytest.mark.parametrize("dpi", [203, 300])
def test_every_code_is_read_back(sheet: Sheet, printer: int, dpi: int) -> None:
    codes = [code for code in codes_for(sheet) if code is not TrayCode.NONE]
    if (printer, dpi) == (300, 203):
        # Its bars of a quarter millimetre fall between the dots of the coarser printer.
        codes = [code for code in codes if code is not TrayCode.GS1_128]
    for code in codes:
        (picture, *_) = rasters(pdf_of(label(code), sheet=sheet, printer=printer), dpi)
        width, height = (round(side * dpi / 25.4) for side in sheet.cell)
        x, y = (round(side * dpi / 25.4) for side in sheet.margins)
        crop = picture.crop((x, y, x + width, y + height))
        assert decoded(crop, code) == [expected(label(code))], code


def test_a_gs1_128_is_one_and_not_plain_code_128() -> None:
    each = label(TrayCode.GS1_128)
    (picture,) = rasters(pdf_of(each, sheet=label_sheet("label-100x60")), 203)
    (code,) = zxingcpp.read_barcodes(picture)
    assert code.content_type == zxingcpp.ContentType.GS1
    assert code.symbology_identifier == "]C1"
    assert as_message(each.elements).encode() in bytes(code.bytes)


@settings(max_examples=20, deadline=None)
@given(
    grams=st.integers(50, 30_000),
    lot=st.text("ABCDEFGHJKLMNPQRSTUVWXYZ0123456789-", min_size=1, max_size=20),
    days=st.tuples(st.dates(PACKED, date(2049, 12, 31)), st.dates(PACKED, date(2049, 12, 31))),
)
def test_any_lot_day_and_weight_is_read_back(grams: int, lot: str, days: tuple[date, date]) -> None:
    square = label(TrayCode.QR)
    linear = label(TrayCode.GS1_128)
    parts = elements.packed(days[0]), elements.use_by(days[1]), elements.lot(lot)
    square = replace(square, elements=(square.elements[0], *parts))
    linear = replace(
        linear,
        elements=(linear.elements[0], elements.net_weight(grams), *parts[1:]),
    )
    for each, sheet in ((square, label_sheet("label-58x40")), (linear, label_sheet("160x60mm"))):
        (picture,) = rasters(pdf_of(each, sheet=sheet), 203)
        assert decoded(picture, each.code) == [expected(each)]


@pytest.mark.parametrize(
    ("printer", "code"),
    list(product([203, 300], [TrayCode.PRICE, TrayCode.QR, TrayCode.GS1_128])),
)
def test_bars_are_whole_dots_of_the_printer(printer: int, code: TrayCode) -> None:
    pdf = pdf_of(label(code), sheet=label_sheet("label-100x60"), printer=printer)
    (_, boxes), *_ = boxes_of(pdf)
    bars = [box for box in boxes if box.what == "rect"][1:]
    assert len(bars) >= 30
    dot = 25.4 / 300 if printer == 300 else 0.125
    for bar in bars:
        edges = [bar.left, bar.right]
        if code is TrayCode.QR:
            edges += [bar.top, bar.bottom]
        for edge in edges:
            dots = edge / MM / dot
            assert abs(dots - round(dots)) < 0.02


# Where they go


def test_a_sheet_begins_at_the_place_that_is_asked_for() -> None:
    sheet = label_sheet("a4-15")
    labels = [label(lot=f"LOT-{n}") for n in range(4)]
    printed = draw_labels(labels, sheet, AUD, shop="Shop", placing=Placing(start=14))
    pages = pages_of(printed.pdf)
    assert printed.pages == len(pages) == 2
    assert "LOT-1" in pages[0]
    assert "LOT-2" not in pages[0]
    assert "LOT-2" in pages[1]
    for place in (0, 16):
        with pytest.raises(Refusal, match="start at 1 to 15"):
            draw_labels(labels, sheet, AUD, shop="Shop", placing=Placing(start=place))


def test_a_shift_moves_words_to_the_point_and_bars_to_the_dot() -> None:
    sheet = label_sheet("a4-15")
    plain = draw_labels([label()], sheet, AUD, shop="Shop").pdf
    moved = draw_labels([label()], sheet, AUD, shop="Shop", placing=Placing(1, 1.3, -0.7)).pdf
    ((_, before),), ((_, after),) = boxes_of(plain), boxes_of(moved)
    for old, new in zip(before, after, strict=True):
        by_dot = 0.13 * MM if old.what in ("rect", "curve") or old.what.isdigit() else 0.01
        assert abs(new.left - old.left - 1.3 * MM) < by_dot
        assert abs(new.top - old.top + 0.7 * MM) < 0.01
    with pytest.raises(Refusal, match="too far"):
        draw_labels([label()], sheet, AUD, shop="Shop", placing=Placing(1, 10.1, 0))


def test_progress_is_told_and_a_stop_is_heard() -> None:
    told: list[tuple[int, int]] = []

    def going(done: int, total: int) -> bool:
        told.append((done, total))
        return done < 3

    with pytest.raises(Stopped):
        draw_labels([label()] * 9, label_sheet("label-58x40"), AUD, shop="Shop", on_page=going)
    assert told == [(1, 9), (2, 9), (3, 9)]


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("58x40", (58, 40)),
        ("58x40mm", (58, 40)),
        ("label-62.5x29", (62.5, 29)),
        (" 100X150MM", (100, 150)),
    ],
)
def test_a_size_is_read_in_millimetres(name: str, size: tuple[float, float]) -> None:
    sheet = label_sheet(name)
    assert sheet.page == sheet.cell == size


@pytest.mark.parametrize(
    "name", ["", "58", "58x", "x40", "58*40", "roll", "29x40", "58x19", "211x50", "58x298"]
)
def test_a_size_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(Refusal, match=r"no label paper|expected \d+ to \d+ mm"):
        label_sheet(name)
