"""A blend at the Tub: taken, started, weighed out, put back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from pytestqt.qtbot import QtBot

from gambrel.domain.bench.steady import WeightState
from gambrel.domain.trade.around import IngredientLot
from gambrel.domain.trade.records import Source, StageKind
from gambrel.services.books import Book
from gambrel.services.tub import start_blend
from gambrel.ui.context import Context
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.blend_view import EXTRAS
from gambrel.ui.tub.place import TubPlace
from gambrel.ui.tub.view import NEW
from tests.held_scale import HeldScale
from tests.ui.tub.hands import newest, said, shown, take, tap, trade


def weighing(place: TubPlace) -> bool:
    return place.whole_window


def test_a_blend_is_started_weighed_out_and_costed(place: TubPlace, book: Book) -> None:
    take(place, "trim-70", "4")
    take(place, "trim-90", "1")
    tap(place, place.view.blend.start)
    stage = newest(book)
    assert stage.kind is StageKind.BLEND
    assert stage.is_open
    rows = {row.key: row.grams for row in trade(book).inputs if row.stage == stage.key}
    assert rows == {"P-5": 4_000, "P-7": 1_000}
    out = place.weigh_out
    assert out is not None
    assert weighing(place)
    # What blends made before is chosen to begin with.
    assert out.look.on_block.cuts[0].cut.key == "mince"
    for digit in "4.98":
        tap(place, out.view.work.column.keypad.keys[digit])
    tap(place, out.view.work.column.weigh_key)
    (piece,) = [piece for piece in trade(book).pieces if piece.stage == stage.key]
    assert (piece.cut, piece.net_g) == ("mince", 4_980)
    tap(place, out.view.work.bottom.finish_key)
    assert out.view.end.figures[0].value == "5.00"
    assert out.view.end.banner.meaning is Meaning.FINE
    tap(place, out.view.end.finish_key)
    assert not newest(book).is_open
    product = out.view.end.table.item(0, 0)
    assert product is not None
    assert product.text() == "Beef mince"
    assert out.view.end.note.text().startswith("Meat ")
    tap(place, out.view.end.rail_key)
    assert not weighing(place)
    assert place.view.isVisible()


def test_the_product_that_is_meant_is_chosen_first_and_undo_takes_back_one_weighing(
    place: TubPlace, book: Book
) -> None:
    take(place, "trim-70", "3")
    tap(place, place.view.blend.title)
    place.view.product.list.row("sausages").click()
    tap(place, place.view.blend.start)
    out = place.weigh_out
    assert out is not None
    assert out.look.on_block.cuts[0].cut.key == "sausages"
    out.view.work.column.keypad.set_text("1.5")
    out.weigh()
    assert out.look.on_block.output_g == 1_500
    assert out.look.on_block.cuts[0].weighed_g == 1_500
    out.undo()
    assert out.look.on_block.output_g == 0
    assert len(trade(book).voids) == 1
    assert out.look.on_block.cuts[0].cut.key == "sausages"


def test_a_blend_that_was_not_weighed_is_put_back_whole(place: TubPlace, book: Book) -> None:
    take(place, "trim-50", "3")
    tap(place, place.view.blend.start)
    out = place.weigh_out
    assert out is not None
    tap(place, out.view.work.bottom.finish_key)
    assert all(
        stage.kind is not StageKind.BLEND or not stage.is_open for stage in trade(book).stages
    )
    assert not weighing(place)
    assert "8.00" in place.view.trim.classes.row("trim-50").accessibleName()
    # And what had been put together is one tap away.
    tap(place, place.view.blend.undo)
    assert place.view.blend.kilos.value == "3.000"


def test_a_scale_weighs_out_in_one_tap(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    scale = HeldScale()
    place = shown(TubPlace(replace(at_tub(book), scale=scale)), qtbot)
    take(place, "trim-50", "3")
    tap(place, place.view.blend.start)
    out = place.weigh_out
    assert out is not None
    scale.show(WeightState.UNSTEADY, 2_900)
    assert not out.view.work.column.weigh_key.isEnabled()
    scale.show(WeightState.STEADY, 2_950)
    assert out.view.work.column.keypad.isHidden()
    tap(place, out.view.work.column.weigh_key)
    (piece,) = [piece for piece in trade(book).pieces if piece.stage == newest(book).key]
    assert (piece.cut, piece.gross_g) == ("mince", 2_950)
    assert scale.times_used == 1


def test_an_open_blend_is_gone_on_with(place: TubPlace, book: Book) -> None:
    take(place, "trim-50", "3")
    tap(place, place.view.blend.start)
    out = place.weigh_out
    assert out is not None
    tap(place, out.view.top.rail_key)
    assert not weighing(place)
    key = place.view.trim.open_keys[0]
    assert key.text() == "Weigh out 3.00 kg"
    tap(place, key)
    assert weighing(place)
    assert out.look.on_block.stage.key == newest(book).key


def test_ingredients_keep_lot_date_and_allergens(place: TubPlace, book: Book) -> None:
    take(place, "trim-70", "4")
    tap(place, place.view.blend.acts[EXTRAS])
    panel = place.view.extras
    tap(place, panel.list.row("seasoning"))
    for digit in "0.2":
        tap(place, panel.entry.keypad.keys[digit])
    tap(place, panel.day.later)
    tap(place, panel.entry.act)
    assert "A date belongs to a lot" in said(place)
    panel.lot.setText("L-44")
    tap(place, panel.entry.act)
    assert place.view.blend.allergens.text() == "Contains mustard, celery"
    tap(place, place.view.blend.start)
    with book.reading() as work:
        (lot,) = work.every(IngredientLot)
    assert (lot.key, lot.lot, str(lot.use_by)) == ("seasoning", "L-44", "2026-11-21")
    (row,) = [row for row in trade(book).inputs if row.source is Source.INGREDIENT]
    assert (row.grams, row.cost) == (200, 320)
    out = place.weigh_out
    assert out is not None
    assert out.contents.allergens.text() == "Contains mustard, celery"
    assert "lot L-44, use by 21 Nov" in out.contents.lots.text()


def test_an_ingredient_is_written_down_and_a_slip_refused(place: TubPlace) -> None:
    place.view.blend.acts[EXTRAS].click()
    tap(place, place.view.extras.new)
    assert place.view.panel == NEW
    for field, text in zip(place.view.new.fields, ("Rusk", "3,20", "wheet"), strict=True):
        field.setText(text)
    tap(place, place.view.new.act)
    assert "Did you mean 'wheat'" in said(place)
    place.view.new.fields[2].setText("wheat")
    place.view.new.fields[1].setText("3.20")
    tap(place, place.view.new.act)
    assert place.view.panel == EXTRAS
    kept = place.shelf.ingredient("Rusk")
    assert kept is not None
    assert (kept.price, kept.allergens) == (320, "wheat")


def test_what_another_station_took_is_refused_in_place(place: TubPlace, book: Book) -> None:
    take(place, "trim-50", "8")
    other = place._act()
    start_blend(book, place._draft.takes, (), other)
    tap(place, place.view.blend.start)
    assert "does not stand free any more" in said(place)
    assert place.view.blend.kilos.value == "0.000"
