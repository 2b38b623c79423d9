"""How a tray label's name, figures, words and code share its room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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
from gambrel.reports.fitting import Fitted, clean, fit_line, fit_lines
from gambrel.reports.fonts import BOLD, CAP_HEIGHT, REGULAR, em_width, width_of
from gambrel.reports.look import MM
from gambrel.reports.papers import Sheet
from gambrel.reports.runs import Line, wrap_runs

LEAST = 6.6
"""Points: the smallest words."""

_SIZES = (10.7, 9.5, 8.6, 7.8, 7.2, LEAST)
_ROOMY = (1.0, 0.6, 0.25, 0.0)
"""How large name and figures are tried, from the least (0) to what looks best (1)."""

_LEAST_NAME = 9.0
LEADING = 1.16
_GAP = 1.2 * MM
RULE = 0.35 * MM
_BARS = (13 * MM, 10 * MM, 7 * MM)
"""Heights of bars that are tried, the tallest first."""

_LEAST_PRICE = 3.0 * MM / CAP_HEIGHT
"""Points: price digits of 3 mm read well in the hand (common practice, no source)."""

_DESCENT = 0.26
"""How far letters reach under their base line, in parts of the type size."""


class Code(NamedTuple):
    """How wide (with its quiet zones) and high a code is, and how high its bars are.

    ``inset`` is how far its right edge stays from the edge of the words.
    """

    width: float
    height: float
    inset: float
    bars: float


class Head(NamedTuple):
    """A label's name and figures with their sizes; ``rule`` and ``height`` count from its top."""

    name: Fitted
    rule: float
    caption: float
    weight: tuple[str, float]
    price: tuple[str, float]
    rate: str
    height: float
    lacks: float
    """How many points of width are lacking; zero or less where it fits."""


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

    def fit(self, label: TrayLabel) -> tuple[Head, Plan]:
        """The roomiest head with which the words fit, and where they go.

        Raises:
            Refusal: It is too small for what has to stand on it.
        """
        codes, texts = tuple(self._codes(label)), self._texts(label)
        for roomy in _ROOMY:
            head = self._head(label, roomy)
            plan = self._plan(codes, texts, self.height - head.height)
            if max(head.lacks, plan.over) <= 0.01:
                return head, plan
        wants = (head.lacks, "width") if head.lacks > 0.01 else (plan.over, "height")
        return self._too_small(label, f"{wants[0] / MM + 0.5:.0f} mm more {wants[1]}")

    def _head(self, label: TrayLabel, roomy: float) -> Head:
        """Sizes of the name, of net weight and of price, which stands under its rate."""
        size = _between(_LEAST_NAME, min(max(self.height * 0.14, 10), 26), roomy)
        name = _fit_name(label.name, size, self.width)
        weight, price = self._formats.kg(label.grams), self._formats.money(label.price)
        rate = f"{self._formats.per_kilo(label.per_kilo)} per kg"
        captions = em_width("Net weight", REGULAR) + em_width(rate, REGULAR)
        caption = _between(LEAST, max(LEAST, min(self.height * 0.06, 9)), roomy)
        caption = max(LEAST, min(caption, (self.width - 3.0 * MM) / captions))
        least = weight_height(label.grams) * MM / CAP_HEIGHT
        wanted = max(least, _between(_LEAST_PRICE, self.height * 0.17, roomy))
        room = self.width - width_of(" kg", BOLD, caption * 1.4) - 3.0 * MM
        heavy, dear = em_width(weight, BOLD), em_width(price, BOLD)
        weight_size = max(least, min(wanted, room / (heavy + dear)))
        price_size = min(wanted, (room - weight_size * heavy) / dear)
        lacking = max(
            (_LEAST_PRICE - price_size) * dear, captions * caption + 3.0 * MM - self.width
        )
        rule = name.size * (CAP_HEIGHT + 0.06 + (len(name.lines) - 1) * 1.08 + _DESCENT)
        figures = caption * 1.12 + weight_size * CAP_HEIGHT + (1.8 + 0.8 * roomy) * MM
        return Head(
            name, rule, caption, (weight, weight_size), (price, price_size), rate,
            rule + RULE + figures, lacking,
        )  # fmt: skip

    def _plan(self, codes: Codes, texts: Texts, room: float) -> Plan:
        """The largest words that fit, or the way that lacks least."""
        best: Plan | None = None
        for size in _SIZES:
            for plan in self._plans(codes, texts, size, room):
                if plan.over <= 0.01:
                    return plan
                if best is None or plan.over < best.over:
                    best = plan
        assert best is not None
        return best

    def _plans(self, codes: Codes, texts: Texts, size: float, room: float) -> Iterator[Plan]:
        """Words beside the code, or over it; in paragraphs, or run together where room is short."""
        for code in codes:
            for paragraphs in texts:
                if code is None:
                    lines = _lines(paragraphs, size, self.width)
                    yield Plan(size, lines, None, _tall(lines, size) - room)
                    continue
                beside = self.width - code.width - _GAP
                if beside >= size * 8:
                    lines = _lines(paragraphs, size, beside)
                    yield Plan(size, lines, code, max(_tall(lines, size), code.height) - room)
                if code.width <= self.width:
                    lines = _lines(paragraphs, size, self.width)
                    yield Plan(size, lines, code, _tall(lines, size) + code.height + _GAP - room)

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
        first: Paragraph = ((days, True), (f" {packed}, {lot}", False))
        origin: Paragraph = tuple((f"{_plant_whole(line)}. ", False) for line in label.origin)
        cautions: Paragraph = (
            (f"{label.storage} ", False),
            *(((label.cooking, True),) if label.cooking else ()),
        )
        shop: Paragraph = ((self._shop, False),)
        rest = tuple(each for each in (origin, label.ingredients, cautions, shop) if each)
        joined = tuple(run for each in rest for run in (*each, (" ", False)))
        return (first, *rest), (first, joined)

    def _too_small(self, label: TrayLabel, lacks: str) -> NoReturn:
        width, height = self._sheet.cell
        raise Refusal(
            f"A label of {width:g} by {height:g} mm is too small for {clean(label.name)}, piece "
            f"{label.piece}: it lacks {lacks}. Choose a larger label or another code."
        )


