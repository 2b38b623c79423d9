"""The live weight: net in figures that can be read across the shop, gross and tare beside it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from gambrel.ui.block.keys import paint_card
from gambrel.ui.block.large_weight import paint_large, paint_word
from gambrel.ui.block.weight_state import WeightText
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.kept_picture import KeptPictures
from gambrel.ui.widgets.painting import LEFT, draw_fitted, fit, text_width

LOW = 100
"""A card lower than this draws everything beside the figure smaller and closer."""


class LiveWeight(QWidget):
    """Paints a `WeightText`. While nothing is typed it says what to do."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._weight: WeightText | None = None
        self._pictures = KeptPictures()
        theme.changed.connect(self.update)

    def show_weight(self, weight: WeightText) -> None:
        """Show another weight."""
        if weight != self._weight:
            self._weight = weight
            self.setAccessibleName(self.tr("Weight, {0}").format(weight.spoken))
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._weight is not None and self._weight.empty:
            key = (self._weight, self._theme.is_dark)  # it comes back after every piece
            self._pictures.draw(painter, self.size(), key, self._paint)
        else:
            self._paint(painter, QRectF(self.rect()))
        painter.end()

    def _paint(self, painter: QPainter, rect: QRectF) -> None:
        paint_card(painter, self._theme, rect)
        if self._weight is not None and self._weight.large:
            paint_large(painter, self._theme, rect, self._weight)
        elif self._weight is not None and self._weight.empty and self._weight.word:
            self._paint_trouble(painter, rect.adjusted(_pad(rect), 4, -_pad(rect), -4))
        elif self._weight is not None:
            left = self._paint_net(painter, rect, self._weight)
            side = rect.adjusted(_pad(rect), 4, 0, -4)
            side.setRight(left - 10)
            self._paint_side(painter, side, self._weight)

    def _paint_trouble(self, painter: QPainter, place: QRectF) -> None:
        """No weight comes from the scale that is set up: say why, and what to do."""
        if self._weight is None:
            return
        tall = 26.0 if place.height() < LOW else 40.0
        head = QRectF(place.left(), place.top(), place.width(), tall)
        paint_word(painter, self._theme, head, self._weight)
        painter.setPen(self._theme.colour("ink"))
        rest = place.adjusted(0, tall, 0, 0)
        font = self._theme.font(20, Weight.DemiBold)
        words = fit(self._weight.sentence, font, rest.width(), rest.height())
        draw_fitted(painter, rest, words, LEFT)

    def _paint_net(self, painter: QPainter, rect: QRectF, weight: WeightText) -> float:
        """Draw the figure and its unit at the right; return where the figure begins."""
        tokens = self._theme.tokens.type
        pad = _pad(rect)
        unit_font = self._theme.font(20 if rect.height() < LOW else 30, Weight.DemiBold)
        unit_wide = text_width(unit_font, "kg") + 8
        size = int(min(max(rect.height() * 0.9, tokens.live), tokens.live_large))
        room = rect.width() - unit_wide - 2 * pad - 118
        font = self._theme.font(size, Weight.Bold)
        while size > tokens.live and text_width(font, weight.net) > room:
            size -= 2
            font = self._theme.font(size, Weight.Bold)
        while size > 40 and text_width(font, weight.net) > room + 110:
            size -= 2
            font = self._theme.font(size, Weight.Bold)
        wide = text_width(font, weight.net)
        base = rect.center().y() + QFontMetricsF(font).capHeight() / 2
        left = rect.right() - pad - unit_wide - wide
        painter.setFont(font)
        painter.setPen(self._theme.colour("rule" if weight.hint else "ink"))
        painter.drawText(QPointF(left, base), weight.net)
        painter.setFont(unit_font)
        painter.setPen(self._theme.colour("soft_ink"))
        low = min(base, rect.bottom() - 12)
        painter.drawText(QPointF(rect.right() - pad - unit_wide + 8, low), "kg")
        return left

    def _paint_side(self, painter: QPainter, place: QRectF, weight: WeightText) -> None:
        c, type_ = self._theme.colour, self._theme.tokens.type
        if weight.empty:
            painter.setPen(c("ink"))
            hint = fit(weight.hint, self._theme.font(20, Weight.DemiBold), place.width(), 96)
            draw_fitted(painter, place, hint, LEFT)
            return
        half = place.height() / 2
        rows = [(self.tr("gross"), weight.gross), (self.tr("tub"), weight.tare)]
        for number, (name, text) in enumerate(rows):
            line = QRectF(place.left(), place.top() + number * half, place.width(), half)
            if place.height() < LOW - 8:
                painter.setPen(c("ink"))
                figure = text.rsplit(" ", 1)[-1]
                short = f"{name} {figure}" if figure[:1].isdigit() else text  # "no tub"
                words = fit(short, self._theme.font(18), line.width(), half)
                draw_fitted(painter, line, words, LEFT)
                continue
            painter.setPen(c("soft_ink"))
            small = self._theme.font(type_.body)
            upper = QRectF(line.left(), line.center().y() - 20, line.width(), 20)
            painter.setFont(small)
            painter.drawText(upper, int(LEFT), name if number == 0 else weight.hint or name)
            painter.setPen(c("ink"))
            lower = QRectF(line.left(), line.center().y() - 1, line.width(), 24)
            words = fit(text, self._theme.font(20, Weight.DemiBold), line.width(), 24, 16)
            draw_fitted(painter, lower, words, LEFT)


def _pad(rect: QRectF) -> float:
    return 8.0 if rect.height() < LOW else 14.0
