"""Every control of the block in each of its states: large enough, named, within reach."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import cast

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from gambrel.domain.bench.steady import WeightState
from gambrel.domain.trade.pins import SALT_BYTES
from gambrel.services import people
from gambrel.storage.book import Book
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.block.top_line import TALL
from tests.ui.block.conftest import Clock
from tests.ui.block.fingers import Make, ToldScale, cut_key, tap, weigh
from tests.ui.walk import (
    controls,
    cut_labels,
    nameless,
    out_of_reach,
    outside,
    painted_short,
    told,
    too_small,
)

SIZES = ((1280, 800), (1024, 600), (1920, 1080))
FLOOR = 88
"""15 mm on a 10.1 inch tablet; the top line alone is lower (screens.md)."""

State = Callable[[BlockPlace, ToldScale, Book], object]


def press(place: BlockPlace, text: str) -> None:
    place_keys = place.view.work.panel.keys
    tap(next(key for key in place_keys if key.text() == text))


def a_doubt(place: BlockPlace, _scale: ToldScale, _book: Book) -> None:
    weigh(place, "rump", "43.86")


def a_refusal(place: BlockPlace, _scale: ToldScale, _book: Book) -> None:
    tap(cut_key(place, "rump"))
    tap(place.view.work.column.tubs.keys[1])
    place.view.work.column.keypad.set_text("0.1")
    tap(place.view.work.column.weigh_key)


def a_pin(place: BlockPlace, _scale: ToldScale, book: Book) -> None:
    people.add_person(book, "Bela")
    people.set_pin(book, "Bela", "2468", bytes(SALT_BYTES))
    tap(place.view.top.person_key)
    press(place, "Bela")
    press(place, "2")


def a_piece(place: BlockPlace, _scale: ToldScale, _book: Book) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.keys[0])


def what_if(place: BlockPlace, scale: ToldScale, book: Book) -> None:
    a_piece(place, scale, book)
    press(place, "What if")


def which_cut(place: BlockPlace, scale: ToldScale, book: Book) -> None:
    what_if(place, scale, book)
    tap(place.view.work.what_if.other_key)


def many_pieces(place: BlockPlace, _scale: ToldScale, _book: Book) -> None:
    for number in range(9):
        weigh(place, "rump", f"0.{200 + number}")
    tap(place.view.work.bottom.all_key)


def more_than_lay_there(place: BlockPlace, _scale: ToldScale, _book: Book) -> None:
    weigh(place, "bone", "90")
    tap(place.view.work.column.weigh_key)


def before_finishing(place: BlockPlace, _scale: ToldScale, _book: Book) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)


def finished(place: BlockPlace, scale: ToldScale, book: Book) -> None:
    before_finishing(place, scale, book)
    tap(place.view.end.finish_key)


def asked_by_tap(_place: BlockPlace, scale: ToldScale, _book: Book) -> None:
    scale.by_tap = True
    scale.say(WeightState.WAITING, sentence="The scale is connected and has sent nothing yet.")


def a_caution(place: BlockPlace, _scale: ToldScale, _book: Book) -> None:
    cast(Clock, place._context.clock).now += timedelta(hours=2)
    place.refresh()
    assert place.view.work.column.saying.isVisible()


def a_caution_with_a_scale(place: BlockPlace, scale: ToldScale, book: Book) -> None:
    scale.steady(4506)
    a_caution(place, scale, book)


def a_scale_that_zeroes(_place: BlockPlace, scale: ToldScale, _book: Book) -> None:
    scale.zeroing = True
    scale.say(WeightState.NEGATIVE, -650)


def a_caution_with_a_scale_that_zeroes(place: BlockPlace, scale: ToldScale, book: Book) -> None:
    scale.zeroing = True
    a_caution_with_a_scale(place, scale, book)


STATES: dict[str, State] = {
    "empty": lambda *_: None,
    "a cut chosen": lambda place, *_: tap(cut_key(place, "rump")),
    "a piece weighed": lambda place, *_: weigh(place, "rump", "4.386"),
    "a doubt": a_doubt,
    "a refusal": a_refusal,
    "a caution": a_caution,
    "a caution with a scale": a_caution_with_a_scale,
    "who cuts": lambda place, *_: tap(place.view.top.person_key),
    "a PIN": a_pin,
    "which list": lambda place, *_: tap(place.view.work.grid.list_key),
    "more cuts": lambda place, *_: place.view.work.grid.turn_page(),
    "a piece": a_piece,
    "all pieces": many_pieces,
    "what if": what_if,
    "which cut": which_cut,
    "more than lay there": more_than_lay_there,
    "before finishing": before_finishing,
    "finished": finished,
    "steady": lambda _place, scale, *_: scale.steady(4506),
    "unsteady": lambda _place, scale, *_: scale.say(WeightState.UNSTEADY, 4506),
    "overload": lambda _place, scale, *_: scale.say(WeightState.OVERLOAD),
    "scale lost": lambda _place, scale, *_: scale.say(WeightState.LOST),
    "asked by tap": asked_by_tap,
    "a scale that zeroes": a_scale_that_zeroes,
    "a caution with a scale that zeroes": a_caution_with_a_scale_that_zeroes,
}


def settle() -> None:
    for _ in range(2):  # wrapped words know their height only once they know their width
        QApplication.sendPostedEvents(None, int(QEvent.Type.LayoutRequest))
        QApplication.processEvents()


def faults(place: BlockPlace) -> list[str]:
    """What is wrong with what is shown now."""
    top = place.view.top
    low = [told(each) for each in controls(top) if each.height() < TALL - 8 or each.width() < FLOOR]
    shown = place.view._stack.currentWidget()
    assert shown is not None
    small = [each for each in too_small(shown, FLOOR) if not each.startswith("QTableWidget")]
    words = cut_labels(place) + painted_short(place)
    return low + small + nameless(place) + out_of_reach(place) + outside(place) + words


@pytest.mark.parametrize("name", STATES)
def test_at_every_size(place: BlockPlace, scale: ToldScale, book: Book, name: str) -> None:
    STATES[name](place, scale, book)
    for size in SIZES:
        place.resize(*size)
        settle()
        assert faults(place) == [], size


def test_a_free_block_at_every_size(make: Make) -> None:
    place = make()
    for size in SIZES:
        place.resize(*size)
        settle()
        assert faults(place) == [], size
