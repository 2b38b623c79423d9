"""The block at a real line: a scale process on a pseudo-terminal, which is also pulled out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.devices.scale import ScalePort
from gambrel.domain.bench.scale_setting import ScaleKind, ScaleSetting
from gambrel.ui.block.place import BlockPlace
from tests.fake_scale import FakeScale, line
from tests.ui.block.fingers import cut_key, tap, weighed


@pytest.fixture
def scale() -> Iterator[ScalePort]:
    """The real port, in place of the one that says what it is told."""
    port = ScalePort()
    yield port
    port.close()


@pytest.fixture
def fake(tmp_path: Path) -> Iterator[FakeScale]:
    with FakeScale(tmp_path) as made:
        made.rate(20)
        yield made


@pytest.fixture
def at_line(place: BlockPlace, scale: ScalePort, fake: FakeScale) -> BlockPlace:
    scale.open(ScaleSetting(kind=ScaleKind.SERIAL, port=str(fake.port)))
    return place


@pytest.fixture
def zeroing(place: BlockPlace, scale: ScalePort, fake: FakeScale) -> BlockPlace:
    fake.zeroes(b"Z\r\n")
    port = str(fake.port)
    scale.open(ScaleSetting(kind=ScaleKind.SERIAL, port=port, zero="Z\\r\\n"))
    return place


def until(qtbot: QtBot, ready: Callable[[], bool]) -> None:
    """Wait for the screen; it is told by signals, and looks at the weight by itself."""
    qtbot.waitUntil(ready, timeout=15_000)
    QApplication.processEvents()


def word(place: BlockPlace) -> str:
    shown = place.view.work.column.weight._weight
    return shown.word if shown is not None else ""


def test_two_taps_weigh_a_piece_and_a_pulled_plug_freezes_nothing(
    at_line: BlockPlace, fake: FakeScale, qtbot: QtBot
) -> None:
    column = at_line.view.work.column
    fake.steady(4506)
    tap(cut_key(at_line, "rump"))
    until(qtbot, column.weigh_key.isEnabled)
    tap(column.weigh_key)
    assert weighed(at_line) == [("rump", 4506)]
    fake.unplug()
    until(qtbot, column.keypad.isVisible)
    assert word(at_line) in ("disconnected", "reconnecting")
    assert not column.weigh_key.isEnabled()
    fake.steady(2100)
    fake.plug()
    until(qtbot, column.weigh_key.isEnabled)
    tap(column.weigh_key)
    assert weighed(at_line) == [("rump", 2100), ("rump", 4506)]


def test_each_trouble_is_told_in_words_while_it_lasts(
    at_line: BlockPlace, fake: FakeScale, qtbot: QtBot
) -> None:
    column = at_line.view.work.column
    tap(cut_key(at_line, "rump"))
    troubles: tuple[tuple[Callable[[], None], str], ...] = (
        (lambda: fake.unsteady(4500), "unsteady"),
        (lambda: fake.steady(-650), "negative"),
        (lambda: fake.steady(0), "zero"),
        (lambda: fake.repeats(b"OL\r\n"), "overload"),
        (fake.garbage, "not understood"),
        (fake.silence, "no reading"),
    )
    for misbehave, told in troubles:
        fake.steady(4506)
        until(qtbot, column.weigh_key.isEnabled)
        misbehave()
        until(qtbot, lambda told=told: word(at_line) == told)  # type: ignore[misc]  # a default
        assert not column.weigh_key.isEnabled(), told
    assert weighed(at_line) == []


def test_a_change_of_unit_is_told_before_the_weight_counts_again(
    at_line: BlockPlace, fake: FakeScale, qtbot: QtBot
) -> None:
    column = at_line.view.work.column
    tap(cut_key(at_line, "rump"))
    fake.steady(4506)
    until(qtbot, column.weigh_key.isEnabled)
    fake.repeats(line("ST", 4506, "g"))
    until(qtbot, lambda: word(at_line) == "unit changed")
    assert not column.weigh_key.isEnabled()
    until(qtbot, column.weigh_key.isEnabled)
    tap(column.weigh_key)
    assert weighed(at_line) == [("rump", 4506)]


def test_drift_and_a_lost_tub_are_zeroed_with_one_tap(
    zeroing: BlockPlace, fake: FakeScale, qtbot: QtBot
) -> None:
    column = zeroing.view.work.column
    tap(cut_key(zeroing, "rump"))
    for grams in (12, -650):
        fake.steady(grams)
        until(qtbot, lambda: column.zero_key.isVisible() and column.zero_key.isEnabled())
        tap(column.zero_key)
        until(qtbot, lambda: word(zeroing) == "zero")
        assert not column.zero_key.isEnabled()
    assert weighed(zeroing) == []


def test_a_piece_is_never_zeroed_away(
    zeroing: BlockPlace, fake: FakeScale, scale: ScalePort, qtbot: QtBot
) -> None:
    column = zeroing.view.work.column
    tap(cut_key(zeroing, "rump"))
    fake.steady(4506)
    until(qtbot, column.weigh_key.isEnabled)
    assert not column.zero_key.isEnabled()
    assert column.zero_key.caption == "take everything off first"
    scale.zero()  # whatever the screen says
    qtbot.wait(300)
    assert scale.live.grams == 4506


def test_without_the_shops_words_there_is_no_key(
    at_line: BlockPlace, fake: FakeScale, qtbot: QtBot
) -> None:
    fake.steady(12)
    until(qtbot, lambda: word(at_line) == "steady")
    assert not at_line.view.work.column.zero_key.isVisible()
