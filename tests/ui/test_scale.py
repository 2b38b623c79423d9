"""The scale under Setup: tried at once, kept by a tap, put back on the way out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QScrollArea
from pytestqt.qtbot import QtBot

from gambrel.devices import serial_scale
from gambrel.devices.serial_scale import PortName
from gambrel.domain.bench.scale_setting import NO_SCALE, ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book
from gambrel.services.scales import SCALE, keep_scale, scale_of
from gambrel.services.settings import keep_setting
from gambrel.ui.app import PLACES, open_scale
from gambrel.ui.context import Context
from gambrel.ui.scale.section import ScaleSection
from gambrel.ui.setup.place import SECTIONS, SectionEntry, SetupPlace
from gambrel.ui.shell import Shell
from gambrel.ui.theme import Meaning
from tests.fake_scale import FakeScale, line
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, told, too_small

LEFT = Qt.MouseButton.LeftButton
SIZES = ((1280, 736), (1024, 536), (1920, 1016))
STATION = "test station"
SCALE_ONLY = tuple(entry for entry in SECTIONS if entry.key == "scale")


@pytest.fixture(autouse=True)
def ports(monkeypatch: pytest.MonkeyPatch) -> list[PortName]:
    """The ports that this machine has, as far as the page can tell."""
    found = [PortName("COM3", "USB serial"), PortName("COM4", "")]
    monkeypatch.setattr(serial_scale, "serial_ports", lambda: list(found))
    return found


@pytest.fixture
def fake(tmp_path: Path) -> Iterator[FakeScale]:
    with FakeScale(tmp_path) as scale:
        yield scale


@pytest.fixture
def context(demo: Book, context_of: Callable[[Book], Context]) -> Iterator[Context]:
    made = context_of(demo)
    yield made
    made.scale.close()


@pytest.fixture
def place(context: Context, qtbot: QtBot) -> SetupPlace:
    made = SetupPlace(context, SCALE_ONLY)
    qtbot.addWidget(made)
    made.resize(1280, 736)
    made.show()
    made.activateWindow()
    qtbot.waitActive(made)
    made.open_item("scale")
    return made


def section(place: SetupPlace) -> ScaleSection:
    found = place.section
    if not isinstance(found, ScaleSection):
        place.open_item("scale")
        found = place.section
    assert isinstance(found, ScaleSection)
    return found


def choose(place: SetupPlace, name: str, key: str, qtbot: QtBot) -> None:
    """Tap a choice of the form, scrolled to where it can be seen."""
    view = section(place).view
    button = view.form.chips[name].buttons[key]
    (area,) = view.findChildren(QScrollArea)
    area.ensureWidgetVisible(button)
    qtbot.mouseClick(button, LEFT)


def wait_for(context: Context, qtbot: QtBot, state: WeightState) -> None:
    """Wait until the scale tells this."""

    def fits(live: LiveWeight) -> bool:
        return live.state is state

    if not fits(context.scale.live):
        with qtbot.waitSignal(context.scale.reading, timeout=8000, check_params_cb=fits):
            pass


def unreached(place: SetupPlace) -> list[str]:
    """Controls that neither Tab comes to, nor the arrow keys from their neighbours."""
    form = section(place).view.form
    led_to = {
        told(button)
        for chips in form.chips.values()
        for button in chips.buttons.values()
        if any(each.focusPolicy() & Qt.FocusPolicy.TabFocus for each in chips.buttons.values())
    }
    return [each for each in out_of_reach(place) if each not in led_to]


def test_without_a_scale_it_says_so(place: SetupPlace) -> None:
    view = section(place).view
    assert place.tabs.isHidden()  # there is one section, so there is nothing to choose
    assert view.sentence.text() == "No scale is set up. Type the weight."
    assert view.chip.text == "no scale"
    assert view.counts.text() == "Nothing has come yet."
    assert view.told.text() == "Kept for this station."
    assert not view.keep.isEnabled()
    assert view.leave.isHidden()


def test_without_a_scale_the_page_says_what_to_do_next(place: SetupPlace, qtbot: QtBot) -> None:
    view = section(place).view
    assert view.empty.isVisible()
    assert not view.lines.isVisible()
    steps = [each.text() for each in view.empty.findChildren(QLabel) if each.text()[:1].isdigit()]
    assert [step[0] for step in steps] == ["1", "2", "3", "4"]
    choose(place, "kind", ScaleKind.SERIAL, qtbot)
    assert view.lines.isVisible()
    assert not view.empty.isVisible()


def test_a_scale_is_tried_seen_and_kept(
    place: SetupPlace, context: Context, demo: Book, fake: FakeScale, qtbot: QtBot
) -> None:
    fake.repeats(line("ST", 4386), line("ST", 4386), b"?\r\n", line("ST", 4386))
    view = section(place).view
    choose(place, "kind", "serial", qtbot)
    assert view.problem.sentence.startswith("No port is chosen")
    field = view.form.texts["port"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, str(fake.port))
    wait_for(context, qtbot, WeightState.STEADY)
    qtbot.waitUntil(lambda: any(not each.good for each in view.lines.lines), timeout=5000)
    assert view.figure.value == "4.386"
    assert view.chip.text == "steady"
    assert "‹CR›‹LF›" in view.stream.text()
    good = next(each for each in view.lines.lines if each.good)
    assert good.text == "ST,GS,+   4.386 kg"
    assert good.words == "4386 g, steady, sent in kg"
    assert good.hex.startswith("53 54 2C")
    assert scale_of(demo, STATION) == NO_SCALE  # tried is not kept
    qtbot.mouseClick(view.keep, LEFT)
    kept = scale_of(demo, STATION)
    assert (kept.kind, kept.port) == (ScaleKind.SERIAL, str(fake.port))
    assert view.told.text() == "Kept for this station."
    assert context.scale.live.weighable  # keeping what is open does not open it again


def test_leaving_the_page_puts_back_what_is_kept(context: Context, qtbot: QtBot) -> None:
    shell = Shell(context.theme, PLACES)
    qtbot.addWidget(shell)
    shell.show()
    shell.show_book(context, "Test bench")
    shell.go("setup", "scale")
    place = shell.place("setup")
    assert isinstance(place, SetupPlace)
    section(place).change("kind", "typed")
    qtbot.waitUntil(lambda: context.scale.setting.kind is ScaleKind.TYPED)
    shell.go("rail")
    assert context.scale.setting == NO_SCALE
    shell.go("setup", "scale")
    assert section(place).view.told.text() == "Kept for this station."
    section(place).change("kind", "typed")
    qtbot.waitUntil(lambda: context.scale.setting.kind is ScaleKind.TYPED)
    open_scale(shell, context)
    section(place).change("kind", "typed")
    shell.close()  # closing lets go of the scale, and nothing opens it again
    assert context.scale.setting == NO_SCALE


def test_put_back_forgets_the_changes(place: SetupPlace, context: Context, qtbot: QtBot) -> None:
    view = section(place).view
    choose(place, "kind", "typed", qtbot)
    qtbot.waitUntil(lambda: context.scale.setting.kind is ScaleKind.TYPED)
    assert view.form.texts["pattern"].isVisible()
    qtbot.mouseClick(view.leave, LEFT)
    assert context.scale.setting == NO_SCALE
    assert not view.form.texts["pattern"].isVisible()
    assert view.leave.isHidden()


def test_a_wrong_pattern_is_told_in_place_and_not_tried(
    place: SetupPlace, context: Context, demo: Book, qtbot: QtBot
) -> None:
    view = section(place).view
    choose(place, "kind", "typed", qtbot)
    qtbot.waitUntil(lambda: context.scale.setting.kind is ScaleKind.TYPED)
    before = context.scale.setting
    section(place).change("pattern", "{flag}")
    assert view.problem.meaning is Meaning.WATCH
    assert "no number" in view.problem.sentence
    assert not view.keep.isEnabled()
    with qtbot.waitSignal(section(place)._soon.timeout):
        pass
    assert context.scale.setting == before
    section(place).keep()
    assert scale_of(demo, STATION) == NO_SCALE


def test_the_ports_of_the_machine_are_offered_and_looked_for_again(
    place: SetupPlace, ports: list[PortName], qtbot: QtBot
) -> None:
    view = section(place).view
    choose(place, "kind", "serial", qtbot)
    assert list(view.form.chips["found_port"].buttons) == ["COM3", "COM4"]
    choose(place, "found_port", "COM4", qtbot)
    assert view.form.texts["port"].text() == "COM4"
    ports.clear()
    (area,) = view.findChildren(QScrollArea)
    area.ensureWidgetVisible(view.form.look_again)
    qtbot.mouseClick(view.form.look_again, LEFT)
    assert view.form.no_port.isVisible()


def test_ports_that_cannot_be_listed_are_no_end(
    context: Context, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    def fail() -> list[PortName]:
        raise OSError("no such folder")

    monkeypatch.setattr(serial_scale, "serial_ports", fail)
    made = ScaleSection(context)
    qtbot.addWidget(made)
    made.refresh()
    assert "could not be listed (no such folder)" in made.view.problem.sentence


def test_a_scale_that_is_asked_at_a_tap_has_a_button_for_it(
    context: Context, demo: Book, fake: FakeScale, qtbot: QtBot
) -> None:
    fake.answers(b"W\r", line("ST", 250))
    made = ScaleSection(context)
    qtbot.addWidget(made)
    made.resize(1280, 640)
    made.show()
    made.refresh()
    for name, value in (
        ("kind", "serial"),
        ("port", str(fake.port)),
        ("asking", "tap"),
        ("command", "W\\r"),
    ):
        made.change(name, value)
    wait_for(context, qtbot, WeightState.WAITING)
    assert made.view.ask.isVisible()
    qtbot.mouseClick(made.view.ask, LEFT)
    wait_for(context, qtbot, WeightState.STEADY)
    assert made.view.figure.value == "0.250"


def test_the_words_for_zero_are_kept_for_the_station(
    context: Context, demo: Book, fake: FakeScale, qtbot: QtBot
) -> None:
    made = ScaleSection(context)
    qtbot.addWidget(made)
    made.resize(1280, 640)
    made.show()
    made.refresh()
    for name, value in (("kind", "serial"), ("port", str(fake.port))):
        made.change(name, value)
    field = made.view.form.texts["zero"]
    assert field.isVisible()
    qtbot.keyClicks(field, "Z\\q")
    assert "backslash" in made.view.problem.sentence
    field.clear()
    qtbot.keyClicks(field, "Z\\r\\n")
    qtbot.mouseClick(made.view.keep, LEFT)
    assert scale_of(demo, STATION).zeroes == b"Z\r\n"


def test_what_was_spoilt_in_the_book_is_told_and_can_be_set_again(
    context: Context, demo: Book, qtbot: QtBot
) -> None:
    keep_setting(demo, SCALE + STATION, "?")
    made = ScaleSection(context)
    qtbot.addWidget(made)
    made.refresh()
    assert "Set the scale up again" in made.view.problem.sentence
    assert made.view.keep.isEnabled()
    qtbot.mouseClick(made.view.keep, LEFT)
    assert scale_of(demo, STATION) == NO_SCALE
    assert made.view.problem.sentence == ""


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", ["none", "serial", "typed"])
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, context: Context, size: tuple[int, int], kind: str, qtbot: QtBot
) -> None:
    made = section(place)
    made.change("kind", kind)
    made.change("port", "COM3")
    made.change("asking", "asked")
    place.resize(*size)
    qtbot.waitUntil(lambda: place.width() == size[0])
    qtbot.waitUntil(lambda: not outside(place) and not cut_labels(place))  # it is laid out later
    assert nameless(place) == []
    assert unreached(place) == []
    assert too_small(place, 44) == []


def test_it_is_walked_by_the_keyboard_in_the_order_of_the_eye(
    place: SetupPlace, qtbot: QtBot
) -> None:
    """Arrow keys choose among neighbours, Tab goes to the next question."""
    form = section(place).view.form
    kinds = form.chips["kind"].buttons
    kinds["none"].setFocus()
    for key in ("serial", "typed"):
        qtbot.keyClick(place.focusWidget(), Qt.Key.Key_Down)
        assert place.focusWidget() is kinds[key]
        assert kinds[key].isChecked()
    assert section(place).view.told.text() == "Tried now, not kept yet."
    qtbot.keyClick(place.focusWidget(), Qt.Key.Key_Tab)
    assert place.focusWidget() is form.chips["shape"].buttons["any"]


def test_it_says_that_selling_needs_a_verified_instrument(place: SetupPlace) -> None:
    labels = [each for each in place.findChildren(QLabel) if "verified instrument" in each.text()]
    assert sum(each.isVisible() for each in labels) == 1


def test_more_sections_have_tabs(context: Context, qtbot: QtBot) -> None:
    (scale,) = SCALE_ONLY
    twice = (scale, SectionEntry("again", "Again", scale.module, scale.name))
    made = SetupPlace(context, twice)
    qtbot.addWidget(made)
    made.show()
    made.refresh()
    first = made.section
    qtbot.mouseClick(made.tabs.buttons["again"], LEFT)
    again = made.section
    assert again is not first
    made.open_item("nowhere")
    assert made.section is again
    assert made.tabs.buttons["again"].isChecked()


# --- The window ---


def test_the_window_listens_to_what_the_station_keeps(
    context: Context, demo: Book, fake: FakeScale, qtbot: QtBot
) -> None:
    fake.steady(1500)
    keep_scale(demo, STATION, ScaleSetting(kind=ScaleKind.SERIAL, port=str(fake.port)))
    shell = Shell(context.theme, PLACES)
    qtbot.addWidget(shell)
    shell.show()
    open_scale(shell, context)
    wait_for(context, qtbot, WeightState.STEADY)
    shell.close()
    assert context.scale.live.state is WeightState.NONE


def test_a_setting_that_cannot_be_read_is_told_and_weights_are_typed(
    context: Context, demo: Book, qtbot: QtBot
) -> None:
    keep_setting(demo, SCALE + STATION, "{}")
    with pytest.raises(Refusal):
        scale_of(demo, STATION)
    shell = Shell(context.theme, PLACES)
    qtbot.addWidget(shell)
    shell.show()
    open_scale(shell, context)
    assert "type the weights" in shell.banner.sentence
    assert context.scale.live.state is WeightState.NONE
