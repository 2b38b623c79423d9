"""Which price was in force when."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from datetime import datetime

from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import PriceChange


class PriceBook:
    """Prices per kilo (minor units) by cut and moment.

    A cut's own price holds from the beginning; each change holds from its moment on.
    """

    def __init__(self, cuts: Iterable[Cut], changes: Iterable[PriceChange]) -> None:
        self._first = {cut.key: cut.price for cut in cuts}
        self._since: dict[str, list[datetime]] = {}
        self._later: dict[str, list[int]] = {}
        for change in sorted(changes, key=lambda change: change.since):
            self._since.setdefault(change.cut, []).append(change.since)
            self._later.setdefault(change.cut, []).append(change.price)

    def at(self, cut: str, moment: datetime) -> int | None:
        """The price in force at a moment, or None where the cut has none yet."""
        since = self._since.get(cut)
        if since and (index := bisect_right(since, moment)):
            return self._later[cut][index - 1]
        return self._first.get(cut)

    def history(self, cut: str) -> list[tuple[datetime | None, int]]:
        """Every price the cut has had, the first with no moment, oldest first."""
        first = self._first.get(cut)
        opening: list[tuple[datetime | None, int]] = [] if first is None else [(None, first)]
        return opening + list(zip(self._since.get(cut, []), self._later.get(cut, []), strict=True))
