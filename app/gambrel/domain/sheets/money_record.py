"""Writing a money flow down while it is followed: ways, and the items behind every spot."""

from __future__ import annotations

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.sheets.money_flow import Item, ItemKind, Level, MoneyFlow, Spot, Way

Origin = tuple[Spot, Spot | None]
"""Where money came from, and as which cut; None until something has been cut."""

Purse = dict[Origin, int]
"""Money with its origins, in minor units."""


def put(purse: Purse, origin: Origin, money: int) -> None:
    """Add money to a purse."""
    if money:
        purse[origin] = purse.get(origin, 0) + money


def draw(purse: Purse, money: int) -> Purse:
    """Take money out of a purse in the proportion of its origins; it holds as much at least."""
    if not money:
        return {}
    origins = list(purse)
    drawn: Purse = {}
    parts = apportion(money, [purse[origin] for origin in origins])
    for origin, part in zip(origins, parts, strict=True):
        if part:
            drawn[origin] = part
            purse[origin] -= part
    return drawn


class FlowRecord:
    """Ways and items of one flow; items of the same piece, body or stage become one."""

    def __init__(self) -> None:
        self._ways: dict[Way, int] = {}
        self._items: dict[tuple[Level, Spot], dict[tuple[ItemKind, str], list[int]]] = {}
        self.names: dict[Spot, str] = {}

    def count(self, level: Level, spot: Spot, item: Item) -> None:
        """Put an item behind a spot."""
        if item.money:
            behind = self._items.setdefault((level, spot), {})
            both = behind.setdefault((item.kind, item.key), [0, 0])
            both[0] += item.grams
            both[1] += item.money

    def enter(self, purse: Purse, source: Spot, middle: Spot | None, item: Item) -> None:
        """Bring money in; what is no part of a cut is its own middle."""
        if item.money <= 0:
            return
        put(purse, (source, middle), item.money)
        self.count(Level.SOURCE, source, item)
        if middle is not None:
            self.count(Level.MIDDLE, middle, item)

    def cut(self, purse: Purse, cut: Spot, item: Item) -> Purse:
        """Make a cut of what has not been cut yet; ``item`` is behind it with that money."""
        fresh = sum(money for (_, middle), money in purse.items() if middle is None)
        self.count(Level.MIDDLE, cut, item._replace(money=fresh))
        found: Purse = {}
        for (source, middle), money in purse.items():
            put(found, (source, middle or cut), money)
        return found

    def end(self, purse: Purse, cut: Spot, spot: Spot, item: Item) -> None:
        """Let money end in a spot; what has not been cut passes as ``cut``."""
        for (source, middle), money in self.cut(purse, cut, item).items():
            if middle is not None and money:
                way = Way(source, middle, spot)
                self._ways[way] = self._ways.get(way, 0) + money
        self.count(Level.END, spot, item._replace(money=sum(purse.values())))

    def flow(self, ledger: Ledger) -> MoneyFlow:
        """Everything that was written down."""
        kinds = {key: cut.kind.value for key, cut in ledger.costing.cuts_by_key.items()}
        items = {
            place: tuple(Item(kind, key, *both) for (kind, key), both in behind.items())
            for place, behind in self._items.items()
        }
        return MoneyFlow(self._ways, self.names, kinds, items)
