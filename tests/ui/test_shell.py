"""The window: places, keys, looks, and what it says when something is wrong."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QImage, QMouseEvent, QPointingDevice
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book, open_book
from gambrel.services.settings import read_setting
from gambrel.ui import app as application
from gambrel.ui.app import DARK, PLACES, fill, first_size, now, station
from gambrel.ui.context import Context
from gambrel.ui.pictures import save_pictures
from gambrel.ui.place import Place
from gambrel.ui.setup.place import SECTIONS
from gambrel.ui.shell import PlaceEntry, Shell
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.button import Button
from gambrel.ui.widgets.empty import EmptyState
from tests.demo_book import load_demo

LEFT = Qt.MouseButton.LeftButton


class OnePlace(Place):
    """Counts what the shell asks of it."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.title = "One"
        self.refreshed = 0
        self.opened: list[str] = []
        self.refusing = False

    def refresh(self) -> None:
        self.refreshed += 1
        if self.refusing:
            raise Refusal("The book is locked. Try again.")

    def open_item(self, key: str) -> None:
        self.opened.append(key)


class WholePlace(OnePlace):
    whole_window = True


ENTRIES = (
    PlaceEntry("one", "One", "beef", OnePlace),
    PlaceEntry("whole", "Whole", "scale", WholePlace),
)


@pytest.fixture
def shell(dressed: Theme, demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot) -> Shell:
    made = Shell(dressed, ENTRIES)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    made.show_book(context_of(demo), "Test bench")
    return made


def place_of(shell: Shell, key: str) -> OnePlace:
    place = shell.place(key)
    assert isinstance(place, OnePlace)
    return place


def test_the_first_place_is_shown_and_read(shell: Shell) -> None:
    assert shell.current == "one"
    assert place_of(shell, "one").isVisible()
    assert place_of(shell, "one").refreshed == 1
    assert shell.windowTitle() == "One · Test bench · Gambrel"


def test_places_are_reached_by_touch(shell: Shell) -> None:
    touch, window = QTest.createTouchDevice(), shell.windowHandle()
    button = shell.bar.places["whole"]
    spot = button.mapTo(shell, button.rect().center())
    QTest.touchEvent(window, touch).press(0, spot, window).commit()
    QTest.touchEvent(window, touch).release(0, spot, window).commit()
    assert shell.current == "whole"
    assert place_of(shell, "whole").isVisible()


