"""Hands at the print desk."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from gambrel.services.printing.documents import Tickets

LEFT = Qt.MouseButton.LeftButton
TICKETS = Tickets(("rump", "mince"))


def tap(qtbot: QtBot, button: QAbstractButton) -> None:
    assert button.isVisible()
    assert button.isEnabled(), button.text()
    qtbot.mouseClick(button, LEFT)
