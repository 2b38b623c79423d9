"""The Book under Setup: where it is, backed up in a worker, checked, and how to go back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.domain.refusals import Refusal
from gambrel.services import backup as backups
from gambrel.services.backup import last_backup
from gambrel.services.books import Book, open_book
from gambrel.services.check import CheckReport
from gambrel.services.daily_copy import make_daily_copy
from gambrel.storage import engine
from gambrel.ui.book_care import RESTORED
from gambrel.ui.context import Context
from gambrel.ui.setup.book_section import BookSection
from gambrel.ui.setup.book_state import (
    MAY_BREAK,
    SAME_DISK,
    Busy,
)
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.theme import Meaning
from tests.ui.setup.hands import check_walk, tap

T = TypeVar("T")


class LaterTasks:
    """Holds the work until the test does it."""

    def __init__(self) -> None:
        self.held: list[Callable[[], None]] = []

    def run_task(
        self,
        work: Callable[[], T],
        done: Callable[[T], None],
        failed: Callable[[Exception], None],
    ) -> None:
        def job() -> None:
            try:
                value = work()
            except Refusal as error:
                failed(error)
            else:
                done(value)

        self.held.append(job)

    def do(self) -> None:
        self.held.pop(0)()


@pytest.fixture
def tasks() -> LaterTasks:
    return LaterTasks()


@pytest.fixture
def section(place: SetupPlace) -> BookSection:
    place.open_item("book")
    found = place.section
    assert isinstance(found, BookSection)
    return found


def plain(text: str) -> str:
    return text.replace(MAY_BREAK, "")


# --- The page ---


def test_a_backup_is_made_in_a_folder_that_is_chosen_once(
    section: BookSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    asked: list[str] = []

    def ask() -> str:
        asked.append("")
        return str(stick)

    section.ask_folder = ask
    tap(section.view.panel.back_up, qtbot)
    (file,) = stick.iterdir()
    told = section.view.told
    assert told.meaning is Meaning.FINE
    assert told.sentence == f"Backed up 23 bodies and 417 pieces in {file}."
    with open_book(str(file), read_only=True) as made:
        assert made.check() == []
    last = last_backup(demo)
    assert last is not None
    assert (last.file, last.station) == (str(file), "test station")
    assert plain(section.view.card.file.text()) == str(file)
    assert plain(section.view.panel.folder.text()) == str(stick)
    tap(section.view.panel.back_up, qtbot)
    assert len(list(stick.iterdir())) == 2
    assert asked == [""]


def test_where_no_folder_is_chosen_nothing_is_made(
    section: BookSection, demo: Book, qtbot: QtBot
) -> None:
    section.ask_folder = lambda: ""
    tap(section.view.panel.back_up, qtbot)
    assert last_backup(demo) is None
    assert section.view.told.sentence == ""
    assert section.view.panel.back_up.isEnabled()


def test_another_folder_is_kept_and_taken_back(
    section: BookSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    section.ask_folder = lambda: str(tmp_path)
    tap(section.view.panel.choose, qtbot)
    assert backups.backup_folder(demo, "test station") == tmp_path
    assert section.view.panel.same_disk.sentence == SAME_DISK
    tap(section.view.told.action, qtbot)
    assert backups.backup_folder(demo, "test station") is None
    assert section.view.panel.same_disk.sentence == ""


def test_a_folder_that_is_gone_is_told(
    section: BookSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    section.ask_folder = lambda: str(stick)
    section.choose_folder()
    stick.rmdir()
    tap(section.view.panel.back_up, qtbot)
    assert section.view.told.meaning is Meaning.STOP
    assert "There is no folder" in section.view.told.sentence
    assert last_backup(demo) is None
    assert section.view.panel.back_up.isEnabled()
    section.ask_folder = lambda: str(tmp_path / "none")
    tap(section.view.panel.choose, qtbot)
    assert section.view.told.meaning is Meaning.STOP


def test_while_one_is_made_no_other_is_begun(
    demo: Book,
    context_of: Callable[[Book], Context],
    tasks: LaterTasks,
    tmp_path: Path,
    qtbot: QtBot,
) -> None:
    context = replace(context_of(demo), tasks=tasks)
    section = BookSection(context)
    qtbot.addWidget(section)
    section.ask_folder = lambda: str(tmp_path)
    section.refresh()
    section.back_up()
    assert section.view.panel.back_up.text() == "Backing up …"
    assert not section.view.panel.check.isEnabled()
    section.back_up()
    section.check()
    assert len(tasks.held) == 1
    tasks.do()
    assert section.view.panel.back_up.text() == "Back up now"
    assert section.view.panel.check.isEnabled()
    context.scale.close()


def test_a_sound_book_says_what_was_checked(section: BookSection, qtbot: QtBot) -> None:
    assert not section.view.report.isVisible()
    tap(section.view.panel.check, qtbot)
    assert section.view.told.sentence == "The book is sound."
    assert section.view.told.meaning is Meaning.FINE
    assert section.view.found.isVisible()
    assert section.view.report.isVisible()


def test_a_book_that_is_not_sound_says_what_to_do(
    section: BookSection, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    report = CheckReport(wrong=["the file is torn"])
    monkeypatch.setattr("gambrel.ui.setup.book_section.check_book", lambda _book: report)
    tap(section.view.panel.check, qtbot)
    assert section.view.told.meaning is Meaning.STOP
    assert "go back to a backup" in section.view.told.sentence
    QApplication.processEvents()
    found, card = section.view.found.geometry(), section.view.card.geometry()
    assert section.view.found.isVisible()
    assert found.bottom() < card.top()  # what was asked for last is seen first


def test_a_backup_that_is_due_is_marked(
    section: BookSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    assert "never been backed up" in section.view.due.sentence
    section.ask_folder = lambda: str(tmp_path)
    tap(section.view.panel.back_up, qtbot)
    assert section.view.due.sentence == ""


def test_the_line_that_goes_back_is_copied_whole(
    section: BookSection, demo: Book, qtbot: QtBot
) -> None:
    tap(section.view.panel.copy, qtbot)
    line = QGuiApplication.clipboard().text()
    assert line == backups.restore_command(demo)
    assert line == plain(section.view.panel.command.text())


# --- Going back ---


def weigh(book: Book, key: str) -> None:
    with book.transaction() as work:
        first = work.trade().pieces[0]
        work.add([first._replace(key=key)])


def pieces(book: Book) -> set[str]:
    with book.reading() as work:
        return {piece.key for piece in work.trade().pieces}


@pytest.fixture
def backup(section: BookSection, demo: Book, tmp_path: Path) -> Path:
    """A backup of the shop as it was before a piece more was weighed."""
    file = tmp_path / "away.gambrel"
    demo.back_up(file)
    weigh(demo, "new")
    section.ask_file = lambda: str(file)
    return file


def test_it_goes_back_to_a_backup_once_that_is_meant(
    section: BookSection, context: Context, demo: Book, backup: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    tap(section.view.panel.go_back, qtbot)
    assert section.view.ask.isVisible()
    assert section.view.ask.meaning is Meaning.WATCH
    assert section.view.ask.sentence.startswith(
        "The backup is of Apron Street Butchers (demo). The book of now holds 1 piece that the "
        "backup does not; its last act was Sat 21 Nov 2026 at 10:45"
    )
    assert "new" in pieces(demo)
    with qtbot.waitSignal(context.changes.changed) as heard:
        tap(section.view.ask.action, qtbot)
    assert heard.args == [frozenset({RESTORED, "shop"})]
    assert "new" not in pieces(demo)
    assert not section.view.ask.isVisible()
    (kept,) = tmp_path.glob("demo.before-restore-*.gambrel")
    assert section.view.told.meaning is Meaning.FINE
    assert section.view.told.sentence.endswith(f"The book that stood there is kept as {kept}.")
    with open_book(str(kept)) as before:
        assert "new" in pieces(before)
    weigh(demo, "after")  # and the window goes on with it
    assert demo.check() == []


def test_a_question_that_is_closed_changes_nothing(
    section: BookSection, demo: Book, backup: Path, qtbot: QtBot
) -> None:
    tap(section.view.panel.go_back, qtbot)
    tap(section.view.ask.close_button, qtbot)
    assert "new" in pieces(demo)
    section.ask_file = lambda: ""
    tap(section.view.panel.go_back, qtbot)
    assert not section.view.ask.isVisible()


def test_a_question_goes_with_the_section(
    place: SetupPlace, section: BookSection, demo: Book, backup: Path, qtbot: QtBot
) -> None:
    tap(section.view.panel.go_back, qtbot)
    place.open_item("tubs")
    place.open_item("book")
    assert section.view.ask.isHidden()
    section.go_back()
    assert "new" in pieces(demo)


def test_another_window_that_has_the_book_open_is_told_and_nothing_changes(
    section: BookSection, demo: Book, backup: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "BUSY_MS", 100)
    with open_book(demo.where) as another:
        assert "new" in pieces(another)
        tap(section.view.panel.go_back, qtbot)
        tap(section.view.ask.action, qtbot)
        assert section.view.told.meaning is Meaning.STOP
        assert "is open in a window" in section.view.told.sentence
        weigh(another, "still")
    assert {"new", "still"} <= pieces(demo)


def test_what_is_no_backup_of_a_shop_is_refused(
    section: BookSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    (tmp_path / "text").write_text("not a book")
    open_book(str(tmp_path / "empty")).close()
    for name, says in (("text", "a file of another kind"), ("empty", "holds no shop")):
        section.ask_file = lambda name=name: str(tmp_path / name)  # type: ignore[misc]
        tap(section.view.panel.go_back, qtbot)
        assert section.view.told.meaning is Meaning.STOP
        assert says in section.view.told.sentence
        assert not section.view.ask.isVisible()


def test_it_is_worked_by_the_keyboard_alone(
    section: BookSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    section.ask_folder = lambda: str(tmp_path)
    section.view.panel.choose.setFocus()
    qtbot.keyClick(section.view.panel.choose, Qt.Key.Key_Tab)
    assert section.window().focusWidget() is section.view.panel.back_up
    qtbot.keyClick(section.view.panel.back_up, Qt.Key.Key_Return)
    assert last_backup(demo) is not None


@pytest.mark.parametrize("shown", ["fresh", "same disk", "checked", "asked", "refused", "busy"])
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, section: BookSection, shown: str, tmp_path: Path, qtbot: QtBot
) -> None:
    if shown != "fresh":
        section.ask_folder = lambda: str(tmp_path)
        section.back_up()
        make_daily_copy(section.context.book, section.context.clock())
    if shown == "checked":
        section.check()
    if shown == "asked":
        section.ask_file = lambda: str(next(tmp_path.glob("demo.day-*")))
        section.choose_backup()
        assert section.view.ask.isVisible()
    if shown == "refused":
        (tmp_path / "gone").mkdir()
        section.ask_folder = lambda: str(tmp_path / "gone")
        section.choose_folder()
        (tmp_path / "gone").rmdir()
        section.back_up()
        assert section.view.told.meaning is Meaning.STOP
    if shown == "busy":
        section._begin(Busy.CHECK)
    check_walk(place, qtbot)
