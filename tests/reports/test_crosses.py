"""The test sheet: crosses where they are said to be, moved as labels are moved."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest

from gambrel.reports.crosses import draw_crosses, trial_of
from gambrel.reports.papers import PAPERS, Sheet, label_sheet
from tests.reports.reading import assert_fonts_inside, text_of

SHEETS = [PAPERS["a4-15"], PAPERS["card-a7"], PAPERS["roll-58"], label_sheet("label-58x40")]
PER_MM = 20


def dark(pdf: bytes) -> np.ndarray:
    """Which dots are dark, row by row, with twenty a millimetre."""
    page = pypdfium2.PdfDocument(pdf)[0]
    picture = page.render(scale=PER_MM * 25.4 / 72, grayscale=True).to_numpy()
    found: np.ndarray = picture.reshape(picture.shape[:2]) < 160
    return found


def crossing(dots: np.ndarray, x: float, y: float, reach: float) -> tuple[float, float]:
    """Where in the neighbourhood of a point the fullest row and column cross, in millimetres."""
    left, top = round((x - reach) * PER_MM), round((y - reach) * PER_MM)
    size = round(2 * reach * PER_MM)
    part = dots[top : top + size, left : left + size]
    column, row = part.sum(axis=0).argmax(), part.sum(axis=1).argmax()
    return (left + column) / PER_MM, (top + row) / PER_MM


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
@pytest.mark.parametrize("shift", [(0.0, 0.0), (1.5, -0.4)])
def test_crosses_stand_where_they_are_said_to_be(sheet: Sheet, shift: tuple[float, float]) -> None:
    dots, trial = dark(draw_crosses(sheet, shift, shop="Test")), trial_of(sheet)
    for x in (trial.edge, sheet.page[0] - trial.edge):
        for y in (trial.edge, sheet.page[1] - trial.edge):
            wanted = (x + shift[0], y + shift[1])
            assert crossing(dots, *wanted, trial.arm) == pytest.approx(wanted, abs=0.15)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_it_says_what_to_measure(sheet: Sheet) -> None:
    pdf = draw_crosses(sheet, (0.5, 0.0), shop="Test")
    trial, words = trial_of(sheet), text_of(pdf)
    assert f"This line is {trial.line} mm" in words
    assert f"{trial.edge} mm from each edge" in words
    assert "Moved 0.5 mm right, 0 mm down" in words
    assert_fonts_inside(pdf)
    assert pdf == draw_crosses(sheet, (0.5, 0.0), shop="Test")


def test_the_line_has_its_length() -> None:
    sheet = PAPERS["a4-15"]
    dots, trial = dark(draw_crosses(sheet, (0, 0), shop="Test")), trial_of(sheet)
    middle = round(sheet.page[1] / 2 * PER_MM)
    found = np.flatnonzero(dots[middle - 3 : middle + 4].any(axis=0))
    assert (found[-1] - found[0]) / PER_MM == pytest.approx(trial.line, abs=0.3)
