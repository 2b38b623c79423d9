"""Every control of the Tub in every state: large enough, named, in reach, none cut or covered."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copyfile

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book, open_book
from gambrel.ui.context import Context
from gambrel.ui.shell import PlaceEntry, Shell
from gambrel.ui.tub.blend_view import EXTRAS, LAW, PRODUCT, RECIPES, SAVE, TARGET
from gambrel.ui.tub.place import TubPlace
from gambrel.ui.tub.rows import Row
from gambrel.ui.tub.trim_view import TRAYS
from gambrel.ui.tub.view import NEW
from tests import tub_shop
from tests.tub_shop import NOW
from tests.ui.conftest import MovingClock
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small

SIZES = ((1280, 800), (1024, 600), (1920, 1080))
KEYS_AT_THE_BLOCK = 88


def _open(place: TubPlace, cut: str) -> None:
    place._turn_shelf("trim")
    place.open_class(cut)


def _lean(place: TubPlace) -> None:
    _open(place, "trim-70")
    place.view.trim.opened.aside.click()
    place.view.trim.opened.entry.keypad.set_text("68.55")


def _taken(place: TubPlace) -> None:
    for cut in ("trim-70", "trim-90"):
        _open(place, cut)
        place.view.trim.opened.entry.act.click()


def _laid(place: TubPlace) -> None:
    place._open_panel(RECIPES)
    place.view.recipes.list.row("R-2").click()
    place.view.recipes.entry.act.click()


def _aimed(place: TubPlace, least: str) -> None:
    place._open_panel(TARGET)
    panel = place.view.target
    panel.entry.keypad.set_text("9")
    panel.fields["least"].click()
    panel.entry.keypad.set_text(least)
    panel.entry.act.click()


def _trays(place: TubPlace) -> None:
    place._turn_shelf(TRAYS)
    place.open_class("mince")
    place.view.trim.opened.pieces.row("P-10").click()


def _chosen(place: TubPlace, panel: str, key: str) -> None:
    _laid(place)
    place._open_panel(panel)
    view = place.view.recipes if panel == RECIPES else place.view.extras
    view.list.row(key).click()


def _saved(place: TubPlace) -> None:
    _laid(place)
    place._open_panel(SAVE)


def _started(place: TubPlace) -> None:
    _laid(place)
    place.start()


def _weighed(place: TubPlace) -> None:
    _started(place)
    out = place.weigh_out
    assert out is not None
    for kilos in ("4.5", "4.6", "4.7"):
        out.view.work.column.keypad.set_text(kilos)
        out.weigh()


def _ending(place: TubPlace) -> None:
    _weighed(place)
    assert place.weigh_out is not None
    place.weigh_out.view.work.bottom.finish_key.click()


def _finished(place: TubPlace) -> None:
    _ending(place)
    assert place.weigh_out is not None
    place.weigh_out.view.end.finish_key.click()


def _left_open(place: TubPlace) -> None:
    _weighed(place)
    place._back("", "")
    _open(place, "trim-90")
    place.view.trim.opened.entry.act.click()


STATES: dict[str, Callable[[TubPlace], None]] = {
    "standing": lambda _place: None,
    "class open": lambda place: _open(place, "trim-70"),
    "lean typed": _lean,
    "taken": _taken,
    "recipe laid out": _laid,
    "recipes": lambda place: _chosen(place, RECIPES, "R-1"),
    "ingredients": lambda place: _chosen(place, EXTRAS, "seasoning"),
    "new ingredient": lambda place: place._open_panel(NEW),
    "product": lambda place: place._open_panel(PRODUCT),
    "save": _saved,
    "law": lambda place: place._open_panel(LAW),
    "target": lambda place: place._open_panel(TARGET),
    "mix": lambda place: _aimed(place, "74"),
    "out of reach": lambda place: _aimed(place, "97"),
    "trays past their day": _trays,
    "open blend": _left_open,
}
"""What stands in the tub's own two columns."""

