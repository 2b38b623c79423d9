"""The Tub on a small shop: by touch, by keyboard, and as the book has it afterwards."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from shutil import copyfile

import pytest
from PySide6.QtCore import Qt, QThreadPool
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from gambrel.domain.bench.steady import WeightState
from gambrel.domain.trade.around import IngredientLot, PieceLean
from gambrel.domain.trade.records import Source, Stage, StageKind, Trade
from gambrel.services.books import Book, open_book
from gambrel.services.tub import recipes, start_blend
from gambrel.ui.context import Context
from gambrel.ui.shell import PlaceEntry, Shell
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.blend_view import EXTRAS, LAW, RECIPES, TARGET
from gambrel.ui.tub.place import TubPlace
from gambrel.ui.tub.trim_view import TRAYS
from gambrel.ui.tub.view import BLEND, NEW
from tests import tub_shop
from tests.held_scale import HeldScale
from tests.tub_shop import NOW
from tests.ui.conftest import MovingClock


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The tub's shop, filled once and closed."""
    path = tmp_path_factory.mktemp("filled") / "tub.gambrel"
    with open_book(str(path)) as opened:
        tub_shop.fill(opened)
    return path


@pytest.fixture
def book(filled: Path, tmp_path: Path) -> Iterator[Book]:
    """A copy of it, this test's own."""
    path = tmp_path / "tub.gambrel"
    copyfile(filled, path)
    with open_book(str(path)) as opened:
        yield opened


@pytest.fixture
def at_tub(context_of: Callable[[Book], Context]) -> Callable[[Book], Context]:
    """The context of a book on the morning of the tub's shop."""

    def make(book: Book) -> Context:
        base = context_of(book)
        clock = MovingClock(NOW)
        return Context(book, base.theme, base.formats, clock, base.tasks, base.station)

    return make


@pytest.fixture
def place(book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot) -> TubPlace:
    return shown(TubPlace(at_tub(book)), qtbot)


def shown(place: TubPlace, qtbot: QtBot) -> TubPlace:
    qtbot.addWidget(place)
    place.resize(1280, 736)
    place.show()
    place.activateWindow()
    qtbot.waitActive(place)
    place._context.changes.changed.connect(lambda _kinds: place.refresh())  # as the window does
    place.refresh()
    QApplication.processEvents()  # what was put off is laid out now
    return place


def tap(place: QWidget, widget: QWidget) -> None:
    """Put a finger on a widget and lift it."""
    window, touch = place.windowHandle(), QTest.createTouchDevice()
    spot = widget.mapTo(place, widget.rect().center())
    assert place.rect().contains(spot), f"{widget.accessibleName()} is not on the screen"
    assert widget.isVisible(), f"{widget.accessibleName()} is hidden"
    QTest.touchEvent(window, touch).press(0, spot, window).commit()
    QTest.touchEvent(window, touch).release(0, spot, window).commit()


def press(place: TubPlace, digits: str) -> None:
    """Type on the keypad of the class that is open."""
    for digit in digits:
        tap(place, place.view.trim.opened.entry.keypad.keys[digit])


def take(place: TubPlace, cut: str, digits: str = "") -> None:
    """Take kilos of a class, the oldest first."""
    tap(place, place.view.trim.classes.row(cut))
    press(place, digits)
    tap(place, place.view.trim.opened.entry.act)


def trade(book: Book) -> Trade:
    with book.reading() as work:
        return work.trade()


def newest(book: Book) -> Stage:
    return max(trade(book).stages, key=lambda stage: stage.started_at)


def weighing(place: TubPlace) -> bool:
    return place.whole_window


def said(place: TubPlace) -> str:
    return place.view.banner.sentence


# --- What stands free ---


