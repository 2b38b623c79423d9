"""The scale that types: its keys are weighed and reach nobody else; a hand's keys arrive."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from gambrel.devices.scale import ScalePort
from gambrel.devices.wedge import GAP_MS
from gambrel.domain.bench.scale_pattern import LineEnd
from gambrel.domain.bench.scale_setting import ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight, WeightState

Key = Qt.Key
TYPED = ScaleSetting(kind=ScaleKind.TYPED, pattern="{sign}{number}{unit}")


class Bench(QWidget):
    """A field that has the focus, and a button that Return would press."""

    def __init__(self) -> None:
        super().__init__()
        self.field = QLineEdit(self)
        self.button = QPushButton("Go", self)
        self.button.move(0, 60)


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    made = Bench()
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitActive(made)
    made.field.setFocus()
    return made


def scale_types(target: QWidget, text: str, end: Key = Key.Key_Return) -> None:
    """All keys at once, as a scale does."""
    QTest.keyClicks(target, text)
    QTest.keyClick(target, end)


def test_a_burst_is_a_weight_and_reaches_no_field(
    bench: Bench, port: ScalePort, qtbot: QtBot
) -> None:
    port.open(TYPED)
    assert port.live.state is WeightState.WAITING
    returned: list[str] = []
    bench.field.returnPressed.connect(lambda: returned.append("return"))
    with qtbot.assertNotEmitted(bench.field.textChanged, wait=2 * GAP_MS):  # nor handed on later
        scale_types(bench.field, "4.386 kg")
    assert (port.live.state, port.live.grams) == (WeightState.STEADY, 4386)
    assert port.live.weighable
    assert bench.field.text() == ""
    assert returned == []


def test_it_is_caught_where_the_system_hands_keys_in(
    bench: Bench, port: ScalePort, qtbot: QtBot
) -> None:
    """Real keys come to the window first, and from there to the field."""
    port.open(TYPED)
    window = bench.windowHandle()
    for key in (Key.Key_1, Key.Key_Period, Key.Key_5, Key.Key_K, Key.Key_G, Key.Key_Return):
        QTest.keyClick(window, key)
    assert port.live.grams == 1500
    with qtbot.waitSignal(bench.field.textChanged):
        QTest.keyClick(window, Key.Key_7)
    assert bench.field.text() == "7"


@pytest.mark.parametrize("end", [Key.Key_Return, Key.Key_Enter, Key.Key_Tab])
def test_capitals_come_with_their_shift_key(
    bench: Bench, port: ScalePort, qtbot: QtBot, end: Qt.Key
) -> None:
    shift = Qt.KeyboardModifier.ShiftModifier
    port.open(replace(TYPED, pattern="{flag}{sign}{number}{unit}"))
    for letter in "ST":
        QTest.keyPress(bench.field, Key.Key_Shift, shift)
        QTest.keyClicks(bench.field, letter, shift)
        QTest.keyRelease(bench.field, Key.Key_Shift)
    scale_types(bench.field, "2.5 kg", end)
    assert port.live.grams == 2500
    assert bench.field.hasFocus()
    assert bench.field.text() == ""


def test_it_counts_once(bench: Bench, port: ScalePort, qtbot: QtBot) -> None:
    port.open(TYPED)
    scale_types(bench.field, "4.386 kg")
    seen = [port.live]
    port.used()
    seen.append(port.live)
    scale_types(bench.field, "4.386 kg")
    seen.append(port.live)
    assert [live.weighable for live in seen] == [True, False, True]
    assert seen[1].grams is None


def test_a_burst_that_is_no_weight_is_told_and_swallowed(
    bench: Bench, port: ScalePort, qtbot: QtBot
) -> None:
    port.open(TYPED)
    with qtbot.waitSignal(port.reading) as seen:
        scale_types(bench.field, "9780000")
    (live,) = seen.args
    assert isinstance(live, LiveWeight)
    assert live.state is WeightState.GARBAGE
    assert bench.field.text() == ""


def test_a_hand_types_as_ever(bench: Bench, port: ScalePort, qtbot: QtBot) -> None:
    port.open(TYPED)
    for key in (Key.Key_5, Key.Key_1, Key.Key_Period, Key.Key_2, Key.Key_5):
        with qtbot.waitSignal(bench.field.textChanged):  # so the next comes later than the gap
            QTest.keyClick(bench.field, key)
    QTest.keyClick(bench.field, Key.Key_Backspace)
    assert bench.field.text() == "51.2"
    assert port.live.state is WeightState.WAITING


def test_keys_keep_their_order_around_those_that_are_not_held(
    bench: Bench, port: ScalePort, qtbot: QtBot
) -> None:
    port.open(TYPED)
    QTest.keyClicks(bench.field, "ab")
    QTest.keyClick(bench.field, Key.Key_Left)
    QTest.keyClicks(bench.field, "x")
    qtbot.waitUntil(lambda: bench.field.text() == "axb")


def test_a_few_quick_keys_and_return_are_a_hands(
    bench: Bench, port: ScalePort, qtbot: QtBot
) -> None:
    port.open(TYPED)
    with qtbot.waitSignal(bench.field.returnPressed):
        scale_types(bench.field, "1.5")
    assert bench.field.text() == "1.5"
    assert port.live.state is WeightState.WAITING


def test_a_burst_presses_no_button(bench: Bench, port: ScalePort, qtbot: QtBot) -> None:
    port.open(TYPED)
    bench.button.setFocus()
    bench.button.setAutoDefault(True)
    with qtbot.assertNotEmitted(bench.button.clicked, wait=2 * GAP_MS):
        scale_types(bench.button, "0.250 kg")
    assert port.live.grams == 250


def test_shortcuts_are_not_held_back(bench: Bench, port: ScalePort, qtbot: QtBot) -> None:
    port.open(TYPED)
    bench.field.setText("rump")
    QTest.keyClick(bench.field, Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    assert bench.field.selectedText() == "rump"


def test_a_field_that_went_meanwhile_is_no_fault(
    bench: Bench, port: ScalePort, qtbot: QtBot
) -> None:
    port.open(TYPED)
    QTest.keyClicks(bench.field, "ab")
    with qtbot.waitSignal(bench.field.destroyed):
        bench.field.deleteLater()
    QTest.keyClick(bench.button, Key.Key_Left)  # lets go of what was held
    assert port.live.state is WeightState.WAITING


def test_the_end_of_a_line_is_the_pattern_s_own(
    bench: Bench, port: ScalePort, qtbot: QtBot
) -> None:
    port.open(replace(TYPED, ends=(LineEnd.LF,)))
    scale_types(bench.field, "1.000kg", Key.Key_Enter)
    assert port.live.grams == 1000


def test_a_closed_port_leaves_the_keys_alone(bench: Bench, port: ScalePort, qtbot: QtBot) -> None:
    port.open(TYPED)
    QTest.keyClicks(bench.field, "12")
    port.close()  # what was held is not lost
    QTest.keyClicks(bench.field, "4.386 kg")
    assert bench.field.text() == "124.386 kg"
    assert port.live.state is WeightState.NONE
