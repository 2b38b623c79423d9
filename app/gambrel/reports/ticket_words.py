"""A shelf ticket's small words: second price, special, where it is from, and cautions.

They shrink together until they fit. The supplier's name may be cut short, and then it is said; all
else is wanted by a law or for safety, and a paper that is too small for it is refused.
"""

from __future__ import annotations

from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.ingredients import Run
from gambrel.domain.prices.tickets import Ticket
from gambrel.domain.prices.unit_price import UnitPrice
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.reports.fitting import clean, fit_lines
from gambrel.reports.fonts import DESCENT, REGULAR, em_width
from gambrel.reports.look import Face, look
from gambrel.reports.papers import Paper
from gambrel.reports.pen import Pen
from gambrel.reports.runs import Line, font_of, wrap_runs

LEAST_SMALL = 6.6
"""Points: the smallest words on a ticket."""

_LEADING = 1.13
_SUPPLIER_LINES = 2
_NBSP = "\N{NO-BREAK SPACE}"


class SmallWords:
    """Draws the small words of tickets on one paper."""

    def __init__(self, pen: Pen, paper: Paper, formats: Formats) -> None:
        self._pen, self._paper, self._formats = pen, paper, formats

    def draw(self, ticket: Ticket, x: float, top: float, width: float, bottom: float) -> None:
        """Draw them on a ticket's last lines, between two heights.

        Raises:
            Refusal: What must stand there does not fit.
        """
        room, size = bottom - top, self._paper.small
        while True:
            lines = self._wanted(ticket, width / size)
            free = int(room / (size * _LEADING)) - len(lines)
            named, cut = _supplier(ticket, size, width, min(max(free, 0), _SUPPLIER_LINES))
            if (free >= 0 and not cut) or size <= LEAST_SMALL:
                break
            size = max(size * 0.97, LEAST_SMALL)
        if free < 0:
            instead = "print it without its barcode" if ticket.number else "leave something out"
            raise Refusal(
                f"{self._paper.about} is too small for what must stand on the ticket of "
                f"{clean(ticket.name)}; choose a larger paper, or {instead}."
            )
        if cut:
            self._pen.cut.append(clean(ticket.supplier))
        self._write([*self._figures(ticket, width / size), *named,
                     *self._sentences(ticket, width / size)], size, x, bottom)  # fmt: skip

    def _wanted(self, ticket: Ticket, ems: float) -> list[tuple[Line, bool]]:
        return [*self._figures(ticket, ems), *self._sentences(ticket, ems)]

    def _figures(self, ticket: Ticket, ems: float) -> list[tuple[Line, bool]]:
        """The second price and the special; with each line, whether its bold words are struck."""
        lines: list[tuple[Line, bool]] = []
        if ticket.unit_price is not None:
            words = f"{_unit_money(ticket.unit_price, self._formats)} {ticket.unit_price.words}"
            lines += [(line, False) for line in wrap_runs(((words, True),), ems)]
        if ticket.was is not None:
            special: list[Run] = [("Special", False)]
            if ticket.was.price is not None:
                was = self._formats.money(ticket.was.price).replace(" ", _NBSP)
                special = [(f"Special, was{_NBSP}", False), (was, True)]
            if ticket.was.last_day is not None:
                day = self._formats.short_day(ticket.was.last_day).replace(" ", _NBSP)
                special.append((f" until{_NBSP}{day}", False))
            lines += [(line, True) for line in wrap_runs(tuple(special), ems)]
        return lines

    def _sentences(self, ticket: Ticket, ems: float) -> list[tuple[Line, bool]]:
        """Origin and cautions; the one on cooking is bold."""
        cold, *cook = ticket.cautions or ("",)
        sentences = [(f"{line}. ", False) for line in ticket.origin]
        paragraphs = [tuple(sentences), ((f"{cold} ", False), *((words, True) for words in cook))]
        return [
            (line, False) for each in paragraphs if each for line in wrap_runs(tuple(each), ems)
        ]

    def _write(self, lines: list[tuple[Line, bool]], size: float, x: float, bottom: float) -> None:
        ink = look().ink
        base = bottom - size * (DESCENT + _LEADING * (len(lines) - 1))
        for line, struck in lines:
            at = x
            for run in line:
                width = em_width(run[0], font_of(run)) * size
                self._pen.text(at, base, run[0], Face(font_of(run), size, ink))
                if struck and run[1]:
                    through = em_width(run[0].rstrip(), font_of(run)) * size
                    self._pen.rule(at, base - size * 0.25, through, ink, size * 0.07)
                at += width
            base += size * _LEADING


def _supplier(
    ticket: Ticket, size: float, width: float, most: int
) -> tuple[list[tuple[Line, bool]], bool]:
    """The supplier's lines, and whether the name had to be cut or left out."""
    if not ticket.supplier or ticket.origin:
        return [], False
    if not most:
        return [], True
    fitted = fit_lines(f"Supplied by {ticket.supplier}", REGULAR, size, width, size, most)
    return [(((line, False),), False) for line in fitted.lines], fitted.cut


def _unit_money(price: UnitPrice, formats: Formats) -> str:
    """An amount that may have a tenth of the minor unit."""
    if price.amount == int(price.amount):
        return formats.money(int(price.amount))
    finer = Currency(formats.currency.code, formats.currency.digits + 1)
    return Formats(finer, formats.symbol).money(int(price.amount * 10))
