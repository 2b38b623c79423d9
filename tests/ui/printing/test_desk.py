"""The print desk by touch and by keyboard: what is seen is what is printed."""

from __future__ import annotations

import pytest
import zxingcpp
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from gambrel.devices.pages import Pages
from gambrel.services.books import Book
from gambrel.services.labels import Wish
from gambrel.services.printing.documents import Labels
from gambrel.services.printing.queue import print_log
from gambrel.services.printing.settings import paper_setting, usual_code
from gambrel.ui.context import Context
from gambrel.ui.printing.desk import PrintDesk
from gambrel.ui.printing.view import LOG, PAGES, WAITING
from gambrel.ui.theme import Meaning
from tests.services.printing.shop import KeepingPrinters
from tests.ui.printing.hands import LEFT, TICKETS, tap
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small


def pixels(picture: QImage) -> bytes:
    return bytes(picture.constBits())


def test_the_page_that_is_seen_is_the_page_that_is_printed(
    desk: PrintDesk, printers: KeepingPrinters, book: Book, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS, "card-a6")
    assert desk.view.made.text() == "2 tickets on 2 pages"
    assert desk.view.preview.size_words.text() == "148 × 105 mm"
    seen = desk.view.preview.sheet.picture
    per_mm = round(desk.view.preview.per_mm() * desk.devicePixelRatioF(), 4)
    tap(qtbot, desk.view.options.print_button)
    (sent,) = printers.sent
    with Pages(sent.pdf) as pages:
        assert pixels(pages.image(0, per_mm)) == pixels(seen)
    codes = zxingcpp.read_barcodes(_as_array(seen))
    assert [code.text for code in codes] == [print_log(book)[0].item and _number(book)]
    assert desk.view.banner.meaning is Meaning.FINE
    assert "Office has taken all pages" in desk.view.banner.sentence


def _number(book: Book) -> str:
    item = print_log(book)[0].item
    assert item is not None
    return item.number


def _as_array(picture: QImage) -> object:
    import numpy as np

    grey = picture.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), grey.bytesPerLine())
    return rows[:, : grey.width()].copy()


def test_pages_turn_by_touch_keyboard_and_small_pictures(desk: PrintDesk, qtbot: QtBot) -> None:
    desk.show_source(TICKETS, "card-a7")
    preview = desk.view.preview
    assert preview.where.text() == "1 of 2"
    tap(qtbot, preview.on)
    assert preview.where.text() == "2 of 2"
    assert not preview.on.isEnabled()
    qtbot.keyClick(preview, Qt.Key.Key_PageUp)
    assert preview.page == 0
    preview.thumbs.setFocus()
    qtbot.keyClick(preview.thumbs, Qt.Key.Key_Down)
    assert preview.page == 1
    place = preview.thumbs.visualRect(preview.thumbs.pages.index(0))
    qtbot.mouseClick(preview.thumbs.viewport(), LEFT, pos=place.center())
    assert preview.page == 0
    qtbot.waitUntil(lambda: preview.thumbs.pages.index(1).data(Qt.ItemDataRole.DecorationRole))


def test_true_size_and_whole_page(desk: PrintDesk, qtbot: QtBot) -> None:
    desk.show_source(TICKETS, "roll-58")
    preview = desk.view.preview
    whole = preview.sheet.picture.width()
    tap(qtbot, preview.actual_button)
    assert preview.sheet.picture.width() == pytest.approx(58 * preview.per_mm(), abs=2)
    assert preview.sheet.picture.width() != whole
    tap(qtbot, preview.fit_button)
    assert preview.sheet.picture.width() == whole


