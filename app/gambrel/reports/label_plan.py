"""How a tray label's name, figures, words and code share its room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple, NoReturn

from gambrel.domain.prices.elements import as_text
from gambrel.domain.prices.ingredients import Run
from gambrel.domain.prices.labels import TrayCode, TrayLabel
from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.bars import MODULES, QUIET_LEFT, QUIET_RIGHT
from gambrel.domain.trade.formats import Formats
from gambrel.reports.barcode import (
    DIGITS,
    LINEAR_QUIET,
    SQUARE_QUIET,
    dots_of,
    linear_bars,
    square_runs,
)
from gambrel.reports.fitting import clean
from gambrel.reports.fonts import CAP_HEIGHT, DESCENT
from gambrel.reports.label_head import LEAST, Head, heads
from gambrel.reports.look import MM
from gambrel.reports.papers import Sheet
from gambrel.reports.runs import Line, widest, wrap_runs

_SIZES = (10.7, 9.5, 8.6, 7.8, 7.2, LEAST)
_ROOMY = (1.0, 0.6, 0.25, 0.0)
"""How large name and figures are tried, from the least (0) to what looks best (1)."""

LEADING = 1.16
_GAP = 1.2 * MM
_BARS = (13 * MM, 10 * MM, 7 * MM)
"""Heights of bars that are tried, the tallest first."""


class Code(NamedTuple):
    """How wide (with its quiet zones) and high a code is, and how high its bars are.

    ``inset`` is how far its right edge stays from the edge of the words.
    """

    width: float
    height: float
    inset: float
    bars: float


class Plan(NamedTuple):
    """How a label's words and code share the room under the figures."""

    size: float
    lines: tuple[Line, ...]
    code: Code | None
    over: float
    """How many points of height are lacking; zero or less where it fits."""


Paragraph = tuple[Run, ...]
Texts = tuple[tuple[Paragraph, ...], ...]
"""Ways to set the same words, the airiest first."""

Codes = tuple[Code | None, ...]
"""A label's code with tall bars and with shorter ones; just None where it has no code."""


