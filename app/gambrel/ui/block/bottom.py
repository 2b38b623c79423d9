"""Under the cuts: the balance, the last pieces, Undo and Finish."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from gambrel.ui.block.keys import BlockKey, PieceKey, UndoKey
from gambrel.ui.block.state import SHOWN, BlockState, PieceText
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.balance_bar import BAR, BalanceBar, Segment
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.kept_picture import KeptPictures
from gambrel.ui.widgets.painting import LEFT, draw_fitted, fit, text_width

MARK = 30
"""Room for the mark before a weight."""

NARROW = 640
"""A column narrower than this shows fewer pieces and smaller ends."""


class LeftWeight(QWidget):
    """What is left on the block; marked where more came off than lay there."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.text, self._over = "", False
        self.setFixedHeight(BAR)
        theme.changed.connect(self.update)

    def say(self, text: str, *, over: bool) -> None:
        """Show another weight."""
        if (text, over) == (self.text, self._over):
            return
        self.text, self._over = text, over
        self.setAccessibleName(text)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        font = self._theme.font(self._theme.tokens.type.label, Weight.DemiBold)
        return QSize(int(text_width(font, self.text)) + 1 + (MARK if self._over else 0), BAR)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        place = QRectF(self.rect())
        colour = self._theme.colour("watch" if self._over else "ink")
        if self._over:
            side = MARK - 6
            icon = QRectF(0, (BAR - side) / 2, side, side)
            paint_icon(painter, "triangle-alert", icon, colour)
            place.setLeft(MARK)
        painter.setPen(colour)
        font = self._theme.font(self._theme.tokens.type.label, Weight.DemiBold)
        draw_fitted(painter, place, fit(self.text, font, place.width(), BAR), LEFT)
        painter.end()


class Bottom(QWidget):
    """Shows how the weight stands and what was weighed last; ``piece_tapped`` tells a piece."""

    piece_tapped = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.balance = BalanceBar(theme)
        self.left = LeftWeight(theme)
        self.empty: QLabel = label("", "soft", wrap=True)
        pictures = KeptPictures()
        self.keys = [PieceKey(theme, pictures) for _ in range(SHOWN)]
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
        self._row.addWidget(self.empty, 9)
        for key in self.keys:
            self._row.addWidget(key, 3)
            key.clicked.connect(lambda _=False, key=key: self._tapped(key))
        for end, share in ((self.all_key, 1), (self.undo_key, 3), (self.finish_key, 1)):
            self._row.addWidget(end, share)
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
        self.empty.setText(state.care)
        self.left.say(state.left, over=state.over)
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
