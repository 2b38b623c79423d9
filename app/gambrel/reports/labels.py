"""Tray labels: name, weight and price, days and lot, where it is from, what is in it, and a code.

Everything is black, since most label printers know no other colour. The weight's digits are as
high as Directive 76/211/EEC wants them on a pack (references, legal-limits.csv: 6 mm over a kilo,
4 mm from 200 g, 3 mm from 50 g, 2 mm below), the price's 3 mm at least. Small words are never
under 6.6 points. A label that is too small for its words is refused, never cut; a name alone may be
cut short, and then it is said.
"""

from __future__ import annotations

from collections.abc import Sequence

from gambrel.domain.prices.labels import TrayCode, TrayLabel
from gambrel.domain.trade.formats import Formats
from gambrel.reports.barcode import BLACK, draw_ean13, draw_linear, draw_square
from gambrel.reports.fitting import clean
from gambrel.reports.fonts import BOLD, CAP_HEIGHT, REGULAR, em_width, register_fonts, width_of
from gambrel.reports.label_head import KG, KG_SIZE, NET_WEIGHT, RULE, Head
from gambrel.reports.label_plan import LEADING, Code, LabelPlanner
from gambrel.reports.letters import see_letters
from gambrel.reports.look import MM
from gambrel.reports.papers import FROM_THE_FIRST, Placing, Sheet
from gambrel.reports.pen import Pen
from gambrel.reports.runs import Line, font_of
from gambrel.reports.sheet_pages import OnPage, Printed, Titles, deal


def draw_labels(
    labels: Sequence[TrayLabel],
    sheet: Sheet,
    formats: Formats,
    *,
    shop: str,
    placing: Placing = FROM_THE_FIRST,
    dpi: int = 203,
    on_page: OnPage | None = None,
) -> Printed:
    """Draw tray labels, in the order given.

    Args:
        labels: What they say.
        sheet: A label of a roll, or a sheet of labels (``papers.label_sheet``).
        formats: How the shop writes money and weights.
        shop: Its name, which stands on every label.
        placing: The first place on a sheet, and how far the printer is off.
        dpi: The printer's dots an inch, 203 or 300.
        on_page: Told after every page; see ``sheet_pages.OnPage``.
    Returns:
        The PDF (the same labels give the same bytes), and names that had to be cut short.
    Raises:
        Refusal: A label is too small for its words or its code, the typeface lacks its letters,
            or no such printer or place.
        Stopped: ``on_page`` said no.
    """
    register_fonts()
    see_letters((each.name, (shop, *_words_of(each))) for each in labels)
    planner = LabelPlanner(sheet, formats, shop, dpi)
    titles = Titles(
        f"Tray labels, {sheet.name}", shop, f"{len(labels)} tray labels on {sheet.about}"
    )
    return deal(
        labels, sheet, placing, LabelMaker(planner).draw, titles, on_page, pad=planner.pad / MM
    )


def _words_of(label: TrayLabel) -> tuple[str, ...]:
    listed = (words for words, _ in label.ingredients)
    return (label.name, label.lot, label.storage, label.cooking, *label.origin, *listed)


class LabelMaker:
    """Draws labels by a plan."""

    def __init__(self, planner: LabelPlanner) -> None:
        self._planner = planner

    def draw(self, pen: Pen, label: TrayLabel, x: float, y: float) -> None:
        """One label with its left top corner at a point.

        Raises:
            Refusal: It is too small for what has to stand on it.
        """
        planner = self._planner
        head, plan = planner.fit(label)
        left, top = x + planner.pad, y + planner.pad
        pen.canvas.setFillColor(BLACK)
        self._name(pen, label, head, left, top)
        self._figures(pen, head, left, top)
        base = top + head.height + plan.size * (CAP_HEIGHT + 0.1)
        for line in plan.lines:
            _write_line(pen, line, plan.size, left, base)
            base += plan.size * LEADING
        if plan.code is not None:
            self._code(pen, label, plan.code, left + planner.width, top + planner.height)

    def _name(self, pen: Pen, label: TrayLabel, head: Head, x: float, y: float) -> None:
        """The name over a line."""
        fitted = head.name
        if fitted.cut:
            pen.cut.append(clean(label.name))
        base = y + fitted.size * (CAP_HEIGHT + 0.06)
        for line in fitted.lines:
            _write(pen, x, base, line, BOLD, fitted.size)
            base += fitted.size * 1.08
        under = y + head.rule + RULE
        pen.canvas.rect(x, pen.level(under), self._planner.width, RULE, stroke=0, fill=1)

    def _figures(self, pen: Pen, head: Head, x: float, y: float) -> None:
        """Net weight and price with their captions, side by side or one under the other."""
        (weight, size), (price, price_size), caption = head.weight, head.price, head.caption
        right, unit = x + self._planner.width, caption * KG_SIZE
        above, below = (y + base for base in head.captions)
        base, price_base = (y + base for base in head.bases)
        rate_at = x if head.stacked else right - width_of(head.rate, REGULAR, caption)
        end = x + width_of(weight, BOLD, size)
        if head.stacked:
            end = right - width_of(KG, BOLD, unit)
        _write(pen, x, above, NET_WEIGHT, REGULAR, caption)
        _write(pen, rate_at, below, head.rate, REGULAR, caption)
        _write(pen, end - width_of(weight, BOLD, size), base, weight, BOLD, size)
        _write(pen, end, base, KG, BOLD, unit)
        _write(pen, right - width_of(price, BOLD, price_size), price_base, price, BOLD, price_size)

    def _code(self, pen: Pen, label: TrayLabel, code: Code, right: float, bottom: float) -> None:
        top, right = bottom - code.height, right - code.inset
        if label.number:
            draw_ean13(pen, label.number, right, top, code.bars, self._planner.dots)
        elif label.code is TrayCode.QR:
            draw_square(pen, label.elements, right, top, self._planner.dots)
        else:
            draw_linear(pen, label.elements, right, top, code.bars, self._planner.dots)


def _write(pen: Pen, x: float, y: float, words: str, font: str, size: float) -> None:
    canvas = pen.canvas
    canvas.setFont(font, size)
    canvas.drawString(x, pen.level(y), words)


def _write_line(pen: Pen, line: Line, size: float, x: float, y: float) -> None:
    for run in line:
        font = font_of(run)
        _write(pen, x, y, run[0], font, size)
        x += em_width(run[0], font) * size
