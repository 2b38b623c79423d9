"""What a person does at the block, and what can be seen there."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QWidget

from gambrel.devices.scale import ScalePort
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.services import bench
from gambrel.ui.block.place import BlockPlace

Make = Callable[[], BlockPlace]


class ToldScale(ScalePort):
    """Says what a test tells it; nothing is connected."""

    def __init__(self) -> None:
        super().__init__()
        self._says = LiveWeight()
        self.uses = self.requests = self.zeroes = 0
        self.zeroing = False
        self.by_tap = False

    @property
    def live(self) -> LiveWeight:
        return self._says

    @property
    def asked_by_tap(self) -> bool:
        return self.by_tap

    @property
    def can_zero(self) -> bool:
        return self.zeroing

    def zero(self) -> None:
        self.zeroes += 1

    def say(
        self, state: WeightState, grams: int | None = None, sentence: str = "", *, net: bool = False
    ) -> None:
        """Show another weight, as a scale would."""
        self._says = LiveWeight(state, sentence or f"It is {state}.", grams, net=net)
        self.reading.emit(self._says)

    def steady(self, grams: int) -> None:
        """A weight at rest."""
        self.say(WeightState.STEADY, grams)

    def used(self) -> None:
        self.uses += 1

    def request(self) -> None:
        self.requests += 1


_DEVICE = QTest.createTouchDevice()


def tap(widget: QWidget) -> None:
    """A finger on the middle of a widget; Qt wants it aimed at the window."""
    window = widget.window().windowHandle()
    middle = widget.mapTo(widget.window(), QPoint(widget.width() // 2, widget.height() // 2))
    QTest.touchEvent(window, _DEVICE).press(0, middle, window).commit()
    QTest.touchEvent(window, _DEVICE).release(0, middle, window).commit()


def cut_key(place: BlockPlace, cut: str) -> QAbstractButton:
    keys = place.view.work.grid.keys
    return next(key for key in keys if key.isVisible() and key.cut and key.cut.key == cut)


def type_by_touch(place: BlockPlace, text: str) -> None:
    for sign in text:
        tap(place.view.work.column.keypad.keys[sign])


def weighed(place: BlockPlace) -> list[tuple[str, int]]:
    """What stands in the book, newest first."""
    stage = place._look.on_block.stage.key  # type: ignore[union-attr]  # a body is there
    rows = bench.look(place._book, stage).on_block.standing
    return [(row.cut.key, row.piece.net_g) for row in rows]


def said(place: BlockPlace) -> str:
    saying = place.view.work.column.saying
    return saying.sentence if saying.isVisible() else ""


def weigh(place: BlockPlace, cut: str, text: str) -> None:
    tap(cut_key(place, cut))
    type_by_touch(place, text)
    tap(place.view.work.column.weigh_key)
