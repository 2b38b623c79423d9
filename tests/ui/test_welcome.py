"""A book without a shop: three ways to begin, each of which ends in an open window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import gettempdir

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.refusals import Refusal
from gambrel.services import demo
from gambrel.services.books import Book, open_book
from gambrel.services.shop_facts import make_shop, set_fact, shop_facts
from gambrel.ui.app import PLACES, fill, now
from gambrel.ui.setup.facts_section import FactsSection
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.shell import Shell
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.welcome import WelcomePage
from tests.small_shop import write_shop
from tests.ui.setup.hands import SIZES, tap
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small

GIVEN = (
    ("name", "Ash Lane Butchers"),
    ("currency", "eur"),
    ("time_zone", "Europe/Dublin"),
    ("work_per_hour", "31.20"),
    ("tax_percent", "0"),
    ("prices_include_tax", "no"),
    ("target_margin_percent", "38"),
)


@pytest.fixture
def where(tmp_path: Path) -> Path:
    return tmp_path / "new.gambrel"


@pytest.fixture
def shell(dressed: Theme, where: Path, qtbot: QtBot) -> Iterator[Shell]:
    made = Shell(dressed, PLACES)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    qtbot.waitActive(made)
    fill(made, str(where), now)
    yield made
    made.close()


@pytest.fixture
def page(shell: Shell) -> WelcomePage:
    (found,) = shell.findChildren(WelcomePage)
    return found


def fill_in(page: WelcomePage, *, but: str = "") -> None:
    """Give every fact that is missing."""
    for name, text in GIVEN:
        if name != but:
            page.facts.choose(name)
            page.facts.type(text)
            page.facts.keep()


def test_it_says_where_the_book_is_and_offers_three_ways(
    shell: Shell, page: WelcomePage, where: Path
) -> None:
    assert shell.current == ""
    assert not shell.bar.isEnabled()
    assert str(where) in page.ways.where.text()
    assert [button.text() for button in page.ways.ways] == [
        "Fill in the shop's facts",
        "Import a folder",
        "Look round an invented shop",
    ]
    assert shell.focusWidget() is page.ways.facts


def test_a_folder_is_imported_and_the_window_opens(
    shell: Shell, page: WelcomePage, tmp_path: Path, qtbot: QtBot
) -> None:
    folder = write_shop(tmp_path / "in")
    tap(page.ways.load, qtbot)
    page.load.view.path.setText(str(folder))
    tap(page.load.view.read, qtbot)
    qtbot.waitUntil(lambda: not page.load.view.is_busy)
    assert page.load.view.preview.take.text() == "Take in 23 rows"
    tap(page.load.view.preview.take, qtbot)
    qtbot.waitUntil(lambda: shell.current == "rail")
    assert shell.bar.shop.text() == "Test bench"
    assert shell.bar.isEnabled()
    assert shell.banner.meaning is Meaning.FINE
    assert shell.banner.sentence.startswith("Added rows: suppliers 1, cuts 4")


def test_one_file_alone_is_refused_with_the_way_on(
    page: WelcomePage, tmp_path: Path, qtbot: QtBot
) -> None:
    tap(page.ways.load, qtbot)
    page.load.read(str(write_shop(tmp_path / "in") / "cuts.csv"))
    qtbot.waitUntil(lambda: not page.load.view.is_busy)
    (row,) = page.load.view.preview.rows.texts()
    assert row[0] == "shop.toml"
    assert "has no shop yet" in row[1]
    assert not page.load.view.preview.take.isEnabled()


def test_the_facts_are_filled_in_one_after_the_other_and_the_shop_opens(
    shell: Shell, page: WelcomePage, where: Path, qtbot: QtBot
) -> None:
    tap(page.ways.facts, qtbot)
    facts, panel = page.facts, page.facts.view.panel
    assert panel.title.text() == "Name"
    assert shell.focusWidget() is panel.text
    qtbot.keyClicks(panel.text, "Ash Lane Butchers")
    qtbot.keyClick(panel.text, Qt.Key.Key_Return)
    assert panel.title.text() == "Currency"  # the next that is missing
    assert not facts.open.isEnabled()
    assert "Work per hour" in facts.lacking.text()
    with open_book(str(where)) as other, other.reading() as work:
        assert work.shop() is None
    fill_in(page)
    assert facts.lacking.isHidden()
    assert shell.focusWidget() is facts.open
    qtbot.keyClick(facts.open, Qt.Key.Key_Return)
    assert shell.current == "setup"
    assert shell.bar.shop.text() == "Ash Lane Butchers"
    assert "The shop is open" in shell.banner.sentence
    with open_book(str(where)) as other:
        values = shop_facts(other).values
    assert (values["currency"], values["work_per_hour"]) == ("EUR", "31.20")
    assert (values["day_starts"], values["prices_include_tax"]) == ("04:00", False)


def test_a_fact_that_cannot_be_is_refused_beside_its_field(page: WelcomePage, qtbot: QtBot) -> None:
    tap(page.ways.facts, qtbot)
    page.facts.choose("tax_percent")
    page.facts.type("101")
    page.facts.keep()
    assert page.facts.view.panel.refusal.sentence.startswith("Tax: '101' is not such a per cent")
    assert "Tax" in page.facts.lacking.text()
    page.facts.type("10")
    page.facts.keep()
    assert "Tax" not in page.facts.lacking.text()


def test_facts_that_do_not_go_together_are_refused_and_nothing_is_made(
    shell: Shell, page: WelcomePage, where: Path, qtbot: QtBot
) -> None:
    tap(page.ways.facts, qtbot)
    fill_in(page)
    page.facts.choose("currency")
    page.facts.type("JPY")  # which has no cents for 31.20
    page.facts.keep()
    tap(page.facts.open, qtbot)
    assert "too many decimals" in page.facts.refusal.sentence
    assert shell.current == ""
    with open_book(str(where)) as other, other.reading() as work:
        assert work.shop() is None


def test_another_station_may_be_first(page: WelcomePage, where: Path, qtbot: QtBot) -> None:
    tap(page.ways.facts, qtbot)
    fill_in(page)
    with open_book(str(where)) as other:
        make_shop(other, {**page.facts._values, "name": "Theirs"})
    tap(page.facts.open, qtbot)
    assert page.facts.refusal.sentence.startswith("The book has a shop by now")


def test_back_leads_to_the_ways_and_keeps_what_was_given(page: WelcomePage, qtbot: QtBot) -> None:
    tap(page.ways.facts, qtbot)
    fill_in(page, but="name")
    page.show_ways()
    assert page.ways.facts.hasFocus()
    tap(page.ways.facts, qtbot)
    assert page.facts.view.panel.title.text() == "Name"
    assert page.facts.lacking.text() == "Still to be given: Name."
    page.show_ways()
    tap(page.ways.load, qtbot)
    qtbot.keyClick(page.load.view.path, Qt.Key.Key_Escape)
    assert page.ways.load.hasFocus()


def test_the_invented_shop_is_shown_and_goes_with_the_window(
    shell: Shell, page: WelcomePage, where: Path, qtbot: QtBot
) -> None:
    before = {path.name for path in Path(gettempdir()).glob("gambrel-demo-*")}
    tap(page.ways.demo, qtbot)
    assert not page.ways.facts.isEnabled()
    qtbot.waitUntil(lambda: shell.current == "rail", timeout=60_000)
    made = {path.name for path in Path(gettempdir()).glob("gambrel-demo-*")} - before
    assert len(made) == 1
    assert shell.bar.shop.text() == "Apron Street Butchers (demo)"
    assert "This shop is invented" in shell.banner.sentence
    shell.close()
    assert {path.name for path in Path(gettempdir()).glob("gambrel-demo-*")} == before
    with open_book(str(where)) as own, own.reading() as work:
        assert work.shop() is None


def test_where_it_cannot_be_made_that_is_said(
    shell: Shell, page: WelcomePage, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    def no(_folder: Path) -> Book:
        raise Refusal("There is no room on the disk. Make some.")

    monkeypatch.setattr(demo, "make_demo_book", no)
    tap(page.ways.demo, qtbot)
    qtbot.waitUntil(page.ways.facts.isEnabled)
    assert page.ways.told.sentence == "There is no room on the disk. Make some."
    assert shell.current == ""


def test_a_demos_clock_goes_on_from_its_last_act() -> None:
    moments = iter([datetime(2030, 1, 1, 10, tzinfo=UTC), datetime(2030, 1, 1, 10, 5, tzinfo=UTC)])
    clock = demo.going_on(datetime(2026, 11, 20, 9, tzinfo=UTC), lambda: next(moments))
    assert clock() == datetime(2026, 11, 20, 9, 25, tzinfo=UTC)


def test_every_page_has_its_room_at_every_size(
    shell: Shell, page: WelcomePage, qtbot: QtBot
) -> None:
    def walk() -> None:
        for size in SIZES:
            shell.resize(*size)
            qtbot.waitUntil(lambda: not outside(page) and not cut_labels(page))
            assert (shell.width(), shell.height()) == size
            assert nameless(page) == []
            assert too_small(page, 44) == []
            assert out_of_reach(page) == []

    walk()
    page.set_busy(busy=True)
    walk()
    page.refuse("There is no room on the disk of this machine. Make some, then try again. " * 2)
    walk()
    for show in (page.show_load, page.show_facts):
        show()
        walk()


# --- A shop that changes while the window is open ---


@pytest.fixture
def open_shell(
    dressed: Theme, demo_file: Path, tmp_path: Path, qtbot: QtBot
) -> Iterator[Callable[[Path], Shell]]:
    shells: list[Shell] = []

    def show(where: Path) -> Shell:
        made = Shell(dressed, PLACES)
        shells.append(made)
        qtbot.addWidget(made)
        made.resize(1280, 800)
        made.show()
        fill(made, str(where), now)
        return made

    yield show
    for each in shells:
        each.close()


def facts_of(shell: Shell) -> FactsSection:
    shell.go("setup", "facts")
    setup = shell.place("setup")
    assert isinstance(setup, SetupPlace)
    found = setup.section
    assert isinstance(found, FactsSection)
    return found


def test_a_new_name_stands_in_the_window_at_once_and_goes_with_undo(
    open_shell: Callable[[Path], Shell], where: Path, tmp_path: Path
) -> None:
    from gambrel.services.folder.load import load_folder

    with open_book(str(where)) as book:
        load_folder(book, write_shop(tmp_path / "in"))
    shell = open_shell(where)
    facts = facts_of(shell)
    facts.choose("name")
    facts.type("The corner shop")
    facts.keep()
    assert shell.bar.shop.text() == "The corner shop"
    assert "The corner shop" in shell.windowTitle()
    facts.undo()
    assert shell.bar.shop.text() == "Test bench"
    assert "Test bench" in shell.windowTitle()


def test_a_new_currency_is_shown_by_every_place(
    open_shell: Callable[[Path], Shell], where: Path, tmp_path: Path
) -> None:
    with open_book(str(where)) as book:
        make_shop(
            book,
            {
                "name": "Empty", "currency": "AUD", "time_zone": "Europe/Dublin",
                "day_starts": "04:00", "week_starts": "monday", "work_per_hour": "37",
                "tax_percent": "0", "prices_include_tax": False, "target_margin_percent": "38",
            },
        )  # fmt: skip
    shell = open_shell(where)
    old = [shell.place(key) for key in ("rail", "cabinet")]
    facts = facts_of(shell)
    context = facts.context
    assert context.formats.money(100) == "$1.00"
    facts.choose("currency")
    facts.type("jpy")
    facts.keep()
    assert facts.view.panel.refusal.sentence == ""
    assert context.formats.money(100) == "\N{YEN SIGN}100"
    for key, before in zip(("rail", "cabinet"), old, strict=True):
        shell.go(key)
        assert shell.place(key) is not before
        assert shell.current == key
    set_fact(context.book, "name", "Still it")
