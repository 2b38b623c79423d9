"""The Book under Setup: where it is, backed up in a worker, checked, and how to go back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from gambrel.domain.refusals import Refusal
from gambrel.services import backup as backups
from gambrel.services.backup import LastBackup, last_backup
from gambrel.services.books import Book, open_book
from gambrel.services.check import CheckReport
from gambrel.services.daily_copy import DailyCopy, make_daily_copy
from gambrel.storage import engine
from gambrel.ui.book_care import RESTORED
from gambrel.ui.context import Context
from gambrel.ui.setup.book_section import BookSection
from gambrel.ui.setup.book_state import (
    MAY_BREAK,
    SAME_DISK,
    BookFacts,
    Busy,
    backup_told,
    breakable,
    check_told,
    describe,
    size_words,
    sound_told,
)
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.theme import Meaning
from tests.ui.setup.hands import check_walk, tap

FACTS = BookFacts(
    where="/home/ana/shop.gambrel",
    size=1_234_567,
    bodies=23,
    pieces=1417,
    time_zone="Australia/Melbourne",
    last=LastBackup(datetime(2026, 11, 20, 2, 30, tzinfo=UTC), "/media/stick/b", "bench-1"),
    due="",
    copies=(DailyCopy(date(2026, 11, 20), Path("x")), DailyCopy(date(2026, 11, 19), Path("y"))),
    on_server=False,
    folder="/media/stick",
    same_disk=False,
    command="gambrel restore FILE --book /home/ana/shop.gambrel --replace",
)

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


# --- The state ---


def test_the_book_and_its_backups_are_told() -> None:
    state = describe(FACTS, Busy.NOTHING)
    assert state.size == ("1.2", "MB")
    assert (state.bodies, state.pieces) == ("23", "1,417")
    assert state.last == "Fri 20 Nov 2026 at 13:30, at bench-1"
    assert plain(state.last_file) == "/media/stick/b"
    assert state.copies == "Daily copies beside the book: 2, the last of Fri 20 Nov 2026."
    assert not state.watch
    assert state.can_act
    assert (state.back_up, state.check) == ("Back up now", "Check the book")


def test_what_is_missing_is_told_too() -> None:
    bare = replace(FACTS, last=None, copies=(), folder="", same_disk=False)
    state = describe(bare, Busy.NOTHING)
    assert (state.last, state.last_file, state.folder) == ("never", "", "no folder chosen yet")
    assert state.copies == "Daily copies beside the book: none yet."
    server = describe(replace(bare, on_server=True), Busy.NOTHING)
    assert server.copies.startswith("Daily copies: none here.")


def test_a_folder_on_the_books_own_disk_is_marked() -> None:
    state = describe(replace(FACTS, same_disk=True), Busy.NOTHING)
    assert (state.hint, state.watch) == (SAME_DISK, True)


def test_what_is_being_done_stands_on_its_button() -> None:
    assert describe(FACTS, Busy.BACKUP).back_up == "Backing up …"
    assert describe(FACTS, Busy.BACKUP).check == "Check the book"
    assert describe(FACTS, Busy.CHECK).check == "Checking …"
    assert describe(FACTS, Busy.LOOK).go_back == "Looking at it …"
    assert describe(FACTS, Busy.GO_BACK).go_back == "Going back …"
    assert not describe(FACTS, Busy.CHECK).can_act


@pytest.mark.parametrize(
    ("size", "words"),
    [
        (0, ("0", "bytes")),
        (999, ("999", "bytes")),
        (1000, ("1.0", "kB")),
        (327_680, ("328", "kB")),
        (99_940_000, ("99.9", "MB")),
        (99_960_000, ("100", "MB")),
        (5_000_000_000_000_000, ("5000", "TB")),
    ],
)
def test_a_size_is_told_in_steps_of_a_thousand(size: int, words: tuple[str, str]) -> None:
    assert size_words(size) == words


def test_a_path_may_break_and_stays_the_same_path() -> None:
    assert breakable("/a-b/c.d").count(MAY_BREAK) == 4
    assert plain(breakable("/a-b/c.d")) == "/a-b/c.d"


def test_a_check_is_told_with_what_is_wrong_first() -> None:
    report = CheckReport(["the pages"], ["the money: no"], ["pieces: P1: kg: no"], ["odd", "odd"])
    assert check_told(report) == (
        "Wrong: pieces: P1: kg: no.",
        "Not checked: the money: no.",
        "Note: odd.",
        "Checked: the pages.",
    )
    assert "go back to a backup" in sound_told(report)
    assert sound_told(CheckReport()) == "The book is sound."


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


def test_words_for_an_empty_book() -> None:
    empty = backups.Contents("", "", {"body": 0, "piece": 0}, None, 0)
    assert backup_told(empty, "b") == "Backed up an empty book in b."
