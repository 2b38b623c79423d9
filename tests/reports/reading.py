"""Reading papers back with other people's tools: text, boxes of words, fonts, barcodes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any, cast

import pdfplumber
import pypdf
import pypdfium2
import zxingcpp

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.records import Trade
from tests.demo_book import open_demo


def demo_trade(place: Path) -> Trade:
    with open_demo(place) as book, book.reading() as work:
        return work.trade()


def ledger_of(trade: Trade) -> Ledger:
    return Ledger(trade, roll_up(trade))


def plain(words: str) -> str:
    """Spaces of every kind and number as one space: readers do not agree on them."""
    return " ".join(words.split())


def text_of(pdf: bytes) -> str:
    """All words in the order in which they were drawn."""
    return " ".join(pages_of(pdf))


def pages_of(pdf: bytes) -> list[str]:
    return [plain(page.extract_text()) for page in pypdf.PdfReader(BytesIO(pdf)).pages]


def fonts_of(pdf: bytes) -> dict[str, bool]:
    """Every font's name, and whether its file is inside."""
    found: dict[str, bool] = {}
    for page in pypdf.PdfReader(BytesIO(pdf)).pages:
        resources = cast(Any, page["/Resources"].get_object())
        for reference in resources.get("/Font", {}).values():
            font = reference.get_object()
            descriptor = font.get("/FontDescriptor")
            inside = descriptor is not None and "/FontFile2" in descriptor.get_object()
            found[str(font["/BaseFont"])] = inside
    return found


def assert_fonts_inside(pdf: bytes) -> None:
    """Only our own typeface, every weight of it embedded; never a reader's Helvetica."""
    fonts = fonts_of(pdf)
    assert fonts
    assert all(fonts.values()), f"a font is not inside: {fonts}"
    assert all("IBMPlexSans" in name for name in fonts), fonts


@dataclass(frozen=True)
class Box:
    """Where something was drawn, in points from the left top corner."""

    what: str
    left: float
    top: float
    right: float
    bottom: float


@cache
def boxes_of(pdf: bytes) -> tuple[tuple[tuple[float, float], tuple[Box, ...]], ...]:
    """For each page its size and every character, rectangle, curve and line on it."""
    pages = []
    with pdfplumber.open(BytesIO(pdf)) as document:
        for page in document.pages:
            drawn = [*page.chars, *page.rects, *page.curves, *page.lines]
            boxes = tuple(
                Box(item.get("text", item["object_type"]), *_corners(item)) for item in drawn
            )
            pages.append(((float(page.width), float(page.height)), boxes))
    return tuple(pages)


def _corners(item: dict[str, Any]) -> tuple[float, float, float, float]:
    return float(item["x0"]), float(item["top"]), float(item["x1"]), float(item["bottom"])


def outside(pdf: bytes, slack: float = 0.01) -> list[Box]:
    """What was drawn, in part or whole, beside its page."""
    return [
        box
        for (width, height), boxes in boxes_of(pdf)
        for box in boxes
        if box.left < -slack
        or box.top < -slack
        or box.right > width + slack
        or box.bottom > height + slack
    ]


def rasters(pdf: bytes, dpi: float) -> Iterator[Any]:
    """Each page as a picture."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        for page in document:
            yield page.render(scale=dpi / 72).to_pil().convert("L")
    finally:
        document.close()


def ean13_on(picture: Any) -> set[str]:
    """Every EAN-13 that a decoder finds in a picture."""
    found = zxingcpp.read_barcodes(
        picture, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.EAN13)
    )
    return {code.text for code in found if code.valid}


def fonts_on(pdf: bytes, weight: str) -> str:
    """All words that are set in a font of some weight, in the order in which they were drawn."""
    with pdfplumber.open(BytesIO(pdf)) as document:
        letters = [char for page in document.pages for char in page.chars]
    return "".join(char["text"] for char in letters if char["fontname"].endswith(weight))
