"""No bone and no fibre strikes out a name on a body's map."""

from __future__ import annotations

from importlib.resources import files

import pytest
from PySide6.QtCore import QPoint, QPointF, QSize
from PySide6.QtGui import QImage

from gambrel.domain.drawing.bodymap import BodyMap
from gambrel.domain.drawing.bodymap_reader import read_map
from gambrel.domain.drawing.marks import start_of
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.map_drawing import MapDrawing

MAPS = sorted(each.name for each in files("gambrel.assets").joinpath("maps").iterdir())
SIZES = (QSize(756, 232), QSize(560, 212), QSize(1100, 420))


def lines_of(drawing: MapDrawing) -> QImage:
    """Outline, seams, bones and fibres, without fill and names."""
    return drawing._lines(1.0).toImage()


def drawn_round(image: QImage, at: QPoint, reach: int) -> int:
    """How many pixels near a point are drawn on."""
    around = range(-reach, reach + 1)
    return sum(image.pixelColor(at + QPoint(x, y)).alpha() > 0 for x in around for y in around)


@pytest.mark.parametrize("name", MAPS)
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size.width()}x{size.height()}")
def test_bones_and_fibres_leave_the_names_free(dressed: Theme, name: str, size: QSize) -> None:
    body_map = _read(name)
    drawing = MapDrawing(dressed, body_map, size)
    written = [each for each in body_map.regions if drawing._fitted(each, bold=True).whole]
    image = lines_of(drawing)
    assert written
    for region in written:
        middle = drawing._place(region).map(QPointF(0, 0)).toPoint()
        assert drawn_round(image, middle, reach=3) == 0, region.name


def test_bones_and_fibres_are_there_beside_the_names(dressed: Theme) -> None:
    body_map = _read("beef-hindquarter.toml")
    drawing = MapDrawing(dressed, body_map, SIZES[0])
    whole = lines_of(drawing)
    starts = [QPointF(*start_of(detail.path)) for detail in body_map.details]
    touched = [drawn_round(whole, drawing.fit.map(each).toPoint(), 2) > 0 for each in starts]
    assert sum(touched) > 0.8 * len(touched)


def _read(name: str) -> BodyMap:
    return read_map(files("gambrel.assets").joinpath("maps", name).read_text("utf-8"))
