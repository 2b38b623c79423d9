"""The look is ours on every machine, and changes while the program runs."""

from __future__ import annotations

from dataclasses import fields

import pytest
from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontInfo, QIcon, QImage, QPainter, QPalette
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from gambrel.domain.drawing.tokens import Theme as Colours
from gambrel.ui.icons import icon, paint_icon
from gambrel.ui.theme import (
    MEANING_ICONS,
    FontsMissing,
    Meaning,
    Theme,
    Weight,
    palette_of,
    register_fonts,
    style_sheet,
)


@pytest.mark.parametrize("weight", [Weight.Normal, Weight.DemiBold, Weight.Bold])
def test_text_is_drawn_with_the_bundled_font(dressed: Theme, weight: QFont.Weight) -> None:
    info = QFontInfo(dressed.font(16, weight))
    assert info.family().startswith("IBM Plex Sans")
    assert info.pixelSize() == 16
    assert info.weight() == weight


def test_a_family_that_the_files_do_not_hold_is_refused(qapp: QApplication) -> None:
    with pytest.raises(FontsMissing, match="install the program again"):
        register_fonts("No Such Family")


def test_changing_the_look_changes_palette_sheet_and_colours_and_tells_it(
    dressed: Theme, qapp: QApplication, qtbot: QtBot
) -> None:
    light_sheet = qapp.styleSheet()
    assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == "#F6F2EA"
    with qtbot.waitSignal(dressed.changed):
        dressed.set_dark(True)
    assert dressed.is_dark
    assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == "#171512"
    assert dressed.colour("ink").name().upper() == dressed.tokens.dark.ink
    assert qapp.styleSheet() != light_sheet
    with qtbot.assertNotEmitted(dressed.changed):
        dressed.set_dark(True)


def test_a_colour_that_was_handed_out_can_be_changed_without_harm(dressed: Theme) -> None:
    dressed.colour("card").setAlpha(0)
    assert dressed.colour("card").alpha() == 255


def test_every_role_has_a_colour_and_an_unknown_one_is_an_error(dressed: Theme) -> None:
    for field in fields(Colours):
        if field.name != "kinds":
            assert dressed.colour(field.name).isValid()
    with pytest.raises(KeyError):
        dressed.colour("no such role")


@pytest.mark.parametrize("dark", [False, True])
def test_disabled_text_is_softer_than_text(dark: bool) -> None:
    palette = palette_of(Theme(dark=dark).roles)
    text = QPalette.ColorRole.ButtonText
    off = palette.color(QPalette.ColorGroup.Disabled, text)
    assert off != palette.color(QPalette.ColorGroup.Active, text)


def test_the_style_sheet_leaves_no_placeholder() -> None:
    theme = Theme()
    assert "$" not in style_sheet(theme.tokens, theme.tokens.light)


def test_qt_understands_the_whole_style_sheet(dressed: Theme, qtbot: QtBot) -> None:
    """A slip in the sheet is a warning of Qt's, and a warning fails the test."""
    dressed.set_dark(True)
    label = QLabel("text")
    qtbot.addWidget(label)
    label.setProperty("role", "heading")
    label.ensurePolished()
    assert QFontInfo(label.font()).pixelSize() == dressed.tokens.type.heading


def ink_of(image: QImage) -> set[str]:
    """The colours of all pixels that are fully painted."""
    points = ((x, y) for x in range(image.width()) for y in range(image.height()))
    colours = (image.pixelColor(x, y) for x, y in points)
    return {colour.name() for colour in colours if colour.alpha() == 255}


def test_an_icon_is_painted_in_the_colour_that_is_asked_for(qapp: QApplication) -> None:
    image = QImage(48, 48, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    paint_icon(painter, "scale", QRectF(0, 0, 48, 48), QColor("#123456"))
    painter.end()
    assert ink_of(image) == {"#123456"}


@pytest.mark.parametrize(
    ("mode", "group"),
    [
        (QIcon.Mode.Normal, QPalette.ColorGroup.Active),
        (QIcon.Mode.Disabled, QPalette.ColorGroup.Disabled),
    ],
)
def test_icons_of_qts_own_widgets_follow_the_look(
    dressed: Theme, qapp: QApplication, mode: QIcon.Mode, group: QPalette.ColorGroup
) -> None:
    made = icon("x")
    for dark in (False, True):
        dressed.set_dark(dark)
        wanted = qapp.palette().color(group, QPalette.ColorRole.ButtonText).name()
        assert wanted in ink_of(made.pixmap(QSize(48, 48), mode).toImage())


def test_an_unknown_icon_is_an_error() -> None:
    with pytest.raises(FileNotFoundError):
        icon("no-such-icon")


def test_meanings_differ_in_shape_and_not_in_colour_alone() -> None:
    assert len({MEANING_ICONS[meaning] for meaning in Meaning}) == len(Meaning)


@pytest.mark.parametrize("dark", [False, True])
def test_a_placeholder_is_read_as_well_as_other_soft_words(
    dressed: Theme, qtbot: QtBot, dark: bool
) -> None:
    dressed.set_dark(dark)
    line = QLineEdit()
    line.setPlaceholderText("Another name")
    qtbot.addWidget(line)
    line.resize(300, 60)
    assert dressed.colour("soft_ink").name() in ink_of(line.grab().toImage())
