"""Unsold trays worked back at the Tub."""

from __future__ import annotations

from gambrel.domain.trade.records import StageKind
from gambrel.services.books import Book
from gambrel.ui.tub.place import TubPlace
from gambrel.ui.tub.trim_view import TRAYS
from tests.ui.tub.hands import newest, press, said, take, tap, trade


def turn_to_trays(place: TubPlace) -> None:
    tap(place, place.view.trim.shelves.buttons[TRAYS])


def test_unsold_trays_go_back_to_trim_as_work_of_their_own(place: TubPlace, book: Book) -> None:
    turn_to_trays(place)
    tap(place, place.view.trim.classes.row("rump"))
    press(place, "2")
    tap(place, place.view.trim.opened.aside)
    stage = newest(book)
    assert stage.kind is StageKind.TRIMOUT
    out = place.weigh_out
    assert out is not None
    first = out.look.on_block.cuts[0].cut
    assert first.kind.value == "trim"
    out.view.work.column.keypad.set_text("1.9")
    out.weigh()
    place._back("", "")
    assert any(row.cut.key == first.key for row in place.shelf.stock.trim)


def test_unsold_trays_go_into_a_blend(place: TubPlace, book: Book) -> None:
    turn_to_trays(place)
    take(place, "rump", "1.5")
    tap(place, place.view.blend.start)
    rows = {row.key: row.grams for row in trade(book).inputs if row.stage == newest(book).key}
    assert rows == {"P-3": 1_500}


def test_a_tray_past_its_use_by_cannot_go_back(place: TubPlace, book: Book) -> None:
    turn_to_trays(place)
    tap(place, place.view.trim.classes.row("mince"))
    tap(place, place.view.trim.opened.pieces.row("P-10"))
    assert "past its use-by" in said(place)
    assert "Write it off" in said(place)
    # All that is within its dates can still go.
    tap(place, place.view.trim.opened.aside)
    rows = {row.key: row.grams for row in trade(book).inputs if row.stage == newest(book).key}
    assert rows == {"P-11": 2_000}
