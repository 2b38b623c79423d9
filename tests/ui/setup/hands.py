"""What hands do in Setup, and what an eye checks there."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.widgets.fields import Chips
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, told, too_small

LEFT = Qt.MouseButton.LeftButton
SIZES = ((1280, 800), (1024, 600), (1920, 1080))


def tap(button: QAbstractButton, qtbot: QtBot) -> None:
    """Tap a button, scrolled to where it can be seen."""
    parent = button.parentWidget()
    while parent is not None:
        if isinstance(parent, QScrollArea):
            parent.ensureWidgetVisible(button)
        parent = parent.parentWidget()
    qtbot.mouseClick(button, LEFT)


def type_keys(keys: Mapping[str, QAbstractButton], text: str, qtbot: QtBot) -> None:
    """Tap the keys of a pad one after the other."""
    for sign in text:
        tap(keys[sign], qtbot)


def type_text(widget: QWidget, text: str, qtbot: QtBot) -> None:
    """Type on a real keyboard, wherever the focus of the widget's window is."""
    for sign in text:
        qtbot.keyClicks(widget.window().focusWidget(), sign)


def check_walk(place: SetupPlace, qtbot: QtBot) -> None:
    """Walk every control that the window shows at each of its sizes, its bar too."""
    for size in SIZES:
        _walk(place, size, qtbot)


def _walk(place: SetupPlace, size: tuple[int, int], qtbot: QtBot) -> None:
    window = place.window()
    window.resize(*size)
    qtbot.waitUntil(lambda: (window.width(), window.height()) == size)
    qtbot.waitUntil(lambda: not outside(window) and not cut_labels(window))  # it is laid out later
    assert nameless(window) == []
    along = [told(each) for each in window.findChildren(QAbstractButton) if _by_arrows(each)]
    assert [each for each in out_of_reach(window) if each not in along] == []
    assert too_small(window, 44) == []
    for each in place.section.findChildren(QAbstractButton):
        if each.isVisible() and not _scrolls(each):
            corner = each.mapTo(window, each.rect().bottomRight())
            assert window.rect().contains(corner), told(each)


def _by_arrows(button: QAbstractButton) -> bool:
    """Whether Tab comes to one of its group, and arrow keys go along the others, as Qt has it."""
    parent = button.parentWidget()
    return button.autoExclusive() or (isinstance(parent, Chips) and button.isCheckable())


def _scrolls(widget: QWidget) -> bool:
    parent = widget.parentWidget()
    while parent is not None and not isinstance(parent, QScrollArea):
        parent = parent.parentWidget()
    return parent is not None
