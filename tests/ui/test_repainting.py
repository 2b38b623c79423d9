"""What is painted again at a change, and what is not."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, QObject, QRect, QRectF, QSize
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QRegion
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel import assets
from gambrel.domain.drawing.bodymap_reader import read_map
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.body_map import BodyMapView
from gambrel.ui.widgets.kept_picture import MOST, KeptPictures


class Painted(QObject):
    """Hears which part of a widget is painted."""

    def __init__(self) -> None:
        super().__init__()
        self.region = QRegion()

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        if isinstance(event, QPaintEvent):
            self.region += event.region()
        return False


@pytest.fixture
def view(dressed: Theme, qtbot: QtBot) -> BodyMapView:
    made = BodyMapView(dressed)
    qtbot.addWidget(made)
    made.resize(756, 232)
    made.show_map(read_map(assets.text("maps/beef-hindquarter.toml")))
    with qtbot.waitExposed(made):
        made.show()
    made.show_state({"rump": 0.2, "topside": 0.4}, "rump")
    QApplication.processEvents()
    return made


def painted_by(view: BodyMapView, filled: dict[str, float], chosen: str) -> QRect:
    ear = Painted()
    view.installEventFilter(ear)
    view.show_state(filled, chosen)
    QApplication.processEvents()
    return ear.region.boundingRect()


def test_a_region_that_fills_is_painted_alone(view: BodyMapView) -> None:
    area = painted_by(view, {"rump": 0.3, "topside": 0.4}, "rump")
    assert view._drawing is not None
    assert view._drawing.around("rump").contains(area)
    assert area.contains(view.middle_of("rump").toPoint())


def test_what_stays_as_it_was_is_not_painted(view: BodyMapView) -> None:
    assert painted_by(view, {"rump": 0.2, "topside": 0.4}, "rump").isEmpty()


def test_another_choice_paints_both_regions(view: BodyMapView) -> None:
    area = painted_by(view, {"rump": 0.2, "topside": 0.4}, "topside")
    for region in ("rump", "topside"):
        assert area.contains(view.middle_of(region).toPoint())


def test_painted_in_parts_it_is_the_same_picture(view: BodyMapView, dressed: Theme) -> None:
    """A part of the map, painted alone over an old picture, leaves no trace of the old one."""
    assert view._drawing is not None
    before = view.grab().toImage()
    view.show_state({"rump": 0.9, "topside": 0.4}, "rump")
    whole = view.grab().toImage()
    assert before != whole
    area = view._drawing.around("rump")
    patch = view.grab(area).toImage()
    painter = QPainter(before)
    painter.drawImage(area.topLeft(), patch)
    painter.end()
    assert before.convertToFormat(whole.format()) == whole


def test_a_dark_look_keeps_no_light_line(view: BodyMapView, dressed: Theme) -> None:
    light = view.grab().toImage()
    dressed.set_dark(True)
    assert view.grab().toImage() != light
    dressed.set_dark(False)
    assert view.grab().toImage() == light


class Brush:
    """Paints a colour, and counts."""

    def __init__(self, colour: str) -> None:
        self.colour, self.times = colour, 0

    def __call__(self, painter: QPainter, rect: QRectF) -> None:
        self.times += 1
        painter.fillRect(rect, QColor(self.colour))


def canvas() -> tuple[QImage, QPainter]:
    image = QImage(20, 10, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    return image, QPainter(image)


def test_a_kept_picture_is_painted_once_for_each_key_and_size(qapp: QApplication) -> None:
    pictures, red, blue = KeptPictures(), Brush("#FF0000"), Brush("#0000FF")
    image, painter = canvas()
    for _ in range(3):
        pictures.draw(painter, QSize(20, 10), "red", red)
    assert red.times == 1
    pictures.draw(painter, QSize(10, 10), "red", red)
    assert red.times == 2
    pictures.draw(painter, QSize(20, 10), "blue", blue)
    painter.end()
    assert image.pixelColor(15, 5).name() == "#0000ff"


def test_only_the_last_few_are_kept(qapp: QApplication) -> None:
    pictures, brush = KeptPictures(), Brush("#FF0000")
    _image, painter = canvas()
    for number in range(MOST + 1):
        pictures.draw(painter, QSize(20, 10), number, brush)
    pictures.draw(painter, QSize(20, 10), MOST, brush)
    assert brush.times == MOST + 1
    pictures.draw(painter, QSize(20, 10), 0, brush)
    assert brush.times == MOST + 2
    painter.end()