def weight_height(grams: int) -> float:
    """How high the digits of a weight are at least, in millimetres.

    Source: Directive 76/211/EEC, Annex I, 3.1 (references, legal-limits.csv).
    """
    if grams > 1000:
        return 6
    return 4 if grams > 200 else 3 if grams > 50 else 2


def _fit_name(name: str, size: float, width: float) -> Fitted:
    fitted = fit_line(name, BOLD, size, width, size * 0.75)
    return fit_lines(name, BOLD, size * 0.8, width, 7.2, 2) if fitted.cut else fitted


def _lines(paragraphs: tuple[Paragraph, ...], size: float, width: float) -> tuple[Line, ...]:
    return tuple(line for runs in paragraphs for line in wrap_runs(runs, width / size))


def _tall(lines: Sequence[Line], size: float) -> float:
    """From the top of the first line's capitals to under the last line's letters."""
    return size * (0.1 + CAP_HEIGHT + (len(lines) - 1) * LEADING + _DESCENT) if lines else 0.0


def _between(least: float, most: float, share: float) -> float:
    return least + (most - least) * share


def _plant_whole(line: str) -> str:
    """A line on origin whose plant's number stays together: ``Cut in: Ireland, IE 411 EC``."""
    country, comma, plant = line.partition(", ")
    return f"{country}{comma}{_unbroken(plant)}"


def _unbroken(words: str) -> str:
    """Words that stay together on a line."""
    return clean(words).replace(" ", "\N{NO-BREAK SPACE}")
