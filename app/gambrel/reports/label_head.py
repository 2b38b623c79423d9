"""The head of a tray label: its name, net weight and price, and how large each is.

The price to pay is the largest figure, the weight the next. They stand side by side, or the price
under the weight where side by side the law's height for a weight would leave the price smaller.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from gambrel.domain.prices.labels import TrayLabel
from gambrel.domain.trade.formats import Formats
from gambrel.reports.fitting import Fitted, fit_line, fit_lines
from gambrel.reports.fonts import BOLD, CAP_HEIGHT, DESCENT, OVERSHOOT, REGULAR, em_width
from gambrel.reports.look import MM

LEAST = 6.6
"""Points: the smallest words."""

NET_WEIGHT = "Net weight"
KG = " kg"
RULE = 0.35 * MM
KG_SIZE = 1.4
"""The unit's type size over the captions'."""

_LEAST_NAME = 9.0
_LEAST_PRICE = 3.0 * MM / CAP_HEIGHT
"""Points: price digits of 3 mm read well in the hand (common practice, no source)."""

_WEIGHT = 0.75
"""A weight's type size over the price's, where no law wants more."""

_APART = 3.0 * MM
"""Between what stands left and what stands right."""

_LEADING = 1.08


class Head(NamedTuple):
    """A name and figures with their sizes; bases and heights count from the label's top edge.

    ``captions`` are the base lines of "Net weight" and of the price per kilo, ``bases`` those of
    weight and price.
    """

    name: Fitted
    rule: float
    caption: float
    weight: tuple[str, float]
    price: tuple[str, float]
    rate: str
    captions: tuple[float, float]
    bases: tuple[float, float]
    height: float
    lacks: float
    """How many points of width are lacking; zero or less where it fits."""

    @property
    def stacked(self) -> bool:
        """Whether the price stands under the weight, both at the right."""
        return self.bases[0] < self.bases[1]

    @property
    def price_leads(self) -> bool:
        """Whether the price is the largest figure."""
        return self.price[1] > self.weight[1]


class _Words(NamedTuple):
    """The figures' words, the least size of the weight, and what the price would like (points)."""

    weight: str
    price: str
    rate: str
    least: float
    wanted: float


def weight_height(grams: int) -> float:
    """How high the digits of a weight are at least, in millimetres.

    Source: Directive 76/211/EEC, Annex I, 3.1 (references, legal-limits.csv).
    """
    if grams > 1000:
        return 6
    return 4 if grams > 200 else 3 if grams > 50 else 2


def heads(
    label: TrayLabel, formats: Formats, width: float, height: float, roomy: float
) -> Iterator[Head]:
    """Ways to set a head, the better first.

    Args:
        label: What it says.
        formats: How the shop writes money and weights.
        width: Of the label within its margins, in points.
        height: The same.
        roomy: From the least sizes (0) to what looks best (1).
    """
    size = between(_LEAST_NAME, min(max(height * 0.14, 10), 26), roomy)
    name = _fit_name(label.name, size, width)
    words = _Words(
        formats.kg(label.grams),
        formats.money(label.price),
        f"{formats.per_kilo(label.per_kilo)} per kg",
        weight_height(label.grams) * MM / CAP_HEIGHT,
        between(_LEAST_PRICE, height * 0.19, roomy),
    )
    most = between(LEAST, max(LEAST, min(height * 0.06, 9)), roomy)
    yield _side_by_side(name, words, width, most, roomy)
    yield _stacked(name, words, width, most, roomy)


def _side_by_side(name: Fitted, words: _Words, width: float, most: float, roomy: float) -> Head:
    """Weight at the left, price at the right, their captions above them."""
    captions = em_width(NET_WEIGHT, REGULAR) + em_width(words.rate, REGULAR)
    caption = max(LEAST, min(most, (width - _APART) / captions))
    heavy, dear = em_width(words.weight, BOLD), em_width(words.price, BOLD)
    room = width - em_width(KG, BOLD) * caption * KG_SIZE - _APART
    price = min(words.wanted, room / (dear + _WEIGHT * heavy))
    weight = max(words.least, _WEIGHT * price)
    price = min(words.wanted, (room - weight * heavy) / dear)
    lacks = max((_LEAST_PRICE - price) * dear, captions * caption + _APART - width)
    rule = _rule(name)
    named = rule + RULE + caption * 1.12
    clear = max(1.0 * MM, (DESCENT * caption + OVERSHOOT * price + 0.2 * MM))
    base = named + clear + max(weight, price) * CAP_HEIGHT
    return Head(
        name, rule, caption, (words.weight, weight), (words.price, price), words.rate,
        (named, named), (base, base), base + _under(price, roomy), lacks,
    )  # fmt: skip


def _stacked(name: Fitted, words: _Words, width: float, caption: float, roomy: float) -> Head:
    """The price under the weight, each at the right with its caption at the left."""
    heavy, dear = em_width(words.weight, BOLD), em_width(words.price, BOLD)
    unit = em_width(KG, BOLD) * caption * KG_SIZE
    room = width - _APART - em_width(words.rate, REGULAR) * caption
    weight = max(words.least, _WEIGHT * words.wanted)
    price = min(max(words.wanted, weight / _WEIGHT), room / dear)
    weight = max(words.least, min(weight, _WEIGHT * price))
    wide = em_width(NET_WEIGHT, REGULAR) * caption + _APART + heavy * weight + unit
    lacks = max((_LEAST_PRICE - price) * dear, wide - width)
    rule, gap = _rule(name), (0.8 + 0.7 * roomy) * MM
    first = rule + RULE + 0.4 * MM + gap + weight * CAP_HEIGHT
    second = first + gap + price * (OVERSHOOT + CAP_HEIGHT)
    return Head(
        name, rule, caption, (words.weight, weight), (words.price, price), words.rate,
        (first, second), (first, second), second + _under(price, roomy), lacks,
    )  # fmt: skip


def _rule(name: Fitted) -> float:
    return name.size * (CAP_HEIGHT + 0.06 + (len(name.lines) - 1) * _LEADING + DESCENT)


def _under(price: float, roomy: float) -> float:
    """What stays free under the figures: a comma and a dollar sign reach below their line."""
    return max(0.8 * MM, 1.4 * OVERSHOOT * price) + 1.4 * roomy * MM


def _fit_name(name: str, size: float, width: float) -> Fitted:
    fitted = fit_line(name, BOLD, size, width, size * 0.75)
    return fit_lines(name, BOLD, size * 0.8, width, 7.2, 2) if fitted.cut else fitted


def between(least: float, most: float, share: float) -> float:
    """A size between two."""
    return least + (most - least) * share
