"""What people do at the cabinet: see what each cut earns, set prices, take a proposal, undo."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from gambrel.domain.costing.methods import Method
from gambrel.domain.numbers.money import DEAREST_MINOR
from gambrel.domain.prices.cabinet import Cabinet, cabinet_of
from gambrel.domain.prices.proposal import PriceProposal
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import PriceChange, Trade

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book

DEAREST_PER_KILO = DEAREST_MINOR // 10**6
"""More than any kilogram costs in any currency's minor units; a sum of such prices still fits."""

_MOMENT = timedelta(microseconds=1)


def cabinet(book: Book, now: datetime, method: Method = Method.NRV) -> Cabinet:
    """The cabinet as it stands now.

    Reads the whole book: call it off the window's thread.

    Raises:
        Refusal: The book has no shop yet, or contradicts itself.
    """
    with book.reading() as work:
        trade = work.trade()
    return cabinet_of(trade, now, method)


def set_price(
    book: Book, cut: str, price: int, now: datetime, reason: str = ""
) -> PriceChange:  # fmt: skip
    """Give a cut a price (minor units per kilogram) from now on.

    Raises:
        Refusal: There is no such cut for sale, or the price cannot be.
    """
    return _write(book, {cut: price}, now, reason)[0]


def take(
    book: Book, proposal: PriceProposal, now: datetime, cuts: Collection[str] | None = None
) -> list[PriceChange]:
    """Take a proposal, whole or only some cuts of it, in one act; what stays as it is is left.

    Raises:
        Refusal: A price was changed meanwhile, or nothing would change; no price is changed.
    """
    lines = [line for line in proposal.lines if cuts is None or line.cut in cuts]
    wanted = {line.cut: line.price for line in lines if line.price != line.today}
    if not wanted:
        raise Refusal("These are today's prices already. Nothing is to be taken.")
    today = {line.cut: line.today for line in lines}
    return _write(book, wanted, now, "solved for the whole body", today)


def undo_prices(book: Book, changes: Sequence[PriceChange], now: datetime) -> list[PriceChange]:
    """Bring back, in one act, the prices that stood before these changes.

    The book forgets nothing: the changes stay in the history, with the return after them.

    Raises:
        Refusal: A price was changed again since, or there was none before.
    """
    with book.reading() as work:
        trade = work.trade()
    prices = PriceBook(trade.cuts, trade.prices)
    names = {cut.key: cut.name for cut in trade.cuts}
    before: dict[str, int] = {}
    for change in changes:
        earlier = prices.at(change.cut, change.since - _MOMENT)
        if earlier is None:
            raise Refusal(
                f"{names[change.cut]} had no price before, and a price cannot be taken away. "
                "Set the one that you want."
            )
        before[change.cut] = earlier
    expected = {change.cut: change.price for change in changes}
    return _write(book, before, now, "taken back", expected)


def _write(
    book: Book,
    wanted: Mapping[str, int],
    now: datetime,
    reason: str,
    expected: Mapping[str, int] | None = None,
) -> list[PriceChange]:
    """Write prices in one transaction; ``expected`` are the ones that must still stand."""
    with book.transaction() as work:
        trade = work.trade()
        cuts = {cut.key: cut for cut in trade.cuts}
        prices = PriceBook(trade.cuts, trade.prices)
        changes = []
        for key, price in wanted.items():
            cut = _for_sale(cuts, key)
            _check(cut, price)
            since = _since(trade, key, now)
            if expected is not None and prices.at(key, since) != expected[key]:
                raise Refusal(
                    f"The price of {cut.name} has been changed meanwhile. Look at it again."
                )
            changes.append(PriceChange(key, price, since, reason))
        work.add(changes)
    return changes


def _for_sale(cuts: Mapping[str, Cut], key: str) -> Cut:
    cut = cuts.get(key)
    if cut is None:
        raise Refusal(f"There is no cut {key} in the book. Choose one of those shown.")
    if not cut.kind.bears_cost:
        raise Refusal(f"{cut.name} is not sold by price, so it has none to set.")
    return cut


def _check(cut: Cut, price: int) -> None:
    if price <= 0:
        raise Refusal(f"{cut.name} needs a price above zero. Type what a kilogram sells for.")
    if price > DEAREST_PER_KILO:
        raise Refusal(f"No kilogram of {cut.name} sells for that. Look at the decimal point.")


def _since(trade: Trade, cut: str, now: datetime) -> datetime:
    """Now, or the first moment after it at which the cut has no change yet."""
    taken = {change.since for change in trade.prices if change.cut == cut}
    since = now
    while since in taken:
        since += _MOMENT
    return since
