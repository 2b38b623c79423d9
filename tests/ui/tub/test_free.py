"""What stands free at the Tub: taken, written off, and its lean measured."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PieceLean
from gambrel.services.books import Book, open_book
from gambrel.services.tub import forget_lean
from gambrel.ui.context import Context
from gambrel.ui.tub.place import TubPlace
from tests import tub_shop
from tests.ui.tub.hands import press, said, shown, take, tap, trade


def test_without_trim_it_says_what_to_do(
    tmp_path: Path, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    with open_book(str(tmp_path / "empty.gambrel")) as book:
        tub_shop.fill(book, trim=False)
        place = shown(TubPlace(at_tub(book)), qtbot)
        assert place.view.trim.empty.isVisible()
        assert "Weigh trim in at the block" in place.view.trim.empty.more.text()
        assert not place.view.blend.start.isEnabled()


def test_classes_stand_oldest_first(place: TubPlace) -> None:
    assert [row.key for row in place.view.trim.classes.rows] == [
        "trim-70", "trim-90", "trim-50", "lamb-trim",
    ]  # fmt: skip
    assert "0.20 kg past the limit" in place.view.trim.classes.row("trim-70").accessibleName()


def test_kilos_are_taken_by_touch_the_oldest_first(place: TubPlace) -> None:
    take(place, "trim-70", "6.5")
    assert place.view.blend.kilos.value == "6.500"
    # P-1 is older still, but past the shop's limit.
    assert place._draft.by_piece == {"P-5": 6_500}
    assert "6.50 kg in the blend" in place.view.trim.classes.row("trim-70").accessibleName()


def test_chosen_pieces_are_taken_whole(place: TubPlace) -> None:
    tap(place, place.view.trim.classes.row("trim-70"))
    place.view.trim.opened.pieces.row("P-6").click()
    tap(place, place.view.trim.opened.entry.act)
    assert place.view.blend.kilos.value == "5.020"


def test_a_keyboard_alone_takes_trim(place: TubPlace, qtbot: QtBot) -> None:
    row = place.view.trim.classes.row("trim-50")
    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)
    assert place.view.trim.opened.hasFocus()
    qtbot.keyClicks(place.view.trim.opened, "2,5")
    qtbot.keyClick(place.view.trim.opened, Qt.Key.Key_Return)
    assert place.view.blend.kilos.value == "2.500"
    qtbot.keyClick(place.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert place.view.blend.kilos.value == "0.000"


def test_what_is_past_its_day_cannot_be_taken_and_is_written_off_at_a_second_tap(
    place: TubPlace, book: Book
) -> None:
    tap(place, place.view.trim.classes.row("trim-90"))
    tap(place, place.view.trim.opened.pieces.row("P-2"))
    assert "past the shop's limit for trim" in said(place)
    assert not trade(book).writeoffs
    tap(place, place.view.banner.action)
    (row,) = trade(book).writeoffs
    assert (row.piece, row.grams, row.reason) == ("P-2", 3_150, "past the shop's limit of age")
    assert [row.key for row in place.view.trim.opened.pieces.rows] == ["P-7"]
    tap(place, place.view.banner.action)  # a slip of the finger is taken back where it was made
    assert not trade(book).writeoffs
    assert [row.key for row in place.view.trim.opened.pieces.rows] == ["P-2", "P-7"]


def test_undo_never_writes_off(place: TubPlace, book: Book, qtbot: QtBot) -> None:
    place.open_class("trim-90")
    place.view.trim.opened.pieces.row("P-2").click()
    qtbot.keyClick(place.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not trade(book).writeoffs


def test_a_measured_lean_counts_and_is_set_back(place: TubPlace, book: Book) -> None:
    tap(place, place.view.trim.classes.row("trim-50"))
    tap(place, place.view.trim.opened.aside)
    tap(place, place.view.trim.opened.pieces.row("P-8"))
    press(place, "52.5")
    tap(place, place.view.trim.opened.entry.act)
    with book.reading() as work:
        assert [row.percent for row in work.every(PieceLean)] == [Decimal("52.5")]
    assert "measured" in place.view.trim.opened.pieces.row("P-8").accessibleName()
    tap(place, place.view.banner.action)
    with book.reading() as work:
        # Measuring is never wiped out: what was known before is written down after it.
        assert [row.percent for row in work.every(PieceLean)] == [Decimal("52.5"), Decimal(50)]


def test_a_class_is_sorted_to_another_lean_and_back(place: TubPlace) -> None:
    place.open_class("trim-50")
    place.view.trim.opened.aside.click()
    press(place, "48")
    tap(place, place.view.trim.opened.entry.act)
    assert place.shelf.stock.leans.of_cuts["trim-50"] == 48
    assert "sorted to 48 % lean" in said(place)
    place.undo()
    assert place.shelf.stock.leans.of_cuts["trim-50"] == 50


def test_a_class_that_was_sorted_to_no_lean_is_so_again(place: TubPlace, book: Book) -> None:
    forget_lean(book, "trim-50", Decimal(50))
    place.refresh()
    place.open_class("trim-50")
    place.view.trim.opened.aside.click()
    press(place, "48")
    tap(place, place.view.trim.opened.entry.act)
    assert place.shelf.stock.leans.of_cuts["trim-50"] == 48
    place.undo()
    assert "trim-50" not in place.shelf.stock.leans.of_cuts
    with pytest.raises(Refusal, match="Another lean was set"):
        forget_lean(book, "trim-50", Decimal(48))
