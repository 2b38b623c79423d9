"""Moving a print for a printer that is off: to the dot, and never past the paper's edge."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.reports.labels import draw_labels
from gambrel.reports.papers import LABELS, PAPERS, Placing, Sheet, label_sheet
from gambrel.reports.tickets import draw_tickets
from tests.reports.reading import outside, rasters
from tests.reports.test_labels import label
from tests.reports.test_tickets import ticket

AUD = Formats(Currency("AUD", 2), "$")
DOT = 0.125
"""Millimetres; a printer of 203 dots an inch has eight a millimetre, 203.2 to be exact."""

SHEETS: list[Sheet] = [*PAPERS.values(), *map(label_sheet, LABELS)]
sheets = pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)


def pdf_of(sheet: Sheet, placing: Placing) -> bytes:
    """A full page of a paper."""
    if sheet.name in PAPERS:
        tickets = [ticket()] * sheet.count
        return draw_tickets(tickets, PAPERS[sheet.name], AUD, shop="Shop", placing=placing).pdf
    return draw_labels([label()] * sheet.count, sheet, AUD, shop="Shop", placing=placing).pdf


def ink(pdf: bytes) -> NDArray[np.bool_]:
    """The first page in the dots of a label printer, true where there is ink."""
    dark: NDArray[np.bool_] = np.asarray(next(rasters(pdf, 203.2))) < 128
    return dark


def free(sheet: Sheet) -> float:
    """The most by which a page may move each way (millimetres), as the refusal has it."""
    pad = PAPERS[sheet.name].pad if sheet.name in PAPERS else 2.0
    return float(min(10.0, min(sheet.margins) + pad))


def within_a_dot(dark: NDArray[np.bool_], of: NDArray[np.bool_]) -> bool:
    """Whether every dark dot has one beside it, or at it, in the other picture."""
    near = [np.roll(of, (down, right), (0, 1)) for down in (-1, 0, 1) for right in (-1, 0, 1)]
    return not np.any(dark & ~np.logical_or.reduce(near))


def of_the_places(sheet: Sheet, dark: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The picture without what stands in the sheet's margins: crop marks may lose their ends."""
    left, top = (round(margin / DOT) for margin in sheet.margins)
    kept = np.zeros_like(dark)
    kept[top : dark.shape[0] - top, left : dark.shape[1] - left] = True
    return dark & kept


@sheets
@pytest.mark.parametrize("dots", [(8, -4), (-3, 5)])
def test_a_shift_moves_the_ink_to_the_dot(sheet: Sheet, dots: tuple[int, int]) -> None:
    placing = Placing(1, dots[0] * DOT, dots[1] * DOT)
    still, moved = ink(pdf_of(sheet, Placing())), ink(pdf_of(sheet, placing))
    expected = np.roll(still, (dots[1], dots[0]), (0, 1))
    assert within_a_dot(expected, moved)
    assert within_a_dot(moved, expected)


@sheets
@pytest.mark.parametrize("ways", [(1, 1), (-1, -1), (1, -1)])
def test_the_farthest_shift_loses_no_ink(sheet: Sheet, ways: tuple[int, int]) -> None:
    dots = int(free(sheet) / DOT)
    right, down = ways[0] * dots, ways[1] * dots
    pdf = pdf_of(sheet, Placing(1, right * DOT, down * DOT))
    still = of_the_places(sheet, ink(pdf_of(sheet, Placing())))
    assert within_a_dot(np.roll(still, (down, right), (0, 1)), ink(pdf))
    if ways == (-1, -1):
        assert outside(pdf) == []


@pytest.mark.parametrize(
    "sheet", [sheet for sheet in SHEETS if free(sheet) < 10], ids=lambda sheet: sheet.name
)
def test_a_shift_past_the_edge_is_refused(sheet: Sheet) -> None:
    pad = PAPERS[sheet.name].pad if sheet.name in PAPERS else 2.0
    sideways, level = (margin + pad for margin in sheet.margins)
    for sign in (1, -1):
        for far in ((sign * (sideways + 0.1), 0.0), (0.0, sign * (level + 0.1))):
            with pytest.raises(Refusal, match=f"beside the paper: {sheet.name} has room for"):
                pdf_of(sheet, Placing(1, *far))
