"""A shop with nothing in its book yet: cuts, a list and a supplier come in by hand, and suffice."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book, open_book
from gambrel.services.catalogue import catalogue
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.write import dump_folder
from gambrel.services.rail import door
from gambrel.ui.setup.cuts_section import CutsSection
from gambrel.ui.setup.cuts_state import NO_CUTS
from gambrel.ui.setup.lists_section import ListsSection
from gambrel.ui.setup.lists_state import ALL_ON, NO_LISTS
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.setup.suppliers_section import SuppliersSection
from gambrel.ui.setup.suppliers_state import NOBODY_YET
from tests.small_shop import FILES, write_shop
from tests.ui.setup.hands import check_walk, tap, type_keys


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[Book]:
    """In place of the demo shop: one that has a name and nothing else."""
    nothing = dict.fromkeys(name.partition(".")[0] for name in FILES if name != "shop.toml")
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        load_folder(opened, write_shop(tmp_path / "shop", **nothing))
        yield opened


def add_a_cut(section: CutsSection, name: str, species: str, qtbot: QtBot) -> None:
    view = section.view
    tap(view.new, qtbot)
    qtbot.keyClicks(view.panel.lines["name"], name)
    if species:
        qtbot.keyClicks(view.panel.lines["species"], species)
    tap(view.panel.keep, qtbot)
    assert view.panel.refusal.sentence == ""


def test_a_shop_begins_by_hand_and_goes_through_its_files(
    place: SetupPlace, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    place.open_item("cuts")
    cuts = place.section
    assert isinstance(cuts, CutsSection)
    add_a_cut(cuts, "Rump", "beef", qtbot)
    add_a_cut(cuts, "Bone", "", qtbot)  # the species of the one before
    assert [entry.card.cut.species for entry in catalogue(demo).entries.values()] == ["beef"] * 2
    place.open_item("lists")
    lists = place.section
    assert isinstance(lists, ListsSection)
    tap(lists.view.new, qtbot)
    for name, text in (("name", "Hind"), ("species", "beef"), ("portion", "hindquarter")):
        qtbot.keyClicks(lists.view.make.words[name], text)
    tap(lists.view.make.make, qtbot)
    for key in ("rump", "bone"):
        tap(lists.view.add.cuts.rows[key], qtbot)
    assert lists.view.add.none.text() == ALL_ON
    tap(lists.view.add.done, qtbot)
    type_keys(lists.view.line.keypad.keys, "18", qtbot)
    tap(lists.view.line.keep, qtbot)
    assert lists.view.open.total.text().startswith("18\u202f% of 100")
    place.open_item("suppliers")
    suppliers = place.section
    assert isinstance(suppliers, SuppliersSection)
    tap(suppliers.view.new, qtbot)
    qtbot.keyClicks(suppliers.view.panel.lines["name"], "A farm")
    tap(suppliers.view.panel.keep, qtbot)
    found = door(demo)
    assert [each.name for each in found.suppliers] == ["A farm"]
    assert found.portions == (("beef", "hindquarter"),)
    first, second = tmp_path / "first", tmp_path / "second"
    dump_folder(demo, first)
    with open_book(str(tmp_path / "again.gambrel")) as again:
        load_folder(again, first)
        dump_folder(again, second)
    texts = [
        {each.name: each.read_text() for each in folder.iterdir()} for folder in (first, second)
    ]
    assert texts[0] == texts[1]
    assert "Hind,beef,hindquarter,2,bone,18" in texts[0]["cutting_lists.csv"]


@pytest.mark.parametrize(
    ("key", "said"), [("cuts", NO_CUTS), ("lists", NO_LISTS), ("suppliers", NOBODY_YET)]
)
def test_an_empty_section_says_how_to_begin(
    place: SetupPlace, key: str, said: str, qtbot: QtBot
) -> None:
    place.open_item(key)
    section = place.section
    assert isinstance(section, CutsSection | ListsSection | SuppliersSection)
    panel = section.view.list if isinstance(section, ListsSection) else section.view.panel
    assert panel.about.text() == said
    shown = [each.text() for each in section.findChildren(QLabel) if each.isVisible()]
    assert shown.count(said) == 1
    check_walk(place, qtbot)
    middle = panel.about.geometry().center()
    assert abs(middle.x() - panel.width() // 2) <= 2
    assert panel.height() * 0.3 < middle.y() < panel.height() * 0.7


@pytest.mark.parametrize("dark", [False, True])
def test_where_nothing_is_chosen_stands_no_card(
    place: SetupPlace, dark: bool, qtbot: QtBot
) -> None:
    place.open_item("suppliers")
    section = place.section
    assert isinstance(section, SuppliersSection)
    section.context.theme.set_dark(dark)
    card, paper = (section.context.theme.colour(name).name() for name in ("card", "paper"))
    ground = _ground(place, section.view.panel)
    assert ground == paper
    tap(section.view.new, qtbot)
    assert _ground(place, section.view.panel) == card
    tap(section.view.panel.aside, qtbot)
    assert _ground(place, section.view.panel) == paper


def _ground(place: SetupPlace, panel: QWidget) -> str:
    """The colour near a corner of a panel, as the window shows it."""
    window = place.window()
    at = panel.mapTo(window, panel.rect().bottomLeft()) + QPoint(8, -4)
    return window.grab().toImage().pixelColor(at).name()