def test_without_trim_it_says_what_to_do(
    tmp_path: Path, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    with open_book(str(tmp_path / "empty.gambrel")) as book:
        tub_shop.fill(book, trim=False)
        place = shown(TubPlace(at_tub(book)), qtbot)
        assert place.view.trim.empty.isVisible()
        assert "Weigh trim in at the block" in place.view.trim.empty.more.text()
        assert not place.view.blend.start.isEnabled()


def test_classes_stand_oldest_first(place: TubPlace) -> None:
    assert [row.key for row in place.view.trim.classes.rows] == [
        "trim-70", "trim-90", "trim-50", "lamb-trim",
    ]  # fmt: skip
    assert "0.20 kg past the limit" in place.view.trim.classes.row("trim-70").accessibleName()


def test_kilos_are_taken_by_touch_the_oldest_first(place: TubPlace) -> None:
    take(place, "trim-70", "6.5")
    assert place.view.blend.kilos.value == "6.500"
    # P-1 is older still, but past the shop's limit.
    assert place._draft.by_piece == {"P-5": 6_500}
    assert "6.50 kg in the blend" in place.view.trim.classes.row("trim-70").accessibleName()


def test_chosen_pieces_are_taken_whole(place: TubPlace) -> None:
    tap(place, place.view.trim.classes.row("trim-70"))
    place.view.trim.opened.pieces.row("P-6").click()
    tap(place, place.view.trim.opened.entry.act)
    assert place.view.blend.kilos.value == "5.020"


def test_a_keyboard_alone_takes_trim(place: TubPlace, qtbot: QtBot) -> None:
    row = place.view.trim.classes.row("trim-50")
    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)
    assert place.view.trim.opened.hasFocus()
    qtbot.keyClicks(place.view.trim.opened, "2,5")
    qtbot.keyClick(place.view.trim.opened, Qt.Key.Key_Return)
    assert place.view.blend.kilos.value == "2.500"
    qtbot.keyClick(place.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert place.view.blend.kilos.value == "0.000"


def test_what_is_past_its_day_cannot_be_taken_and_is_written_off_at_a_second_tap(
    place: TubPlace, book: Book
) -> None:
    tap(place, place.view.trim.classes.row("trim-90"))
    tap(place, place.view.trim.opened.pieces.row("P-2"))
    assert "past the shop's limit for trim" in said(place)
    assert not trade(book).writeoffs
    tap(place, place.view.banner.action)
    (row,) = trade(book).writeoffs
    assert (row.piece, row.grams, row.reason) == ("P-2", 3_150, "past the shop's limit of age")
    assert [row.key for row in place.view.trim.opened.pieces.rows] == ["P-7"]


def test_undo_never_writes_off(place: TubPlace, book: Book, qtbot: QtBot) -> None:
    place.open_class("trim-90")
    place.view.trim.opened.pieces.row("P-2").click()
    qtbot.keyClick(place.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not trade(book).writeoffs


def test_a_measured_lean_counts_and_is_set_back(place: TubPlace, book: Book) -> None:
    tap(place, place.view.trim.classes.row("trim-50"))
    tap(place, place.view.trim.opened.aside)
    tap(place, place.view.trim.opened.pieces.row("P-8"))
    press(place, "52.5")
    tap(place, place.view.trim.opened.entry.act)
    with book.reading() as work:
        assert [row.percent for row in work.every(PieceLean)] == [Decimal("52.5")]
    assert "measured" in place.view.trim.opened.pieces.row("P-8").accessibleName()
    tap(place, place.view.banner.action)
    with book.reading() as work:
        # Measuring is never wiped out: what was known before is written down after it.
        assert [row.percent for row in work.every(PieceLean)] == [Decimal("52.5"), Decimal(50)]


def test_a_class_is_sorted_to_another_lean_and_back(place: TubPlace) -> None:
    place.open_class("trim-50")
    place.view.trim.opened.aside.click()
    press(place, "48")
    tap(place, place.view.trim.opened.entry.act)
    assert place.shelf.stock.leans.of_cuts["trim-50"] == 48
    assert "sorted to 48 % lean" in said(place)
    place.undo()
    assert place.shelf.stock.leans.of_cuts["trim-50"] == 50


# --- The blend ---


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


# --- Recipes and targets ---


def test_a_recipe_is_laid_out_for_a_batch(place: TubPlace) -> None:
    tap(place, place.view.blend.acts[RECIPES])
    panel = place.view.recipes
    tap(place, panel.list.row("R-1"))
    for digit in "10":
        tap(place, panel.entry.keypad.keys[digit])
    tap(place, panel.entry.act)
    assert place.view.panel == BLEND
    assert place.view.blend.title.text() == "Everyday mince"
    assert place.view.blend.kilos.value == "10.000"
    # (7 × 70 + 3 × 90) / 10 = 76, within 75 to 78.
    assert place.view.blend.lean.accessibleName().endswith("fine")


def test_a_recipe_is_one_tap_from_an_empty_blend(place: TubPlace) -> None:
    blend = place.view.blend
    assert blend.ready.isVisible()
    made = blend.ready.row("R-2").accessibleName()
    blend.ready.row("R-2").click()
    assert not blend.ready.isVisible()
    assert "Thick sausages" in blend.title.text()
    assert place._context.formats.kg(place._draft.weight_g, 2) in made
    assert blend.start.isEnabled()
    blend.clear.click()
    assert blend.ready.isVisible()


def test_a_recipe_that_lacks_trim_says_what_it_lacks(place: TubPlace) -> None:
    rest = tuple(row for row in place.shelf.stock.trim if row.cut.key != "trim-90")
    stock = replace(place.shelf.stock, trim=rest)
    place._shelf = replace(place.shelf, stock=stock)
    place._show()
    place.view.blend.ready.row("R-1").click()
    assert place._draft.empty
    assert place.view.recipes.isVisible()


def test_a_recipe_is_saved_renamed_removed_and_all_of_it_undone(
    place: TubPlace, book: Book
) -> None:
    def names() -> list[str]:
        return [each.recipe.name for each in recipes(book)]

    take(place, "trim-90", "3")
    place.view.blend.acts[RECIPES].click()
    tap(place, place.view.recipes.save)
    assert "Choose first what the blend makes" in said(place)
    place.view.product.list.row("lean-mince").click()
    place.view.blend.acts[RECIPES].click()
    tap(place, place.view.recipes.save)
    place.view.save.fields[0].setText("Very lean")
    tap(place, place.view.save.act)
    assert names() == ["Everyday mince", "Thick sausages", "Very lean"]
    tap(place, place.view.banner.action)
    assert names() == ["Everyday mince", "Thick sausages"]
    place.view.blend.acts[RECIPES].click()
    place.view.recipes.list.row("R-1").click()
    place.view.recipes.name.setText("Sunday mince")
    tap(place, place.view.recipes.rename)
    assert names() == ["Sunday mince", "Thick sausages"]
    tap(place, place.view.banner.action)
    assert names() == ["Everyday mince", "Thick sausages"]
    tap(place, place.view.recipes.remove)
    assert names() == ["Thick sausages"]
    tap(place, place.view.banner.action)
    assert names() == ["Everyday mince", "Thick sausages"]
    assert [line.grams_per_kg for line in recipes(book)[0].lines] == [700, 300]


def test_a_lean_target_is_found_and_taken(place: TubPlace) -> None:
    tap(place, place.view.blend.acts[TARGET])
    panel = place.view.target
    for field, digits in ((None, "9"), ("least", "74"), ("most", "75")):
        if field:
            tap(place, panel.fields[field])
        for digit in digits:
            tap(place, panel.entry.keypad.keys[digit])
    assert panel.entry.act.text() == "Find the mix"
    tap(place, panel.entry.act)
    assert panel.answer.meaning is Meaning.FINE
    assert panel.answer.sentence.startswith("9.000 kg at 7")
    tap(place, panel.entry.act)
    assert place.view.panel == BLEND
    assert place.view.blend.kilos.value == "9.000"
    assert place.view.blend.lean.accessibleName().endswith("fine")


def test_a_target_out_of_reach_says_by_how_much(place: TubPlace) -> None:
    place.view.blend.acts[TARGET].click()
    panel = place.view.target
    panel.entry.keypad.set_text("9")
    panel.fields["least"].click()
    panel.entry.keypad.set_text("97")
    tap(place, panel.entry.act)
    assert panel.answer.meaning is Meaning.STOP
    assert "short of 97" in panel.answer.sentence
    assert place.view.blend.kilos.value == "0.000"


def test_the_law_is_information_with_its_source(place: TubPlace) -> None:
    tap(place, place.view.blend.acts[LAW])
    lines = [each.text() for each in place.view.law.lines.findChildren(type(place.view.summary))]
    assert any("not legal advice" in line for line in lines)
    assert any("1169/2011" in line for line in lines)


# --- Working back ---


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


# --- Around it ---


def test_the_windows_bar_folds_away_while_weighing_out(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    context = at_tub(book)
    shell = Shell(context.theme, (PlaceEntry("tub", "Tub", "layers", TubPlace),))
    qtbot.addWidget(shell)
    shell.show()
    shell.show_book(context, "Shop")
    place = shell.place("tub")
    assert isinstance(place, TubPlace)
    assert shell.bar.isVisible()
    take_all(place)
    place.start()
    assert not shell.bar.isVisible()
    place._back("", "")
    assert shell.bar.isVisible()


def take_all(place: TubPlace) -> None:
    """Take all that stands free of one class."""
    place.open_class("trim-50")
    place.view.trim.opened.entry.act.click()


def test_reading_in_the_background_shows_the_last_that_was_asked_for(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    base = at_tub(book)
    pool = PoolTasks(QThreadPool())
    context = Context(base.book, base.theme, base.formats, base.clock, pool, "test station")
    place = TubPlace(context)
    qtbot.addWidget(place)
    place.show()
    for _ in range(3):
        place.refresh()
    qtbot.waitUntil(lambda: len(place.view.trim.classes.rows) == 4)
    place.view.blend.acts[TARGET].click()
    place.view.target.entry.keypad.set_text("9")
    place.view.target.fields["least"].click()
    place.view.target.entry.keypad.set_text("74")
    place.view.target.entry.act.click()
    qtbot.waitUntil(place.view.target.answer.isVisible)


def test_a_sudden_stop_comes_back_to_the_blend_in_hand(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    place = shown(TubPlace(at_tub(book)), qtbot)
    take(place, "trim-70", "4")
    take(place, "trim-90", "1")
    place.undo()
    again = shown(TubPlace(at_tub(book)), qtbot)
    assert again.view.blend.kilos.value == "4.000"
    tap(again, again.view.blend.start)
    assert shown(TubPlace(at_tub(book)), qtbot).view.blend.kilos.value == "0.000"


class NeverDone:
    """Takes work and never answers."""

    def run_task(self, *_: object) -> None:
        """Do nothing."""


def test_nothing_is_offered_before_the_book_has_been_read(
    book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot
) -> None:
    base = at_tub(book)
    tasks = NeverDone()
    context = Context(base.book, base.theme, base.formats, base.clock, tasks, "test station")
    place = TubPlace(context)
    qtbot.addWidget(place)
    place.show()
    place.refresh()
    assert not place.view.blend.acts[RECIPES].isEnabled()
    assert not place.view.trim.shelves.isEnabled()
    qtbot.keyClick(place.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
