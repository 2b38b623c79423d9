"""The serial scale over a real pseudo-terminal, against a process that also misbehaves."""

from __future__ import annotations

from dataclasses import replace
from threading import active_count
from time import monotonic

import pytest
import serial
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot

from gambrel.devices.scale import ScalePort
from gambrel.devices.serial_scale import serial_ports, why
from gambrel.domain.bench.scale_pattern import Unit
from gambrel.domain.bench.scale_setting import Asking, ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight, WeightState
from tests.fake_scale import FakeScale, line

State = WeightState
LONG = 8000


def setting_of(fake: FakeScale) -> ScaleSetting:
    return ScaleSetting(kind=ScaleKind.SERIAL, port=str(fake.port))


def wait_for(qtbot: QtBot, port: ScalePort, state: State, grams: int | None = None) -> LiveWeight:
    """Wait until the port tells this."""

    def fits(live: LiveWeight) -> bool:
        return live.state is state and (grams is None or live.grams == grams)

    if not fits(port.live):
        with qtbot.waitSignal(port.reading, timeout=LONG, check_params_cb=fits):
            pass
    return port.live


def test_a_weight_at_rest_can_be_weighed_in(fake: FakeScale, port: ScalePort, qtbot: QtBot) -> None:
    fake.steady(4386)
    port.open(setting_of(fake))
    live = wait_for(qtbot, port, State.STEADY, 4386)
    assert live.weighable
    assert live.answers
    assert (live.unit, live.net) == (Unit.KILOGRAM, False)


