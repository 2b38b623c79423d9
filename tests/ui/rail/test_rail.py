"""The Rail on the demo shop, by touch alone and by keyboard alone."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt, QThreadPool
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from gambrel.domain.trade.records import Body, Reweigh
from gambrel.services.books import Book
from gambrel.services.rail import rail
from gambrel.ui.context import Context
from gambrel.ui.rail.card import BodyCard
from gambrel.ui.rail.place import RailPlace
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Meaning
from tests.ui.rail.hands import SIZES, opened, tap, type_in
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small


def card(place: RailPlace, key: str) -> BodyCard:
    return place.view.grid.cards[key]


def reweighs(book: Book) -> tuple[Reweigh, ...]:
    with book.reading() as work:
        return work.trade().reweighs


def bodies(book: Book) -> dict[str, Body]:
    with book.reading() as work:
        return {body.key: body for body in work.trade().bodies}


# --- What hangs ---


def test_there_is_a_card_for_each_body_in_the_order_of_the_rail(
    place: RailPlace, demo: Book
) -> None:
    found = rail(demo, place.context.clock()).bodies
    assert list(place.view.grid.cards) == [row.body.key for row in found]
    assert card(place, "SIDE-04").weight.value == "138.60"
    assert card(place, "FQ-09").claim.text().startswith("It weighs 3.000 kg")
    assert card(place, "HQ-17").mark.text == "3\u00a0h\u00a055 off the rail"
    assert not card(place, "HQ-17").reweigh.isEnabled()


def test_a_tap_sends_a_body_to_the_block(place: RailPlace, qtbot: QtBot) -> None:
    with qtbot.waitSignal(place.go) as told:
        tap(place, card(place, "LAMB-32").block)
    assert told.args == ["block", "LAMB-32"]


def test_columns_follow_the_width(place: RailPlace, qtbot: QtBot) -> None:
    def columns() -> int:
        tops = [each.y() for each in place.view.grid.cards.values()]
        return tops.count(min(tops))

    for width, wanted in ((1280, 3), (1024, 2), (1920, 4), (500, 1)):
        place.resize(width, 736)
        qtbot.waitUntil(lambda wanted=wanted: columns() == wanted)  # type: ignore[misc]


def test_an_empty_rail_says_what_to_do(place: RailPlace, demo: Book, qtbot: QtBot) -> None:
    from gambrel.ui.rail.state import RailState

    place.view.show_state(RailState())
    assert place.view.empty.isVisible()
    tap(place, place.view.empty.action)
    assert place.view.receiving


def test_reading_in_the_background_shows_the_last_that_was_asked_for(
    demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot
) -> None:
    base = context_of(demo)
    pool = PoolTasks(QThreadPool())
    context = Context(base.book, base.theme, base.formats, base.clock, pool, "test station")
    place = RailPlace(context)
    qtbot.addWidget(place)
    place.show()
    for _ in range(3):
        place.refresh()
    qtbot.waitUntil(lambda: "SIDE-04" in place.view.grid.cards)
    assert pool.wait()


# --- Weigh again ---


def test_a_body_is_weighed_again_with_two_taps_and_the_digits(
    place: RailPlace, demo: Book, qtbot: QtBot
) -> None:
    before = reweighs(demo)
    panel = place.view.reweigh
    tap(place, card(place, "SIDE-04").reweigh)
    assert panel.isVisible()
    assert card(place, "SIDE-04").property("chosen") is True
    for digit in "137.4":
        tap(place, panel.keypad.keys[digit])
    with qtbot.waitSignal(place.context.changes.changed) as told:
        tap(place, panel.keep)
    assert told.args == [frozenset({"reweighs"})]
    (made,) = set(reweighs(demo)) - set(before)
    assert (made.body, made.grams) == ("SIDE-04", 137_400)
    assert panel.isHidden()
    assert place.view.banner.meaning is Meaning.FINE
    assert place.view.banner.sentence == "Side 04 weighs 137.40 kg now."


def test_a_body_is_weighed_again_by_keyboard(place: RailPlace, demo: Book, qtbot: QtBot) -> None:
    before = reweighs(demo)
    button = card(place, "SIDE-04").reweigh
    button.setFocus()
    qtbot.keyClick(button, Qt.Key.Key_Return)
    panel = place.view.reweigh
    assert panel.hasFocus()
    qtbot.keyClicks(panel, "137,4")
    qtbot.keyClick(panel, Qt.Key.Key_Return)
    (made,) = set(reweighs(demo)) - set(before)
    assert made.grams == 137_400


def test_an_odd_weight_is_doubted_in_place_and_kept_by_one_more_tap(
    place: RailPlace, demo: Book
) -> None:
    tap(place, card(place, "SIDE-04").reweigh)
    panel = place.view.reweigh
    assert not panel.keep.isEnabled()
    for digit in "90":
        tap(place, panel.keypad.keys[digit])
    assert "less than last time" in panel.doubt.sentence
    tap(place, panel.keep)
    assert ("SIDE-04", 90_000) in [(row.body, row.grams) for row in reweighs(demo)]


def test_leaving_keeps_nothing(place: RailPlace, demo: Book, qtbot: QtBot) -> None:
    before = reweighs(demo)
    tap(place, card(place, "SIDE-04").reweigh)
    tap(place, place.view.reweigh.keypad.keys["9"])
    qtbot.keyClick(place.view.reweigh, Qt.Key.Key_Escape)
    assert place.view.reweigh.isHidden()
    assert card(place, "SIDE-04").property("chosen") is False
    tap(place, card(place, "SIDE-04").reweigh)
    assert place.view.reweigh.keypad.text == ""
    tap(place, place.view.reweigh.leave)
    assert reweighs(demo) == before


# --- Receive ---


def test_a_body_is_received_by_touch_alone_and_the_claim_is_kept(
    place: RailPlace, demo: Book, qtbot: QtBot
) -> None:
    tap(place, place.view.receive_button)
    form = place.view.receive
    assert not form.take.isEnabled()
    tap(place, form.portions.buttons["beef/forequarter"])
    tap(place, form.suppliers.buttons["hollowgate"])
    tap(place, form.numbers["docket"])
    type_in(place, "75.4")
    tap(place, form.numbers["received"])
    type_in(place, "72.4")
    tap(place, form.numbers["temperature"])
    type_in(place, "8.5")
    tap(place, form.killed.earlier)
    assert "$23.85 to claim" in form.claims.sentence
    assert "8.5 °C" in form.claims.sentence
    with qtbot.waitSignal(place.context.changes.changed):
        tap(place, form.take)
    made = bodies(demo)["FQ-10"]
    assert (made.docket_g, made.received_g, made.price) == (75_400, 72_400, 795)
    assert made.killed_on is not None
    assert not place.view.receiving
    assert place.view.banner.meaning is Meaning.WATCH
    place.refresh()
    assert "$23.85 to claim" in card(place, "FQ-10").claim.text()


def test_a_body_is_received_by_keyboard_alone(place: RailPlace, demo: Book, qtbot: QtBot) -> None:
    def press(key: Qt.Key, times: int = 1) -> None:
        for _ in range(times):
            qtbot.keyClick(place.focusWidget(), key)

    def go_to(wanted: QWidget) -> None:
        for _ in range(60):
            if place.focusWidget() is wanted:
                return
            press(Qt.Key.Key_Tab)
        raise AssertionError(f"Tab never comes to {wanted.accessibleName()}")

    go_to(place.view.receive_button)
    press(Qt.Key.Key_Return)
    form = place.view.receive
    go_to(form.portions.buttons["lamb/whole"])
    press(Qt.Key.Key_Space)
    go_to(form.suppliers.buttons["threegate"])
    press(Qt.Key.Key_Right, 2)  # within a row of choices the arrows go on ...
    press(Qt.Key.Key_Left, 2)  # ... and back
    press(Qt.Key.Key_Space)
    for name, digits in (("docket", "24.10"), ("received", "24.06")):
        go_to(form.numbers[name])
        qtbot.keyClicks(place.focusWidget(), digits)
    go_to(form.ref)
    qtbot.keyClicks(place.focusWidget(), "TG-451")
    go_to(form.take)
    press(Qt.Key.Key_Return)
    made = bodies(demo)["LAMB-34"]
    assert (made.docket_g, made.received_g, made.supplier_ref) == (24_100, 24_060, "TG-451")


def test_what_the_book_refuses_is_said_beside_the_button(
    place: RailPlace, demo: Book, qtbot: QtBot
) -> None:
    before = bodies(demo)
    tap(place, place.view.receive_button)
    form = place.view.receive
    tap(place, form.portions.buttons["beef/forequarter"])
    tap(place, form.suppliers.buttons["hollowgate"])
    for name in ("docket", "received"):
        tap(place, form.numbers[name])
        type_in(place, "75.4")
    form.body.setFocus()
    form.body.selectAll()
    qtbot.keyClicks(form.body, "FQ-09")
    tap(place, form.take)
    assert form.refusal.sentence == "There is a body FQ-09 already. Give this one another name."
    assert bodies(demo) == before
    tap(place, form.leave)
    assert not place.view.receiving


def test_choosing_a_field_goes_on_from_what_it_shows(place: RailPlace) -> None:
    tap(place, place.view.receive_button)
    form = place.view.receive
    tap(place, form.portions.buttons["beef/forequarter"])
    tap(place, form.suppliers.buttons["hollowgate"])
    tap(place, form.numbers["docket"])
    type_in(place, "75")
    tap(place, form.numbers["received"])
    type_in(place, "7")
    tap(place, form.numbers["docket"])
    type_in(place, ".4")
    assert (form.numbers["docket"].value, form.numbers["received"].value) == ("75.4", "7")


# --- Sizes, names, reach ---


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("what", ["cards", "reweigh", "receive"])
@pytest.mark.parametrize("dark", [False, True])
def test_every_control_can_be_hit_named_reached_and_read(
    place: RailPlace, qtbot: QtBot, size: tuple[int, int], what: str, dark: bool
) -> None:
    place.context.theme.set_dark(dark)
    opened(place, what)
    place.resize(*size)
    # Wrapped words know their height a turn of the loop after their width.
    qtbot.waitUntil(lambda: not cut_labels(place), timeout=2_000)
    assert (place.width(), place.height()) == size
    assert too_small(place, 44) == []
    assert nameless(place) == []
    assert out_of_reach(place) == []
    assert outside(place) == []


def test_a_new_supplier_is_named_in_the_form(place: RailPlace, demo: Book) -> None:
    tap(place, place.view.receive_button)
    form = place.view.receive
    assert not form.newcomer.isVisible()
    tap(place, form.suppliers.buttons["+"])
    assert form.newcomer.isVisible()
    assert form.newcomer.hasFocus()
    QTest.keyClicks(form.newcomer, "Millbrook Farm")
    tap(place, form.add_key)
    assert not form.newcomer.isVisible()
    assert form.suppliers.buttons["millbrook"].isChecked()
    tap(place, form.portions.buttons["beef/side"])
    assert form.from_key.text() == "Millbrook Farm"
    assert place._entry.supplier == "millbrook"
    with demo.reading() as work:
        assert "Millbrook Farm" in [each.name for each in work.suppliers()]


def test_a_name_that_is_there_already_is_refused_in_place(place: RailPlace) -> None:
    tap(place, place.view.receive_button)
    form = place.view.receive
    tap(place, form.suppliers.buttons["+"])
    QTest.keyClicks(form.newcomer, "Northfold Farm")
    QTest.keyClick(form.newcomer, Qt.Key.Key_Return)
    assert "in the book already" in form.refusal.sentence
    assert form.newcomer.isVisible()
