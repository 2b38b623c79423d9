"""Where a week's money went, as a picture on paper: bars joined by ribbons, with their names."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.colors import Color, HexColor

from gambrel.domain.drawing.flow_layout import Bar, FlowLayout, Frame, lay_flow, needed_height
from gambrel.domain.sheets.flow_nodes import (
    RIBBONS,
    FlowColumns,
    FlowNode,
    flow_columns,
    flow_share,
)
from gambrel.domain.sheets.money_flow import MoneyFlow
from gambrel.domain.trade.formats import Formats
from gambrel.reports.fitting import clean
from gambrel.reports.fonts import width_of
from gambrel.reports.look import WIDTH, look
from gambrel.reports.pages import Block
from gambrel.reports.pen import Align, Pen

MOST = 7
"""So many bars a column has on paper."""

SLOT, GAP, BAR = 20.0, 3.0, 8.0
"""Points: room for a label's two lines, between two of them, and a bar's width."""

LABELS = (112.0, 108.0, 112.0)
PAD = 4.0
FLOW = 56.0
"""Points beyond what the labels need, which go to the flow."""

PALE, GROUND = 0.32, 0.8
"""How opaque ribbons are, and the ground of words that stand on them."""


@dataclass(frozen=True, slots=True)
class FlowPicture:
    """A block: the flow over the sheet's whole width."""

    columns: FlowColumns
    total: int
    formats: Formats
    gap: float = 6.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """What the fullest column needs, and room for the flow itself."""
        return needed_height(self.columns.counts, SLOT, GAP) + FLOW

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Ribbons first, bars and words upon them."""
        left, middle, right = LABELS
        frame = Frame(self.width, self.height, BAR, SLOT, GAP, left, middle, right)
        amounts = [[node.money for node in column] for column in self.columns.columns]
        layout = lay_flow(amounts, self.columns.links, frame)
        self._ribbons(pen, x, y, layout)
        for column, nodes in enumerate(self.columns.columns):
            for bar, node in zip(layout.bars[column], nodes, strict=True):
                self._bar(pen, x, y, bar, node)
                self._label(pen, x, y, bar, node, column)

    def _ribbons(self, pen: Pen, x: float, y: float, layout: FlowLayout) -> None:
        canvas = pen.canvas
        canvas.saveState()
        for link, path in zip(self.columns.links, layout.ribbons, strict=True):
            colour = self.columns.columns[link.column + 1][link.end].colour
            full = _fill(RIBBONS.get(colour, colour))
            canvas.setFillColor(full.clone(alpha=PALE))
            canvas.drawPath(pen.path(path, x, y, 1), stroke=0, fill=1)
        canvas.restoreState()

    def _bar(self, pen: Pen, x: float, y: float, bar: Bar, node: FlowNode) -> None:
        edge = look().edge
        fill = _fill(node.colour)
        pen.box(x + bar.left, y + bar.top, bar.width, bar.height, fill=fill, stroke=edge)

    def _label(self, pen: Pen, x: float, y: float, bar: Bar, node: FlowNode, column: int) -> None:
        """The name over the money and its part of all."""
        shown, formats = look(), self.formats
        share = flow_share(node.money, self.total, formats)
        first = column == 0
        room = LABELS[column] - (PAD if first else 2 * PAD)
        left = x + (0 if first else bar.left + bar.width + PAD)
        base = y + bar.slot_top + bar.slot_height / 2
        align: Align = "right" if first else "left"
        face, words = shown.strong.at(7.5), f"{formats.money(node.money)}, {share}"
        if column == 1:
            wide = max(
                width_of(clean(node.name), face.font, face.size),
                width_of(words, shown.note.font, shown.note.size),
            )
            ground = shown.white.clone(alpha=GROUND)
            pen.canvas.saveState()
            pen.box(
                left - 2, base - SLOT / 2 + 0.5, min(wide, room) + 4, SLOT - 1, ground, radius=2
            )
            pen.canvas.restoreState()
        pen.fit(left, base - 1.5, room, node.name, face, align)
        pen.fit(left, base + 7, room, words, shown.note, align, least=0.5)


def flow_picture(flow: MoneyFlow, formats: Formats) -> Block | None:
    """The picture of a week's flow, or None where no money was moved."""
    if not flow.total:
        return None
    return FlowPicture(flow_columns(flow, MOST), flow.total, formats)


def _fill(colour: str) -> Color:
    """A role of the tokens, or a kind of cut, as paper has it."""
    theme = look().theme
    if colour in ("tray", "trim", "byproduct", "waste", "loss"):
        return HexColor(getattr(theme.kinds, colour).fill)
    return HexColor(getattr(theme, colour))
