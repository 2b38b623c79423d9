"""The rows of a section: whole names, and as many side by side as there is room for."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.ui.setup.rows import NARROWEST, ROW, WIDE_ROW, RowGrid
from gambrel.ui.setup.rows_state import RowState
from gambrel.ui.theme import Theme
from tests.ui.walk import painted_short

LONG = "Dry-aged bone-in rib of the forequarter"
WIDE = 320
"""Of a cut's row where the window is 1280 wide."""


def shown(theme: Theme, rows: list[RowState], wide: int, narrowest: int, qtbot: QtBot) -> RowGrid:
    made = RowGrid(theme, "rows", most=2, narrowest=narrowest)
    qtbot.addWidget(made)
    made.resize(wide, 300)
    made.show()
    made.show_rows(rows)
    QApplication.processEvents()
    return made


@pytest.mark.parametrize("name", ["Rump", LONG])
@pytest.mark.parametrize("value", ["128", ""])
def test_a_long_name_is_whole_in_two_lines(
    dressed: Theme, name: str, value: str, qtbot: QtBot
) -> None:
    row = RowState("a", name, "5 days · on 2 lists", value, "PLU" if value else "")
    grid = shown(dressed, [row], WIDE, NARROWEST, qtbot)
    assert painted_short(grid) == []
    assert (grid.rows["a"].toolTip(), grid.rows["a"].height()) == ("", ROW)


def test_a_longer_name_ends_in_dots_and_is_told_whole(dressed: Theme, qtbot: QtBot) -> None:
    row = RowState("a", f"{LONG} and for the door", "5 days", "128", "PLU")
    grid = shown(dressed, [row], WIDE, NARROWEST, qtbot)
    grid.grab()
    assert grid.rows["a"].toolTip() == row.spoken


@pytest.mark.parametrize(
    ("wide", "narrowest", "columns"),
    [
        (2 * WIDE_ROW, WIDE_ROW, 2),
        (2 * WIDE_ROW - 1, WIDE_ROW, 1),
        (2 * WIDE_ROW - 1, NARROWEST, 2),
        (5 * WIDE_ROW, WIDE_ROW, 2),
    ],
)
def test_rows_stand_side_by_side_where_there_is_room(
    dressed: Theme, wide: int, narrowest: int, columns: int, qtbot: QtBot
) -> None:
    rows = [RowState(str(number), f"Row {number}") for number in range(5)]
    grid = shown(dressed, rows, wide, narrowest, qtbot)
    assert len({each.x() for each in grid.rows.values()}) == columns
