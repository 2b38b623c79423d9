"""Hands at the Tub, and what they look at."""

from __future__ import annotations

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from gambrel.domain.trade.records import Stage, Trade
from gambrel.services.books import Book
from gambrel.ui.tub.place import TubPlace


def shown(place: TubPlace, qtbot: QtBot) -> TubPlace:
    qtbot.addWidget(place)
    place.resize(1280, 736)
    place.show()
    place.activateWindow()
    qtbot.waitActive(place)
    place._context.changes.changed.connect(lambda _kinds: place.refresh())  # as the window does
    place.refresh()
    QApplication.processEvents()  # what was put off is laid out now
    return place


def tap(place: QWidget, widget: QWidget) -> None:
    """Put a finger on a widget and lift it."""
    window, touch = place.windowHandle(), QTest.createTouchDevice()
    spot = widget.mapTo(place, widget.rect().center())
    assert place.rect().contains(spot), f"{widget.accessibleName()} is not on the screen"
    assert widget.isVisible(), f"{widget.accessibleName()} is hidden"
    QTest.touchEvent(window, touch).press(0, spot, window).commit()
    QTest.touchEvent(window, touch).release(0, spot, window).commit()


def press(place: TubPlace, digits: str) -> None:
    """Type on the keypad of the class that is open."""
    for digit in digits:
        tap(place, place.view.trim.opened.entry.keypad.keys[digit])


def take(place: TubPlace, cut: str, digits: str = "") -> None:
    """Take kilos of a class, the oldest first."""
    tap(place, place.view.trim.classes.row(cut))
    press(place, digits)
    tap(place, place.view.trim.opened.entry.act)


def trade(book: Book) -> Trade:
    with book.reading() as work:
        return work.trade()


def newest(book: Book) -> Stage:
    return max(trade(book).stages, key=lambda stage: stage.started_at)


def said(place: TubPlace) -> str:
    return place.view.banner.sentence
