"""The kit: named, reachable, large enough, and its text in one piece."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QAccessible, QFontMetricsF, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from gambrel import assets
from gambrel.domain.drawing.bodymap import BodyMap
from gambrel.domain.drawing.bodymap_reader import read_map
from gambrel.domain.drawing.lines import spark_points
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.balance_bar import BalanceBar, Segment
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.body_map import SLOP, BodyMapView
from gambrel.ui.widgets.button import ActionButton, BigButton, Button, Role
from gambrel.ui.widgets.chip import Chip
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.keypad import NARROW, WIDE, Keypad
from gambrel.ui.widgets.map_drawing import painter_path
from gambrel.ui.widgets.painting import SMALLEST_TEXT, fit
from gambrel.ui.widgets.table import Column, ReadTable

LEFT = Qt.MouseButton.LeftButton
WORDS = st.lists(st.text("abcdefgilmW", min_size=1, max_size=14), min_size=1, max_size=6)


def spoken(widget: QWidget) -> str:
    """The name that a screen reader gets."""
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)


@given(WORDS, st.integers(20, 400), st.integers(16, 120), st.integers(16, 40))
def test_fitted_text_is_whole_or_says_that_it_is_not(
    qapp: object, words: list[str], width: int, height: int, size: int
) -> None:
    theme = Theme()
    text = " ".join(words)
    fitted = fit(text, theme.font(size), width, height)
    metrics = QFontMetricsF(fitted.font)
    assert SMALLEST_TEXT <= fitted.font.pixelSize() <= size
    if fitted.whole:
        assert " ".join(fitted.lines) == text
        assert all(metrics.horizontalAdvance(line) <= width for line in fitted.lines)
    else:
        assert fitted.font.pixelSize() == SMALLEST_TEXT
        assert fitted.lines[-1].endswith("…")


def test_a_button_is_named_by_what_stands_on_it(dressed: Theme, qtbot: QtBot) -> None:
    button = BigButton(dressed, "Undo", caption="Rump 4.112")
    qtbot.addWidget(button)
    assert spoken(button) == "Undo, Rump 4.112"
    button.say("Undo", "Bone 2.310")
    assert spoken(button) == "Undo, Bone 2.310"


@pytest.mark.parametrize(
    ("kind", "key", "least"),
    [(BigButton, True, 118), (BigButton, False, 88), (ActionButton, None, 44)],
)
def test_buttons_are_never_smaller_than_their_place_asks(
    dressed: Theme, qtbot: QtBot, kind: type[Button], key: bool | None, least: int
) -> None:
    button = kind(dressed, "A") if key is None else BigButton(dressed, "A", key=key)
    qtbot.addWidget(button)
    button.show()
    button.resize(1, 1)
    assert button.width() >= least
    assert button.height() >= least


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_a_button_is_pressed_by_the_keyboard(dressed: Theme, qtbot: QtBot, key: Qt.Key) -> None:
    button = Button(dressed, "Go")
    qtbot.addWidget(button)
    with qtbot.waitSignal(button.clicked):
        qtbot.keyClick(button, key)
    button.setEnabled(False)
    with qtbot.assertNotEmitted(button.clicked):
        button.click()


@pytest.mark.parametrize("role", list(Role))
def test_each_state_of_a_button_looks_different(dressed: Theme, qtbot: QtBot, role: Role) -> None:
    button = Button(dressed, "Go", role=role)
    qtbot.addWidget(button)
    button.resize(120, 60)
    seen = [button.grab().toImage()]
    button.setDown(True)
    seen.append(button.grab().toImage())
    button.setDown(False)
    button.setEnabled(False)
    seen.append(button.grab().toImage())
    assert seen[0] != seen[1]
    assert seen[0] != seen[2]


def test_text_that_has_no_room_is_told_by_the_tool_tip(dressed: Theme, qtbot: QtBot) -> None:
    button = Button(dressed, "Donaudampfschifffahrtsgesellschaft")
    qtbot.addWidget(button)
    button.resize(90, 60)
    button.grab()
    assert button.toolTip() == "Donaudampfschifffahrtsgesellschaft"


@pytest.mark.parametrize("rows", [WIDE, NARROW])
def test_the_keypad_types_by_touch(dressed: Theme, qtbot: QtBot, rows: tuple[str, ...]) -> None:
    pad = Keypad(dressed, rows=rows)
    qtbot.addWidget(pad)
    pad.show()
    heard: list[str] = []
    pad.text_changed.connect(heard.append)
    touch = QTest.createTouchDevice()
    window = pad.windowHandle()
    for key in "4.3<8":
        place = pad.keys[key].mapTo(pad, pad.keys[key].rect().center())
        QTest.touchEvent(window, touch).press(0, place, window).commit()
        QTest.touchEvent(window, touch).release(0, place, window).commit()
    assert pad.text == "4.8"
    assert heard == ["4", "4.", "4.3", "4.", "4.8"]
    assert all(key.focusPolicy() == Qt.FocusPolicy.NoFocus for key in pad.keys.values())
    assert {spoken(key) for key in pad.keys.values()} == {
        *"0123456789",
        "Backspace",
        "Decimal point",
    }


def test_the_keypad_takes_digits_of_a_keyboard_and_leaves_the_rest(
    dressed: Theme, qtbot: QtBot
) -> None:
    pad = Keypad(dressed)
    none, control = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier

    def takes(key: Qt.Key, text: str, held: Qt.KeyboardModifier = none) -> bool:
        return pad.handle_key(QKeyEvent(QEvent.Type.KeyPress, key, held, text))

    assert takes(Qt.Key.Key_4, "4", Qt.KeyboardModifier.KeypadModifier)
    assert takes(Qt.Key.Key_Comma, ",")
    assert takes(Qt.Key.Key_5, "5")
    assert takes(Qt.Key.Key_Backspace, "\b")
    assert not takes(Qt.Key.Key_Z, "z")
    assert not takes(Qt.Key.Key_1, "1", control)
    assert not takes(Qt.Key.Key_Return, "\r")
    assert pad.text == "4."


def test_a_banner_says_its_meaning_in_a_word_and_goes_when_it_is_closed(
    dressed: Theme, qtbot: QtBot
) -> None:
    banner = Banner(dressed)
    qtbot.addWidget(banner)
    assert banner.isHidden()
    banner.say(Meaning.WATCH, "Heavier than what is left.", action="Weigh in anyway")
    assert spoken(banner) == "Look again: Heavier than what is left."
    assert not banner.action.isHidden()
    with qtbot.waitSignal(banner.acted):
        qtbot.mouseClick(banner.action, LEFT)
    with qtbot.waitSignal(banner.dismissed):
        qtbot.mouseClick(banner.close_button, LEFT)
    assert banner.sentence == ""
    assert banner.isHidden()


def test_an_empty_state_offers_its_action(dressed: Theme, qtbot: QtBot) -> None:
    state = EmptyState(dressed, "beef", "Nothing hangs.", "Receive a body")
    qtbot.addWidget(state)
    with qtbot.waitSignal(state.acted):
        qtbot.keyClick(state.action, Qt.Key.Key_Return)
    assert spoken(state) == "Nothing hangs."


def test_a_figure_is_read_with_caption_and_unit(dressed: Theme, qtbot: QtBot) -> None:
    figure = Figure(dressed, "weight now", "kg")
    qtbot.addWidget(figure)
    figure.show_value("82.40", meaning=Meaning.WATCH)
    assert spoken(figure) == "weight now 82.40 kg watch"


def test_a_chip_has_no_size_without_words(dressed: Theme, qtbot: QtBot) -> None:
    chip = Chip(dressed)
    qtbot.addWidget(chip)
    assert chip.sizeHint().width() == 0
    chip.show_text(Meaning.STOP, "2 days over")
    assert chip.sizeHint().width() > 100
    assert spoken(chip) == "2 days over"


def test_a_balance_bar_tells_every_part(dressed: Theme, qtbot: QtBot) -> None:
    bar = BalanceBar(dressed, legend=True)
    qtbot.addWidget(bar)
    bar.resize(400, bar.sizeHint().height())
    bar.show_balance(
        [Segment("Tray", "19.7", 19_700, "tray"), Segment("Waste", "0.2", 200, "waste")], 40_000
    )
    assert spoken(bar) == "Tray 19.7, Waste 0.2"
    assert [span.inside for span in bar.spans()] == [True, False]
    assert [label.segment.name for label in bar.outside()] == ["Waste"]


@given(st.lists(st.one_of(st.none(), st.integers(-10_000, 10_000)), max_size=12))
def test_a_spark_line_keeps_to_its_box_and_skips_what_is_missing(values: list[int | None]) -> None:
    lines = spark_points(values, 100, 20)
    assert sum(map(len, lines)) == sum(value is not None for value in values)
    assert all(0 <= x <= 100 and 0 <= y <= 20 for line in lines for x, y in line)


def test_a_spark_line_puts_the_highest_at_the_top() -> None:
    assert spark_points([Decimal(1), Decimal(3)], 100, 20) == [[(0.0, 20.0), (100.0, 0.0)]]
    assert spark_points([5, 5, 5], 100, 20)[0][1] == (50.0, 10.0)


# --- The body map ---


@pytest.fixture(scope="module")
def hindquarter() -> BodyMap:
    return read_map(assets.text("maps/beef-hindquarter.toml"))


@pytest.fixture
def map_view(dressed: Theme, hindquarter: BodyMap, qtbot: QtBot) -> BodyMapView:
    view = BodyMapView(dressed)
    qtbot.addWidget(view)
    view.resize(756, 232)
    view.show_map(hindquarter)
    view.show()
    return view


def test_a_tap_on_a_regions_name_chooses_that_region(
    map_view: BodyMapView, hindquarter: BodyMap, qtbot: QtBot
) -> None:
    for region in hindquarter.regions:
        with qtbot.waitSignal(map_view.region_chosen) as told:
            qtbot.mouseClick(map_view, LEFT, pos=map_view.middle_of(region.region).toPoint())
        assert told.args == [region.region]


def test_a_finger_that_just_misses_still_means_the_nearest_region(
    map_view: BodyMapView, hindquarter: BodyMap
) -> None:
    rightmost = max(
        (map_view.middle_of(region.region).x(), region.region) for region in hindquarter.regions
    )[1]
    middle = map_view.middle_of(rightmost)
    outline = painter_path(hindquarter.outline)
    scale = min(736 / hindquarter.width, 212 / hindquarter.height)
    edge = 378 + (outline.boundingRect().right() - hindquarter.width / 2) * scale
    hit = [
        x
        for x in range(int(middle.x()), 756)
        if map_view.region_at(QPointF(x, middle.y())) is not None
    ]
    assert edge - 5 < max(hit) <= edge + SLOP
    assert hit == list(range(hit[0], hit[-1] + 1))


def test_the_map_is_used_by_the_keyboard_alone(
    map_view: BodyMapView, hindquarter: BodyMap, qtbot: QtBot
) -> None:
    """Arrows reach every region, and Enter chooses the one that is reached."""
    reached = set()
    qtbot.keyClick(map_view, Qt.Key.Key_Right)
    start = map_view
    frontier: list[list[Qt.Key]] = [[]]
    arrows = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)
    while frontier:
        path = frontier.pop(0)
        start.show_state({}, hindquarter.regions[0].region)
        for key in path:
            qtbot.keyClick(start, key)
        with qtbot.waitSignal(start.region_chosen) as told:
            qtbot.keyClick(start, Qt.Key.Key_Return)
        if told.args[0] not in reached:
            reached.add(told.args[0])
            frontier += [[*path, arrow] for arrow in arrows]
    assert reached == {region.region for region in hindquarter.regions}


def test_a_region_fills_from_below_as_its_cut_is_weighed(
    map_view: BodyMapView, dressed: Theme
) -> None:
    weighed = dressed.colour("weighed").name()

    def filled(part: float) -> int:
        map_view.show_state({"rump": part})
        image = map_view.grab().toImage()
        points = ((x, y) for x in range(0, image.width(), 4) for y in range(image.height()))
        return sum(image.pixelColor(x, y).name() == weighed for x, y in points)

    nothing, half, whole, over = (filled(part) for part in (0, 0.5, 1, 1.7))
    assert nothing == 0
    assert 0 < half < whole
    assert over == whole


def test_the_map_tells_a_screen_reader_what_is_chosen(map_view: BodyMapView) -> None:
    map_view.show_state({"rump": 0.9}, "rump", {"rump": "Rump, 4.11 of 4.60 kg"})
    assert spoken(map_view) == "Body map, Rump, 4.11 of 4.60 kg"


def test_without_a_map_nothing_is_drawn_and_nothing_chosen(dressed: Theme, qtbot: QtBot) -> None:
    view = BodyMapView(dressed)
    qtbot.addWidget(view)
    view.show_map(None)
    with qtbot.assertNotEmitted(view.region_chosen):
        qtbot.mouseClick(view, LEFT)
        qtbot.keyClick(view, Qt.Key.Key_Right)
        qtbot.keyClick(view, Qt.Key.Key_Return)


def test_tab_leaves_a_table(dressed: Theme, qtbot: QtBot) -> None:
    table = ReadTable(dressed, "Bodies", [Column("Name", words=True), Column("kg")])
    table.show_rows([["Side 4", "1"], ["Side 5", "2"]])
    qtbot.addWidget(table)
    assert not table.tabKeyNavigation()
