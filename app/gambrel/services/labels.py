"""Printing tray labels from weighed pieces, or from the trays into which they were split."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from gambrel.domain.bench.legal import COUNTRY_SETTING
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.body_limits import BODY_DAYS_SETTING, body_limits, read_body_days
from gambrel.domain.prices.label_source import Packed
from gambrel.domain.prices.labels import (
    VERIFIED,
    Beside,
    LabelRules,
    TrayCode,
    TrayLabel,
    Wish,
    make_labels,
    ready_for_labels,
)
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, IngredientLot, Origin
from gambrel.domain.trade.records import Trade
from gambrel.reports.papers import FROM_THE_FIRST, LABELS, PAPERS, Placing, label_sheet
from gambrel.services.words import formats_for

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.reports.sheet_pages import OnPage
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

__all__ = [
    "VERIFIED",
    "LabelPrint",
    "PrintedLabels",
    "TrayCode",
    "Wish",
    "label_paper_names",
    "pieces_ready",
    "print_labels",
]


@dataclass(frozen=True, slots=True)
class LabelPrint:
    """How labels are printed: the code they bear, the printer's dots an inch, and the placing."""

    code: TrayCode = TrayCode.PRICE
    dpi: int = 203
    placing: Placing = FROM_THE_FIRST


class PrintedLabels(NamedTuple):
    """A PDF of labels, names that were cut short on it, its pages, and what the labels say."""

    pdf: bytes
    cut_short: tuple[str, ...]
    pages: int
    labels: tuple[TrayLabel, ...]
    currency: Currency


def label_paper_names() -> tuple[str, ...]:
    """Label papers by name; any other size is written as for example ``58x40mm``."""
    return (*LABELS, *(paper.name for paper in PAPERS.values() if paper.is_cut))


def print_labels(
    book: Book,
    wishes: Sequence[Wish],
    paper: str,
    now: datetime,
    how: LabelPrint = LabelPrint(),
    on_page: OnPage | None = None,
) -> PrintedLabels:
    """Labels for the trays of some pieces, at the prices in force at a moment.

    Args:
        book: An open book. Its settings ``country`` and ``body_days`` are heeded.
        wishes: Pieces, each once, with the trays into which they were split.
        paper: One of ``label_paper_names()``, or a size such as ``58x40mm``.
        now: An aware moment.
        how: Code, printer and placing.
        on_page: Told after every page how many labels are drawn of how many; it answers whether
            to go on.
    Returns:
        The PDF and what it says.
    Raises:
        Refusal: See ``make_labels``; or the paper is unknown, or too small for a label.
        gambrel.reports.sheet_pages.Stopped: ``on_page`` said no.
    """
    from gambrel.reports.labels import draw_labels

    sheet = label_sheet(paper)
    trade, beside, rules = _read(book, how.code)
    labels = make_labels(trade, beside, wishes, now, rules)
    printed = draw_labels(
        labels, sheet, formats_for(trade.shop), shop=trade.shop.name, placing=how.placing,
        dpi=how.dpi, on_page=on_page,
    )  # fmt: skip
    return PrintedLabels(*printed, tuple(labels), trade.shop.currency)


def pieces_ready(book: Book, now: datetime, code: TrayCode = TrayCode.PRICE) -> list[Packed]:
    """The pieces that can be labelled as they are, in the order in which they were weighed."""
    trade, beside, rules = _read(book, code)
    return ready_for_labels(trade, beside, now, rules)


def _read(book: Book, code: TrayCode) -> tuple[Trade, Beside, LabelRules]:
    with book.reading() as work:
        if work.shop() is None:
            raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
        trade = work.trade()
        return trade, _beside(work), _rules(work, trade, code)


def _beside(work: Work) -> Beside:
    return Beside(work.every(CutLabel), work.every(Origin), work.every(IngredientLot))


def _rules(work: Work, trade: Trade, code: TrayCode) -> LabelRules:
    days = read_body_days(work.setting(BODY_DAYS_SETTING) or "")
    country = work.setting(COUNTRY_SETTING) or ""
    return LabelRules(country=country, code=code, bodies=body_limits(trade, days))
