"""The right column: the live weight, the keypad, the tubs, and WEIGH IN with its questions."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from gambrel.domain.bench.tubs import Tub
from gambrel.ui.block.keys import BlockKey, WeighKey
from gambrel.ui.block.live_weight import LiveWeight
from gambrel.ui.block.sizes import FLOOR, Right, right_heights
from gambrel.ui.block.state import BlockState
from gambrel.ui.block.weight_state import WeighText
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.keypad import Keypad
from gambrel.ui.widgets.painting import LEFT, box, draw_fitted, fit

TUBS_IN_ROW = 4


class Saying(QWidget):
    """A doubt, a refusal or a caution, with a way to say no.

    A doubt and a refusal stand right above WEIGH IN. A caution stands where the weight does; where
    that is too low for a key, a tap on the caution closes it, as every other act at the block does.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.meaning, self.sentence = Meaning.INFO, ""
        self._asks = False
        self.no_key = BlockKey(theme, self.tr("No"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addStretch(1)
        row.addWidget(self.no_key)
        theme.changed.connect(self.update)

    def say(self, meaning: str, sentence: str, *, asks: bool) -> None:
        """Show a sentence."""
        self.meaning, self.sentence, self._asks = Meaning(meaning), sentence, asks
        self.no_key.say(self.tr("No") if asks else self.tr("Close"))
        self.setAccessibleName(sentence)
        self.update()

    def hush(self) -> None:
        """Say nothing more."""
        self.sentence, self._asks = "", False

    @property
    def is_caution(self) -> bool:
        """Whether it is neither a question nor a refusal."""
        return bool(self.sentence) and not self._asks and self.meaning is not Meaning.STOP

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.no_key.setVisible(self.height() >= FLOOR)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.is_caution and self.rect().contains(event.position().toPoint()):
            self.no_key.click()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        own = self._theme.colour(self.meaning.value)
        tint = self._theme.colour(f"{self.meaning.value}_tint")
        beside = 0 if self.no_key.isHidden() else self.no_key.width() + 8
        card = QRectF(0, 0, self.width() - beside, self.height())
        box(painter, card, tint, own, 2, self._theme.tokens.radius.card)
        mark = QRectF(12, self.height() / 2 - 14, 28, 28)
        paint_icon(painter, MEANING_ICONS[self.meaning], mark, own)
        painter.setPen(self._theme.colour("ink"))
        place = card.adjusted(50, 4, -8, -4)
        words = fit(
            self.sentence, self._theme.font(19, Weight.DemiBold), place.width(), place.height()
        )
        draw_fitted(painter, place, words, LEFT)
        painter.end()


class TubRow(QWidget):
    """The shop's tubs, one tap each; where they are many, the last key turns to the others.

    While a scale answers, one key more changes between it and the keypad.
    """

    tub_chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.keys = [BlockKey(theme, size=20) for _ in range(TUBS_IN_ROW)]
        self.scale_key = BlockKey(theme, size=20)
        self._tubs: tuple[Tub, ...] = ()
        self._chosen = ""
        self._first = 0
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.tokens.space.small)
        for number, key in enumerate(self.keys):
            key.setCheckable(True)
            key.clicked.connect(lambda _=False, number=number: self._tapped(number))
            row.addWidget(key, 1)
        row.addWidget(self.scale_key, 1)
        self.scale_key.hide()

    def show_scale_key(self, text: str) -> None:
        """Offer the keypad or the scale, whichever is not in use; no text hides the key."""
        first, _, rest = text.partition(" ")
        self.scale_key.say(first, rest)
        self.scale_key.setVisible(bool(text))

    def show_tubs(self, tubs: tuple[Tub, ...], chosen: str) -> None:
        """Show the tubs, the chosen one marked."""
        if tubs != self._tubs:
            self._first = 0  # they may be fewer now
        self._tubs, self._chosen = tubs, chosen
        self._lay_out()

    @property
    def _turns(self) -> bool:
        return len(self._tubs) > TUBS_IN_ROW

    def _lay_out(self) -> None:
        step = TUBS_IN_ROW - 1 if self._turns else TUBS_IN_ROW
        shown = self._tubs[self._first : self._first + step]
        for number, key in enumerate(self.keys):
            key.setVisible(number < len(shown) or (self._turns and number == TUBS_IN_ROW - 1))
            key.setChecked(number < len(shown) and shown[number].name == self._chosen)
            if number < len(shown):
                tub = shown[number]
                key.say(tub.name, f"{tub.grams / 1000:.3f}")
                key.setAccessibleName(self.tr("Tare {0}, {1} grams").format(tub.name, tub.grams))
            elif key.isVisibleTo(self):
                key.say(self.tr("others"))

    def _tapped(self, number: int) -> None:
        if self._turns and number == TUBS_IN_ROW - 1:
            step = TUBS_IN_ROW - 1
            self._first = self._first + step if self._first + step < len(self._tubs) else 0
            self._lay_out()
            return
        self._lay_out()
        self.tub_chosen.emit(self._tubs[self._first + number].name)


class WeighColumn(QWidget):
    """Stacks its parts by the heights that `sizes` gives."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.weight = LiveWeight(theme)
        self.keypad = Keypad(theme, longest=4)
        self.tubs = TubRow(theme)
        self.saying = Saying(theme)
        self.weigh_key = WeighKey(theme)
        self.zero_key = BlockKey(theme, self.tr("Zero the scale"), size=20)
        parts = (self.weight, self.zero_key, self.keypad, self.tubs, self.saying, self.weigh_key)
        for child in parts:
            child.setParent(self)
        self.zero_key.hide()
        self._zeroes = False
        self.saying.hide()

    def show_state(self, state: BlockState) -> None:
        """Show weight, tubs and what WEIGH IN would do."""
        self.show_weight(state.weigh)
        self.tubs.show_tubs(state.tubs, state.tub)
        if state.sentence:
            self.saying.say(state.meaning, state.sentence, asks=state.asked)
        else:
            self.saying.hush()
        self.saying.setVisible(bool(state.sentence))
        self.tubs.setVisible(not state.sentence or self.saying.is_caution)
        self._lay_out()

    def show_weight(self, weigh: WeighText) -> None:
        """Show what changes with every reading of a scale."""
        self.weight.show_weight(weigh.weight)
        self.tubs.show_scale_key(weigh.scale_key)
        self.weigh_key.show_act(weigh.act, asks=weigh.asked, enabled=weigh.can_weigh)
        self.zero_key.say(self.tr("Zero the scale"), weigh.zero_hint)
        self.zero_key.setEnabled(not weigh.zero_hint)
        if weigh.zero_key != self._zeroes:
            self._zeroes = weigh.zero_key
            self._lay_out()
        if weigh.weight.large != self.keypad.isHidden():
            self.keypad.setHidden(weigh.weight.large)
            self._lay_out()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def _lay_out(self) -> None:
        """Stack the parts; without the keypad its room belongs to the weight."""
        heights, wide, top = right_heights(self.height()), self.width(), 0
        below = () if self.saying.is_caution else (self.saying,)
        rows: tuple[tuple[int, tuple[QWidget, ...]], ...] = (
            *self._upper(heights),
            (heights.tubs, (self.tubs, *below)),
            (heights.weigh, (self.weigh_key,)),
        )
        grid = self.keypad.layout()
        if grid is not None:
            grid.setSpacing(heights.gap)
        for height, widgets in rows:
            for widget in widgets:
                widget.setGeometry(0, top, wide, height)
            top += height + heights.gap

    def _upper(self, heights: Right) -> list[tuple[int, tuple[QWidget, ...]]]:
        """Weight and keypad, and a caution: over the empty weight, or above that of a scale."""
        caution, large = self.saying.is_caution, self.keypad.isHidden()
        self.weight.setHidden(caution and not large)
        self.zero_key.setVisible(self._zeroes and large and not caution)
        if not large:
            shown = self.saying if caution else self.weight
            return [(heights.weight, (shown,)), (heights.keypad, (self.keypad,))]
        whole = heights.weight + heights.gap + heights.keypad
        rest = whole - heights.tubs - heights.gap
        if caution:
            return [(heights.tubs, (self.saying,)), (rest, (self.weight,))]
        if self._zeroes:
            return [(rest, (self.weight,)), (heights.tubs, (self.zero_key,))]
        return [(whole, (self.weight,))]
