"""Under the cuts: the balance, the last pieces, Undo and Finish."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from gambrel.ui.block.keys import BlockKey, PieceKey, UndoKey
from gambrel.ui.block.state import SHOWN, BlockState, PieceText
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.balance_bar import BalanceBar, Segment
from gambrel.ui.widgets.card import label

NARROW = 640
"""A column narrower than this shows fewer pieces and smaller ends."""


class Bottom(QWidget):
    """Shows how the weight stands and what was weighed last; ``piece_tapped`` tells a piece."""

    piece_tapped = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.balance = BalanceBar(theme)
        self.left: QLabel = label("", "label")
        self.empty: QLabel = label(self.tr("The first piece will stand here."), "soft", wrap=True)
        self.keys = [PieceKey(theme) for _ in range(SHOWN)]
        self.all_key = BlockKey(theme, self.tr("All"), size=22)
        self.undo_key = UndoKey(theme, self.tr("Undo"))
        self.finish_key = BlockKey(theme)
        self._pieces: tuple[PieceText, ...] = ()
        gap = theme.tokens.space.small
        upper = QHBoxLayout()
        upper.setSpacing(theme.tokens.space.gap)
        upper.addWidget(self.balance, 1)
        upper.addWidget(self.left)
        self._row = QHBoxLayout()
        self._row.setSpacing(gap)
        self._row.addWidget(self.empty, 3)
        for key in self.keys:
            self._row.addWidget(key, 3)
            key.clicked.connect(lambda _=False, key=key: self._tapped(key))
        for end in (self.all_key, self.undo_key, self.finish_key):
            self._row.addWidget(end, 2)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(gap)
        box.addLayout(upper)
        box.addLayout(self._row, 1)

    def show_state(self, state: BlockState) -> None:
        """Show balance and pieces."""
        segments = [Segment(p.name, p.figure, p.grams, p.kind) for p in state.parts]
        words = ", ".join(f"{part.name} {part.figure} kg" for part in state.parts)
        self.balance.show_balance(segments, state.total_g, f"{words}, {state.left}".strip(", "))
        self.left.setText(state.left)
        self._pieces = state.last
        self.all_key.say(self.tr("All"), str(state.standing))
        self.all_key.setAccessibleName(self.tr("All {0} pieces").format(state.standing))
        self.undo_key.say(self.tr("Undo"), state.undo)
        self.undo_key.setEnabled(bool(state.undo))
        self.finish_key.say(*state.end)
        self._show_pieces()

    def _show_pieces(self) -> None:
        room = 2 if self.width() < NARROW else 3
        if self.width() > 1000:
            room = SHOWN
        for number, key in enumerate(self.keys):
            there = number < min(room, len(self._pieces))
            if there:
                key.show_piece(self._pieces[number])
            key.setVisible(there)
        self.empty.setVisible(not self._pieces)
        self.all_key.setEnabled(bool(self._pieces))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show_pieces()

    def _tapped(self, key: PieceKey) -> None:
        if key.piece is not None:
            self.piece_tapped.emit(key.piece.key)
