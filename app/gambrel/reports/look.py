"""How paper looks: the tokens' colours, and the few faces and measures that every sheet shares.

Sizes on paper are points; the tokens' pixels are for screens.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from reportlab.lib.colors import Color, HexColor

from gambrel.assets import text
from gambrel.domain.drawing.tokens import KindColours, Theme, read_tokens
from gambrel.domain.trade.catalogue import CutKind
from gambrel.reports.fonts import BOLD, REGULAR, SEMIBOLD

MM = 72 / 25.4
"""Points in a millimetre."""

A4 = (210 * MM, 297 * MM)
MARGIN = 14 * MM
WIDTH = A4[0] - 2 * MARGIN
"""Between the margins of a sheet."""


@dataclass(frozen=True, slots=True)
class Face:
    """Letters of one font, size (points) and colour."""

    font: str
    size: float
    colour: Color

    def at(self, size: float) -> Face:
        """The same letters in another size."""
        return Face(self.font, size, self.colour)


@dataclass(frozen=True, slots=True)
class Look:
    """Colours by role and faces by use."""

    theme: Theme
    ink: Color
    soft: Color
    rule: Color
    edge: Color
    accent: Color
    paper: Color
    white: Color
    title: Face
    heading: Face
    figure: Face
    strong: Face
    body: Face
    note: Face
    label: Face

    def kind(self, kind: CutKind) -> KindColours:
        """A picture's colours for a kind of cut."""
        kinds = self.theme.kinds
        return {
            CutKind.TRAY: kinds.tray,
            CutKind.TRIM: kinds.trim,
            CutKind.BYPRODUCT: kinds.byproduct,
            CutKind.WASTE: kinds.waste,
        }[kind]


@cache
def look() -> Look:
    """The look of every paper, read once from the tokens' light theme."""
    theme = read_tokens(text("tokens.toml")).light
    ink, soft, accent = HexColor(theme.ink), HexColor(theme.soft_ink), HexColor(theme.accent)
    return Look(
        theme=theme,
        ink=ink,
        soft=soft,
        rule=HexColor(theme.rule),
        edge=HexColor(theme.edge),
        accent=accent,
        paper=HexColor(theme.paper),
        white=HexColor("#FFFFFF"),
        title=Face(BOLD, 22, ink),
        heading=Face(BOLD, 15, ink),
        figure=Face(BOLD, 15, ink),
        strong=Face(SEMIBOLD, 8.5, ink),
        body=Face(REGULAR, 8.5, ink),
        note=Face(REGULAR, 7.5, soft),
        label=Face(SEMIBOLD, 7, soft),
    )
