"""Whether a book is sound: its file, its rows, and every cent of its costing."""

from __future__ import annotations

from dataclasses import dataclass, field

from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.refusals import Refusal
from gambrel.domain.review.oddities import oddities
from gambrel.domain.review.whole import review
from gambrel.domain.trade.records import Trade
from gambrel.services.books import Book
from gambrel.services.words import formats_for


@dataclass(slots=True)
class CheckReport:
    """What was looked at, what could not be looked at and why, and everything that is wrong.

    ``notes`` are what is odd and yet possible: sentences without their full stop.
    """

    checked: list[str] = field(default_factory=list)
    not_checked: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.wrong


def check_book(book: Book) -> CheckReport:
    """Check the database, every row against every rule, and the money of all four methods."""
    report = CheckReport()
    report.wrong += book.check()
    report.checked.append("the database: its pages, links between rows, guards and version")
    with book.reading() as work:
        if work.shop() is None:
            report.not_checked.append("rows and money: the book has no shop yet; load a folder")
            return report
        trade = work.trade()
    problems = review(trade)
    report.wrong += [
        f"{problem.table}: {' '.join(problem.row)}: {problem.column}: {problem.message}"
        for problem in problems
    ]
    report.checked.append(f"{_rows(trade)} rows against every rule of the trade")
    report.notes += [odd.sentence for odd in oddities(trade, formats_for(trade.shop))]
    if problems:
        report.not_checked.append("the money: rows are wrong; correct them first")
        return report
    for method in Method:
        _check_method(trade, method, report)
    return report


def _check_method(trade: Trade, method: Method, report: CheckReport) -> None:
    try:
        difference = roll_up(trade, method).totals.difference
    except Refusal as refusal:
        report.not_checked.append(f"the money shared by {method.value}: {refusal}")
        return
    report.checked.append(f"the money shared by {method.value}, to the last unit")
    if difference:
        lost = trade.shop.currency.text(difference)
        report.wrong.append(f"shared by {method.value}, {lost} is lost between the lines")


def _rows(trade: Trade) -> int:
    tables = (
        trade.suppliers, trade.cuts, trade.lists, trade.bodies, trade.reweighs, trade.stages,
        trade.inputs, trade.pieces, trade.voids, trade.prices, trade.writeoffs,
    )  # fmt: skip
    return sum(map(len, tables))