class LabelPlanner:
    """Fits labels of one shop on one sheet. ``pad``, ``width`` and ``height`` are points."""

    def __init__(self, sheet: Sheet, formats: Formats, shop: str, dpi: int) -> None:
        self.pad = (1.6 if sheet.cell[1] < 40 and sheet.is_cut else 2.0) * MM
        self.width = sheet.cell[0] * MM - 2 * self.pad
        self.height = sheet.cell[1] * MM - 2 * self.pad
        self.dots = dots_of(dpi)
        self._formats, self._shop, self._sheet = formats, clean(shop), sheet
        # Trays of one lot and cut say the same beside their weights.
        self._plan = lru_cache(maxsize=256)(self._find_plan)

    def fit(self, label: TrayLabel) -> tuple[Head, Plan]:
        """The roomiest head with which the words fit, and where they go.

        Raises:
            Refusal: It is too small for what has to stand on it.
        """
        codes, texts = tuple(self._codes(label)), self._texts(label)
        lacking: list[tuple[float, str]] = []
        for price_leads in (True, False):
            for head in self._heads(label):
                if head.price_leads is not price_leads:
                    continue
                plan = self._plan(codes, texts, round(self.height - head.height, 3))
                if max(head.lacks, plan.over) <= 0.01:
                    return head, plan
                wide = head.lacks > 0.01
                lacking.append((head.lacks, "width") if wide else (plan.over, "height"))
        least, what = min(lacking)
        return self._too_small(label, f"{least / MM + 0.5:.0f} mm more {what}")

    def _heads(self, label: TrayLabel) -> Iterator[Head]:
        for roomy in _ROOMY:
            yield from heads(label, self._formats, self.width, self.height, roomy)

    def _find_plan(self, codes: Codes, texts: Texts, room: float) -> Plan:
        """The largest words that fit, or the way that lacks least."""
        best: Plan | None = None
        wide = widest(tuple(run for runs in texts[0] for run in (*runs, (" ", False))))
        for size in _SIZES:
            # A word is broken within itself only if it is wider than the label at the least size.
            if size > LEAST and wide * size > self.width:
                continue
            for plan in self._plans(codes, texts, size, wide * size):
                lacks = plan.over - room
                if best is None or lacks < best.over:
                    best = plan._replace(over=lacks)
                if lacks <= 0.01:
                    return best
        assert best is not None
        return best

    def _plans(self, codes: Codes, texts: Texts, size: float, wide: float) -> Iterator[Plan]:
        """Words beside the code, or over it; in paragraphs, or run together where room is short.

        ``over`` is the height that each takes; ``wide`` the width of the longest word.
        """
        for code in codes:
            for paragraphs in texts:
                if code is None:
                    lines = _lines(paragraphs, size, self.width)
                    yield Plan(size, lines, None, _tall(lines, size))
                    continue
                beside = self.width - code.width - _GAP
                if beside >= max(wide, size * 8):
                    lines = _lines(paragraphs, size, beside)
                    yield Plan(size, lines, code, max(_tall(lines, size), code.height))
                if code.width <= self.width:
                    lines = _lines(paragraphs, size, self.width)
                    yield Plan(size, lines, code, _tall(lines, size) + code.height + _GAP)

    def _codes(self, label: TrayLabel) -> Iterator[Code | None]:
        """The label's code, with tall bars and with shorter ones."""
        if not label.number and not label.elements:
            yield None
            return
        if label.code is TrayCode.QR:
            module = self.dots.square * self.dots.dot
            side = square_runs(as_text(label.elements))[1] * module
            yield self._code_of(label, side, SQUARE_QUIET * module, SQUARE_QUIET * module, side)
            return
        if label.number:
            module = self.dots.module
            width, left, right = MODULES, QUIET_LEFT, QUIET_RIGHT
        else:
            module = self.dots.linear * self.dots.dot
            width, left, right = linear_bars(label.elements)[1], LINEAR_QUIET, LINEAR_QUIET
        for bars in _BARS:
            yield self._code_of(label, width * module, left * module, right * module, bars)

    def _code_of(
        self, label: TrayLabel, width: float, left: float, right: float, bars: float
    ) -> Code:
        """A code with the quiet zones that the label's edge does not give it."""
        right = max(0.0, right - self.pad)
        height = bars if label.code is TrayCode.QR else bars + DIGITS
        code = Code(left + width + right, height, right, bars)
        if (lacking := code.width - self.width) > 0.01:
            self._too_small(label, f"{lacking / MM + 0.5:.0f} mm more width for its code")
        return code

    def _texts(self, label: TrayLabel) -> Texts:
        """The small words as paragraphs, then the same run together."""
        formats = self._formats
        days = _unbroken(f"Use by {formats.short_day(label.use_by)} {label.use_by.year}")
        packed = _unbroken(f"Packed {formats.short_day(label.packed_on)} {label.packed_on.year}")
        lot = _unbroken(f"lot {label.lot}")
        use_by: Paragraph = ((days, True),)
        made: Paragraph = ((f"{packed}, {lot}", False),)
        first: Paragraph = (*use_by, (" ", False), *made)
        origin: Paragraph = tuple((f"{_plant_whole(line)}. ", False) for line in label.origin)
        cautions: Paragraph = (
            (f"{label.storage} ", False),
            *(((label.cooking, True),) if label.cooking else ()),
        )
        shop: Paragraph = ((self._shop, False),)
        listed = tuple((_percent_whole(words), bold) for words, bold in label.ingredients)
        rest = tuple(each for each in (origin, listed, cautions, shop) if each)
        joined = tuple(run for each in rest for run in (*each, (" ", False)))
        return (use_by, made, *rest), (first, *rest), (first, joined)

    def _too_small(self, label: TrayLabel, lacks: str) -> NoReturn:
        width, height = self._sheet.cell
        raise Refusal(
            f"A label of {width:g} by {height:g} mm is too small for {clean(label.name)}, piece "
            f"{label.piece}: it lacks {lacks}. Choose a larger label or another code."
        )


def _lines(paragraphs: tuple[Paragraph, ...], size: float, width: float) -> tuple[Line, ...]:
    return tuple(line for runs in paragraphs for line in wrap_runs(runs, width / size))


def _tall(lines: Sequence[Line], size: float) -> float:
    """From the top of the first line's capitals to under the last line's letters."""
    return size * (0.1 + CAP_HEIGHT + (len(lines) - 1) * LEADING + DESCENT) if lines else 0.0


def _plant_whole(line: str) -> str:
    """A line on origin whose plant's number stays together: ``Cut in: Ireland, IE 411 EC``."""
    country, comma, plant = line.partition(", ")
    return f"{country}{comma}{_unbroken(plant)}"


def _percent_whole(words: str) -> str:
    """A list in which no amount is parted from its sign: ``Pork (85 %)``."""
    return words.replace(" %", "\N{NO-BREAK SPACE}%")


def _unbroken(words: str) -> str:
    """Words that stay together on a line."""
    return clean(words).replace(" ", "\N{NO-BREAK SPACE}")
