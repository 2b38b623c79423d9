"""What stands free, as texts, without Qt."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from gambrel.domain.bench.trim import FreeClass
from gambrel.ui.tub.picking import Pad, Picking, typed_grams, typed_percent
from gambrel.ui.tub.shelf import Shelf
from gambrel.ui.tub.trim_state import describe_trim, unsold
from tests.ui.tub.state_shop import FORMATS


def test_classes_stand_oldest_first_and_say_how_near_their_last_day_they_are(shelf: Shelf) -> None:
    state = describe_trim(shelf.stock.trim, Picking(), FORMATS)
    assert [row.key for row in state.rows] == ["trim-70", "trim-90", "trim-50", "lamb-trim"]
    by_key = {row.key: row for row in state.rows}
    # 4 200 g of trim 70 less the 4 000 g that the old blend took are four days old.
    assert by_key["trim-70"].kilos == "12.57"
    assert (by_key["trim-70"].mark, by_key["trim-70"].word) == ("stop", "0.20 kg past the limit")
    assert (by_key["trim-50"].mark, by_key["trim-50"].word) == ("watch", "blend by tomorrow")
    assert (by_key["lamb-trim"].mark, by_key["lamb-trim"].word) == ("fine", "blend by 23 Nov")
    assert (
        by_key["trim-70"].under
        == "70\N{NARROW NO-BREAK SPACE}% lean, by class · 4 days old, 3 pieces"
    )
    assert state.summary == "29.5 kg stands free · 26.8 kg near its last day · 3.4 kg past it"


def test_trays_are_told_by_their_dates_alone(shelf: Shelf) -> None:
    state = describe_trim(shelf.stock.trays, Picking(cut="mince"), FORMATS)
    rows = {row.key: row for row in state.rows}
    assert (rows["rump"].under, rows["rump"].word) == ("4 days old", "use by tomorrow")
    assert rows["mince"].word == "1.90 kg past its use-by"
    assert state.opened is not None
    assert [row.mark for row in state.opened.rows] == ["stop", "watch"]
    assert state.opened.aside == "Work back to trim"
    assert "tap it to read what to do" in state.opened.hint


def test_trays_long_past_their_day_are_left_out_for_the_book_knows_no_sales(shelf: Shelf) -> None:
    assert [row.cut.key for row in unsold(shelf.stock.trays)] == ["mince", "rump"]
    later = read_shelf_at(shelf, 2)
    # P-10 may be used until 20 November; on the 23rd it is three days past, P-11 only one.
    (mince,) = [row for row in unsold(later) if row.cut.key == "mince"]
    assert [piece.piece.key for piece in mince.pieces] == ["P-11"]
    assert describe_trim(later, Picking(), FORMATS).summary.startswith("The book is not told")


def read_shelf_at(shelf: Shelf, days: int) -> tuple[FreeClass, ...]:
    """The trays as they stand some days later."""
    return tuple(
        replace(
            row,
            pieces=tuple(
                replace(piece, today=piece.today + timedelta(days=days)) for piece in row.pieces
            ),
        )
        for row in shelf.stock.trays
    )


@pytest.mark.parametrize(
    ("picking", "act", "can_act"),
    [
        (Picking("trim-70"), "Take all, 12.370 kg", True),
        (Picking("trim-70", typed="6.5"), "Take 6.500 kg, oldest first", True),
        (Picking("trim-70", typed="12.371"), "Take 12.371 kg, oldest first", False),
        (Picking("trim-70", frozenset({"P-5"})), "Take 1 piece, 7.350 kg", True),
        (Picking("trim-70", frozenset({"P-5", "P-6"})), "Take 2 pieces, 12.370 kg", True),
        (Picking("trim-70", frozenset({"P-5"}), "2"), "Take 2.000 kg of 1 piece", True),
        (Picking("trim-70", pad=Pad.LEAN), "Type the lean", False),
        (Picking("trim-70", typed="101", pad=Pad.LEAN), "Type the lean", False),
        (
            Picking("trim-70", typed="68.5", pad=Pad.LEAN),
            "Keep 68.50\N{NARROW NO-BREAK SPACE}% as the class of all of Beef trim 70",
            True,
        ),
        (
            Picking("trim-70", frozenset({"P-5"}), "68", Pad.LEAN),
            "Keep 68\N{NARROW NO-BREAK SPACE}% as measured of 1 chosen",
            True,
        ),
    ],
)
def test_the_act_says_what_it_would_take(
    shelf: Shelf, picking: Picking, act: str, can_act: bool
) -> None:
    opened = describe_trim(shelf.stock.trim, picking, FORMATS).opened
    assert opened is not None
    assert (opened.act, opened.can_act) == (act, can_act)


def test_more_than_stands_free_says_by_how_much(shelf: Shelf) -> None:
    opened = describe_trim(shelf.stock.trim, Picking("trim-50", typed="8.5"), FORMATS).opened
    assert opened is not None
    assert opened.hint == "0.500 kg more than stands free within its dates."


@pytest.mark.parametrize("typed", ["", ".", "0.", "x", "1.2345"])
def test_what_is_no_weight_is_none(typed: str) -> None:
    assert typed_grams(typed) == 0


def test_a_percentage_lies_between_nought_and_a_hundred() -> None:
    assert typed_percent("78.") == 78
    assert typed_percent("100") == 100
    assert typed_percent("100.01") is None
    assert typed_percent("") is None
