"""Pictures of pages: true in scale, the same in bands, black or white for a printer."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtGui import QImage

from gambrel.devices.pages import Pages, PagesClosed, PageSize, dots_per_mm
from gambrel.domain.refusals import Refusal
from tests.devices.papers import BAR, ruler


def dark_runs(image: QImage, row: int) -> list[tuple[int, int]]:
    """Where each run of dark dots begins in a row, and how long it is."""
    found: list[tuple[int, int]] = []
    for x in range(image.width()):
        if image.pixelColor(x, row).lightness() < 128:
            if found and sum(found[-1]) == x:
                found[-1] = (found[-1][0], found[-1][1] + 1)
            else:
                found.append((x, 1))
    return found


def test_a_printer_of_203_dots_an_inch_has_eight_a_millimetre() -> None:
    assert dots_per_mm(203) == 8
    assert dots_per_mm(300) == pytest.approx(11.811, abs=0.001)


@pytest.mark.parametrize("width", [58, 62.5, 80, 210])
def test_bars_stand_on_the_dots_where_they_belong(width: float) -> None:
    """A page that is no whole number of dots wide is not stretched to the next one."""
    at = (2, 10, 30, width - 4)
    with Pages(ruler(width, 40, at)) as pages:
        image = pages.image(0, 8, smooth=False)
    wanted = [(round(x * 8), round(BAR * 8)) for x in at]
    assert dark_runs(image, image.height() // 2) == wanted


def test_for_a_printer_every_dot_is_on_or_off() -> None:
    with Pages(ruler(58, 40, (2.1, 7.3))) as pages:
        crisp, soft = pages.image(0, 8, smooth=False), pages.image(0, 8)
    levels = {crisp.pixelColor(x, 100).lightness() for x in range(crisp.width())}
    assert levels == {0, 255}
    assert {soft.pixelColor(x, 100).lightness() for x in range(soft.width())} > levels


@given(top=st.integers(0, 318), rows=st.integers(1, 400))
def test_a_band_is_a_part_of_the_whole(top: int, rows: int) -> None:
    with Pages(ruler(58, 40)) as pages:
        whole = pages.image(0, 8, smooth=False)
        band = pages.image(0, 8, top=top, rows=rows, smooth=False)
    assert band == whole.copy(0, top, whole.width(), min(rows, whole.height() - top))


def test_sizes_are_those_of_the_pages_in_millimetres() -> None:
    with Pages(ruler(62.5, 33.3, pages=3)) as pages:
        assert len(pages.sizes) == 3
        assert pages.sizes[2].width == pytest.approx(62.5, abs=0.001)
        assert pages.sizes[2].height == pytest.approx(33.3, abs=0.001)
    assert PageSize(58, 40).dots(8) == (464, 320)


def test_a_closed_document_says_so() -> None:
    pages = Pages(ruler(58, 40))
    pages.close()
    pages.close()
    with pytest.raises(PagesClosed):
        pages.image(0, 8)


def test_what_is_no_paper_is_refused_in_words() -> None:
    with pytest.raises(Refusal, match="Make it again"):
        Pages(b"no paper at all")


def test_several_threads_may_look_at_papers_at_once() -> None:
    papers = [ruler(58, 40, (2 + number, 40)) for number in range(8)]

    def look(pdf: bytes) -> list[tuple[int, int]]:
        with Pages(pdf) as pages:
            return dark_runs(pages.image(0, 8, smooth=False), 100)

    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(look, papers))
    assert found == [[((2 + number) * 8, 3), (320, 3)] for number in range(8)]
