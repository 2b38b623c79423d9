"""Walks every control that a screen shows, and says what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator
from unittest.mock import patch

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QHeaderView,
    QLabel,
    QLineEdit,
    QWidget,
)

from gambrel.ui.widgets.kept_picture import KeptPictures

LEAST_TEXT = 16
DOTS = "…"


def controls(screen: QWidget) -> Iterator[QWidget]:
    """What can be tapped or typed into and is shown, wherever it is scrolled to."""
    for kind in (QAbstractButton, QLineEdit, QAbstractItemView):
        for each in screen.findChildren(kind):
            # Qt's own corner button of a table is no control of ours, nor are headings to read.
            if type(each).__name__ == "QTableCornerButton" or _is_read_only(each):
                continue
            if each.isVisibleTo(screen):
                yield each


def _is_read_only(widget: QWidget) -> bool:
    return isinstance(widget, QHeaderView) and not widget.sectionsClickable()


def named(widget: QWidget) -> str:
    """What a screen reader says."""
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name).strip()


def told(widget: QWidget) -> str:
    """How a failure names a control."""
    return f"{type(widget).__name__} {named(widget)!r} {widget.width()}x{widget.height()}"


def too_small(screen: QWidget, least: int) -> list[str]:
    """Controls that a finger would miss."""
    found = controls(screen)
    return [told(each) for each in found if min(each.width(), each.height()) < least]


def nameless(screen: QWidget) -> list[str]:
    """Controls that a screen reader cannot tell apart."""
    return [told(each) for each in controls(screen) if not named(each)]


def out_of_reach(screen: QWidget) -> list[str]:
    """Controls that the Tab key never comes to, keypad keys aside (digits are typed)."""
    keyboard = Qt.FocusPolicy.TabFocus
    return [
        told(each)
        for each in controls(screen)
        if each.isEnabled() and not each.focusPolicy() & keyboard and not _typed(each)
    ]


def _typed(widget: QWidget) -> bool:
    parent = widget.parentWidget()
    while parent is not None:
        if type(parent).__name__ in ("Keypad", "DayStepper"):
            return True
        parent = parent.parentWidget()
    return False


def outside(screen: QWidget) -> list[str]:
    """Controls that stand outside what holds them, or one upon another."""
    wrong = []
    shown = list(controls(screen))
    for each in shown:
        holder = each.parentWidget()
        if holder is not None and not holder.rect().contains(each.geometry()):
            wrong.append(f"{told(each)} leaves its {type(holder).__name__}")
    places = [(each, QRect(each.mapTo(screen, QPoint(0, 0)), each.size())) for each in shown]
    for number, (one, place) in enumerate(places):
        for other, there in places[number + 1 :]:
            if place.intersects(there) and not one.isAncestorOf(other) and _together(one, other):
                wrong.append(f"{told(one)} lies on {told(other)}")
    return wrong


def _together(one: QWidget, other: QWidget) -> bool:
    """Whether both are seen at once: in the same scrolled page, or both in none."""
    return _scroller(one) is _scroller(other)


def _scroller(widget: QWidget) -> QWidget | None:
    parent = widget.parentWidget()
    while parent is not None and not isinstance(parent, QAbstractScrollArea):
        parent = parent.parentWidget()
    return parent


def cut_labels(screen: QWidget) -> list[str]:
    """Labels whose words have no room, or are smaller than 16 px."""
    wrong = []
    for each in screen.findChildren(QLabel):
        if not each.isVisibleTo(screen) or not each.text():
            continue
        metrics, room = each.fontMetrics(), each.contentsRect()
        flags = Qt.TextFlag.TextWordWrap if each.wordWrap() else Qt.TextFlag.TextSingleLine
        needed = metrics.boundingRect(QRect(0, 0, room.width(), 10_000), int(flags), each.text())
        if needed.width() > room.width() or needed.height() > room.height() + 1:
            wrong.append(f"{each.text()!r} needs {needed.size()} and has {room.size()}")
        if each.font().pixelSize() < LEAST_TEXT:
            wrong.append(f"{each.text()!r} is {each.font().pixelSize()} px")
    return wrong


def painted_short(screen: QWidget) -> list[str]:
    """What widgets paint themselves and end in dots where the words have no room.

    Every text that the program gives to a painter is looked at while the screen paints anew; what
    is kept as a picture is painted for it too.
    """
    painted: list[str] = []
    draw = QPainter.drawText

    def drawn(painter: QPainter, *rest: object) -> object:
        painted.extend(each for each in rest if isinstance(each, str))
        return draw(painter, *rest)  # type: ignore[call-overload]

    def anew(kept: KeptPictures, *rest: object) -> None:
        kept._kept.clear()
        picture(kept, *rest)  # type: ignore[arg-type]

    picture = KeptPictures.draw
    with patch.object(QPainter, "drawText", drawn), patch.object(KeptPictures, "draw", anew):
        screen.grab()
    return [f"{text!r} is cut short" for text in painted if text.endswith(DOTS)]
