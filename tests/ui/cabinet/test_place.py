"""The Cabinet on the demo shop, by touch alone and by keyboard alone."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.limits import Limit, SolveRules
from gambrel.services.books import Book, open_book
from gambrel.services.cabinet import cabinet, costs_by_method, dropped
from gambrel.services.settings import keep_setting
from gambrel.services.solve_rules import SOLVE_RULES, keep_rules, solve_rules
from gambrel.services.specials import set_special
from gambrel.services.words import formats_for
from gambrel.ui.cabinet.lines_model import FOUR, Column
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.solve_panel import SolvePanel
from gambrel.ui.cabinet.view import PRICE, SOLVE, TICKETS
from gambrel.ui.context import Context
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Meaning
from gambrel.ui.widgets.keypad import Keypad
from tests.trades import a_shop
from tests.ui.conftest import MovingClock

LEFT = Qt.MouseButton.LeftButton
Contexts = Callable[[Book], Context]


@pytest.fixture
def book(demo_file: Path, tmp_path: Path) -> Iterator[Book]:
    copied = shutil.copy(demo_file, tmp_path / "demo.gambrel")
    with open_book(str(copied)) as opened:
        yield opened


def made(context: Context, qtbot: QtBot) -> CabinetPlace:
    place = CabinetPlace(context)
    context.changes.changed.connect(lambda _kinds: place.refresh())
    qtbot.addWidget(place)
    place.resize(1280, 736)
    place.show()
    return place


@pytest.fixture
def place(book: Book, context_of: Contexts, qtbot: QtBot) -> CabinetPlace:
    found = made(context_of(book), qtbot)
    found.refresh()
    return found


def tap_line(place: CabinetPlace, qtbot: QtBot, name: str) -> None:
    table = place.view.table
    number = next(n for n, row in enumerate(table.lines.rows) if row.name == name)
    index = table.lines.index(number, Column.NAME)
    table.scrollTo(index)
    qtbot.mouseClick(table.viewport(), LEFT, pos=table.visualRect(index).center())


def type_price(place: CabinetPlace, qtbot: QtBot, text: str) -> None:
    for key in text:
        qtbot.mouseClick(place.view.price.keypad.keys[key], LEFT)


def today(book: Book, cut: str) -> int:
    return cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices[cut]


def test_lines_say_cost_price_margin_and_state(place: CabinetPlace, book: Book) -> None:
    rows = {row.name: row for row in place.view.table.lines.rows}
    assert rows["Rump"].price == "$27.99"
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    line = found.line("rump")
    assert line is not None
    assert line.margin is not None
    assert rows["Rump"].word == ("thin" if line.margin < found.target else "fine")
    assert "margin" in rows["Rump"].words
    assert place.view.table.rowHeight(0) >= 56


def test_a_price_is_set_and_undone_by_touch_alone(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    assert place.view.price.name.text() == "Rump"
    type_price(place, qtbot, "29.99")
    assert place.view.price.price.value == "$29.99"
    assert "→" in place.view.price.effects.margins[0].text()
    assert "+$2.00 a kilo" in place.view.price.effects.more[0].text()
    qtbot.mouseClick(place.view.price.set_button, LEFT)
    assert today(book, "rump") == 2999
    assert place.view.price.keypad.text == ""
    assert place.view.price.undo_button.caption == "Rump"
    qtbot.mouseClick(place.view.price.undo_button, LEFT)
    assert today(book, "rump") == 2799
    assert place.view.banner.meaning is Meaning.FINE
    assert not place.view.price.undo_button.isEnabled()


def test_a_price_is_set_by_keyboard_alone(place: CabinetPlace, book: Book, qtbot: QtBot) -> None:
    table = place.view.table
    table.setFocus()
    qtbot.keyClick(table, Qt.Key.Key_Down)
    name = place.view.price.name.text()
    cut = next(row.key for row in table.lines.rows if row.name == name)
    qtbot.keyClicks(table, "16.49")
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert today(book, cut) == 1649


def test_another_line_starts_with_an_empty_keypad(place: CabinetPlace, qtbot: QtBot) -> None:
    tap_line(place, qtbot, "Rump")
    type_price(place, qtbot, "29")
    tap_line(place, qtbot, "Shin")
    assert place.view.price.keypad.text == ""
    assert not place.view.price.set_button.isEnabled()


def test_a_slip_is_asked_about_and_may_be_meant(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    type_price(place, qtbot, "279")
    qtbot.mouseClick(place.view.price.set_button, LEFT)
    assert "decimal point" in place.view.banner.sentence
    assert today(book, "rump") == 2799
    qtbot.mouseClick(place.view.banner.action, LEFT)
    assert today(book, "rump") == 27900


def test_a_price_of_nothing_is_refused_in_place(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    type_price(place, qtbot, "0")
    assert "above zero" in place.view.price.fault.sentence
    assert not place.view.price.set_button.isEnabled()
    qtbot.keyClick(place.view.table, Qt.Key.Key_Return)
    assert today(book, "rump") == 2799


def test_a_loss_by_weight_says_what_dropping_it_would_do(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    qtbot.mouseClick(place.view.method_button, LEFT)
    lost = next(row for row in place.view.table.lines.rows if row.word == "below cost")
    assert lost.note == "may still pay"
    tap_line(place, qtbot, lost.name)
    said = dropped(book, lost.key, datetime(2026, 11, 21, 4, tzinfo=UTC), Method.WEIGHT)
    assert said.worse > 0
    worse = formats_for(a_shop()).money(said.worse)
    warning = place.view.price.warning.sentence
    assert f"would have earned {worse} less in four weeks" in warning


def test_filters_and_search_narrow_the_lines(place: CabinetPlace, qtbot: QtBot) -> None:
    everything = len(place.view.table.lines.rows)
    qtbot.mouseClick(place.view.chips["lamb"], LEFT)
    lamb = {row.name for row in place.view.table.lines.rows}
    assert lamb
    assert len(lamb) < everything
    assert "Rump" not in lamb
    qtbot.mouseClick(place.view.chips["all"], LEFT)
    qtbot.keyClicks(place.view.search, "RUMP")
    assert {row.name for row in place.view.table.lines.rows} == {"Rump", "Rump cap", "Rump steak"}


def test_a_body_is_solved_held_taken_and_undone(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    before = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices
    solve = solved_for(place, qtbot, "Hindquarter 16")
    assert "→" in solve.summary.text()
    qtbot.mouseClick(solve.rows["rump"].open, LEFT)
    qtbot.mouseClick(place.view.limits.hold, LEFT)
    qtbot.mouseClick(place.view.limits.keep_button, LEFT)
    assert place.view.stack.currentIndex() == SOLVE
    assert "held" in solve.rows["rump"].told
    assert cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices == before
    qtbot.mouseClick(solve.take_button, LEFT)
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    after, earned = found.prices, found.basket("HQ-16").margin(found.prices, found.tax)
    assert earned is not None
    assert earned >= found.target
    assert after["rump"] == before["rump"]
    assert after != before
    qtbot.mouseClick(solve.undo_button, LEFT)
    assert cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices == before


def solved_for(place: CabinetPlace, qtbot: QtBot, body: str) -> SolvePanel:
    qtbot.mouseClick(place.view.tabs.button(SOLVE), LEFT)
    solve = place.view.solve
    while solve.body.text.text() != body:
        qtbot.mouseClick(solve.body.on, LEFT)
    return solve


def test_a_proposal_is_taken_by_line(place: CabinetPlace, book: Book, qtbot: QtBot) -> None:
    before = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices
    solve = solved_for(place, qtbot, "Hindquarter 16")
    ticked = [key for key, row in solve.rows.items() if row.tick.isChecked()]
    assert len(ticked) > 2
    for key in ticked[1:]:
        qtbot.mouseClick(solve.rows[key].tick, LEFT)
    assert solve.take_button.text() == "Take 1 price"
    assert "All of it" in solve.summary.text()
    qtbot.mouseClick(solve.take_button, LEFT)
    after = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices
    assert [key for key in before if before[key] != after[key]] == ticked[:1]


def test_a_target_out_of_reach_names_the_purchase_that_would_do(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    keep_rules(book, SolveRules(limits={key: Limit(held=True) for key in found.prices}))
    place.refresh()
    solve = solved_for(place, qtbot, "Hindquarter 16")
    for _ in range(5):
        qtbot.mouseClick(solve.target.on, LEFT)
    assert "is missing" in solve.doubt.sentence
    assert "a kilo instead of" in solve.doubt.sentence
    assert not solve.take_button.isEnabled()
    assert all(not row.tick.isEnabled() for row in solve.rows.values())


def test_a_species_and_the_week_are_solved_too(place: CabinetPlace, qtbot: QtBot) -> None:
    qtbot.mouseClick(place.view.tabs.button(SOLVE), LEFT)
    solve = place.view.solve
    qtbot.mouseClick(solve.kinds["species"], LEFT)
    assert solve.body.text.text() == "Beef, four weeks"
    assert "lamb-loin-chops" not in solve.rows
    qtbot.mouseClick(solve.body.on, LEFT)
    assert solve.body.text.text() == "Lamb, four weeks"
    qtbot.mouseClick(solve.kinds["week"], LEFT)
    assert solve.body.text.text() == "This week"
    assert len(solve.rows) > 20


def test_bounds_are_typed_kept_and_refused_in_place(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    solve, limits = solved_for(place, qtbot, "Hindquarter 16"), place.view.limits
    qtbot.mouseClick(solve.rows["rump"].open, LEFT)
    press(limits.keypad, qtbot, "30")
    qtbot.mouseClick(limits.fields["ceiling"], LEFT)
    press(limits.keypad, qtbot, "29.5")
    assert "stands above its ceiling of $29.50" in limits.fault.sentence
    assert not limits.keep_button.isEnabled()
    qtbot.mouseClick(limits.fields["floor"], LEFT)
    qtbot.mouseClick(limits.keypad.keys["<"], LEFT)
    qtbot.mouseClick(limits.keypad.keys["<"], LEFT)
    assert limits.fault.sentence == ""
    qtbot.mouseClick(limits.fields["sold"], LEFT)
    press(limits.keypad, qtbot, "95")
    qtbot.mouseClick(limits.keep_button, LEFT)
    rules = solve_rules(book)
    assert rules is not None
    assert rules.limits == {"rump": Limit(ceiling=2950, sold=Decimal("0.95"))}
    assert "95" in solve.rows["rump"].told
    qtbot.mouseClick(solve.rows["rump"].open, LEFT)
    qtbot.mouseClick(limits.clear_button, LEFT)
    qtbot.mouseClick(limits.keep_button, LEFT)
    again = solve_rules(book)
    assert again is not None
    assert again.limits == {}


def test_the_way_prices_end_is_kept(place: CabinetPlace, book: Book, qtbot: QtBot) -> None:
    solve = solved_for(place, qtbot, "Hindquarter 16")
    qtbot.mouseClick(solve.endings.on, LEFT)
    rules = solve_rules(book)
    assert rules is not None
    assert rules.endings == Endings(100, (49, 99))
    place.refresh()
    assert solve.endings.text.text() == "Ends in .49, .99"


def test_rules_that_cannot_be_read_are_said_and_do_not_stand_in_the_way(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    keep_setting(book, SOLVE_RULES, "nonsense")
    place.refresh()
    solve = solved_for(place, qtbot, "Hindquarter 16")
    assert "cannot be read" in place.view.banner.sentence
    assert solve.rows


def press(keypad: Keypad, qtbot: QtBot, text: str) -> None:
    for key in text:
        qtbot.mouseClick(keypad.keys[key], LEFT)


def test_a_special_is_set_shown_ended_and_undone_by_touch(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    qtbot.mouseClick(place.view.price.special_button, LEFT)
    special = place.view.special
    assert (special.first.text.text(), special.last.text.text()) == ("Fri 27 Nov", "Sun 29 Nov")
    while special.first.text.text() != "Sat 21 Nov":
        qtbot.mouseClick(special.first.back, LEFT)
    while special.last.text.text() != "Sun 22 Nov":
        qtbot.mouseClick(special.last.back, LEFT)
    press(special.keypad, qtbot, "21.99")
    assert "2 days at $21.99. On Mon 23 Nov the regular price returns" in special.plan.text()
    qtbot.mouseClick(special.set_button, LEFT)
    assert place.view.stack.currentIndex() == PRICE
    row = next(row for row in place.view.table.lines.rows if row.key == "rump")
    assert (row.price, row.was, row.note) == ("$21.99", "was $27.99", "special until 22 Nov")
    price = place.view.price
    assert "until Sun 22 Nov, from Mon 23 Nov $27.99 again" in price.special.text()
    assert today(book, "rump") == 2199
    qtbot.mouseClick(price.end_button, LEFT)
    assert today(book, "rump") == 2799
    assert not price.end_button.isVisible()
    qtbot.mouseClick(price.undo_button, LEFT)
    assert today(book, "rump") == 2199
    assert price.end_button.isVisible()


def test_a_regular_price_while_a_special_runs_says_from_when(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    now = datetime(2026, 11, 21, 3, tzinfo=UTC)
    days = (now.date(), now.date() + timedelta(days=1))
    set_special(book, "rump", 2199, days, now)
    place.refresh()
    tap_line(place, qtbot, "Rump")
    assert place.view.price.set_button.text() == "Set regular"
    type_price(place, qtbot, "28.99")
    qtbot.mouseClick(place.view.price.set_button, LEFT)
    assert today(book, "rump") == 2199
    assert "from Mon 23 Nov $28.99 again" in place.view.price.special.text()
    qtbot.mouseClick(place.view.price.undo_button, LEFT)
    assert "from Mon 23 Nov $27.99 again" in place.view.price.special.text()


def test_days_and_prices_that_cannot_be_are_said_beside_them(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    qtbot.mouseClick(place.view.price.special_button, LEFT)
    special = place.view.special
    for _ in range(3):
        qtbot.mouseClick(special.last.back, LEFT)
    press(special.keypad, qtbot, "21.99")
    assert "end before it starts" in special.fault.sentence
    assert not special.set_button.isEnabled()
    qtbot.mouseClick(special.last.on, LEFT)
    assert special.fault.sentence == ""
    special.keypad.clear()
    press(special.keypad, qtbot, "27.99")
    assert "regular price of Rump" in special.fault.sentence
    special.keypad.clear()
    press(special.keypad, qtbot, "0")
    assert "above zero" in special.fault.sentence
    special.keypad.clear()
    press(special.keypad, qtbot, "29.99")
    assert "dearer than today" in special.fault.sentence
    assert special.set_button.isEnabled()


def test_costs_stand_side_by_side_while_they_are_wished(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    table = place.view.table
    assert table.isColumnHidden(Column.BY_WEIGHT)
    qtbot.mouseClick(place.view.four_button, LEFT)
    assert not any(table.isColumnHidden(column) for column in FOUR)
    assert table.isColumnHidden(Column.COST)
    side = costs_by_method(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    row = next(row for row in table.lines.rows if row.key == "rump")
    formats = formats_for(a_shop())
    for method, text in zip(Method, row.costs, strict=True):
        costs = side[method]
        assert costs is not None
        assert text == formats.per_kilo(costs["rump"])
    assert "by weight" in row.words
    qtbot.mouseClick(place.view.four_button, LEFT)
    assert all(table.isColumnHidden(column) for column in FOUR)


def order(place: CabinetPlace) -> list[str]:
    return [row.key for row in place.view.table.lines.rows]


def test_trays_are_dragged_into_the_shop_s_own_order(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    table, view = place.view.table, place.view
    before = order(place)
    qtbot.mouseClick(view.arrange_button, LEFT)
    port = table.viewport()
    places = [table.visualRect(table.lines.index(n, Column.NAME)).center() for n in range(4)]
    qtbot.mousePress(port, LEFT, pos=places[0])
    qtbot.mouseMove(port, places[1])
    qtbot.mouseMove(port, places[3])
    assert order(place)[:4] == [*before[1:4], before[0]], "it moves under the finger"
    qtbot.mouseRelease(port, LEFT, pos=places[3])
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    assert [line.cut.key for line in found.lines] == order(place)
    qtbot.mouseClick(view.arrange_button, LEFT)
    qtbot.mousePress(port, LEFT, pos=places[0])
    qtbot.mouseMove(port, places[2])
    qtbot.mouseRelease(port, LEFT, pos=places[2])
    assert order(place)[:4] == [*before[1:4], before[0]], "not while nobody arranges"


def test_trays_are_moved_by_keys_and_by_buttons(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    before, table = order(place), place.view.table
    place.open_item(before[2])
    qtbot.keyClick(table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert order(place)[:3] == [before[0], before[2], before[1]]
    qtbot.mouseClick(place.view.arrange_button, LEFT)
    qtbot.mouseClick(place.view.up_button, LEFT)
    assert order(place)[:3] == [before[2], before[0], before[1]]
    qtbot.mouseClick(place.view.up_button, LEFT)
    assert order(place)[:3] == [before[2], before[0], before[1]], "there is nothing above it"
    qtbot.mouseClick(place.view.down_button, LEFT)
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    assert [line.cut.key for line in found.lines][:3] == [before[0], before[2], before[1]]


def test_a_tray_keeps_its_place_among_those_that_a_filter_hides(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    before = order(place)
    qtbot.mouseClick(place.view.chips["lamb"], LEFT)
    lamb = order(place)
    place.open_item(lamb[-1])
    qtbot.keyClick(place.view.table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert order(place) == [*lamb[:-2], lamb[-1], lamb[-2]]
    qtbot.mouseClick(place.view.chips["all"], LEFT)
    assert [key for key in order(place) if key not in lamb] == [
        key for key in before if key not in lamb
    ]


def test_a_ticket_is_chosen_by_keyboard_alone(place: CabinetPlace, qtbot: QtBot) -> None:
    place.view.show_panel(TICKETS)
    place.view.table.setFocus()
    qtbot.keyClick(place.view.table, Qt.Key.Key_Down)
    qtbot.keyClick(place.view.table, Qt.Key.Key_Space)
    assert place.view.tickets.count.text() == "1 cut chosen"


def test_new_prices_of_the_week_are_chosen_at_once(place: CabinetPlace, qtbot: QtBot) -> None:
    qtbot.mouseClick(place.view.tabs.button(TICKETS), LEFT)
    qtbot.mouseClick(place.view.tickets.ticks["changed"], LEFT)
    ticked = place.view.table.lines.ticked
    assert ticked is not None
    assert {"rump-steak", "beef-mince"} <= ticked
    assert "tenderloin" not in ticked


def test_the_book_is_read_off_the_window_s_thread(
    book: Book, context_of: Contexts, qtbot: QtBot
) -> None:
    tasks = PoolTasks()
    found = made(replace(context_of(book), tasks=tasks), qtbot)
    with qtbot.waitSignal(found.view.table.lines.modelReset, timeout=5000):
        found.refresh()
    assert found.view.table.lines.rows
    tasks.wait()


def test_an_empty_book_says_what_to_do(tmp_path: Path, context_of: Contexts, qtbot: QtBot) -> None:
    with open_book(str(tmp_path / "empty.gambrel")) as book:
        with book.transaction() as work:
            work.set_shop(a_shop())
        found = made(context_of(book), qtbot)
        found.refresh()
        with qtbot.waitSignal(found.go) as gone:
            qtbot.mouseClick(found.empty.action, LEFT)
        assert gone.args == ["rail", ""]


def test_targets_are_large_enough_for_a_finger_on_a_small_tablet(place: CabinetPlace) -> None:
    from gambrel.ui.widgets.button import Button

    place.resize(1024, 536)
    shown = [button for button in place.findChildren(Button) if button.isVisible()]
    assert shown
    assert all(min(button.width(), button.height()) >= 44 for button in shown)
    assert all(button.accessibleName() for button in shown)


def test_a_finger_drags_a_tray_only_while_they_are_arranged(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    table, before = place.view.table, order(place)
    window, finger = place.windowHandle(), QTest.createTouchDevice()
    ports = [table.visualRect(table.lines.index(n, Column.NAME)).center() for n in range(4)]
    places = [table.viewport().mapTo(place, at) for at in ports]

    def drag() -> None:
        QTest.touchEvent(window, finger).press(0, places[0], window).commit()
        for at in places[1:]:
            QTest.touchEvent(window, finger).move(0, at, window).commit()
        QTest.touchEvent(window, finger).release(0, places[3], window).commit()

    qtbot.mouseClick(place.view.arrange_button, LEFT)
    drag()
    moved = order(place)
    assert moved[:4] == [*before[1:4], before[0]]
    qtbot.mouseClick(place.view.arrange_button, LEFT)
    drag()
    assert order(place) == moved, "a drag scrolls"


def test_a_special_that_ends_by_itself_is_seen_without_anybody_s_act(
    book: Book, context_of: Contexts, qtbot: QtBot
) -> None:
    clock = MovingClock()
    set_special(book, "rump", 2199, (date(2026, 11, 21), date(2026, 11, 22)), clock())
    place = made(replace(context_of(book), clock=clock), qtbot)
    place.refresh()

    def price() -> str:
        return next(row.price for row in place.view.table.lines.rows if row.key == "rump")

    place.look_again()
    assert price() == "$21.99"
    clock.moment += timedelta(days=2)
    assert price() == "$21.99"
    place.look_again()
    assert price() == "$27.99"


def test_bounds_and_specials_are_set_by_keyboard_alone(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    solve, limits, special = place.view.solve, place.view.limits, place.view.special
    place.view.tabs.button(SOLVE).setFocus()
    qtbot.keyClick(place.view.tabs.button(SOLVE), Qt.Key.Key_Return)
    qtbot.keyClick(solve.kinds["week"], Qt.Key.Key_Return)
    qtbot.keyClick(solve.rows["rump"].open, Qt.Key.Key_Return)
    limits.fields["ceiling"].setFocus()
    qtbot.keyClicks(limits.fields["ceiling"], "29.9")
    qtbot.keyClick(limits.keep_button, Qt.Key.Key_Return)
    rules = solve_rules(book)
    assert rules is not None
    assert rules.limits == {"rump": Limit(ceiling=2990)}
    place.open_item("rump")
    qtbot.keyClick(place.view.price.special_button, Qt.Key.Key_Return)
    special.last.setFocus()
    qtbot.keyClick(special.last, Qt.Key.Key_Left)
    qtbot.keyClicks(special.last.on, "21.99")
    qtbot.keyClick(special.set_button, Qt.Key.Key_Return)
    assert "from Fri 27 Nov to Sat 28 Nov" in place.view.price.special.text()
