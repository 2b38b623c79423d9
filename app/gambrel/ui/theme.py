"""The look at run time: fonts, palette and style sheet from the design tokens, light or dark.

One `Theme` is made at start and handed to whatever draws; nothing reaches for a global. Widgets
that paint themselves ask it for colours and fonts and repaint on `Theme.changed`; everything else
is dressed by the palette and by ``assets/style.qss``.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from enum import StrEnum
from string import Template

from PySide6.QtCore import QByteArray, QObject, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication

from gambrel import assets
from gambrel.domain.drawing.tokens import KindColours, Tokens, read_tokens
from gambrel.domain.drawing.tokens import Theme as Colours

FONT_FILES = ("Regular", "SemiBold", "Bold")
Weight = QFont.Weight


class Meaning(StrEnum):
    """What a mark, a word or a sentence means; always told by shape and word as well."""

    FINE = "fine"
    WATCH = "watch"
    STOP = "stop"
    INFO = "info"


MEANING_ICONS = {
    Meaning.FINE: "circle-check",
    Meaning.WATCH: "triangle-alert",
    Meaning.STOP: "octagon-alert",
    Meaning.INFO: "info",
}


class FontsMissing(Exception):
    """The program's own fonts could not be registered; without them nothing would be drawn."""


class Theme(QObject):
    """Colours, fonts and sizes of one look; `set_dark` changes it while the program runs."""

    changed = Signal()

    def __init__(self, *, dark: bool = False) -> None:
        super().__init__()
        self.tokens: Tokens = read_tokens(assets.text("tokens.toml"))
        self._dark = dark
        self._app: QApplication | None = None
        self._colours: dict[str, QColor] = {}
        self._read_colours()

    @property
    def is_dark(self) -> bool:
        """Whether the dark colours are in use."""
        return self._dark

    @property
    def roles(self) -> Colours:
        """The colours in use, ``#RRGGBB`` by role."""
        return self.tokens.dark if self._dark else self.tokens.light

    def colour(self, role: str) -> QColor:
        """The colour of a role of the tokens ("ink"), of a meaning, or of its tint.

        Raises:
            KeyError: The tokens have no such role.
        """
        return QColor(self._colours[role])  # a copy: a QColor can be changed

    def kind(self, kind: str) -> tuple[QColor, QColor]:
        """Fill and text colour of a kind of cut ("tray"), or of "loss"."""
        colours: KindColours = getattr(self.roles.kinds, kind)
        return QColor(colours.fill), QColor(colours.text)

    def font(self, pixels: int, weight: Weight = Weight.Normal) -> QFont:
        """The program's font in a size in logical pixels; its digits are all of one width."""
        font = QFont(self.tokens.type.family)
        font.setPixelSize(pixels)
        font.setWeight(weight)
        return font

    def dress(self, app: QApplication) -> None:
        """Register the fonts and give the application this look.

        Raises:
            FontsMissing: A bundled font was not accepted, or another family answers to its name.
        """
        self._app = app
        register_fonts(self.tokens.type.family)
        app.setStyle("Fusion")
        app.setFont(self.font(self.tokens.type.body))
        self._wear()

    def set_dark(self, dark: bool) -> None:
        """Change to the dark or the light colours; whoever paints itself hears `changed`."""
        if dark == self._dark:
            return
        self._dark = dark
        self._read_colours()
        self._wear()
        self.changed.emit()

    def _wear(self) -> None:
        if self._app is not None:
            self._app.setPalette(palette_of(self.roles))
            self._app.setStyleSheet(style_sheet(self.tokens, self.roles))

    def _read_colours(self) -> None:
        self._colours = {
            field.name: QColor(getattr(self.roles, field.name))
            for field in fields(Colours)
            if field.name != "kinds"
        }


def register_fonts(family: str) -> None:
    """Make the bundled font files known to Qt; a second call costs nothing.

    Raises:
        FontsMissing: A file was refused, or its family has another name.
    """
    if family in QFontDatabase.families():
        return
    for weight in FONT_FILES:
        name = f"fonts/IBMPlexSans-{weight}.ttf"
        number = QFontDatabase.addApplicationFontFromData(QByteArray(assets.data(name)))
        found = QFontDatabase.applicationFontFamilies(number) if number >= 0 else []
        if not any(each.startswith(family) for each in found):
            raise FontsMissing(f"{name} was not accepted as {family}: install the program again.")


def palette_of(roles: Colours) -> QPalette:
    """Fusion's palette from the colours by role, the disabled group included."""
    palette = QPalette()
    part = QPalette.ColorRole
    plan = {
        part.Window: roles.paper,
        part.WindowText: roles.ink,
        part.Base: roles.card,
        part.AlternateBase: roles.paper,
        part.Text: roles.ink,
        part.PlaceholderText: roles.soft_ink,
        part.Button: roles.card,
        part.ButtonText: roles.ink,
        part.BrightText: roles.on_accent,
        part.Highlight: roles.accent,
        part.HighlightedText: roles.on_accent,
        part.Link: roles.accent,
        part.LinkVisited: roles.accent,
        part.ToolTipBase: roles.card,
        part.ToolTipText: roles.ink,
        part.Light: roles.card,
        part.Midlight: roles.card,
        part.Mid: roles.rule,
        part.Dark: roles.edge,
        part.Shadow: roles.edge,
        part.Accent: roles.accent,
    }
    for role, colour in plan.items():
        palette.setColor(role, QColor(colour))
    for role in (part.WindowText, part.Text, part.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(roles.edge))
    return palette


def style_sheet(tokens: Tokens, roles: Colours) -> str:
    """``assets/style.qss`` with every ``$placeholder`` filled from the tokens.

    Colours stand under their role (``$ink``), sizes under table and name (``$type_body``).

    Raises:
        KeyError: The sheet names something that the tokens do not have.
    """
    values: dict[str, object] = {}
    for table in ("type", "space", "target", "radius", "line"):
        group = getattr(tokens, table)
        values |= {f"{table}_{field.name}": getattr(group, field.name) for field in fields(group)}
    values |= {
        field.name: getattr(roles, field.name)
        for field in fields(roles)
        if not is_dataclass(getattr(roles, field.name))
    }
    return Template(assets.text("style.qss")).substitute(values)
