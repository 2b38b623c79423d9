"""Import under Setup: looked at, told apart by file, taken in as it was shown, or not at all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from gambrel.domain.trade.records import Trade
from gambrel.services.books import Book, open_book
from gambrel.services.folder.preview import Preview, preview_folder
from gambrel.ui.context import Context
from gambrel.ui.setup.import_section import ImportSection
from gambrel.ui.setup.import_state import (
    ALL,
    LONGEST_CELL,
    PAGE,
    Look,
    Order,
    Side,
    describe,
    first_look,
    wrong_rows,
)
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Meaning
from tests.small_shop import FILES, SHOP, write_shop
from tests.ui.setup.hands import SIZES, check_walk, tap
from tests.ui.walk import cut_labels, painted_short

HEAD = "cut,name,species,kind,price_per_kg\n"


@pytest.fixture
def section(place: SetupPlace) -> ImportSection:
    place.open_item("import")
    found = place.section
    assert isinstance(found, ImportSection)
    return found


def cuts(folder: Path, count: int, *, kind: str = "tray", name: str = "A cut") -> Path:
    folder.mkdir()
    rows = (f"new{number},{name},beef,{kind},{number}.50\n" for number in range(1, count + 1))
    (folder / "cuts.csv").write_text(HEAD + "".join(rows))
    return folder


def trade(book: Book) -> Trade:
    with book.reading() as work:
        return work.trade()


def look_at(section: ImportSection, path: Path, qtbot: QtBot) -> None:
    section.view.path.setText(str(path))
    tap(section.view.read, qtbot)


# --- The state ---


@pytest.fixture
def spoilt(tmp_path: Path) -> Preview:
    """Everything new in an empty book, but three lines of two files."""
    folder = write_shop(
        tmp_path / "spoilt",
        suppliers="supplier,name\nfarm,A farm\nb,\n",
        cuts=FILES["cuts.csv"] + "x,X,beef,tary,1.00,,,,,\ny,Y,beef,tray,a,,,,,\n",
    )
    (folder / "notes.csv").touch()
    with open_book(str(tmp_path / "empty.gambrel")) as book:
        return preview_folder(book, folder)


def test_what_is_wrong_stands_first_where_anything_is(spoilt: Preview) -> None:
    look = first_look(spoilt)
    assert look.side is Side.WRONG
    state = describe(spoilt, look)
    assert [place for place, _ in state.rows] == ["suppliers.csv:3", "cuts.csv:6", "cuts.csv:7"]
    assert state.rows[1][1].startswith("kind: 'tary' is not known, expected one of tray")
    assert not state.can_take
    assert state.ignored.endswith("notes.csv.")
    assert [(line.cells[0], line.cells[3]) for line in state.files[:4]] == [
        ("All files", "3"),
        ("shop.toml", "–"),
        ("suppliers.csv", "1"),
        ("cuts.csv", "2"),
    ]
    assert first_look(replace(spoilt, refused=())).side is Side.NEW


def test_one_file_alone_can_be_looked_at(spoilt: Preview) -> None:
    state = describe(spoilt, Look(Side.WRONG).of("cuts.csv"))
    assert [place for place, _ in state.rows] == ["cuts.csv:6", "cuts.csv:7"]
    assert [choice.text for choice in state.sides] == ["New 4", "Wrong 2"]
    assert describe(spoilt, Look(Side.WRONG, "pieces.csv")).nothing == (
        "Nothing is wrong in pieces.csv."
    )
    new = describe(spoilt, Look(Side.NEW, "shop.toml"))
    assert new.rows == (("shop.toml", "Test bench, the shop itself"),)


def test_wrong_lines_stand_in_the_order_that_is_wished(spoilt: Preview) -> None:
    by_column = wrong_rows(spoilt, Look(Side.WRONG, order=Order.COLUMN))
    assert [each.column for each in by_column] == ["kind", "name", "price_per_kg"]
    again = [each._replace(message="'zz' is not known") for each in spoilt.refused]
    many = replace(spoilt, refused=(*spoilt.refused, *again))
    by_reason = [each.message for each in wrong_rows(many, Look(order=Order.REASON))]
    assert by_reason.count("'zz' is not known") == 3
    first = by_reason.index("'zz' is not known")
    assert by_reason[first : first + 3] == ["'zz' is not known"] * 3


def test_rows_are_paged_and_a_page_past_the_end_is_the_last(tmp_path: Path) -> None:
    folder = cuts(tmp_path / "many", 2 * PAGE + 1)
    (folder / "shop.toml").write_text(SHOP)
    with open_book(str(tmp_path / "empty.gambrel")) as book:
        preview = preview_folder(book, folder)
    look = Look()
    first = describe(preview, look)
    assert len(first.rows) == PAGE
    assert (first.has_earlier, first.has_later) == (False, True)
    last = describe(preview, look.turned(99))
    assert last.counted == f"{2 * PAGE + 1} to {2 * PAGE + 2} of {2 * PAGE + 2}"
    assert (last.has_earlier, last.has_later) == (True, False)
    seen = [row for page in range(3) for row in describe(preview, look.turned(page)).rows]
    assert len(set(seen)) == len(preview.new)
    told = "cut new1 · name A cut · species beef · kind tray · price_per_kg 1.50"
    assert seen[1] == ("cuts.csv:2", told)
    assert look.turned(2).of("cuts.csv").page == 0
    assert look.of(ALL) is look


def test_a_very_long_cell_is_shortened(tmp_path: Path) -> None:
    folder = cuts(tmp_path / "long", 1, name="word " * 300)
    (folder / "shop.toml").write_text(SHOP)
    with open_book(str(tmp_path / "empty.gambrel")) as book:
        (_, told) = describe(preview_folder(book, folder), Look()).rows[1]
    assert len(told) < LONGEST_CELL + 80
    assert "…" in told


# --- Looking ---


def test_a_folder_is_looked_at_and_nothing_changes(
    section: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    before = trade(demo)
    assert section.view.pages.currentWidget() is section.view.empty
    assert not section.view.read.isEnabled()
    look_at(section, cuts(tmp_path / "in", 3), qtbot)
    page = section.view.preview
    assert section.view.pages.currentWidget() is page
    assert page.sentence.text().startswith("3 rows are new. What is taken in stays")
    assert page.take.text() == "Take in 3 rows"
    assert page.rows.texts()[0][0] == "cuts.csv:2"
    assert section.window().focusWidget() is page.take
    assert trade(demo) == before


def test_it_is_taken_in_and_told_and_the_other_places_hear_of_it(
    section: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    heard: list[frozenset[str]] = []
    section.context.changes.changed.connect(heard.append)
    look_at(section, cuts(tmp_path / "in", 3), qtbot)
    with qtbot.waitSignal(section.taken_in):
        tap(section.view.preview.take, qtbot)
    assert {"new1", "new2", "new3"} <= {cut.key for cut in trade(demo).cuts}
    assert section.view.told.meaning is Meaning.FINE
    assert section.view.told.sentence == "Added rows: cuts 3."
    assert "cuts" in frozenset().union(*heard)
    look_at(section, tmp_path / "in", qtbot)
    assert section.view.preview.sentence.text().startswith("All of it is in the book already")
    assert not section.view.preview.take.isEnabled()


def test_nothing_can_be_taken_in_while_a_line_is_refused(
    section: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    before = trade(demo)
    look_at(section, cuts(tmp_path / "in", 3, kind="tary"), qtbot)
    page = section.view.preview
    assert [row[0] for row in page.rows.texts()] == ["cuts.csv:2", "cuts.csv:3", "cuts.csv:4"]
    assert not page.take.isEnabled()
    section.take()
    assert trade(demo) == before


def test_what_changed_meanwhile_is_shown_again_instead_of_taken(
    section: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    before = trade(demo)
    folder = cuts(tmp_path / "in", 3)
    look_at(section, folder, qtbot)
    (folder / "cuts.csv").write_text(HEAD + "other,Another,beef,tray,9.99\n")
    tap(section.view.preview.take, qtbot)
    assert trade(demo) == before
    assert section.view.told.meaning is Meaning.WATCH
    assert "have changed since you looked" in section.view.told.sentence
    assert section.view.preview.rows.texts()[0][1].startswith("cut other · name Another")
    tap(section.view.preview.take, qtbot)
    assert "other" in {cut.key for cut in trade(demo).cuts}


def test_what_is_no_folder_is_refused_in_place(
    section: ImportSection, tmp_path: Path, qtbot: QtBot
) -> None:
    (tmp_path / "empty").mkdir()
    for path, said in (
        (tmp_path / "nowhere", "There is no folder"),
        (tmp_path / "empty", "holds none of shop.toml"),
    ):
        look_at(section, path, qtbot)
        assert section.view.told.meaning is Meaning.STOP
        assert said in section.view.told.sentence
        assert section.view.pages.currentWidget() is section.view.empty


def test_a_folder_that_went_away_keeps_the_preview_and_the_book(
    section: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    before = trade(demo)
    folder = cuts(tmp_path / "in", 3)
    look_at(section, folder, qtbot)
    folder.rename(tmp_path / "elsewhere")
    tap(section.view.preview.take, qtbot)
    assert "There is no folder" in section.view.told.sentence
    assert section.view.pages.currentWidget() is section.view.preview
    assert trade(demo) == before


def test_a_file_alone_is_chosen_or_dropped(
    section: ImportSection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    file = cuts(tmp_path / "in", 3) / "cuts.csv"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    tap(section.view.file, qtbot)
    assert section.view.path.text() == str(file)
    assert section.view.preview.take.text() == "Take in 3 rows"
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: "")
    tap(section.view.folder, qtbot)  # nothing was chosen
    assert section.view.preview.take.text() == "Take in 3 rows"
    other = cuts(tmp_path / "other", 2)
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(other))])
    keys, buttons = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.LeftButton
    enter = QDragEnterEvent(QPoint(5, 5), Qt.DropAction.CopyAction, mime, buttons, keys)
    section.view.dragEnterEvent(enter)
    assert enter.isAccepted()
    section.view.dropEvent(QDropEvent(QPointF(5, 5), Qt.DropAction.CopyAction, mime, buttons, keys))
    assert section.view.path.text() == str(other)
    assert section.view.preview.take.text() == "Take in 2 rows"


def test_refused_lines_are_copied_and_saved_as_they_stand(
    section: ImportSection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    look_at(section, cuts(tmp_path / "in", PAGE + 5, kind="tary"), qtbot)
    page = section.view.preview
    tap(page.copy, qtbot)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == PAGE + 5
    assert lines[0].startswith("cuts.csv:2: kind: 'tary' is not known, expected one of")
    assert section.view.told.sentence == f"{PAGE + 5} lines are copied."
    where = tmp_path / "refused.txt"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(where), ""))
    tap(page.save, qtbot)
    assert where.read_text().splitlines() == lines
    monkeypatch.setattr(
        QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "no" / "such.txt"), "")
    )
    tap(page.save, qtbot)
    assert section.view.told.meaning is Meaning.STOP
    assert "cannot be written" in section.view.told.sentence


def test_it_is_worked_by_the_keyboard_alone(
    section: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    folder = cuts(tmp_path / "in", PAGE + 1)
    (folder / "suppliers.csv").write_text("supplier,name\nnew,A new one\n")
    path = section.view.path
    path.setFocus()
    qtbot.keyClicks(path, str(folder))
    qtbot.keyClick(path, Qt.Key.Key_Return)
    page = section.view.preview
    page.files.setFocus()
    qtbot.keyClick(page.files, Qt.Key.Key_Down)
    assert [row[0] for row in page.rows.texts()] == ["suppliers.csv:2"]
    qtbot.keyClick(page.files, Qt.Key.Key_Up)
    page.later.setFocus()
    qtbot.keyClick(page.later, Qt.Key.Key_Space)
    assert page.counted.text() == f"{PAGE + 1} to {PAGE + 2} of {PAGE + 2}"
    page.take.setFocus()
    qtbot.keyClick(page.take, Qt.Key.Key_Return)
    assert "new" in {supplier.key for supplier in trade(demo).suppliers}


# --- In the background ---


@pytest.fixture
def slow(
    demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot
) -> ImportSection:  # fmt: skip
    """The section with its work off the window's thread, as it is at home."""
    context = replace(context_of(demo), tasks=PoolTasks())
    made = ImportSection(context)
    qtbot.addWidget(made)
    made.resize(1000, 500)
    made.show()
    return made


