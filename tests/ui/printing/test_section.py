"""The Printers section of Setup, by touch: what is changed is kept, and can be taken back."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.prices.printer_setting import PaperSetting
from gambrel.domain.prices.ticket_setting import TicketSetting
from gambrel.domain.prices.unit_price import Per
from gambrel.services.printing.settings import PRINTERS, paper_setting, ticket_setting
from gambrel.services.settings import keep_setting
from gambrel.ui.context import Context
from gambrel.ui.printing.section import PrintersSection
from gambrel.ui.printing.section_state import TICKETS
from tests.services.printing.shop import KeepingPrinters
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def section(context: Context, printers: KeepingPrinters, qtbot: QtBot) -> PrintersSection:
    made = PrintersSection(context, printers)
    qtbot.addWidget(made)
    made.resize(1256, 660)
    made.show()
    made.refresh()
    return made


def kept(section: PrintersSection, paper: str) -> PaperSetting:
    return paper_setting(section.context.book, section.context.station, paper)


def test_a_paper_gets_its_printer_dots_and_shift(section: PrintersSection, qtbot: QtBot) -> None:
    view = section.view
    qtbot.mouseClick(view.rows.rows["label-58x40"], LEFT)
    panel = view.paper
    assert panel.printer.text.text() == "Usual printer"
    qtbot.mouseClick(panel.printer.on, LEFT)
    qtbot.mouseClick(panel.printer.on, LEFT)
    for _ in range(3):
        qtbot.mouseClick(panel.shift.right.on, LEFT)
    qtbot.mouseClick(panel.shift.down.back, LEFT)
    qtbot.mouseClick(panel.shift.dots.on, LEFT)
    assert kept(section, "label-58x40") == PaperSetting("Labels", 300, 3, -1)
    assert kept(section, "a4-15") == PaperSetting()
    about = view.rows.rows["label-58x40"].accessibleName()
    assert about == "Labels of 58 by 40 mm, Labels, moved"
    qtbot.mouseClick(view.told.action, LEFT)
    assert kept(section, "label-58x40") == PaperSetting("Labels", 203, 3, -1)


def test_the_test_sheet_is_printed_moved_as_labels_are(
    section: PrintersSection, printers: KeepingPrinters, qtbot: QtBot
) -> None:
    qtbot.mouseClick(section.view.rows.rows["a4-24"], LEFT)
    qtbot.mouseClick(section.view.paper.shift.right.on, LEFT)
    qtbot.mouseClick(section.view.paper.trial, LEFT)
    desk = section._desk
    assert desk is not None
    assert desk.isVisible()
    assert desk.view.title.text() == "Test sheet, a4-24"
    qtbot.mouseClick(desk.view.options.print_button, LEFT)
    assert printers.sent[0].title == "Test sheet, a4-24"
    qtbot.mouseClick(desk.view.back, LEFT)
    assert section.view.isVisible()
    assert kept(section, "a4-24").right == 1


def test_tickets_get_a_second_price_bars_or_none_and_a_logo(
    section: PrintersSection, qtbot: QtBot, tmp_path: Path
) -> None:
    panel, book = section.view.tickets, section.context.book
    qtbot.mouseClick(panel.second.on, LEFT)
    qtbot.mouseClick(panel.bars.on, LEFT)
    Image.new("RGB", (40, 20), "navy").save(tmp_path / "logo.png")
    section.ask_logo = lambda: str(tmp_path / "logo.png")
    qtbot.mouseClick(panel.choose, LEFT)
    logo = (tmp_path / "logo.png").read_bytes()
    assert ticket_setting(book) == TicketSetting(Per.HUNDRED_GRAMS, barcode=False, logo=logo)
    assert "the shop's logo" in section.view.rows.rows[TICKETS].accessibleName()
    qtbot.mouseClick(panel.drop, LEFT)
    assert ticket_setting(book).logo == b""
    assert not panel.drop.isEnabled()


def test_a_logo_that_is_no_picture_is_refused_in_place(
    section: PrintersSection, qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "logo.png").write_bytes(b"words")
    section.ask_logo = lambda: str(tmp_path / "logo.png")
    qtbot.mouseClick(section.view.tickets.choose, LEFT)
    assert "not a PNG or JPEG picture" in section.view.refusal.sentence
    section.ask_logo = lambda: str(tmp_path / "none.png")
    qtbot.mouseClick(section.view.tickets.choose, LEFT)
    assert "cannot be read" in section.view.refusal.sentence
    (tmp_path / "logo.png").write_bytes(bytes(500_000))
    section.ask_logo = lambda: str(tmp_path / "logo.png")
    qtbot.mouseClick(section.view.tickets.choose, LEFT)
    assert "up to 400 kB" in section.view.refusal.sentence
    section.ask_logo = lambda: ""
    qtbot.mouseClick(section.view.tickets.choose, LEFT)
    assert ticket_setting(section.context.book) == TicketSetting()


def test_what_cannot_be_read_is_said_and_set_up_anew(
    section: PrintersSection, qtbot: QtBot
) -> None:
    keep_setting(section.context.book, PRINTERS + section.context.station, "spoilt")
    section.refresh()
    assert "Set them up again" in section.view.refusal.sentence
    qtbot.mouseClick(section.view.rows.rows["a4-15"], LEFT)
    qtbot.mouseClick(section.view.paper.printer.on, LEFT)
    assert kept(section, "a4-15").printer == "Office"
    assert section.view.refusal.sentence == ""


def test_a_printer_that_is_gone_stays_to_be_seen(
    section: PrintersSection, printers: KeepingPrinters
) -> None:
    from gambrel.services.printing.settings import keep_paper_setting

    context = section.context
    keep_paper_setting(context.book, context.station, "a4-15", PaperSetting("Attic"))
    section.choose("a4-15")
    assert section.view.paper.printer.text.text() == "Attic"


@pytest.mark.parametrize("key", [TICKETS, "label-58x40"])
@pytest.mark.parametrize("size", [(1256, 660), (1000, 460), (1896, 940)])
def test_every_control_is_named_reached_and_large_enough(
    section: PrintersSection, size: tuple[int, int], key: str, qtbot: QtBot
) -> None:
    section.choose(key)
    section.resize(*size)
    qtbot.wait(1)
    assert too_small(section, 44) == []
    assert nameless(section) == []
    assert out_of_reach(section) == []
    assert outside(section) == []
    assert cut_labels(section) == []
