"""Setting blocks on pages: what fits goes below the last, a table may break, the rest moves on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Protocol, runtime_checkable

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from gambrel.reports.fonts import REGULAR, register_fonts
from gambrel.reports.look import A4, MARGIN
from gambrel.reports.pen import Pen

rl_config.useA85 = 0
"""Streams as they are, not spelled out in letters: a fifth smaller, and quicker to write."""


class Block(Protocol):
    """Something with a height that can draw itself at a place. All measures are points."""

    @property
    def gap(self) -> float:
        """Space above it when it does not begin a page."""

    @property
    def height(self) -> float:
        """How tall it is."""

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Draw it with its top left corner at a point."""


@runtime_checkable
class Breakable(Block, Protocol):
    """A block that may go on over the page."""

    def split(self, room: float) -> tuple[Block, Block] | None:
        """Its part that fits in a room and the rest, or None where nothing fits."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Blocks that belong together: on one page wherever a page can hold them.

    The first ``lead`` of them (a heading) never stand alone at the foot of a page.
    """

    blocks: Sequence[Block]
    gap: float = 0
    lead: int = 1

    @property
    def height(self) -> float:
        """All of them, with the gaps between."""
        return sum(block.height + (block.gap if n else 0) for n, block in enumerate(self.blocks))

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """One below another."""
        for n, block in enumerate(self.blocks):
            y += block.gap if n else 0
            block.draw(pen, x, y)
            y += block.height

    def split(self, room: float) -> tuple[Block, Block] | None:
        """Break between blocks, or within the one that the edge meets."""
        used = 0.0
        for n, block in enumerate(self.blocks):
            gap = block.gap if n else 0
            if used + gap + block.height <= room:
                used += gap + block.height
                continue
            before, after = list(self.blocks[:n]), list(self.blocks[n:])
            parts = _broken(block, room - used - gap)
            if parts is not None:
                before.append(parts[0])
                after[0] = parts[1]
            if len(before) <= self.lead:
                return None
            return Stack(before, self.gap), Stack(after, self.gap, lead=0)
        return None


@dataclass(frozen=True, slots=True)
class Fresh:
    """What begins a page of its own; ``set_pages`` unwraps it."""

    block: Block


@dataclass(frozen=True, slots=True)
class Beside:
    """Two blocks side by side."""

    left: Block
    right: Block
    offset: float
    """From the left edge to the right block's."""
    gap: float = 0

    @property
    def height(self) -> float:
        """The taller of the two."""
        return max(self.left.height, self.right.height)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Both from the same top."""
        self.left.draw(pen, x, y)
        self.right.draw(pen, x + self.offset, y)


def _broken(block: Block, room: float) -> tuple[Block, Block] | None:
    return block.split(room) if isinstance(block, Breakable) else None


@dataclass(frozen=True, slots=True)
class Furniture:
    """What stands on every page besides the blocks: drawn with its number and how many there are.

    ``top`` and ``bottom`` are the space it takes within the margins (points).
    """

    draw: Callable[[Pen, int, int], None]
    top: float
    bottom: float


Placed = tuple[Block, float]


def set_pages(
    blocks: Sequence[Block | Fresh], first_top: float, top: float, bottom: float
) -> list[list[Placed]]:
    """Give every block a page and a height on it (from the page's top).

    A block that is taller than a whole page is broken where it can be, and else stands alone.
    """
    pages: list[list[Placed]] = [[]]
    waiting: list[Block | Fresh] = list(blocks)
    y = first_top
    while waiting:
        item = waiting.pop(0)
        block = item.block if isinstance(item, Fresh) else item
        if isinstance(item, Fresh) and pages[-1]:
            pages.append([])
            y = top
        gap = block.gap if pages[-1] else 0
        if y + gap + block.height <= bottom:
            pages[-1].append((block, y + gap))
            y += gap + block.height
            continue
        fits_a_page = block.height <= bottom - top
        parts = None if fits_a_page else _broken(block, bottom - y - gap)
        if parts is not None:
            pages[-1].append((parts[0], y + gap))
            waiting.insert(0, parts[1])
        elif not pages[-1] and len(pages) > 1:
            pages[-1].append((block, y))
        else:
            waiting.insert(0, block)
        pages.append([])
        y = top
    return pages if pages[-1] or len(pages) == 1 else pages[:-1]


def new_canvas(
    out: BytesIO, size: tuple[float, float], *, title: str, author: str, subject: str
) -> Canvas:
    """A canvas whose bytes depend only on what is drawn, with our font from its first letter."""
    register_fonts()
    canvas = Canvas(
        out,
        pagesize=size,
        invariant=1,
        initialFontName=REGULAR,  # type: ignore[arg-type]  # a name; the stub says a number
        lang="en",
        pageCompression=1,
    )
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setSubject(subject)
    canvas.setCreator("Gambrel")
    return canvas


def draw_pages(
    blocks: Sequence[Block | Fresh],
    first: Furniture,
    other: Furniture,
    *,
    title: str,
    author: str,
    subject: str,
) -> bytes:
    """Set blocks on A4 pages within the margins and draw them.

    Returns:
        The PDF; the same blocks give the same bytes.
    """
    out = BytesIO()
    canvas = new_canvas(out, A4, title=title, author=author, subject=subject)
    bottom = A4[1] - MARGIN - first.bottom
    pages = set_pages(blocks, MARGIN + first.top, MARGIN + other.top, bottom)
    for number, placed in enumerate(pages, start=1):
        pen = Pen(canvas, A4[1])
        (first if number == 1 else other).draw(pen, number, len(pages))
        for block, y in placed:
            block.draw(pen, MARGIN, y)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
