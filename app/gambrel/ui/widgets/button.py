"""Buttons for wet hands: large, painted by us, told apart by role, named for a screen reader."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QInputDevice,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.painting import CENTRE, box, draw_fitted, fit, text_width


class Role(StrEnum):
    """What a button is for: the act of the screen, an act beside it, or a way around."""

    PRIMARY = "primary"
    PLAIN = "plain"
    QUIET = "quiet"
    STOP = "stop"


class Button(QAbstractButton):
    """A title, a caption under it and an icon beside it, each where given.

    Enter and Space press it. Its text shrinks, wraps and at last ends in dots, and is then told
    in full by the tool tip. A checkable button that is checked wears the colours of the chosen.
    """

    def __init__(
        self,
        theme: Theme,
        text: str = "",
        *,
        caption: str = "",
        icon: str = "",
        role: Role = Role.PLAIN,
        least: int = 0,
        size: int = 0,
    ) -> None:
        super().__init__()
        self.theme = theme
        self._caption = caption
        self._icon = icon
        self._role = role
        self._size = size or theme.tokens.type.label
        self._least = least or theme.tokens.target.elsewhere
        self._hovered = False
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setMinimumSize(self._least, self._least)
        self.setText(text)
        self._name_it()
        theme.changed.connect(self.update)

    @property
    def caption(self) -> str:
        """The small line under the title."""
        return self._caption

    @property
    def icon_name(self) -> str:
        """The icon beside the title, if any."""
        return self._icon

    def say(self, text: str, caption: str = "", icon: str | None = None) -> None:
        """Change what stands on the button."""
        if (text, caption) == (self.text(), self._caption) and icon in (None, self._icon):
            return
        self._caption = caption
        self._icon = self._icon if icon is None else icon
        self.setText(text)
        self._name_it()
        self.updateGeometry()
        self.update()

    def set_role(self, role: Role) -> None:
        """Change what the button is for."""
        self._role = role
        self.update()

    def _name_it(self) -> None:
        name = ", ".join(part for part in (self.text(), self._caption) if part)
        if name:
            self.setAccessibleName(name)

    def sizeHint(self) -> QSize:
        font = self.theme.font(self._size, Weight.DemiBold)
        small = self.theme.font(self.theme.tokens.type.body)
        wide = max(text_width(font, self.text()), text_width(small, self._caption))
        wide += (self._size + 10 if self._icon else 0) + 2 * self.theme.tokens.space.gap + 4
        tall = (self._size + self.theme.tokens.type.body if self._caption else self._size) + 24
        return QSize(max(int(wide) + 1, self._least), max(tall, self._least))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._least, self._least)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.EnabledChange:
            self.update()
        super().changeEvent(event)

    @property
    def is_hovered(self) -> bool:
        """Whether a mouse rests on it; a finger that was there and went away left nothing."""
        return self._hovered and self.underMouse()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        finger = event.pointingDevice().type() is QInputDevice.DeviceType.TouchScreen
        of_system = event.source() is Qt.MouseEventSource.MouseEventSynthesizedBySystem
        hovered = not (finger or of_system)  # some systems tell of a finger as a mouse
        if hovered != self._hovered:
            self._hovered = hovered
            self.update()
        super().mouseMoveEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        self._hovered = False
        self.update()
        super().leaveEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.paint_whole(painter, QRectF(self.rect()))
        painter.end()

    def paint_whole(self, painter: QPainter, rect: QRectF) -> None:
        """Draw box, focus and face as the button is now."""
        fill, edge, ink, soft = self.colours()
        line, radius = self.theme.tokens.line, self.theme.tokens.radius.control
        wide = line.strong if self.isChecked() or self.hasFocus() else line.edge
        box(
            painter,
            rect,
            fill,
            edge,
            0 if self._role is Role.QUIET and fill.alpha() == 0 else wide,
            radius,
        )
        if self.hasFocus():
            self._paint_focus(painter, rect, ink)
        self.paint_face(painter, rect.adjusted(8, 6, -8, -6), ink, soft)

    def _paint_focus(self, painter: QPainter, rect: QRectF, ink: QColor) -> None:
        inner = rect.adjusted(4, 4, -4, -4)
        colour = ink if self._role in (Role.PRIMARY, Role.STOP) else self.theme.colour("accent")
        box(painter, inner, QColor(Qt.GlobalColor.transparent), colour, 1, 5)

    def colours(self) -> tuple[QColor, QColor, QColor, QColor]:
        """Fill, edge, ink and caption colour for the state at hand."""
        c = self.theme.colour
        clear = QColor(Qt.GlobalColor.transparent)
        if not self.isEnabled():
            fill = clear if self._role is Role.QUIET else c("paper")
            return fill, c("rule"), c("edge"), c("edge")
        if self._role is Role.PRIMARY:
            fill = c("accent").darker(112) if self.isDown() else c("accent")
            return fill, c("accent"), c("on_accent"), c("on_accent")
        if self._role is Role.STOP:
            fill = c("stop_tint").darker(106) if self.isDown() else c("stop_tint")
            return fill, c("stop"), c("ink"), c("ink")
        if self.isChecked() or self.isDown():
            return c("chosen"), c("accent"), c("ink"), c("soft_ink")
        if self._role is Role.QUIET:
            fill = c("chosen") if self.is_hovered else clear
            return fill, fill if fill.alpha() else c("edge"), c("accent"), c("soft_ink")
        return c("card"), c("edge"), c("ink"), c("soft_ink")

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        """Draw title, caption and icon; a subclass may draw something else."""
        small = self.theme.tokens.type.body
        side = float(self._size + 2)
        room = rect.width() - (side + 8 if self._icon and self.text() else 0)
        caption = small + 8 if self._caption else 0
        font = self.theme.font(self._size, Weight.DemiBold)
        title = fit(self.text(), font, room, rect.height() - caption)
        wide = max((text_width(title.font, line) for line in title.lines), default=0.0)
        painter.setPen(ink)
        upper = rect.adjusted(0, 0, 0, -caption)
        if self._caption:
            tall = min(len(title.lines) * title.font.pixelSize() * 1.3 + caption, rect.height())
            upper = QRectF(rect.left(), rect.center().y() - tall / 2, rect.width(), tall - caption)
        if self._icon:
            left = upper.center().x() - (wide + side + (8 if self.text() else 0)) / 2
            place = QRectF(max(left, upper.left()), upper.center().y() - side / 2, side, side)
            paint_icon(painter, self._icon, place, ink)
            upper = QRectF(place.right() + 8, upper.top(), wide, upper.height())
        draw_fitted(painter, upper, title, CENTRE)
        if self._caption:
            painter.setPen(soft)
            lower = QRectF(rect.left(), upper.bottom(), rect.width(), caption)
            sub = fit(self._caption, self.theme.font(small), lower.width(), caption)
            draw_fitted(painter, lower, sub, CENTRE)
        if not title.whole:
            self.setToolTip(self.text())


class BigButton(Button):
    """A button of the block: never under 15 mm, keypad keys and cuts 20 mm (``key=True``)."""

    def __init__(
        self,
        theme: Theme,
        text: str = "",
        *,
        caption: str = "",
        icon: str = "",
        role: Role = Role.PLAIN,
        key: bool = False,
        size: int = 0,
    ) -> None:
        target = theme.tokens.target
        least = target.key if key else target.block
        super().__init__(theme, text, caption=caption, icon=icon, role=role, least=least, size=size)


class ActionButton(Button):
    """A button beside the block: at least 44 px, a little taller where there is room."""

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(hint.width(), max(hint.height(), self.theme.tokens.target.elsewhere + 8))


def spacer() -> QWidget:
    """Empty room that grows, for a row of buttons."""
    room = QWidget()
    room.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
    return room
