"""A whole set of prices at the Cabinet: solved within bounds, taken, undone."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

from pytestqt.qtbot import QtBot

from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.limits import Limit, SolveRules
from gambrel.services.books import Book
from gambrel.services.cabinet import cabinet
from gambrel.services.settings import keep_setting
from gambrel.services.solve_rules import SOLVE_RULES, keep_rules, solve_rules
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.solve_panel import SolvePanel
from gambrel.ui.cabinet.view import SOLVE
from tests.ui.cabinet.hands import LEFT, press


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
