"""Hands at the rail, for its tests."""

from __future__ import annotations

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from gambrel.ui.rail.place import RailPlace

SIZES = ((1280, 736), (1024, 536), (1920, 1016))
"""What the shell's bar leaves of the three windows."""


def shown(place: RailPlace, qtbot: QtBot) -> RailPlace:
    qtbot.addWidget(place)
    place.resize(1280, 736)
    place.show()
    place.activateWindow()
    qtbot.waitActive(place)
    place.refresh()
    return place


def tap(place: RailPlace, widget: QWidget) -> None:
    """Put a finger on a widget and lift it."""
    window, touch = place.windowHandle(), QTest.createTouchDevice()
    spot = widget.mapTo(place, widget.rect().center())
    assert place.rect().contains(spot), f"{widget.accessibleName()} is not on the screen"
    QTest.touchEvent(window, touch).press(0, spot, window).commit()
    QTest.touchEvent(window, touch).release(0, spot, window).commit()


def type_in(place: RailPlace, digits: str) -> None:
    for digit in digits:
        tap(place, place.view.receive.keypad.keys[digit])


def opened(place: RailPlace, what: str) -> None:
    if what == "reweigh":
        place.open_reweigh("SIDE-04")
        place.view.reweigh.keypad.set_text("12")
    if what == "receive":
        place.view.receive_wanted.emit()
        form = place.view.receive
        form.portions.buttons["beef/forequarter"].click()
        form.suppliers.buttons["hollowgate"].click()
        for name, text in (("docket", "75.4"), ("received", "72.4"), ("temperature", "8.5")):
            form.choose_field(name)
            form.keypad.set_text(text)
