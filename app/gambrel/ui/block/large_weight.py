"""The live weight while a scale answers: the state in a word, the figure, and what to do."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from gambrel.ui.block.weight_state import WeightText
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.painting import LEFT, draw_fitted, fit, text_width

PAD = 18
HEAD, FOOT = 56, 76
SAID = 60
"""Height of the sentence under the word, where the figure is not to be taken for a weight."""
TOP_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
SMALLEST = 48
AIR = 6
"""Between the figure and the words above and below it."""

UNIT_GAP = 10


def paint_large(painter: QPainter, theme: Theme, rect: QRectF, weight: WeightText) -> None:
    """Paint it into a card that has the keypad's room as well."""
    inner = rect.adjusted(PAD, 8, -PAD, -8)
    head = QRectF(inner.left(), inner.top(), inner.width(), HEAD)
    paint_word(painter, theme, head, weight)
    foot = QRectF(inner.left(), inner.bottom() - FOOT, inner.width(), FOOT)
    if not weight.net:
        _sentence(painter, theme, inner.adjusted(0, HEAD, 0, 0), weight.sentence, 30)
        return
    said = 0.0
    if weight.dim:
        said = SAID
        under = QRectF(inner.left(), head.bottom(), inner.width(), said)
        _sentence(painter, theme, under, weight.sentence, 22)
    _figure(painter, theme, inner.adjusted(0, HEAD + said, 0, -FOOT), weight)
    _gross_and_tare(painter, theme, foot, weight)


def _sentence(painter: QPainter, theme: Theme, place: QRectF, text: str, size: int) -> None:
    painter.setPen(theme.colour("ink"))
    words = fit(text, theme.font(size, Weight.DemiBold), place.width(), place.height())
    draw_fitted(painter, place, words, TOP_LEFT)


def paint_word(painter: QPainter, theme: Theme, place: QRectF, weight: WeightText) -> None:
    """The mark and the word of the scale's state."""
    meaning = Meaning(weight.meaning or "info")
    colour = theme.colour(meaning.value)
    side = min(32.0, place.height() - 4)
    icon = QRectF(place.left(), place.center().y() - side / 2, side, side)
    paint_icon(painter, MEANING_ICONS[meaning], icon, colour)
    painter.setPen(colour)
    words = place.adjusted(side + 10, 0, 0, 0)
    size = 28 if place.height() >= 40 else 20
    text = fit(weight.word, theme.font(size, Weight.Bold), words.width(), words.height())
    draw_fitted(painter, words, text, LEFT)


def _figure(painter: QPainter, theme: Theme, place: QRectF, weight: WeightText) -> None:
    unit = theme.font(34, Weight.DemiBold)
    unit_wide = text_width(unit, "kg") + UNIT_GAP
    size = theme.tokens.type.live_large
    font = theme.font(size, Weight.Bold)
    while size > SMALLEST and (
        text_width(font, weight.net) + unit_wide > place.width()
        or QFontMetricsF(font).capHeight() > place.height() - 2 * AIR
    ):
        size -= 2
        font = theme.font(size, Weight.Bold)
    wide = text_width(font, weight.net)
    left = place.right() - unit_wide - wide
    base = place.center().y() + QFontMetricsF(font).capHeight() / 2
    painter.setFont(font)
    painter.setPen(theme.colour("soft_ink" if weight.dim else "ink"))
    painter.drawText(QPointF(left, base), weight.net)
    painter.setFont(unit)
    painter.setPen(theme.colour("soft_ink"))
    painter.drawText(QPointF(left + wide + UNIT_GAP, base), "kg")


def _gross_and_tare(painter: QPainter, theme: Theme, place: QRectF, weight: WeightText) -> None:
    half = place.width() / 2
    for number, (name, text) in enumerate((("gross", weight.gross), ("tub", weight.tare))):
        column = QRectF(place.left() + number * half, place.top(), half - 8, place.height())
        painter.setPen(theme.colour("soft_ink"))
        head = QRectF(column.left(), column.top(), column.width(), 26)
        draw_fitted(painter, head, fit(name, theme.font(18), column.width(), 26), LEFT)
        painter.setPen(theme.colour("ink"))
        body = column.adjusted(0, 26, 0, 0)
        font = theme.font(28, Weight.DemiBold)
        draw_fitted(painter, body, fit(text, font, body.width(), body.height()), LEFT)