def test_paper_copies_place_and_shift_are_chosen(
    desk: PrintDesk, printers: KeepingPrinters, context: Context, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS)
    options = desk.view.options
    assert options.paper.text.text() == "A4 sheet to cut into 8 large tickets"
    first = desk.shown.document
    tap(qtbot, options.copies.on)
    assert desk.shown.document is first, "copies make no other pages"
    for _ in range(7):
        tap(qtbot, options.start.on)
    assert desk.view.made.text() == "2 tickets on 2 pages"
    tap(qtbot, options.shift_button)
    for _ in range(3):
        qtbot.keyClick(options.shift.right, Qt.Key.Key_Right)
    assert options.shift_words.text() == "Moved 0.3 mm right"
    moved = desk.shown.document
    assert moved is not None
    assert first is not None
    assert moved.pdf != first.pdf
    tap(qtbot, options.printer.on)
    tap(qtbot, options.print_button)
    (sent,) = printers.sent
    assert (sent.printer, sent.copies, sent.pdf) == ("Labels", 2, moved.pdf)
    kept = paper_setting(context.book, context.station, "a4-8")
    assert (kept.printer, kept.right, kept.down) == ("Labels", 3, 0)
    assert paper_setting(context.book, context.station, "a4-15").printer == ""


def test_the_paper_that_was_printed_on_is_the_usual_one_for_such_things(
    desk: PrintDesk, context: Context, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS, "card-a6")
    tap(qtbot, desk.view.options.print_button)
    desk.show_source(Labels((Wish("P1"),)))
    assert desk.chooser.paper == "label-58x40"
    assert "verified for trade" in desk.view.options.note.text()
    another = PrintDesk(context, KeepingPrinters())
    qtbot.addWidget(another)
    another.show()
    another.show_source(TICKETS)
    assert another.chooser.paper == "card-a6"
    another.hide()


def test_labels_bear_the_code_that_is_chosen_and_keep_it(
    desk: PrintDesk, printers: KeepingPrinters, context: Context, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS)
    assert not desk.view.options.code.isVisible()
    desk.show_source(Labels((Wish("P1"),)), "label-100x60")
    code = desk.view.options.code
    assert code.text.text() == "Bars with the price"
    read: list[tuple[str, str]] = []
    for _ in range(5):
        document = desk.shown.document
        assert document is not None
        with Pages(document.pdf) as pages:
            found = zxingcpp.read_barcodes(_as_array(pages.image(0, 12)))
        read += [(each.format.name, each.text[:2]) for each in found]
        code.step(1)
    assert read[:2] == [("EAN13", "22"), ("EAN13", "23")]
    assert [name for name, _ in read[2:]] == ["Code128", "QRCode"]
    code.step(-1)
    tap(qtbot, desk.view.options.print_button)
    assert usual_code(context.book, context.station) == "qr"
    desk.show_source(TICKETS)
    desk.show_source(Labels((Wish("P1"),)), "label-100x60")
    assert code.text.text() == "QR code: use by, lot"


def test_pages_without_a_line_say_what_will_stand_there(desk: PrintDesk, qtbot: QtBot) -> None:
    log, waiting = desk.view.log, desk.view.waiting
    desk.view.turn(WAITING)
    assert waiting.quiet.isVisible()
    desk.view.turn(LOG)
    qtbot.waitUntil(log.empty.isVisible)
    assert not log.table.isVisible()
    assert not log.search.isVisible()


@pytest.mark.parametrize("page", [PAGES, WAITING, LOG])
@pytest.mark.parametrize("size", [(1280, 736), (1024, 536), (1920, 1016)])
def test_every_control_is_named_reached_and_large_enough(
    desk: PrintDesk, printers: KeepingPrinters, size: tuple[int, int], page: int, qtbot: QtBot
) -> None:
    printers.refusal = "The printer Office does not answer. See that it is on and has paper."
    desk.show_source(TICKETS, "a4-15")
    tap(qtbot, desk.view.options.print_button)
    desk.view.options.shift_button.setChecked(True)
    desk.resize(*size)
    desk.view.turn(page)
    qtbot.wait(1)
    assert too_small(desk, 44) == []
    assert nameless(desk) == []
    assert out_of_reach(desk) == []
    assert outside(desk) == []
    assert cut_labels(desk) == []