AT_THE_BLOCK: dict[str, Callable[[TubPlace], None]] = {
    "weighing out": _started,
    "weighed": _weighed,
    "ending": _ending,
    "finished": _finished,
}
"""What is done with wet hands: the block's own sizes hold."""


@pytest.fixture(scope="module")
def windows(
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Callable[[Callable[[Book], Context], str], tuple[Shell, TubPlace]]]:
    """Makes a window on a shop of its own, plain, without trim, or with long names."""
    opened: list[Book] = []
    shops: dict[str, Path] = {}

    def filled(shop: str) -> Path:
        path = tmp_path_factory.mktemp("walk") / "tub.gambrel"
        with open_book(str(path)) as book:
            tub_shop.fill(book, trim=shop != "empty")
            if shop == "long":
                tub_shop.with_long_names(book)
        return path

    def make(context_of: Callable[[Book], Context], shop: str = "") -> tuple[Shell, TubPlace]:
        if shop not in shops:
            shops[shop] = filled(shop)
        path = tmp_path_factory.mktemp("walk") / "tub.gambrel"
        copyfile(shops[shop], path)
        book = open_book(str(path))
        opened.append(book)
        base = context_of(book)
        context = Context(
            book, base.theme, base.formats, MovingClock(NOW), base.tasks, base.station
        )
        shell = Shell(context.theme, (PlaceEntry("tub", "Tub", "layers", TubPlace),))
        shell.show()
        shell.show_book(context, "Shop")
        place = shell.place("tub")
        assert isinstance(place, TubPlace)
        return shell, place

    yield make
    for book in opened:
        book.close()


def rows_of(place: TubPlace) -> list[Row]:
    """The rows that are shown."""
    return [row for row in place.findChildren(Row) if row.isVisibleTo(place)]


def wrong(shell: Shell, place: TubPlace, qtbot: QtBot, least: int) -> list[str]:
    """All that is wrong at all sizes, with the size before it."""
    found: list[str] = []
    for width, height in SIZES:
        shell.resize(width, height)
        qtbot.waitUntil(lambda: place.width() == shell.width())
        for _ in range(2):  # wrapped words know their height only once they know their width
            QApplication.processEvents()
        if (shell.width(), shell.height()) != (width, height):
            found.append(f"{width}x{height} became {shell.width()}x{shell.height()}")
        faults = (
            *too_small(place, least),
            *nameless(place),
            *out_of_reach(place),
            *outside(place),
            *cut_labels(place),
            *(f"{row.accessibleName()} is cut" for row in rows_of(place) if not row.whole),
        )
        found += [f"{width}x{height}: {fault}" for fault in faults]
    return found


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("shop", ["", "long"])
def test_the_two_columns_in_every_state(
    windows: Callable[..., tuple[Shell, TubPlace]],
    context_of: Callable[[Book], Context],
    qtbot: QtBot,
    state: str,
    shop: str,
) -> None:
    shell, place = windows(context_of, shop)
    qtbot.addWidget(shell)
    STATES[state](place)
    assert wrong(shell, place, qtbot, 44) == []


def test_the_empty_tub(
    windows: Callable[..., tuple[Shell, TubPlace]],
    context_of: Callable[[Book], Context],
    qtbot: QtBot,
) -> None:
    shell, place = windows(context_of, "empty")
    qtbot.addWidget(shell)
    assert wrong(shell, place, qtbot, 44) == []


@pytest.mark.parametrize("state", AT_THE_BLOCK)
def test_weighing_out_in_every_state(
    windows: Callable[..., tuple[Shell, TubPlace]],
    context_of: Callable[[Book], Context],
    qtbot: QtBot,
    state: str,
) -> None:
    shell, place = windows(context_of)
    qtbot.addWidget(shell)
    AT_THE_BLOCK[state](place)
    found = wrong(shell, place, qtbot, KEYS_AT_THE_BLOCK)
    # The block's top line is its one exception; its table is read, and scrolled by a finger.
    of_the_block = (": Button '", ": QHeaderView ", ": QTableWidget 'Cuts'")
    assert [fault for fault in found if not any(each in fault for each in of_the_block)] == []
