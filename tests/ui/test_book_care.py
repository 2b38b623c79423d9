"""While the window is open: a copy of each day, and a word when a backup is due."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from gambrel.domain.refusals import Refusal
from gambrel.services import daily_copy
from gambrel.services.backup import back_up
from gambrel.services.books import Book, open_book
from gambrel.services.daily_copy import daily_copies
from gambrel.ui import book_care
from gambrel.ui.app import PLACES, fill, now
from gambrel.ui.book_care import BookCare
from gambrel.ui.context import Context
from gambrel.ui.setup.book_section import BookSection
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.shell import Shell
from gambrel.ui.theme import Meaning, Theme


@pytest.fixture
def context(demo: Book, context_of: Callable[[Book], Context]) -> Iterator[Context]:
    made = context_of(demo)
    yield made
    made.scale.close()


@pytest.fixture
def shell(context: Context, qtbot: QtBot) -> Shell:
    made = Shell(context.theme, PLACES)
    qtbot.addWidget(made)
    made.show()
    made.show_book(context, "Test bench", "rail")
    return made


@pytest.fixture
def care(shell: Shell, context: Context) -> BookCare:
    return BookCare(shell, context)


def forward(context: Context, step: timedelta) -> None:
    context.clock.moment += step  # type: ignore[attr-defined]  # the tests' own clock


def test_a_copy_is_made_once_a_day(care: BookCare, context: Context) -> None:
    care.look()
    care.look()
    assert len(daily_copies(context.book)) == 1
    forward(context, timedelta(days=1))
    care.look()
    assert len(daily_copies(context.book)) == 2


def test_it_waits_for_the_window_to_be_used(care: BookCare) -> None:
    assert care.timer.isActive()
    assert care.timer.interval() == book_care.FIRST_MS >= 10_000
    care.look()
    assert care.timer.interval() == book_care.AGAIN_MS


def test_it_reminds_once_a_day_and_leads_to_the_backups(
    care: BookCare, shell: Shell, context: Context, qtbot: QtBot
) -> None:
    care.look()
    assert shell.banner.meaning is Meaning.INFO
    assert "never been backed up" in shell.banner.sentence
    shell.banner.close_button.click()
    care.look()
    assert shell.banner.sentence == ""
    forward(context, timedelta(days=1))
    care.look()
    shell.banner.action.click()
    assert shell.banner.sentence == ""
    setup = shell.place("setup")
    assert isinstance(setup, SetupPlace)
    assert isinstance(setup.section, BookSection)


def test_nobody_is_disturbed_at_the_block(care: BookCare, shell: Shell) -> None:
    shell.go("block")
    care.look()
    assert shell.banner.sentence == ""
    shell.go("rail")
    assert "never been backed up" in shell.banner.sentence


def test_a_fresh_backup_needs_no_word(
    care: BookCare, shell: Shell, context: Context, tmp_path: Path
) -> None:
    back_up(context.book, tmp_path / "b", context.clock(), "here")
    care.look()
    assert shell.banner.sentence == ""


def test_a_copy_that_fails_is_told_and_tried_again(
    care: BookCare, shell: Shell, context: Context, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_book: Book, _now: object) -> None:
        raise Refusal("The copy x cannot be written: the disk is full.")

    monkeypatch.setattr("gambrel.services.backup.reminder", lambda *_: "")
    with monkeypatch.context() as patch:
        patch.setattr(daily_copy, "make_daily_copy", full)
        care.look()
    assert shell.banner.meaning is Meaning.WATCH
    assert shell.banner.sentence.startswith("The book was not copied today. The copy x cannot")
    care.look()
    assert len(daily_copies(context.book)) == 1


def test_a_busy_book_is_asked_again(
    care: BookCare, shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    def busy(*_: object) -> str:
        raise Refusal("The book is busy.")

    with monkeypatch.context() as patch:
        patch.setattr("gambrel.services.backup.reminder", busy)
        care.look()
    assert shell.banner.sentence == ""
    care.look()
    assert "never been backed up" in shell.banner.sentence


def its_own() -> datetime:
    return now()


def test_the_window_of_a_real_clock_has_it_and_a_demo_has_not(
    demo_file: Path, dressed: Theme, tmp_path: Path, qtbot: QtBot
) -> None:
    for clock, wanted in ((now, 1), (its_own, 0)):
        file = tmp_path / f"{wanted}.gambrel"
        file.write_bytes(demo_file.read_bytes())
        shell = Shell(dressed, PLACES)
        qtbot.addWidget(shell)
        fill(shell, str(file), clock)
        cares = shell.findChildren(BookCare)
        assert len(cares) == wanted
        shell.close()
        assert not any(care.timer.isActive() for care in cares)
        open_book(str(file)).close()


def test_a_whole_window_goes_back_in_a_worker_and_makes_its_places_anew(
    demo_file: Path, dressed: Theme, tmp_path: Path, qtbot: QtBot
) -> None:
    file = tmp_path / "shop.gambrel"
    file.write_bytes(demo_file.read_bytes())
    with open_book(str(file)) as book:
        book.back_up(tmp_path / "away.gambrel")
        with book.transaction() as work:
            work.set_setting("hook", "later")
    shell = Shell(dressed, PLACES)
    qtbot.addWidget(shell)
    shell.show()
    fill(shell, str(file), now)
    shell.go("rail")
    rail = shell.place("rail")
    shell.go("setup", "book")
    setup = shell.place("setup")
    assert isinstance(setup, SetupPlace)
    section = setup.section
    assert isinstance(section, BookSection)
    section.ask_file = lambda: str(tmp_path / "away.gambrel")
    section.view.panel.go_back.click()
    assert section.view.panel.go_back.text() == "Looking at it …"
    qtbot.waitUntil(section.view.ask.isVisible, timeout=20_000)
    section.view.ask.action.click()
    qtbot.waitUntil(lambda: bool(section.view.told.sentence), timeout=20_000)
    assert section.view.told.meaning is Meaning.FINE, section.view.told.sentence
    with section.context.book.reading() as work:
        assert work.setting("hook") is None
    assert shell.place("rail") is not rail
    shell.close()
