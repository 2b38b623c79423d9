"""Dealing tickets and labels out on pages: where each goes, crop marks, progress and a stop."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import BytesIO
from typing import NamedTuple, TypeVar

from gambrel.reports.look import MM, look
from gambrel.reports.pages import new_canvas
from gambrel.reports.papers import Placing, Sheet
from gambrel.reports.pen import Pen

Item = TypeVar("Item")

OnPage = Callable[[int, int], bool]
"""Told after every page how many things are drawn of how many; it answers whether to go on."""


class Stopped(Exception):
    """Somebody asked for a stop; nothing was made."""


class Printed(NamedTuple):
    """A document, the words that were cut short because they did not fit, and how many pages."""

    pdf: bytes
    cut_short: tuple[str, ...]
    pages: int


class Titles(NamedTuple):
    """What a document says of itself."""

    title: str
    author: str
    subject: str


def deal(
    items: Sequence[Item],
    sheet: Sheet,
    placing: Placing,
    draw: Callable[[Pen, Item, float, float], None],
    titles: Titles,
    on_page: OnPage | None = None,
    *,
    pad: float,
) -> Printed:
    """Draw each item in its place, on as many pages as they need.

    Args:
        items: What is drawn, in order.
        sheet: Pages and their places.
        placing: The first place, and how far the printer is off.
        draw: Draws one item with its left top corner at a point.
        titles: Of the document.
        on_page: Told after every page; see ``OnPage``.
        pad: Millimetres inside a place's edge that every item leaves free.
    Returns:
        The PDF; the same items give the same bytes.
    Raises:
        Refusal: The sheet has no such first place, the shift would print beside the paper, or an
            item cannot be drawn.
        Stopped: ``on_page`` said no.
    """
    placing.check(sheet, pad)
    out = BytesIO()
    width, height = sheet.page[0] * MM, sheet.page[1] * MM
    canvas = new_canvas(out, (width, height), **titles._asdict())
    places = [(x + placing.right, y + placing.down) for x, y in sheet.places()]
    cut_short: dict[str, None] = {}
    done = pages = 0
    while done < len(items):
        free = places if pages else places[placing.start - 1 :]
        pen = Pen(canvas, height)
        if sheet.is_cut:
            _crop_marks(pen, sheet, placing)
        for item, (x, y) in zip(items[done : done + len(free)], free, strict=False):
            draw(pen, item, x * MM, y * MM)
        cut_short |= dict.fromkeys(pen.cut)
        canvas.showPage()
        pages += 1
        done = min(done + len(free), len(items))
        if on_page is not None and not on_page(done, len(items)):
            raise Stopped
    canvas.save()
    return Printed(out.getvalue(), tuple(cut_short), pages)


def _crop_marks(pen: Pen, sheet: Sheet, placing: Placing) -> None:
    """Short lines in the margins, in line with every cut, as far as they are on the page."""
    left, top = sheet.margins
    width, height = sheet.page
    ink = look().ink
    for column in range(sheet.columns + 1):
        at = left + column * sheet.cell[0] + placing.right
        for y in (top - 4, height - top + 1):
            start, long = _on_page(y + placing.down, height)
            if long > 0 and 0 <= at <= width:
                pen.stem(at * MM, start * MM, long * MM, ink, 0.25)
    for row in range(sheet.rows + 1):
        at = top + row * sheet.cell[1] + placing.down
        for x in (left - 4, width - left + 1):
            start, long = _on_page(x + placing.right, width)
            if long > 0 and 0 <= at <= height:
                pen.rule(start * MM, at * MM, long * MM, ink, 0.25)


def _on_page(start: float, side: float) -> tuple[float, float]:
    """Where a mark begins and how long it is (millimetres), kept between a page's two edges."""
    first, last = (min(max(end, 0.0), side) for end in (start, start + 3))
    return first, last - first