def test_places_are_reached_by_the_keyboard(shell: Shell, qtbot: QtBot) -> None:
    shell.activateWindow()
    qtbot.waitActive(shell)
    qtbot.keyClick(shell, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    assert shell.current == "whole"
    qtbot.keyClick(shell, Qt.Key.Key_1, Qt.KeyboardModifier.ControlModifier)
    assert shell.current == "one"


def test_a_place_with_its_own_top_line_has_the_whole_window(shell: Shell) -> None:
    shell.go("whole")
    assert shell.bar.isHidden()
    assert place_of(shell, "whole").height() == shell.height()
    place_of(shell, "whole").go.emit("one", "HQ-17")
    assert not shell.bar.isHidden()
    assert place_of(shell, "one").opened == ["HQ-17"]


def test_a_place_is_made_once_and_read_each_time_it_comes_up(shell: Shell) -> None:
    place = place_of(shell, "one")
    shell.go("whole")
    shell.go("one")
    assert shell.place("one") is place
    assert place.refreshed == 2


def test_what_is_told_reaches_the_place_that_is_shown(
    dressed: Theme, demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot
) -> None:
    context = context_of(demo)
    shell = Shell(dressed, ENTRIES)
    qtbot.addWidget(shell)
    shell.show_book(context, "Test bench")
    shell.go("whole")
    context.changes.tell("pieces")
    assert place_of(shell, "whole").refreshed == 2
    assert place_of(shell, "one").refreshed == 1


def test_an_unknown_place_changes_nothing(shell: Shell) -> None:
    shell.go("nowhere")
    assert shell.current == "one"


def test_a_refusal_is_said_across_the_window(shell: Shell, qtbot: QtBot) -> None:
    place = place_of(shell, "one")
    place.refusing = True
    shell.go("one")
    assert shell.banner.meaning is Meaning.STOP
    assert shell.banner.sentence == "The book is locked. Try again."
    qtbot.mouseClick(shell.banner.close_button, LEFT)
    assert shell.banner.isHidden()


def test_light_and_dark_change_by_touch_and_by_keyboard(shell: Shell, qtbot: QtBot) -> None:
    chosen: list[bool] = []
    shell.dark_chosen.connect(chosen.append)
    qtbot.mouseClick(shell.bar.dark_button, LEFT)
    after_touch = shell.theme.is_dark
    shell.activateWindow()
    qtbot.waitActive(shell)
    qtbot.keyClick(shell, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert (after_touch, shell.theme.is_dark) == (True, False)
    assert chosen == [True, False]


def test_before_the_book_is_open_the_bar_does_nothing(dressed: Theme, qtbot: QtBot) -> None:
    shell = Shell(dressed, ENTRIES)
    qtbot.addWidget(shell)
    shell.go("one")
    assert shell.current == ""
    assert not shell.bar.isEnabled()
    with pytest.raises(KeyError):
        shell.place("one")


# --- Opening ---


def test_a_book_is_opened_with_the_look_and_the_place_that_were_kept(
    dressed: Theme, tmp_path: Path, qtbot: QtBot
) -> None:
    where = str(load_demo(tmp_path / "demo.gambrel"))
    shell = Shell(dressed, ENTRIES)
    qtbot.addWidget(shell)
    fill(shell, where, now)
    assert shell.bar.shop.text() == "Apron Street Butchers (demo)"
    assert shell.current == "one"
    shell.toggle_dark()
    shell.go("whole")
    shell.close()
    dressed.set_dark(False)
    again = Shell(dressed, ENTRIES)
    qtbot.addWidget(again)
    fill(again, where, now)
    assert dressed.is_dark
    assert again.current == "whole"  # a sudden stop comes back to where the work was
    again.close()
    with open_book(where) as book:
        assert read_setting(book, DARK + station()) == "yes"


def test_a_book_that_cannot_be_opened_is_told_and_tried_again(
    dressed: Theme, tmp_path: Path, qtbot: QtBot
) -> None:
    where = tmp_path / "notes.gambrel"
    where.write_text("not a book")
    shell = Shell(dressed, ENTRIES)
    qtbot.addWidget(shell)
    application.open_in(shell, str(where), now)
    (page,) = shell.findChildren(EmptyState)
    assert "notes.gambrel" in page.sentence.text()
    where.unlink()
    load_demo(where)
    qtbot.mouseClick(page.action, LEFT)
    assert shell.current == "one"
    shell.close()


def test_a_mistake_of_the_program_is_told_and_the_window_stays(
    shell: Shell, capsys: pytest.CaptureFixture[str]
) -> None:
    hook = application.report_to(shell)
    try:
        raise ValueError("a slip")
    except ValueError as error:
        hook(ValueError, error, error.__traceback__)
    assert "What was weighed in is safe" in shell.banner.sentence
    assert "a slip" in capsys.readouterr().err
    hook(Refusal, Refusal("Weigh it again."), None)
    assert shell.banner.sentence == "Weigh it again."
    assert capsys.readouterr().err == ""  # it is no fault of the program


def test_the_window_runs_and_ends(
    qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    where = str(load_demo(tmp_path / "demo.gambrel"))
    seen: list[str] = []

    def look() -> None:
        (shell,) = [each for each in qapp.topLevelWidgets() if isinstance(each, Shell)]
        if not shell.current:
            QTimer.singleShot(10, look)
            return
        seen.append(shell.current)
        shell.close()
        shell.deleteLater()

    QTimer.singleShot(0, look)
    assert application.run(where) == 0
    assert seen == ["rail"]


def test_the_first_size_never_leaves_the_screen(qapp: QApplication) -> None:
    room = qapp.primaryScreen().availableGeometry()
    assert room.contains(first_size(qapp))


# --- Pictures ---


@pytest.mark.slow  # the check draws them all by `gambrel demo --out`
def test_pictures_of_every_place_at_each_size_in_both_looks(tmp_path: Path, qtbot: QtBot) -> None:
    where = load_demo(tmp_path / "demo.gambrel")
    before = where.read_bytes()
    folder = tmp_path / "pictures"
    folder.mkdir()
    sizes = ((1280, 800), (1024, 600))
    saved = save_pictures(str(where), folder, sizes)
    assert len(saved) == len(PLACES) * len(sizes) * 2 == len(set(saved))
    for path in saved:
        size = path.stem.split("-")[1]
        image = QImage(str(path))
        assert f"{image.width()}x{image.height()}" == size
    names = ("rail-1280x800-light.png", "rail-1280x800-dark.png")
    light, dark = (QImage(str(folder / name)).pixelColor(4, 790) for name in names)
    assert light.lightness() > 200
    assert dark.lightness() < 60
    assert where.read_bytes() == before


def test_there_is_nothing_to_picture_without_a_shop(tmp_path: Path, qtbot: QtBot) -> None:
    where = tmp_path / "new.gambrel"
    open_book(str(where)).close()
    with pytest.raises(Refusal, match="no shop"):
        save_pictures(str(where), tmp_path)


def test_a_focused_button_is_seen(dressed: Theme, qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    button = Button(dressed, "Go")
    button.setParent(window)
    window.show()
    window.activateWindow()
    qtbot.waitActive(window)
    plain = button.grab().toImage()
    button.setFocus()
    qtbot.waitUntil(button.hasFocus)
    assert button.grab().toImage() != plain


def test_setup_stands_aside_and_the_meats_way_in_its_order(
    dressed: Theme, demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot
) -> None:
    made = Shell(dressed, PLACES)
    qtbot.addWidget(made)
    made.resize(1024, 600)
    made.show()
    made.show_book(context_of(demo), "Test bench, a shop with a name that is too long by half")
    lefts = {key: each.x() for key, each in made.bar.places.items()}
    assert sorted(lefts, key=lambda key: lefts[key]) == [
        "rail",
        "block",
        "tub",
        "cabinet",
        "week",
        "setup",
    ]
    shop = made.bar.shop.geometry()
    assert made.bar.places["week"].geometry().right() <= shop.left()
    assert shop.right() <= lefts["setup"]
    assert made.bar.places["setup"].geometry().right() <= made.bar.dark_button.x()
    assert made.bar.dark_button.geometry().right() < made.bar.width()
    made.bar.shop.grab()  # painted, it tells in full what it had to cut
    assert made.bar.shop.toolTip().endswith("too long by half")


def test_no_place_makes_the_window_taller(
    dressed: Theme, demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot
) -> None:
    """Words that wrap ask for much more height before they know their width."""
    made = Shell(dressed, PLACES)
    qtbot.addWidget(made)
    made.resize(1024, 600)
    made.show()
    made.show_book(context_of(demo), "Test bench")
    for key in (entry.key for entry in PLACES):
        made.go(key)
        QApplication.processEvents()
        assert (made.width(), made.height()) == (1024, 600), key
    for section in SECTIONS:
        made.go("setup", section.key)
        QApplication.processEvents()
        assert (made.width(), made.height()) == (1024, 600), section.key


# --- A finger and a mouse ---


def tinted(button: Button) -> bool:
    """Whether the ground at a corner of a button is that of what a mouse rests on."""
    at = button.grab().toImage().pixelColor(2, 2)
    return at.name() == button.theme.colour("chosen").name()


def test_a_place_is_tinted_under_a_mouse_and_not_where_a_finger_was(
    dressed: Theme, qtbot: QtBot
) -> None:
    made = Shell(dressed, ENTRIES)
    qtbot.addWidget(made)
    made.show()
    made.bar.setEnabled(True)
    one, whole = made.bar.places["one"], made.bar.places["whole"]
    qtbot.mouseMove(one, QPoint(20, 20))
    qtbot.mouseMove(one, QPoint(24, 24))
    qtbot.waitUntil(lambda: tinted(one))
    qtbot.mouseMove(whole, QPoint(20, 20))
    qtbot.mouseMove(whole, QPoint(24, 24))
    qtbot.waitUntil(lambda: tinted(whole))
    assert not tinted(one)
    finger = QTest.createTouchDevice()
    QTest.touchEvent(made, finger).press(0, one.mapTo(made, QPoint(30, 30))).commit()
    qtbot.waitUntil(lambda: tinted(one))  # while it is pressed
    QTest.touchEvent(made, finger).release(0, one.mapTo(made, QPoint(30, 30))).commit()
    QApplication.processEvents()
    assert not tinted(one)
    told_as_mouse = QMouseEvent(
        QMouseEvent.Type.MouseMove,
        QPointF(30, 30),
        QPointF(30, 30),
        QPointF(30, 30),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.MouseEventSource.MouseEventSynthesizedBySystem,
        QPointingDevice.primaryPointingDevice(),
    )
    qtbot.mouseMove(whole, QPoint(20, 20))
    qtbot.waitUntil(lambda: tinted(whole))
    QApplication.sendEvent(whole, told_as_mouse)
    assert whole.underMouse()
    assert not tinted(whole)
