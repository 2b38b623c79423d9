"""Buttons of the block. They leave typing to the screen: only Space (and Enter) presses them."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent

from gambrel.ui.block.pages import CutText
from gambrel.ui.block.state import PieceText
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import BigButton, Role
from gambrel.ui.widgets.kept_picture import KeptPictures
from gambrel.ui.widgets.painting import CENTRE, LEFT, RIGHT, box, draw_fitted, fit, text_width

_PRESS = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)


class BlockKey(BigButton):
    """A button that a tap leaves without focus, so that the next digit still goes to the weight."""

    enter_presses = True

    def __init__(
        self,
        theme: Theme,
        text: str = "",
        *,
        caption: str = "",
        icon: str = "",
        role: Role = Role.PLAIN,
        size: int = 0,
    ) -> None:
        super().__init__(theme, text, caption=caption, icon=icon, role=role, size=size)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        presses = _PRESS if self.enter_presses else _PRESS[:1]
        if event.key() in presses and not event.modifiers():
            self.click()
        else:
            event.ignore()


class CutSize(NamedTuple):
    """Pixels of what stands on a cut's key, from a height of the key's inside on."""

    least: float
    name: int
    weighed: int
    norm: int
    figures: float
    bar: float
    gap: float


CUT_SIZES = (
    CutSize(136, 28, 36, 20, 44, 12, 6),
    CutSize(100, 22, 26, 16, 32, 10, 4),
    CutSize(0, 22, 26, 16, 26, 8, 1),
)


class CutKey(BlockKey):
    """A cut: its name, what was weighed, its norm, and a bar of one against the other."""

    enter_presses = False

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.setCheckable(True)
        self.cut: CutText | None = None

    def show_cut(self, cut: CutText, *, chosen: bool) -> None:
        """Show a cut; repaints only when something is new."""
        if cut != self.cut:
            self.cut = cut
            self.setText(cut.name)
            self.setAccessibleName(cut.spoken)
            self.update()
        self.setChecked(chosen)

    def nextCheckState(self) -> None:
        """The screen decides what is chosen, not the tap."""

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        if self.cut is None:
            return
        size = next(each for each in CUT_SIZES if rect.height() >= each.least)
        rect = rect.adjusted(4, 0, -4, 0)
        bar, figures = size.bar, size.figures
        head = rect.height() - bar - figures - size.gap
        name = fit(self.cut.name, self.theme.font(size.name, Weight.DemiBold), rect.width(), head)
        painter.setPen(ink)
        draw_fitted(painter, QRectF(rect.left(), rect.top(), rect.width(), head), name, LEFT)
        line = QRectF(rect.left(), rect.top() + head, rect.width(), figures)
        weighed = fit(
            self.cut.weighed or "–",
            self.theme.font(size.weighed, Weight.Bold),
            rect.width() * 0.5,
            figures,
        )
        draw_fitted(painter, line, weighed, LEFT)
        painter.setPen(soft)
        norm = fit(self.cut.norm, self.theme.font(size.norm), rect.width() * 0.5, figures)
        draw_fitted(painter, line.adjusted(0, 3, 0, 3), norm, RIGHT)
        self._paint_bar(painter, QRectF(rect.left(), rect.bottom() - bar, rect.width(), bar))
        self.setToolTip("" if name.whole else self.cut.name)

    def _paint_bar(self, painter: QPainter, place: QRectF) -> None:
        """Filled to the norm in the accent; past it by a tenth it is marked with a notch."""
        if self.cut is None or not self.cut.norm:
            return
        c = self.theme.colour
        box(painter, place, c("paper"), c("edge"), 1, 5)
        share = min(self.cut.share, 1.0)
        if share > 0:
            wide = max(place.width() * share, place.height())
            full = QRectF(place.left(), place.top(), wide, place.height())
            box(painter, full, c("accent"), c("accent"), 0, 5)
        if self.cut.share > 1.1:
            notch = QRectF(place.right() - 12, place.top() - 3, 4, place.height() + 6)
            painter.fillRect(notch, c("watch"))


class PieceKey(BlockKey):
    """A weighed piece: its cut, when, and its net weight. A tap opens it.

    Where there is no room for both, the time gives way: a weight is never cut short.

    A new piece moves the others along; ``pictures``, shared by the keys, keeps what they look like.
    """

    def __init__(self, theme: Theme, pictures: KeptPictures) -> None:
        super().__init__(theme)
        self._pictures = pictures
        self.piece: PieceText | None = None

    def show_piece(self, piece: PieceText) -> None:
        """Show a piece; repaints only when it is another."""
        if piece != self.piece:
            self.piece = piece
            self.setText(piece.name)
            self.setAccessibleName(piece.spoken + (f", {piece.void}" if piece.void else ""))
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.isDown() or self.hasFocus() or not self.isEnabled():
            super().paintEvent(event)
            return
        painter = QPainter(self)
        key = (self.piece, self.theme.is_dark)
        self._pictures.draw(painter, self.size(), key, self.paint_whole)
        painter.end()

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        if self.piece is None:
            return
        foot = 30.0
        head = QRectF(rect.left(), rect.top(), rect.width(), rect.height() - foot)
        font = self.theme.font(20, Weight.DemiBold)
        painter.setPen(ink)
        draw_fitted(painter, head, fit(self.piece.name, font, head.width(), head.height()), LEFT)
        low = QRectF(rect.left(), rect.bottom() - foot, rect.width(), foot)
        small = self.theme.font(self.theme.tokens.type.body)
        time = text_width(small, self.piece.time) + 1
        large = self.theme.font(22, Weight.Bold)
        room = low.width() - time - 4
        beside = text_width(large, self.piece.kg) <= room
        figure = fit(self.piece.kg, large, room if beside else low.width(), foot)
        draw_fitted(painter, low, figure, RIGHT if beside else LEFT)
        if beside:
            painter.setPen(soft)
            draw_fitted(painter, low, fit(self.piece.time, small, time, foot), LEFT)


class UndoKey(BlockKey):
    """Undo, and under it in full what it would take back."""

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        type_ = self.theme.tokens.type
        tall = 44.0 if self.caption else 0.0
        head = QRectF(rect.left(), rect.top(), rect.width(), rect.height() - tall)
        painter.setPen(ink)
        title = fit(self.text(), self.theme.font(type_.label, Weight.DemiBold), head.width(), 30)
        draw_fitted(painter, head, title, CENTRE)
        painter.setPen(soft)
        foot = QRectF(rect.left(), rect.bottom() - tall, rect.width(), tall)
        sub = fit(self.caption, self.theme.font(type_.body), foot.width(), tall)
        draw_fitted(painter, foot, sub, CENTRE)


class WeighKey(BlockKey):
    """WEIGH IN: the act of the screen; while it asks, it wears the colours of a doubt."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, role=Role.PRIMARY, size=32)
        self.asks = False

    def show_act(self, text: str, *, asks: bool, enabled: bool) -> None:
        """Say what a tap does now."""
        if asks != self.asks:
            self.asks = asks
            self.update()
        self.say(text)
        self.setEnabled(enabled)

    def colours(self) -> tuple[QColor, QColor, QColor, QColor]:
        if self.asks and self.isEnabled():
            c = self.theme.colour
            fill = c("watch").darker(112) if self.isDown() else c("watch")
            return fill, c("watch"), c("paper"), c("paper")
        fill, edge, ink, soft = super().colours()
        # While it waits it says what to do, so it must be read as well as any other text.
        return fill, edge, ink if self.isEnabled() else self.theme.colour("soft_ink"), soft


def paint_card(painter: QPainter, theme: Theme, rect: QRectF) -> None:
    """A sheet of card behind what a widget paints itself."""
    c = theme.colour
    box(painter, rect, c("card"), c("rule"), theme.tokens.line.edge, theme.tokens.radius.card)
