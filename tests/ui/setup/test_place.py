"""Setup as a place: its tabs stay where they are, and what is set is used without a new start."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.domain.bench.shop_limits import HANG, TRIM_AGE, WARMEST
from gambrel.domain.bench.tubs import Tub
from gambrel.services.books import Book
from gambrel.services.people import retire_person
from gambrel.services.shop_limits import own_limits, set_limit
from gambrel.services.tubs import change_tubs
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.block.state import Panel
from gambrel.ui.context import Context
from gambrel.ui.setup.people_section import PeopleSection
from gambrel.ui.setup.place import SECTIONS, SetupPlace
from gambrel.ui.setup.shop_section import ShopSection
from gambrel.ui.shell import Shell
from gambrel.ui.tub.place import TubPlace
from gambrel.ui.widgets.chip import Chip
from tests.ui.setup.hands import SIZES, tap
from tests.ui.walk import outside, painted_short, too_small


def shell_of(place: SetupPlace) -> Shell:
    shell = place.window()
    assert isinstance(shell, Shell)
    return shell


def test_the_tabs_lead_to_every_section_and_stay_where_they_are(
    place: SetupPlace, qtbot: QtBot
) -> None:
    lefts = set()
    for entry in SECTIONS:
        tap(place.tabs.buttons[entry.key], qtbot)
        QApplication.processEvents()
        assert [key for key, tab in place.tabs.buttons.items() if tab.isChecked()] == [entry.key]
        assert type(place.section).__name__ == entry.name
        lefts.add(tuple(tab.x() for tab in place.tabs.buttons.values()))
    assert len(lefts) == 1


@pytest.mark.parametrize(
    ("titles", "rows"),
    [
        ("Shop Cuts Lists Suppliers People Tubs Scale Printers Book Import", 1),
        (" ".join(f"Something-long-{number}" for number in range(10)), 2),
    ],
)
@pytest.mark.parametrize("size", SIZES)
def test_ten_tabs_have_room_in_the_smallest_window(
    context: Context, titles: str, rows: int, size: tuple[int, int], qtbot: QtBot
) -> None:
    made = SECTIONS[0]
    place = SetupPlace(context, [replace(made, key=title, title=title) for title in titles.split()])
    qtbot.addWidget(place)
    place.resize(size[0], size[1] - 64)
    place.show()
    place.refresh()
    buttons = place.tabs.buttons.values()
    QApplication.processEvents()
    assert outside(place) == []
    if size != SIZES[2]:
        assert len({each.y() for each in buttons}) == rows
    assert painted_short(place.tabs) == []
    assert too_small(place.tabs, 44) == []
    if rows == 1:
        assert sum(each.width() for each in buttons) <= place.width()
        lefts = [each.x() for each in buttons]
        assert lefts == sorted(set(lefts))


@pytest.mark.parametrize("size", SIZES)
def test_tabs_that_belong_together_stand_together(
    place: SetupPlace, size: tuple[int, int], qtbot: QtBot
) -> None:
    window = place.window()
    window.resize(*size)
    qtbot.waitUntil(lambda: (window.width(), window.height()) == size)
    QApplication.processEvents()
    tabs = list(place.tabs.buttons.values())
    groups: list[list[str]] = [[]]
    for before, after in pairwise(tabs):
        groups[-1].append(before.text())
        if after.x() > before.geometry().right() + 1:
            groups.append([])
    groups[-1].append(tabs[-1].text())
    assert groups == [
        ["Shop", "Limits"],
        ["Cuts", "Lists", "Suppliers"],
        ["People", "Tubs", "Scale", "Printers"],
        ["Import", "Book"],
    ]
    assert {each.y() for each in tabs} == {tabs[0].y()}
    assert painted_short(place.tabs) == []


def test_the_rail_and_the_tub_take_a_new_limit_at_once(place: SetupPlace, demo: Book) -> None:
    shell = shell_of(place)
    shell.go("rail")
    assert "12 days left" in shown_marks(shell)
    shell.go("setup")
    set_limit(demo, HANG["beef"], "10")
    shell.go("rail")
    assert "12 days left" not in shown_marks(shell)
    assert "1 day left" in shown_marks(shell)
    shell.go("tub")
    tub = shell.place("tub")
    assert isinstance(tub, TubPlace)
    assert tub.shelf.stock.limits.age_days == 3
    before = [row.last_day for each in tub.shelf.stock.trim for row in each.pieces]
    shell.go("setup")
    set_limit(demo, TRIM_AGE, "1")
    shell.go("tub")
    assert tub.shelf.stock.limits.age_days == 1
    assert [row.last_day for each in tub.shelf.stock.trim for row in each.pieces] != before


def shown_marks(shell: Shell) -> list[str]:
    return [each.text for each in shell.place("rail").findChildren(Chip) if each.isVisible()]


def test_the_block_takes_new_tubs_and_names_at_once(place: SetupPlace, demo: Book) -> None:
    shell = shell_of(place)
    shell.go("block")
    block = shell.place("block")
    assert isinstance(block, BlockPlace)
    row = block.view.work.column.tubs
    many = tuple(Tub(f"tub {number}", 100) for number in range(8))
    change_tubs(demo, lambda tubs: (*tubs[:1], *many))
    shell.go("setup")
    shell.go("block")
    row.keys[-1].click()  # to the others
    assert row.keys[0].text() == "tub 2"
    change_tubs(demo, lambda tubs: (*tubs[:1], Tub("crate", 900)))
    shell.go("setup")
    shell.go("block")
    assert [key.text() for key in row.keys if not key.isHidden()] == ["no tub", "crate"]
    retire_person(demo, "Bela")
    block._open(Panel.PEOPLE)
    offered = [each.text() for each in block.view.work.panel.findChildren(type(row.keys[0]))]
    assert "Ana" in offered
    assert "Bela" not in offered


def test_what_is_half_done_is_forgotten_on_the_way_out(place: SetupPlace, demo: Book) -> None:
    shell = shell_of(place)
    place.open_item("people")
    people = place.section
    assert isinstance(people, PeopleSection)
    people.choose("Ana")
    people.begin_pin()
    people.type_pin("47")
    place.open_item("shop")
    shop = place.section
    assert isinstance(shop, ShopSection)
    shop.type("5")
    shop.keep()
    shop.type("6")
    shell.go("rail")
    shell.go("setup")
    assert shop.view.panel.value.value == "5"
    assert not shop.view.panel.keep.isEnabled()
    assert shop.view.told.sentence == ""
    shop.undo()  # there is nothing to take back any more
    assert own_limits(demo).numbers == {WARMEST.setting: 5}
    place.open_item("people")
    assert not people.view.panel.pin.isVisible()
    assert people.view.panel.title.text() == "Ana"
