"""The suppliers under Setup: named, given an origin, removed while no body came from them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.trade.around import Origin, OriginOf
from gambrel.services.books import Book
from gambrel.services.rail import door
from gambrel.services.suppliers import Known, SupplierCard, change_supplier, suppliers
from gambrel.ui.context import Context
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.setup.suppliers_section import SuppliersSection
from gambrel.ui.setup.suppliers_state import NEW, NOBODY_YET, TAP_ONE, Draft, describe
from gambrel.ui.theme import Meaning
from tests.ui.setup.hands import check_walk, tap


@pytest.fixture
def section(place: SetupPlace) -> SuppliersSection:
    place.open_item("suppliers")
    found = place.section
    assert isinstance(found, SuppliersSection)
    return found


def card(book: Book, key: str) -> SupplierCard:
    return next(each.card for each in suppliers(book) if each.card.key == key)


def test_rows_say_origin_contact_and_bodies(demo: Book) -> None:
    known = suppliers(demo)
    state = describe(known, Draft())
    assert state.rows[0].spoken == "Ferncross Pigs, 2 bodies, Australia · farm@ferncross.example"
    assert state.about == TAP_ONE
    assert describe([], Draft()).about == NOBODY_YET
    first = known[0].card
    bare = replace(first, origin=Origin(OriginOf.SUPPLIER, first.key))
    assert describe([Known(bare, 1)], Draft()).rows[0].about == "no origin · farm@ferncross.example"


def test_a_new_origin_of_what_came_is_said_before_it_is_kept(demo: Book) -> None:
    known = suppliers(demo)
    draft = Draft("northfold")
    assert not describe(known, draft).can_act
    assert describe(known, draft.type("contact", "x")).follows == ""
    follows = describe(known, draft.type("born", "Ireland")).follows
    assert "Labels of its 5 bodies say the new origin" in follows
    assert not describe(known, draft.type("name", " ")).can_act
    assert describe(known, draft).aside == ""  # bodies came from it


def test_an_origin_is_typed_kept_and_taken_back(
    section: SuppliersSection, context: Context, demo: Book, qtbot: QtBot
) -> None:
    before, panel = card(demo, "northfold"), section.view.panel
    tap(section.view.rows.rows["northfold"], qtbot)
    born = panel.lines["born"]
    born.setFocus()
    born.selectAll()
    qtbot.keyClicks(born, "Ireland")
    assert panel.follows.meaning is Meaning.WATCH
    with qtbot.waitSignal(context.changes.changed) as heard:
        qtbot.keyClick(born, Qt.Key.Key_Return)
    assert heard.args == [frozenset({"suppliers"})]
    assert card(demo, "northfold").origin.born == "Ireland"
    assert section.view.told.sentence == "Northfold Farm is kept."
    tap(section.view.told.action, qtbot)
    assert card(demo, "northfold") == before
    assert born.text() == "Australia"


def test_a_new_supplier_is_offered_at_the_door_and_removed(
    section: SuppliersSection, demo: Book, qtbot: QtBot
) -> None:
    view = section.view
    tap(view.new, qtbot)
    name = view.panel.lines["name"]
    assert section.window().focusWidget() is name
    qtbot.keyClicks(name, "northfold farm")
    tap(view.panel.keep, qtbot)
    assert "already" in view.panel.refusal.sentence
    qtbot.keyClicks(name, " north")
    tap(view.panel.keep, qtbot)
    assert "northfold farm north" in [each.name for each in door(demo).suppliers]
    assert view.panel.title.text() == "northfold farm north"
    tap(view.panel.aside, qtbot)
    assert "northfold farm north" not in [each.name for each in door(demo).suppliers]
    assert section.window().focusWidget() is view.new
    tap(view.told.action, qtbot)
    assert "northfold farm north" in [each.name for each in door(demo).suppliers]


def test_another_stations_change_is_shown_and_not_written_over(
    section: SuppliersSection, demo: Book, qtbot: QtBot
) -> None:
    tap(section.view.rows.rows["northfold"], qtbot)
    seen, panel = card(demo, "northfold"), section.view.panel
    change_supplier(demo, seen, replace(seen, origin=replace(seen.origin, reared="Wales")))
    panel.lines["contact"].setFocus()
    qtbot.keyClicks(panel.lines["contact"], " or call")
    tap(panel.keep, qtbot)
    assert "Another station has changed Northfold Farm since" in panel.refusal.sentence
    assert panel.lines["reared"].text() == "Wales"
    tap(panel.keep, qtbot)
    now = card(demo, "northfold")
    assert (now.origin.reared, "or call" in now.supplier.contact) == ("Wales", True)


def test_escape_forgets_what_was_typed(section: SuppliersSection, demo: Book, qtbot: QtBot) -> None:
    tap(section.view.rows.rows["northfold"], qtbot)
    name = section.view.panel.lines["name"]
    qtbot.keyClicks(name, "xyz")
    qtbot.keyClick(name, Qt.Key.Key_Escape)
    assert name.text() == "Northfold Farm"
    tap(section.view.new, qtbot)
    qtbot.keyClick(name, Qt.Key.Key_Escape)
    assert section.view.panel.about.text() == TAP_ONE


@pytest.mark.parametrize("shown", ["none", "chosen", "follows", "refused", "new"])
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, section: SuppliersSection, demo: Book, shown: str, qtbot: QtBot
) -> None:
    if shown != "none":
        section.choose(NEW if shown == "new" else "northfold")
    if shown == "chosen":
        seen = card(demo, "northfold")
        long = "A farm with a name as long as it may be " * 2
        change_supplier(demo, seen, replace(seen, supplier=replace(seen.supplier, name=long)))
        section.refresh()
    if shown == "follows":
        section.type("born", "Ireland")
    if shown == "refused":
        section.type("name", "Threegate Lamb")
        section.keep()
        assert section.view.panel.refusal.isVisible()
    check_walk(place, qtbot)
