"""What a piece would earn as another cut: asked and answered in place."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from gambrel.services.bench.choices import choice_between, whole_as
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.block.what_if_view import WhatIfPanel
from tests.block_shop import NOW
from tests.ui.block.fingers import tap, weigh


def press(place: BlockPlace, text: str) -> None:
    tap(next(key for key in place.view.work.panel.keys if key.text() == text))


def asked(place: BlockPlace) -> WhatIfPanel:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.keys[0])
    press(place, "What if")
    return place.view.work.what_if


def test_the_last_piece_is_compared_with_the_dearest_trim(place: BlockPlace) -> None:
    panel = asked(place)
    assert panel.isVisible()
    assert not place.view.work.grid.isVisible()
    assert (panel.way_key.text(), panel.other_key.text()) == ("Rump", "Beef trim 90")
    choice = choice_between(place.look.trade, 4386, whole_as("rump"), whole_as("trim-90"), NOW)
    formats = place._context.formats
    assert panel.earning.accessibleName() == f"{formats.money(choice.earns, signed=True)} more"
    assert panel.sentence.text().startswith("As Rump it earns")
    assert panel.sentence.wordWrap()


def test_minutes_cost_and_never_go_below_zero(place: BlockPlace) -> None:
    panel = asked(place)
    without = panel.earning.accessibleName()
    tap(panel.fewer_key)
    assert panel.minutes.text() == "0 min"
    tap(panel.more_key)
    assert panel.minutes.text() == "1 min"
    assert panel.earning.accessibleName() != without
    tap(panel.fewer_key)
    assert panel.earning.accessibleName() == without


def test_any_two_cuts_of_the_list_can_be_compared(place: BlockPlace) -> None:
    panel = asked(place)
    tap(panel.other_key)
    assert place.view.work.panel.title.text() == "Against which cut?"
    press(place, "Striploin")
    tap(panel.way_key)
    press(place, "Beef bone")
    assert (panel.way_key.text(), panel.other_key.text()) == ("Beef bone", "Striploin")
    assert panel.earning.accessibleName().endswith("less")


def test_back_from_choosing_a_cut_comes_back_to_the_comparison(place: BlockPlace) -> None:
    panel = asked(place)
    tap(panel.other_key)
    tap(place.view.work.panel.close_key)
    assert panel.isVisible()
    QTest.keyClick(place.view, Qt.Key.Key_Escape)
    assert not panel.isVisible()
    assert place.view.work.grid.isVisible()


def test_a_cut_without_a_price_is_told_in_a_sentence(place: BlockPlace) -> None:
    panel = asked(place)
    look = place.look
    cuts = tuple(
        replace(cut, price=None) if cut.key == "trim-70" else cut for cut in look.trade.cuts
    )
    place._look = replace(look, trade=replace(look.trade, cuts=cuts))
    tap(panel.other_key)
    press(place, "Beef trim 70")
    assert panel.sentence.text() == "Beef trim 70 has no price yet. Give it one, and ask again."
    assert panel.earning.accessibleName() == "no figure"


def test_a_weighing_goes_on_and_brings_the_cuts_back(place: BlockPlace) -> None:
    panel = asked(place)
    for sign in "1.2":
        tap(place.view.work.column.keypad.keys[sign])
    tap(place.view.work.column.weigh_key)
    assert len(place.look.on_block.standing) == 2
    assert not panel.isVisible()
    assert place.view.work.grid.isVisible()
