"""Printing through the real path, into a file that is read back by other tools."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pypdf
import pypdfium2
import pytest
import zxingcpp
from PySide6.QtPrintSupport import QPrinter

from gambrel.devices.pages import Pages
from gambrel.devices.printer import (
    PrintingStopped,
    Sending,
    SystemPrinters,
    Told,
    found_printer,
    print_pages,
)
from gambrel.domain.refusals import Refusal
from tests.devices.papers import MM, NUMBER, label, ruler
from tests.devices.test_pages import dark_runs

pytestmark = pytest.mark.usefixtures("qapp")


def go_on(_done: int, _total: int) -> bool:
    return True


def printed(place: Path, pdf: bytes, *, dpi: int, copies: int = 1, told: Told = go_on) -> bytes:
    """What a printer that writes a file makes of a paper."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(place))
    with Pages(pdf) as pages:
        print_pages(printer, pages, Sending("a file", pdf, "Test", copies, dpi), told)
    return place.read_bytes()


@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize("size", [(58, 40), (80, 50), (100, 60), (62.5, 33.3)])
def test_a_label_leaves_at_its_true_size_and_scans(
    tmp_path: Path, dpi: int, size: tuple[float, float]
) -> None:
    made = printed(tmp_path / "out.pdf", label(*size), dpi=dpi)
    page = pypdf.PdfReader(BytesIO(made)).pages[0]
    for side, millimetres in zip((page.mediabox.width, page.mediabox.height), size, strict=True):
        assert millimetres - 1 / MM - 0.01 < float(side) / MM <= millimetres + 0.01
    picture = pypdfium2.PdfDocument(made)[0].render(scale=dpi / 72).to_pil()
    assert [code.text for code in zxingcpp.read_barcodes(picture)] == [NUMBER]


def test_bars_keep_their_dots_on_a_label_printer(tmp_path: Path) -> None:
    at = (2, 10, 30, 46, 54)
    made = printed(tmp_path / "out.pdf", ruler(58, 40, at), dpi=203)
    with Pages(made) as pages:
        image = pages.image(0, 203 / 25.4, smooth=False)
    assert dark_runs(image, 160) == [(x * 8, 3) for x in at]


@pytest.mark.parametrize("size", [(210, 297), (148, 105), (105, 74)])
def test_standard_papers_keep_their_measures(tmp_path: Path, size: tuple[int, int]) -> None:
    at = (10.0, size[0] / 2, size[0] - 10.0)
    made = printed(tmp_path / "out.pdf", ruler(*size, at), dpi=300)
    with Pages(made) as pages:
        assert pages.sizes[0].width == pytest.approx(size[0], abs=0.36)
        image = pages.image(0, 20, smooth=False)
    found = [start / 20 for start, _ in dark_runs(image, image.height() // 2)]
    assert found == pytest.approx(at, abs=0.15)


def test_copies_are_whole_sets_and_every_page_is_told(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []

    def note(done: int, total: int) -> bool:
        told.append((done, total))
        return True

    made = printed(tmp_path / "out.pdf", ruler(58, 40, pages=2), dpi=203, copies=3, told=note)
    assert len(pypdf.PdfReader(BytesIO(made)).pages) == 6
    assert told == [(n, 6) for n in range(1, 7)]


def test_a_stop_breaks_off_after_the_page_at_hand(tmp_path: Path) -> None:
    told: list[int] = []

    def stop(done: int, _total: int) -> bool:
        told.append(done)
        return done < 2

    with pytest.raises(PrintingStopped):
        printed(tmp_path / "out.pdf", ruler(58, 40, pages=9), dpi=203, told=stop)
    assert told == [1, 2]


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_cannot_be_written_to_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="does not take"):
        printed(tmp_path / "no folder" / "out.pdf", ruler(58, 40), dpi=203)


def test_a_printer_that_is_gone_is_refused_by_name() -> None:
    with pytest.raises(Refusal, match="Gone is not there any more"):
        found_printer("Gone")
    with pytest.raises(Refusal, match="Gone is not there any more"):
        SystemPrinters().send(Sending("Gone", ruler(58, 40), "Test"), go_on)
