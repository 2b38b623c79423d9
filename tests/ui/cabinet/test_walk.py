"""Every control of the Cabinet in every state: large enough, named, in reach, none cut or covered.

The demo shop, and a shop whose names and prices are as long as they get.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from shutil import copyfile

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.records import Body, Input, Piece, Source, Stage, StageKind, Trade
from gambrel.services.books import Book, open_book
from gambrel.services.specials import set_special
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.view import LIMITS, SOLVE, SPECIAL
from gambrel.ui.context import Context
from tests.trades import CUTS, START, a_shop
from tests.ui.conftest import MovingClock
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small

SIZES = ((1280, 736), (1024, 536), (1920, 1016))
LEAST = 44
LONG = "Boneless shoulder of salt-marsh lamb, rolled, tied and larded"

Contexts = Callable[[Book], Context]
Step = Callable[[CabinetPlace], None]


def typed(place: CabinetPlace, text: str) -> None:
    for key in text:
        place.view.price.keypad.press(key)


def a_price(place: CabinetPlace) -> None:
    typed(place, "31")


def a_slip(place: CabinetPlace) -> None:
    typed(place, "1")


def nothing(place: CabinetPlace) -> None:
    typed(place, "0")


def a_loss(place: CabinetPlace) -> None:
    place.view.method_button.click()
    lost = next((r for r in place.view.table.lines.rows if r.word == "below cost"), None)
    if lost is not None:
        place.open_item(lost.key)


def four_costs(place: CabinetPlace) -> None:
    place.view.four_button.click()


def on_special(place: CabinetPlace) -> None:
    place.open_item("rump")


def a_special(place: CabinetPlace) -> None:
    place.view.price.special_button.click()
    for key in "11":
        place.view.special.keypad.press(key)
    assert place.view.stack.currentIndex() == SPECIAL


def a_special_that_cannot_be(place: CabinetPlace) -> None:
    a_special(place)
    while place.view.special.last.index:
        place.view.special.last.back.click()
    assert place.view.special.fault.sentence


def solved(place: CabinetPlace) -> None:
    place.view.tabs.button(SOLVE).click()
    place.view.solve.kinds["week"].click()
    assert place.view.solve.rows


def chosen_otherwise(place: CabinetPlace) -> None:
    solved(place)
    place.view.solve.fold_button.click()


def out_of_range(place: CabinetPlace) -> None:
    solved(place)
    solve = place.view.solve
    for row in list(solve.rows.values()):
        row.open.click()
        place.view.limits.hold.click()
        place.view.limits.keep_button.click()
    for _ in range(30):
        solve.target.on.click()
    assert "missing" in solve.doubt.sentence


def bounds(place: CabinetPlace) -> None:
    solved(place)
    next(iter(place.view.solve.rows.values())).open.click()
    for key in "30":
        place.view.limits.keypad.press(key)
    place.view.limits.enter("ceiling")
    for key in "20":
        place.view.limits.keypad.press(key)
    assert place.view.stack.currentIndex() == LIMITS
    assert place.view.limits.fault.sentence


def arranging(place: CabinetPlace) -> None:
    place.view.arrange_button.click()


def undone(place: CabinetPlace) -> None:
    typed(place, "28")
    place.view.price.set_button.click()
    if place.view.banner.action.isVisible():
        place.view.banner.action.click()
    place.view.price.undo_button.click()
    assert place.view.banner.sentence


STEPS: list[Step] = [
    a_price, a_slip, nothing, a_loss, four_costs, on_special, a_special, a_special_that_cannot_be,
    solved, chosen_otherwise, out_of_range, bounds, arranging, undone,
]  # fmt: skip


@pytest.fixture(scope="module")
def special_file(demo_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("walk") / "demo.gambrel"
    copyfile(demo_file, path)
    with open_book(str(path)) as book:
        now = MovingClock()()
        set_special(book, "rump", 2199, (date(2026, 11, 21), date(2026, 11, 22)), now)
        set_special(book, "shin", 1199, (date(2026, 11, 27), date(2026, 11, 29)), now)
    return path


def long_trade() -> Trade:
    """One body whose cuts have names and prices (in yen) as long as they get."""
    shop = a_shop(currency=Currency("JPY", 0), work_per_hour=0)
    cuts = tuple(
        replace(cut, name=f"{LONG} {number}", price=1_234_500 + number if cut.price else None)
        for number, cut in enumerate(CUTS)
    )
    return Trade(
        shop=shop,
        cuts=cuts,
        bodies=(Body("HQ-1", "beef", "hindquarter", "F", START, 900_000, 700_000),),
        stages=(Stage("S1", StageKind.BREAK, START, START + timedelta(hours=1)),),
        inputs=(Input("S1", Source.BODY, "HQ-1"),),
        pieces=(
            Piece("P1", "S1", "rump", 440_000, 0, START + timedelta(minutes=10)),
            Piece("P2", "S1", "shin", 460_000, 0, START + timedelta(minutes=20)),
        ),
    )


@pytest.fixture(scope="module")
def long_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    from gambrel.domain.trade.catalogue import Supplier

    path, trade = tmp_path_factory.mktemp("walk") / "long.gambrel", long_trade()
    with open_book(str(path)) as book, book.transaction() as work:
        work.set_shop(trade.shop)
        work.add([Supplier("F", "A farm"), *trade.cuts, *trade.bodies, *trade.stages])
        work.add([*trade.inputs, *trade.pieces])
    return path


@pytest.fixture(params=["special_file", "long_file"])
def book(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Book]:
    path = tmp_path / "walk.gambrel"
    copyfile(request.getfixturevalue(request.param), path)
    with open_book(str(path)) as opened:
        yield opened


def settle() -> None:
    for _ in range(3):  # wrapped words know their height only once they know their width
        QApplication.sendPostedEvents(None, int(QEvent.Type.LayoutRequest))
        QApplication.processEvents()


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.__name__)
def test_every_control_can_be_hit_read_and_reached(
    book: Book, context_of: Contexts, qtbot: QtBot, step: Step
) -> None:
    context = context_of(book)
    if context.formats.currency.code == "JPY":
        context = replace(context, clock=lambda: START + timedelta(days=1))
    place = CabinetPlace(context)
    context.changes.changed.connect(lambda _kinds: place.refresh())
    qtbot.addWidget(place)
    place.resize(*SIZES[0])
    place.show()
    place.refresh()
    step(place)
    for size in SIZES:
        place.resize(*size)
        settle()
        assert too_small(place, LEAST) == []
        assert nameless(place) == []
        assert out_of_reach(place) == []
        assert outside(place) == []
        assert cut_labels(place) == []
