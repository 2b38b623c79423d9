"""The catalogue under Setup: found, added, changed, retired; what follows is said first."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.trade.catalogue import CutKind
from gambrel.services import bench
from gambrel.services.books import Book
from gambrel.services.catalogue import Catalogue, catalogue, change_card, retire_cut
from gambrel.ui.context import Context
from gambrel.ui.setup.cuts_section import CutsSection
from gambrel.ui.setup.cuts_state import NEW, NO_CUTS, NO_MATCH, TAP_ONE, Draft, describe
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.products import products_of, with_products
from tests.ui.setup.hands import check_walk, tap, type_keys, type_text

LONG = "Rump of the long name " * 4


@pytest.fixture
def section(place: SetupPlace) -> CutsSection:
    place.open_item("cuts")
    found = place.section
    assert isinstance(found, CutsSection)
    return found


@pytest.fixture
def found(demo: Book) -> Catalogue:
    return catalogue(demo)


def empty(found: Catalogue) -> Catalogue:
    return replace(found, entries={})


# --- The state ---


def test_cuts_stand_by_kind_under_their_species(found: Catalogue) -> None:
    state = describe(found, Draft(species="beef"))
    assert [choice.text for choice in state.species] == ["Beef", "Lamb", "Pork"]
    trays, trim, byproducts, waste, retired = state.groups
    assert [row.name for row in trim] == ["Beef trim 70", "Beef trim 90"]
    assert [row.name for row in byproducts] == ["Beef bone", "Beef fat", "Suet"]
    assert [row.name for row in waste] == ["Beef waste"]
    assert retired == ()
    rump = next(row for row in trays if row.key == "rump")
    assert rump.spoken == "Rump, 106 PLU, 5 days · on 3 lists"
    assert state.form.about == TAP_ONE


def test_what_is_sought_is_found_in_every_species(found: Catalogue) -> None:
    shoulder = describe(found, Draft(species="beef", search=" SHOULDER"))
    assert {row.key for row in shoulder.groups[0]} >= {"lamb-shoulder"}
    by_plu = describe(found, Draft(species="beef", search="201"))
    assert [row.key for row in by_plu.groups[0]] == ["lamb-leg"]
    assert describe(found, Draft(search="xyz")).none == NO_MATCH


def test_an_empty_catalogue_says_how_to_begin(found: Catalogue) -> None:
    state = describe(empty(found), Draft())
    assert (state.none, state.form.about, state.species) == (NO_CUTS, NO_CUTS, ())


def test_a_kind_is_asked_what_it_needs(found: Catalogue) -> None:
    def columns(key: str) -> frozenset[str]:
        return describe(found, Draft(key)).form.columns

    assert "finish_per_kg" in columns("rump")
    assert "credit_per_kg" not in columns("rump")
    assert "price_per_kg" not in columns("rump")
    assert "credit_per_kg" in columns("beef-bone")
    assert "finish_per_kg" not in columns("beef-bone")
    new = describe(found, Draft(NEW, "beef")).form
    assert new.columns >= {"price_per_kg", "cut", "species"}


def test_the_key_of_a_new_cut_follows_its_name_until_it_is_typed(found: Catalogue) -> None:
    draft = Draft(NEW, "beef").type("name", "Rump heart")
    assert describe(found, draft).form.texts["cut"] == "rump-heart"
    assert describe(found, draft.type("name", "Rump")).form.texts["cut"] == "beef-rump"
    typed = draft.type("cut", "own")
    assert describe(found, typed.type("name", "Rump")).form.texts["cut"] == "own"


def test_what_follows_is_said_before_it_is_kept(found: Catalogue) -> None:
    draft = Draft("rump")
    assert describe(found, draft).form.follows == ""
    assert not describe(found, draft).form.can_act
    dearer = describe(found, draft.type("finish_per_kg", "0.90")).form
    assert "costs change" in dearer.follows
    assert dearer.can_act
    assert describe(found, draft.type("finish_per_kg", "0.30")).form.can_act is False
    slip = draft.type("ingredients", "Beef, salt").type("allergens", "wheat")
    assert "do not name wheat" in describe(found, slip).form.follows


# --- The page ---


def test_a_cut_is_changed_by_touch_and_taken_back(
    section: CutsSection, context: Context, demo: Book, qtbot: QtBot
) -> None:
    before, panel = catalogue(demo).entries["rump"].card, section.view.panel
    tap(section.view.grids[0].rows["rump"], qtbot)
    assert not panel.kinds.isVisible()
    assert "The kind stays" in panel.kind_fixed.text()
    tap(panel.numbers["finish_per_kg"], qtbot)
    tap(panel.keypad.keys["<"], qtbot)
    type_keys(panel.keypad.keys, "9", qtbot)
    assert panel.numbers["finish_per_kg"].value == "0.39"
    assert panel.follows.meaning is Meaning.WATCH
    with qtbot.waitSignal(context.changes.changed) as heard:
        tap(panel.keep, qtbot)
    assert heard.args == [frozenset({"cuts"})]
    assert catalogue(demo).entries["rump"].card.cut.finish == 39
    assert section.view.told.sentence == "Rump is kept."
    assert panel.follows.sentence == ""
    tap(section.view.told.action, qtbot)
    assert catalogue(demo).entries["rump"].card == before
    assert panel.numbers["finish_per_kg"].value == "0.30"


def test_a_new_byproduct_with_a_fee_is_added(
    section: CutsSection, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    tap(section.view.new, qtbot)
    assert section.window().focusWidget() is panel.lines["name"]
    assert not panel.keep.isEnabled()
    qtbot.keyClicks(panel.lines["name"], "Hooves")
    assert panel.lines["cut"].text() == "hooves"
    tap(panel.kinds.buttons["byproduct"], qtbot)
    assert panel.numbers["price_per_kg"].isHidden()
    tap(panel.numbers["credit_per_kg"], qtbot)
    type_keys(panel.keypad.keys, "0.25", qtbot)
    tap(panel.fee, qtbot)
    assert panel.fee.isChecked()
    tap(panel.keep, qtbot)
    made = catalogue(demo).entries["hooves"].card.cut
    assert (made.kind, made.credit, made.species) == (CutKind.BYPRODUCT, -25, "beef")
    assert panel.title.text() == "Hooves"
    assert panel.aside.text() == "Remove"
    tap(panel.aside, qtbot)
    assert "hooves" not in catalogue(demo).entries
    tap(section.view.told.action, qtbot)
    assert "hooves" in catalogue(demo).entries


def test_what_cannot_be_is_refused_in_place_and_stays_typed(
    section: CutsSection, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    tap(section.view.grids[0].rows["rump"], qtbot)
    tap(panel.numbers["plu"], qtbot)
    type_keys(panel.keypad.keys, "<<<101", qtbot)
    tap(panel.keep, qtbot)
    assert panel.refusal.meaning is Meaning.STOP
    assert "also the number of 'tenderloin'" in panel.refusal.sentence
    assert panel.numbers["plu"].value == "101"
    assert catalogue(demo).entries["rump"].card.cut.plu == "106"
    qtbot.keyClick(panel.numbers["plu"], Qt.Key.Key_Escape)
    assert panel.refusal.sentence == ""
    assert panel.numbers["plu"].value == "106"


def test_a_cut_is_retired_and_brought_back(section: CutsSection, demo: Book, qtbot: QtBot) -> None:
    panel = section.view.panel
    tap(section.view.grids[0].rows["rump"], qtbot)
    assert panel.aside.text() == "Retire"
    tap(panel.aside, qtbot)
    assert "Take it off there first" in panel.refusal.sentence
    tap(section.view.grids[0].rows["striploin-steak"], qtbot)
    tap(panel.aside, qtbot)
    assert list(section.view.grids[4].rows) == ["striploin-steak"]
    assert panel.aside.text() == "Bring back"
    tap(panel.aside, qtbot)
    assert not catalogue(demo).entries["striploin-steak"].retired
    tap(section.view.told.action, qtbot)
    assert catalogue(demo).entries["striploin-steak"].retired


def test_a_retired_cut_is_not_offered_where_blends_are_weighed_out(demo: Book) -> None:
    stage = next(row.stage for row in bench.waiting(demo) if row.stage)

    def offered() -> list[str]:
        made = with_products(bench.look(demo, stage), ())
        return [row.cut.key for row in made.on_block.more]

    def usual() -> tuple[str, ...]:
        made = [entry.card.cut for entry in catalogue(demo).entries.values()]
        return products_of(bench.look(demo, stage), made, "")

    assert "striploin-steak" in offered()
    retire_cut(demo, "striploin-steak")
    assert "striploin-steak" not in offered()
    assert "striploin-steak" not in usual()


def test_another_stations_change_is_shown_and_not_written_over(
    section: CutsSection, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    tap(section.view.grids[0].rows["rump"], qtbot)
    seen = catalogue(demo).entries["rump"].card
    change_card(demo, seen, replace(seen, cut=replace(seen.cut, shelf_life_days=9)))
    tap(panel.numbers["finish_per_kg"], qtbot)
    type_keys(panel.keypad.keys, "<9", qtbot)
    tap(panel.keep, qtbot)
    assert "Another station has changed Rump since" in panel.refusal.sentence
    assert panel.numbers["shelf_life_days"].value == "9"
    assert panel.numbers["finish_per_kg"].value == "0.39"
    tap(panel.keep, qtbot)
    now = catalogue(demo).entries["rump"].card.cut
    assert (now.shelf_life_days, now.finish) == (9, 39)


def test_it_is_worked_by_the_keyboard_alone(section: CutsSection, demo: Book, qtbot: QtBot) -> None:
    section.view.search.setFocus()
    type_text(section, "rump cap", qtbot)
    row = section.view.grids[0].rows["rump-cap"]
    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)
    section.view.panel.numbers["shelf_life_days"].setFocus()
    qtbot.keyClick(section.window().focusWidget(), Qt.Key.Key_Backspace)
    type_text(section, "7", qtbot)
    name = section.view.panel.lines["name"]
    name.setFocus()
    qtbot.keyClick(name, Qt.Key.Key_Return)
    assert catalogue(demo).entries["rump-cap"].card.cut.shelf_life_days == 7
    row.setFocus()  # a line of text takes back its own letters
    qtbot.keySequence(row, "Ctrl+Z")
    assert catalogue(demo).entries["rump-cap"].card.cut.shelf_life_days == 5


def test_what_is_half_typed_is_forgotten_on_the_way_out(
    section: CutsSection, place: SetupPlace, qtbot: QtBot
) -> None:
    tap(section.view.new, qtbot)
    qtbot.keyClicks(section.view.panel.lines["name"], "Half")
    place.open_item("people")
    place.open_item("cuts")
    assert section.view.panel.about.text() == TAP_ONE


@pytest.mark.parametrize("shown", ["none", "chosen", "follows", "refused", "new", "byproduct"])
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, section: CutsSection, demo: Book, shown: str, qtbot: QtBot
) -> None:
    if shown != "none":
        section.choose({"new": NEW, "byproduct": "beef-bone"}.get(shown, "rump"))
    if shown == "chosen":
        seen = catalogue(demo).entries["rump"].card
        change_card(demo, seen, replace(seen, cut=replace(seen.cut, name=LONG.strip())))
        section.refresh()
    if shown == "follows":
        for column, text in (("finish_per_kg", "9"), ("shelf_life_days", "9"), ("plu", "9999")):
            section.type(column, text)
        section.type("name", LONG)
    if shown == "refused":
        section.type("plu", "101")
        section.keep()
        assert section.view.panel.refusal.isVisible()
    check_walk(place, qtbot)
