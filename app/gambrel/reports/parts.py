"""Small blocks that every sheet is made of: lines, headings, figures, and the sheet's own frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from reportlab.lib.colors import Color, HexColor

from gambrel.reports.fitting import clean, wrap
from gambrel.reports.look import A4, MARGIN, MM, WIDTH, Face, look
from gambrel.reports.pages import Furniture
from gambrel.reports.pen import Pen

Meaning = Literal["fine", "watch", "open"]


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph in one face."""

    words: str
    face: Face
    gap: float = 3.0
    leading: float = 1.32
    width: float = WIDTH

    @property
    def lines(self) -> list[str]:
        """As it breaks at its width."""
        return wrap(clean(self.words), self.face.font, self.face.size, self.width)

    @property
    def height(self) -> float:
        """All its lines."""
        return len(self.lines) * self.face.size * self.leading

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Line by line."""
        for line in self.lines:
            pen.text(x, y + self.face.size, line, self.face)
            y += self.face.size * self.leading


@dataclass(frozen=True, slots=True)
class Heading:
    """A section's name, with a few softer words behind it."""

    words: str
    after: str = ""
    gap: float = 16.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """One line and the rule under it."""
        return 18.0

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Words over a bar in the accent."""
        shown = look()
        face = shown.heading.at(12)
        used = pen.fit(x, y + 11, self.width, self.words, face)
        if self.after:
            pen.fit(x + used + 7, y + 11, self.width - used - 7, self.after, shown.note)
        pen.rule(x, y + 16, self.width, shown.accent, 1.4)


@dataclass(frozen=True, slots=True)
class Figure:
    """One number that stands alone: its name above, a few words below.

    ``notes`` are lines under the figure, the first the more important.
    """

    name: str
    value: str
    unit: str = ""
    notes: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Figures:
    """Figures in a row, parted by upright lines."""

    figures: Sequence[Figure]
    gap: float = 8.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """Name, figure, and as many notes as the longest has."""
        return 36.0 + 10.0 * max(len(_kept(figure)) for figure in self.figures)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Equal columns from left to right."""
        shown = look()
        span = self.width / len(self.figures)
        for n, figure in enumerate(self.figures):
            left = x + n * span + (0 if n == 0 else 8)
            room = span - 14 if n else span - 6
            if n:
                pen.stem(x + n * span, y + 1, self.height - 4, shown.rule, 0.7)
            pen.fit(left, y + 8, room, figure.name, shown.label.at(7.5))
            unit_room = 16 if figure.unit else 0
            used = pen.fit(
                left, y + 26, room - unit_room, figure.value, shown.figure.at(17), least=0.5
            )
            if figure.unit:
                pen.text(left + used + 3, y + 26, figure.unit, shown.note.at(9))
            for k, note in enumerate(_kept(figure)):
                pen.fit(left, y + 38 + 10 * k, room, note, shown.note)


def _kept(figure: Figure) -> list[str]:
    return [note for note in figure.notes if note]


@dataclass(frozen=True, slots=True)
class Verdict:
    """A strip that says how something stands: a mark, a word, and a sentence.

    The mark's shape and the word tell what the colour tells.
    """

    meaning: Meaning
    word: str
    sentence: str
    gap: float = 5.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """One line on a tint."""
        return 17.0

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The mark at the left, ink on the meaning's tint."""
        shown = look()
        mark, tint = _meaning_colours(self.meaning)
        pen.box(x, y, self.width, self.height, fill=tint, radius=2)
        _mark(pen, self.meaning, x + 10, y + self.height / 2, mark)
        face = Face(shown.strong.font, 8.5, mark)
        used = pen.fit(x + 19, y + 11.6, 80, self.word, face)
        start = x + 19 + used + 7
        pen.fit(start, y + 11.6, x + self.width - 6 - start, self.sentence, shown.body, least=0.7)


def _meaning_colours(meaning: Meaning) -> tuple[Color, Color]:
    theme = look().theme
    mark, tint = {
        "fine": (theme.fine, theme.fine_tint),
        "watch": (theme.watch, theme.watch_tint),
        "open": (theme.info, theme.info_tint),
    }[meaning]
    return HexColor(mark), HexColor(tint)


def _mark(pen: Pen, meaning: Meaning, x: float, y: float, colour: Color) -> None:
    """A disc, a triangle, or a ring: 7 points across."""
    canvas, level = pen.canvas, pen.level(y)
    canvas.setFillColor(colour)
    canvas.setStrokeColor(colour)
    if meaning == "watch":
        drawn = canvas.beginPath()
        drawn.moveTo(x - 4, level - 3.2)
        drawn.lineTo(x + 4, level - 3.2)
        drawn.lineTo(x, level + 4)
        drawn.close()
        canvas.drawPath(drawn, stroke=0, fill=1)
        return
    canvas.setLineWidth(1.6)
    hollow = meaning == "open"
    canvas.circle(x, level, 2.9 if hollow else 3.6, stroke=int(hollow), fill=int(not hollow))


def sheet_frame(kind: str, title: str, shop: str, side: str) -> tuple[Furniture, Furniture]:
    """The frame of a sheet: a masthead on its first page, a line on the others, a foot on all.

    Args:
        kind: What the sheet is, for example "Daily breakdown".
        title: Its date, large.
        shop: Whose it is.
        side: A few words at the right of the masthead.
    """
    running = f"{clean(shop)} \N{MIDDLE DOT} {kind} \N{MIDDLE DOT} {title}"

    def first(pen: Pen, number: int, count: int) -> None:
        _stripes(pen)
        shown = look()
        top = MARGIN + 2
        pen.text(MARGIN, top + 8, kind, Face(shown.label.font, 9, shown.accent))
        pen.fit(MARGIN, top + 30, WIDTH * 0.6, title, shown.title)
        pen.fit(MARGIN + WIDTH * 0.62, top + 20, WIDTH * 0.38, shop, shown.strong.at(11), "right")
        pen.fit(MARGIN + WIDTH * 0.5, top + 30, WIDTH * 0.5, side, shown.note, "right")
        _foot(pen, running, number, count)

    def other(pen: Pen, number: int, count: int) -> None:
        _stripes(pen)
        pen.fit(MARGIN, MARGIN + 6, WIDTH, running, look().note)
        _foot(pen, running, number, count)

    return Furniture(first, 50, 14), Furniture(other, 16, 14)


def _stripes(pen: Pen) -> None:
    """The stripes of an apron along the page's head."""
    accent = look().accent
    width = A4[0] - 2 * 6 * MM
    pen.box(6 * MM, 6 * MM, width, 4.2, fill=accent)
    pen.box(6 * MM, 6 * MM + 6.2, width, 1.1, fill=accent)


def _foot(pen: Pen, running: str, number: int, count: int) -> None:
    shown = look()
    y = A4[1] - MARGIN
    pen.rule(MARGIN, y - 9, WIDTH, shown.rule)
    pen.fit(MARGIN, y, WIDTH * 0.8, running, shown.note)
    pen.text(MARGIN + WIDTH, y, f"Page {number} of {count}", shown.note, "right")