def test_a_look_is_cancelled_at_once_and_told_of_no_more(
    slow: ImportSection, tmp_path: Path, qtbot: QtBot
) -> None:
    look_at(slow, cuts(tmp_path / "in", 20_000), qtbot)
    assert slow.view.is_busy
    assert not slow.view.path.isEnabled()
    qtbot.keyClick(slow, Qt.Key.Key_Escape)
    assert slow.view.told.sentence == "Stopped. Nothing was changed."
    tasks = slow.context.tasks
    assert isinstance(tasks, PoolTasks)
    assert tasks.wait(20_000)
    qtbot.wait(50)
    assert slow.view.pages.currentWidget() is slow.view.empty


def test_it_tells_how_far_it_is_and_the_window_goes_on(
    slow: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    told: list[str] = []
    slow.work.progressed.connect(lambda *_: told.append(slow.view.progress.told.text()))
    look_at(slow, cuts(tmp_path / "in", 20_000), qtbot)
    qtbot.waitUntil(lambda: not slow.view.is_busy, timeout=20_000)
    assert set(told) <= {"Reading the files …", "Comparing with the book …"}
    assert told
    with qtbot.waitSignal(slow.taken_in, timeout=20_000):
        tap(slow.view.preview.take, qtbot)
    assert len(trade(demo).cuts) > 20_000


def test_taking_in_that_is_cancelled_leaves_the_book_or_tells_that_it_is_in(
    slow: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    before = len(trade(demo).cuts)
    look_at(slow, cuts(tmp_path / "in", 20_000), qtbot)
    qtbot.waitUntil(lambda: not slow.view.is_busy, timeout=20_000)
    tap(slow.view.preview.take, qtbot)
    tap(slow.view.progress.cancel, qtbot)
    qtbot.waitUntil(lambda: not slow.view.is_busy, timeout=20_000)
    assert slow.view.told.sentence == "Stopped. Nothing was changed."
    assert len(trade(demo).cuts) == before
    assert slow.view.pages.currentWidget() is slow.view.preview
    with qtbot.waitSignal(slow.taken_in, timeout=20_000):
        tap(slow.view.preview.take, qtbot)
    assert len(trade(demo).cuts) == before + 20_000


def test_out_of_sight_a_look_is_let_go_and_what_is_taken_in_comes_to_its_end(
    slow: ImportSection, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    look_at(slow, cuts(tmp_path / "in", 5_000), qtbot)
    slow.hide()
    assert not slow.view.is_busy
    slow.show()
    look_at(slow, tmp_path / "in", qtbot)
    qtbot.waitUntil(lambda: not slow.view.is_busy, timeout=20_000)
    with qtbot.waitSignal(slow.taken_in, timeout=20_000):
        tap(slow.view.preview.take, qtbot)
        slow.hide()
    slow.show()
    assert slow.view.told.sentence == "Added rows: cuts 5000."


# --- Sizes ---


def test_every_control_has_its_room_its_name_and_its_way_there(
    section: ImportSection, place: SetupPlace, tmp_path: Path, qtbot: QtBot
) -> None:
    check_walk(place, qtbot)
    long = "A name of a cut that goes on and on; " * 3
    look_at(section, cuts(tmp_path / "new", 3 * PAGE, name=long), qtbot)
    check_walk(place, qtbot)
    wrong = cuts(tmp_path / ("a long name of a folder " * 6), 3_000, kind="tary")
    (wrong / "notes.csv").touch()
    look_at(section, wrong, qtbot)
    check_walk(place, qtbot)
    for dark in (True, False):
        section.context.theme.set_dark(dark)
        for size in SIZES:
            place.window().resize(*size)
            qtbot.waitUntil(lambda: not cut_labels(place.window()))
            short = painted_short(section)
            assert short == [], size
    section._begin(taking=True)
    check_walk(place, qtbot)


def test_rows_that_wrap_are_as_high_as_their_words_at_every_size(
    section: ImportSection, place: SetupPlace, tmp_path: Path, qtbot: QtBot
) -> None:
    look_at(section, cuts(tmp_path / "new", 30, name="many words " * 10), qtbot)
    table = section.view.preview.rows
    heights = []
    for size in SIZES:
        place.window().resize(*size)

        def high_enough() -> bool:
            room = table.columnWidth(1) - 28
            flags = Qt.TextFlag.TextWordWrap
            words = table.texts()[0][1]
            needed = table.fontMetrics().boundingRect(0, 0, room, 9999, flags, words).height()
            return needed <= table.rowHeight(0) <= needed + 48

        qtbot.waitUntil(high_enough)
        heights.append(table.rowHeight(0))
    assert heights[1] > heights[2]  # narrow and wide