def test_a_swinging_weight_cannot_and_then_can(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    fake.unsteady(2000)
    port.open(setting_of(fake))
    assert not wait_for(qtbot, port, State.UNSTEADY).weighable
    fake.steady(2010)
    wait_for(qtbot, port, State.STEADY, 2010)


def test_steady_is_not_believed_while_the_numbers_run(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    told: list[LiveWeight] = []
    port.reading.connect(told.append)
    fake.lying(1500)
    port.open(setting_of(fake))
    with qtbot.waitSignal(
        port.reading, timeout=LONG, check_params_cb=lambda live: "still run" in live.sentence
    ):
        pass
    assert not any(live.weighable for live in told)


@pytest.mark.parametrize(
    ("sent", "state", "grams"),
    [
        (line("ST", 0), State.ZERO, 0),
        (line("ST", -120), State.NEGATIVE, -120),
        (line("US", -120), State.NEGATIVE, -120),
        (b"OL,GS,+   -.--- kg\r\n", State.OVERLOAD, None),
        (b"OL\r\n", State.OVERLOAD, None),
    ],
)
def test_what_cannot_be_weighed_in_says_so(
    fake: FakeScale, port: ScalePort, qtbot: QtBot, sent: bytes, state: State, grams: int | None
) -> None:
    fake.repeats(sent)
    port.open(setting_of(fake))
    live = wait_for(qtbot, port, state)
    assert not live.weighable
    assert live.grams == grams
    assert live.sentence.endswith(".")


def test_garbage_is_told_counted_and_shows_no_number(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    fake.garbage()
    port.open(setting_of(fake))
    live = wait_for(qtbot, port, State.GARBAGE)
    assert live.grams is None
    assert "Setup" in live.sentence
    fake.steady(900)
    wait_for(qtbot, port, State.STEADY, 900)
    with qtbot.waitSignal(port.heard, timeout=LONG) as seen:
        port.listen(True)
    (heard,) = seen.args
    assert heard.bad > 0
    assert heard.good > 0


def test_lines_that_come_in_pieces_are_put_together(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    fake.half_lines(4386)
    fake.rate(40)
    told: list[LiveWeight] = []
    port.reading.connect(told.append)
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.STEADY, 4386)
    assert {live.grams for live in told} == {None, 4386}


def test_a_line_that_began_before_we_listened_is_no_weight(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    """Half of 14.386 is 4.386, and looks as good."""
    told: list[LiveWeight] = []
    port.reading.connect(told.append)
    fake.silence()
    port.open(replace(setting_of(fake), pattern="{sign}{number}{unit}"))
    wait_for(qtbot, port, State.WAITING)
    fake.once(b"4.386 kg\r\n")
    fake.rate(20)
    fake.repeats(b"14.386 kg\r\n")
    wait_for(qtbot, port, State.STEADY, 14386)
    assert {live.grams for live in told} == {None, 14386}


def test_silence_takes_the_number_away(fake: FakeScale, port: ScalePort, qtbot: QtBot) -> None:
    fake.steady(4386)
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.STEADY)
    fake.silence()
    live = wait_for(qtbot, port, State.STALE)
    assert live.grams is None
    assert not live.answers


def test_a_change_of_unit_is_told_before_it_counts(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    fake.steady(453)
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.STEADY, 453)
    fake.repeats(b"ST,GS,+    1.000 lb\r\n")
    live = wait_for(qtbot, port, State.UNIT_CHANGED)
    assert not live.weighable
    assert "from kg to lb" in live.sentence
    assert wait_for(qtbot, port, State.STEADY, 454).unit is Unit.POUND


def test_pulled_out_and_plugged_in_again(fake: FakeScale, port: ScalePort, qtbot: QtBot) -> None:
    fake.steady(4386)
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.STEADY)
    states: list[State] = []
    port.reading.connect(lambda live: states.append(live.state))
    fake.unplug()
    lost = wait_for(qtbot, port, State.LOST)
    assert lost.grams is None
    assert "plug" in lost.sentence
    retrying = wait_for(qtbot, port, State.RETRYING)
    assert "There is no port" in retrying.sentence
    fake.steady(5000)
    fake.plug()
    assert wait_for(qtbot, port, State.STEADY, 5000).weighable
    assert states.index(State.LOST) < states.index(State.RETRYING)


def test_a_port_that_is_not_there_is_waited_for(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    fake.unplug()
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.RETRYING)
    fake.steady(700)
    fake.plug()
    wait_for(qtbot, port, State.STEADY, 700)


def test_a_line_that_breaks_while_it_is_set_up_is_tried_again(
    fake: FakeScale, port: ScalePort, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """POSIX line settings raise an error of their own, which is no OSError."""
    termios = pytest.importorskip("termios", reason="only POSIX has such lines")
    real, broken = serial.Serial, [termios.error(5, "Input/output error")]

    def opens(*args: object, **named: object) -> object:
        if broken:
            raise broken.pop()
        return real(*args, **named)

    monkeypatch.setattr(serial, "Serial", opens)
    fake.steady(4386)
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.STEADY, 4386)
    assert not broken


def test_a_port_that_another_program_holds_is_named(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    with serial.Serial(str(fake.port), exclusive=True):
        port.open(setting_of(fake))
        assert "Another program holds" in wait_for(qtbot, port, State.RETRYING).sentence
    fake.steady(800)
    wait_for(qtbot, port, State.STEADY, 800)


def test_a_scale_that_is_asked_answers(fake: FakeScale, port: ScalePort, qtbot: QtBot) -> None:
    fake.answers(b"W\r", line("ST", 1234))
    setting = replace(setting_of(fake), asking=Asking.ASKED, command="W\\r", every_ms=100)
    port.open(setting)
    wait_for(qtbot, port, State.STEADY, 1234)
    assert not port.asked_by_tap


def test_a_scale_that_is_asked_at_a_tap_says_nothing_before(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    fake.answers(b"\x05", line("US", 1200), *[line("ST", 1234)] * 9)
    setting = replace(setting_of(fake), asking=Asking.TAP, command="\\x05", every_ms=100)
    port.open(setting)
    assert port.asked_by_tap
    wait_for(qtbot, port, State.WAITING)
    with qtbot.assertNotEmitted(port.reading, wait=400):
        pass
    port.request()
    wait_for(qtbot, port, State.STEADY, 1234)


@pytest.mark.parametrize("rate", [20, 200])
def test_however_fast_it_sends_the_newest_weight_wins(
    fake: FakeScale, port: ScalePort, qtbot: QtBot, rate: int
) -> None:
    """The last of many numbers is told within a moment, and the loop was told rarely."""
    told: list[tuple[float, LiveWeight]] = []
    port.reading.connect(lambda live: told.append((monotonic(), live)))
    fake.rate(rate)
    fake.repeats(*(line("US", grams) for grams in range(1000, 1200)))
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.UNSTEADY)
    began = monotonic()
    qtbot.waitUntil(lambda: monotonic() - began > 1, timeout=LONG)
    in_that_second = [live for at, live in told if began <= at <= began + 1]
    assert 5 < len(in_that_second) <= 21
    fake.steady(3000)
    sent = monotonic()
    wait_for(qtbot, port, State.STEADY, 3000)
    assert monotonic() - sent < 1


def test_a_window_that_was_busy_weighs_no_old_number(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    """Nothing turned the loop meanwhile, and still the weight is judged at the tap."""
    fake.steady(4386)
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.STEADY)
    fake.silence()
    deadline = monotonic() + 4
    while port.live.weighable and monotonic() < deadline:
        fake.silence()  # a call to the other process, not a turn of our loop
    assert not port.live.weighable
    assert port.live.grams is None


def test_closing_lets_go_of_the_port_and_of_the_thread(
    fake: FakeScale, port: ScalePort, qtbot: QtBot
) -> None:
    before = active_count()
    fake.steady(100)
    port.open(setting_of(fake))
    wait_for(qtbot, port, State.STEADY)
    port.close()
    assert port.live.state is State.NONE
    assert active_count() == before
    with serial.Serial(str(fake.port), exclusive=True, timeout=2) as other:
        assert other.read(4)
    assert not any(timer.isActive() for timer in port.findChildren(QTimer))


def test_reasons_are_told_in_sentences() -> None:
    assert "no port /dev/x" in why(FileNotFoundError(2, "gone"), "/dev/x")
    assert "group" in why(PermissionError(13, "no"), "/dev/x")
    assert "Another program" in why(BlockingIOError(11, "busy"), "/dev/x")
    assert why(ValueError("odd"), "/dev/x") == "The port /dev/x does not open."


def test_the_ports_of_this_machine_have_names() -> None:
    assert all(port.name for port in serial_ports())
