"""What the Cabinet prints on the demo shop: tickets, those that are old, and tray labels."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from gambrel.domain.prices.reprint import Reprint, Why
from gambrel.domain.trade.formats import Formats
from gambrel.services.books import Book
from gambrel.services.cabinet import set_price
from gambrel.ui.cabinet.lines_model import Column
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.printing_state import reprint_sentence, reprint_words
from gambrel.ui.cabinet.tickets_panel import LABELS
from gambrel.ui.cabinet.view import TICKETS
from gambrel.ui.context import Context
from tests.trades import AUD, CUTS
from tests.ui.conftest import MovingClock
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def context(demo: Book, context_of: Callable[[Book], Context]) -> Context:
    return context_of(demo)


@pytest.fixture
def place(context: Context, qtbot: QtBot, tmp_path: Path) -> CabinetPlace:
    made = CabinetPlace(context)
    context.changes.changed.connect(lambda _kinds: made.refresh())
    qtbot.addWidget(made)
    made.resize(1280, 736)
    made.show()
    made.refresh()
    made.view.show_panel(TICKETS)
    made.printing.desk.ask_path = lambda name: str(tmp_path / name)
    return made


def tap_line(place: CabinetPlace, qtbot: QtBot, name: str) -> None:
    table = place.view.table
    number = next(n for n, row in enumerate(table.lines.rows) if row.name == name)
    index = table.lines.index(number, Column.NAME)
    table.scrollTo(index)
    qtbot.mouseClick(table.viewport(), LEFT, pos=table.visualRect(index).center())


def save(place: CabinetPlace, qtbot: QtBot) -> None:
    """Show what is chosen, save it, and come back."""
    qtbot.mouseClick(place.view.tickets.print_button, LEFT)
    desk = place.printing.desk
    assert desk.isVisible()
    qtbot.mouseClick(desk.view.options.save_button, LEFT)
    assert desk.view.banner.sentence.startswith("Saved as ")
    qtbot.mouseClick(desk.view.back, LEFT)
    assert place.view.isVisible()


def test_tickets_of_the_chosen_cuts_are_shown_and_saved(
    place: CabinetPlace, qtbot: QtBot, tmp_path: Path
) -> None:
    panel = place.view.tickets
    assert not panel.print_button.isEnabled()
    for name in ("Rump", "Shin", "Shin"):
        tap_line(place, qtbot, name)
    assert panel.count.text() == "1 cut chosen"
    save(place, qtbot)
    page = PdfReader(tmp_path / "shelf-tickets.pdf").pages[0].extract_text()
    assert "Rump" in page
    assert "27.99" in page.replace("\n", "").replace(" ", "")
    assert "Shin" not in page


def test_tickets_that_are_old_are_chosen_by_one_button(
    place: CabinetPlace, context: Context, qtbot: QtBot
) -> None:
    panel = place.view.tickets
    assert not panel.ticks["reprint"].isVisible(), "nothing was printed yet"
    for name in ("Rump", "Shin"):
        tap_line(place, qtbot, name)
    save(place, qtbot)
    qtbot.mouseClick(panel.ticks["none"], LEFT)
    assert isinstance(context.clock, MovingClock)
    set_price(context.book, "rump", 3149, context.clock.moment + timedelta(hours=1))
    place.refresh()
    assert not panel.ticks["reprint"].isVisible(), "it is not in force yet"
    context.clock.moment += timedelta(hours=2)
    place.refresh()
    assert panel.ticks["reprint"].text() == "Reprint · 1"
    assert "Rump $27.99 → $31.49 (dearer)" in panel.reprint_words.text()
    qtbot.mouseClick(panel.ticks["reprint"], LEFT)
    assert place.view.table.lines.ticked == frozenset({"rump"})
    save(place, qtbot)
    assert not panel.ticks["reprint"].isVisible()


def test_pieces_are_labelled_by_keyboard_and_touch(place: CabinetPlace, qtbot: QtBot) -> None:
    panel = place.view.tickets
    qtbot.mouseClick(panel.kinds.button(LABELS), LEFT)
    rows = panel.pieces.list
    assert rows.count() > 3
    assert not panel.print_button.isEnabled()
    rows.setFocus()
    rows.setCurrentRow(1)
    qtbot.keyClick(rows, Qt.Key.Key_Space)
    qtbot.mouseClick(rows.viewport(), LEFT, pos=rows.visualItemRect(rows.item(0)).center())
    assert panel.piece_count.text() == "2 pieces chosen"
    place.refresh()
    assert panel.piece_count.text() == "2 pieces chosen", "looking again forgets no choice"
    qtbot.mouseClick(panel.print_button, LEFT)
    desk = place.printing.desk
    assert desk.view.made.text() == "2 labels on 2 pages"
    assert desk.view.banner.sentence == ""
    qtbot.mouseClick(desk.view.back, LEFT)
    qtbot.mouseClick(panel.pieces.none_button, LEFT)
    assert not panel.print_button.isEnabled()


def test_a_piece_is_split_onto_trays_by_touch_and_keyboard(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    panel = place.view.tickets
    qtbot.mouseClick(panel.kinds.button(LABELS), LEFT)
    assert not panel.pieces.split_button.isEnabled()
    rows, split = panel.pieces.list, panel.split
    qtbot.mouseClick(rows.viewport(), LEFT, pos=rows.visualItemRect(rows.item(0)).center())
    qtbot.mouseClick(panel.pieces.split_button, LEFT)
    assert split.isVisible()
    for key in "1.25":
        qtbot.mouseClick(split.keypad.keys[key], LEFT)
    assert split.add_button.text() == "Add 1.25 kg"
    qtbot.mouseClick(split.add_button, LEFT)
    split.setFocus()
    qtbot.keyClicks(split, "0.8")
    qtbot.keyClick(split, Qt.Key.Key_Return)
    assert split.trays == (1250, 800)
    qtbot.keyClicks(split, "99")
    qtbot.keyClick(split, Qt.Key.Key_Return)
    assert "Weigh the tray again" in split.said.text()
    assert split.trays == (1250, 800)
    split.keypad.clear()
    qtbot.keyClicks(split, "0.5")
    qtbot.mouseClick(split.add_button, LEFT)
    qtbot.mouseClick(split.back_button, LEFT)
    assert split.trays == (1250, 800)
    assert not split.scale_button.isEnabled(), "no scale is set up here"
    qtbot.keyClick(split, Qt.Key.Key_Escape)
    assert panel.pieces.isVisible()
    assert "2 trays" in rows.item(0).text()
    place.refresh()
    assert "2 trays" in rows.item(0).text(), "looking again forgets no tray"
    qtbot.mouseClick(panel.print_button, LEFT)
    desk = place.printing.desk
    assert desk.view.banner.sentence == ""
    document = desk.shown.document
    assert document is not None
    assert [item.grams for item in document.items] == [1250, 800]


def test_what_waits_and_the_log_are_one_tap_away(place: CabinetPlace, qtbot: QtBot) -> None:
    panel = place.view.tickets
    qtbot.mouseClick(panel.waiting_button, LEFT)
    assert place.printing.desk.view.waiting.isVisible()
    qtbot.mouseClick(place.printing.desk.view.back, LEFT)
    qtbot.mouseClick(panel.log_button, LEFT)
    assert place.printing.desk.view.log.isVisible()


@pytest.mark.parametrize("kind", [0, LABELS, "split"])
@pytest.mark.parametrize("size", [(1280, 736), (1024, 536), (1920, 1016)])
def test_every_control_of_the_panel_is_named_reached_and_large_enough(
    place: CabinetPlace, size: tuple[int, int], kind: int | str, qtbot: QtBot
) -> None:
    panel = place.view.tickets
    panel.turn(LABELS if kind == "split" else int(kind))
    if kind == "split":
        panel.pieces.list.setCurrentRow(0)
        panel.pieces.split_button.click()
        panel.split.add(700)
    long = "Rolled shoulder with a stuffing of bread and herbs $127.99 → $131.49 (special began)"
    panel.show_reprints("Reprint · 12", f"In the cabinet stands another price: {long}; {long}.")
    place.resize(*size)
    qtbot.wait(1)
    assert too_small(panel, 44) == []
    assert nameless(panel) == []
    assert out_of_reach(panel) == []
    assert outside(panel) == []
    assert cut_labels(panel) == []


def test_nothing_of_the_place_outlives_it(context: Context) -> None:
    place = CabinetPlace(context)
    place.show()
    place.refresh()
    timers = place.findChildren(QTimer)
    assert len(timers) >= 2, "the prices and the tickets are looked at now and then"
    place.close()
    place.deleteLater()
    QApplication.sendPostedEvents(None, int(QEvent.Type.DeferredDelete))
    assert not any(isValid(timer) for timer in timers)
    context.scale.reading.emit(context.scale.live)  # the scale outlives the place: no fault


def test_the_sentence_names_some_old_tickets_and_counts_the_rest() -> None:
    at = datetime(2026, 11, 20, tzinfo=UTC)
    formats = Formats(AUD, "$")
    assert reprint_sentence([], formats) == ""
    assert reprint_words([]) == "Reprint"
    gone = Reprint(CUTS[1], 1499, None, Why.NO_PRICE, at)
    found = [Reprint(CUTS[0], 2699, 2799, Why.DEARER, at), *[gone] * 5]
    assert reprint_words(found) == "Reprint · 6"
    sentence = reprint_sentence(found, formats)
    assert "Rump $26.99 → $27.99 (dearer); Shin $14.99 → — (no price any more)" in sentence
    assert sentence.endswith("; and 2 more.")
