"""Where the keyboard is at the block: digits go to the weight unless somebody walks the keys.

Qt hands the focus of a part that goes away to whatever comes next, and that may be a key which
does something: Enter after the digits would then finish a body instead of weighing a piece in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from shiboken6 import isValid

from gambrel.ui.block.choices import ChoicePanel
from gambrel.ui.block.what_if_view import WhatIfPanel


def back_to_the_weight(screen: QWidget, keys: Iterable[QAbstractButton]) -> None:
    """After one of these keys the next digit and the next Enter are about the weight again."""
    for key in keys:
        key.clicked.connect(lambda _=False: screen.setFocus())


@contextmanager
def minded(screen: QWidget, panels: Iterable[ChoicePanel | WhatIfPanel]) -> Iterator[None]:
    """Mind the focus while parts of a screen come and go.

    Who walks the keys comes to the first answer of a question that opens, and back to the screen
    where the key under the finger has gone. Whoever taps leaves the focus with the screen.
    """
    held = QApplication.focusWidget()
    walks = held is not None and held is not screen and screen.isAncestorOf(held)
    open_before = {panel for panel in panels if panel.isVisible()}
    yield
    if held is None or not walks:
        return
    opened = next((each for each in panels if each.isVisible() and each not in open_before), None)
    if opened is not None:
        opened.first_key.setFocus()
    elif not (isValid(held) and held.isVisible()):
        screen.setFocus()
