"""The Tub in its window: reading in the background, sudden stops, the bar that folds away."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, QThreadPool
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.ui.context import Context
from gambrel.ui.shell import PlaceEntry, Shell
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.tub.blend_view import RECIPES, TARGET
from gambrel.ui.tub.place import TubPlace
from tests.ui.tub.hands import shown, take, tap


def test_the_windows_bar_folds_away_while_weighing_out(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    context = at_tub(book)
    shell = Shell(context.theme, (PlaceEntry("tub", "Tub", "layers", TubPlace),))
    qtbot.addWidget(shell)
    shell.show()
    shell.show_book(context, "Shop")
    place = shell.place("tub")
    assert isinstance(place, TubPlace)
    assert shell.bar.isVisible()
    take_all(place)
    place.start()
    assert not shell.bar.isVisible()
    place._back("", "")
    assert shell.bar.isVisible()


def take_all(place: TubPlace) -> None:
    """Take all that stands free of one class."""
    place.open_class("trim-50")
    place.view.trim.opened.entry.act.click()


def test_reading_in_the_background_shows_the_last_that_was_asked_for(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    base = at_tub(book)
    pool = PoolTasks(QThreadPool())
    context = Context(base.book, base.theme, base.formats, base.clock, pool, "test station")
    place = TubPlace(context)
    qtbot.addWidget(place)
    place.show()
    for _ in range(3):
        place.refresh()
    qtbot.waitUntil(lambda: len(place.view.trim.classes.rows) == 4)
    place.view.blend.acts[TARGET].click()
    place.view.target.entry.keypad.set_text("9")
    place.view.target.fields["least"].click()
    place.view.target.entry.keypad.set_text("74")
    place.view.target.entry.act.click()
    qtbot.waitUntil(place.view.target.answer.isVisible)


def test_a_sudden_stop_comes_back_to_the_blend_in_hand(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    place = shown(TubPlace(at_tub(book)), qtbot)
    take(place, "trim-70", "4")
    take(place, "trim-90", "1")
    place.undo()
    again = shown(TubPlace(at_tub(book)), qtbot)
    assert again.view.blend.kilos.value == "4.000"
    tap(again, again.view.blend.start)
    assert shown(TubPlace(at_tub(book)), qtbot).view.blend.kilos.value == "0.000"


class NeverDone:
    """Takes work and never answers."""

    def run_task(self, *_: object) -> None:
        """Do nothing."""


def test_nothing_is_offered_before_the_book_has_been_read(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    base = at_tub(book)
    tasks = NeverDone()
    context = Context(base.book, base.theme, base.formats, base.clock, tasks, "test station")
    place = TubPlace(context)
    qtbot.addWidget(place)
    place.show()
    place.refresh()
    assert not place.view.blend.acts[RECIPES].isEnabled()
    assert not place.view.trim.shelves.isEnabled()
    qtbot.keyClick(place.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
