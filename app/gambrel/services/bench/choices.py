"""Line choices: what the last piece, or any two cuts, would earn against each other.

A screen asks with its `Look`, so that nothing is read again; the command line asks the book.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.choice import Choice, Made, Way, compare
from gambrel.domain.bench.choice_words import parts_name
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import Trade
from gambrel.services.bench.starting import piece_left
from gambrel.services.words import formats_for

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.services.bench.looking import Look
    from gambrel.storage.book import Book

NO_MINUTES = Decimal(0)


@dataclass(frozen=True, slots=True)
class WayAsked:
    """What could be made of the kilos: shares (of one) by cut, in minutes of work.

    ``name`` is how a sentence calls it; without one it is called by its cuts.
    """

    shares: Mapping[str, Decimal]
    minutes: Decimal = NO_MINUTES
    name: str = ""


def whole_as(cut: str, minutes: Decimal = NO_MINUTES) -> WayAsked:
    """All of the kilos as one cut."""
    return WayAsked({cut: Decimal(1)}, minutes)


def choice_between(
    trade: Trade, grams: int, way: WayAsked, other: WayAsked, now: datetime
) -> Choice:
    """One way of using some kilos against another, at the prices in force now.

    Args:
        trade: A book, or a part of it that has its catalogue and prices: a `Look`'s is enough.
        grams: What is to be used.
        way: What is asked about.
        other: What would be done instead.
        now: An aware moment.
    Raises:
        Refusal: There is no such cut, a price is missing, or as `compare`.
    """
    maker = _Maker(trade, now)
    return compare(grams, maker.way(way), maker.way(other), trade.shop)


def choices_for(look: Look, now: datetime, minutes: Decimal = NO_MINUTES) -> list[Choice]:
    """The last piece on the block as the cut that it is, against each trim of its species.

    The trim that fetches most comes first; trim without a price is left out. Empty where no piece
    stands.

    Args:
        look: What lies on the block.
        now: An aware moment.
        minutes: What keeping the piece whole takes more than throwing it into the tub.
    Raises:
        Refusal: The piece's own cut has no price, or the minutes cannot be.
    """
    last = next(iter(look.on_block.standing), None)
    if last is None:
        return []
    maker = _Maker(look.trade, now)
    kept = maker.way(whole_as(last.cut.key, minutes))
    tubs = [cut for cut in maker.priced_trim(last.cut.species) if cut != last.cut]
    found = [
        compare(last.piece.net_g, kept, maker.way(whole_as(cut.key)), look.trade.shop)
        for cut in tubs
    ]
    return sorted(found, key=lambda choice: -choice.other_rate)


def piece_to_choose(book: Book, piece: str) -> tuple[Trade, str, int]:
    """The book, a piece's cut and the grams that are left of it.

    Raises:
        Refusal: There is no such piece, it was taken back, or nothing is left of it.
    """
    with book.reading() as work:
        trade = work.trade()
    keys = {row.key: row for row in trade.pieces}
    if piece not in keys:
        guess = did_you_mean(piece, keys) or ". Give the key of one that stands."
        raise Refusal(f"There is no piece {piece!r} in the book{guess}")
    if piece in trade.voided:
        raise Refusal(f"Piece {piece} was taken back. Choose one that stands.")
    left = piece_left(trade, piece)
    if left <= 0:
        raise Refusal(f"Nothing is left of piece {piece}. Choose another.")
    return trade, keys[piece].cut, left


class _Maker:
    """Makes ways of what is asked, by one trade's cuts and the prices of one moment."""

    def __init__(self, trade: Trade, now: datetime) -> None:
        self._cuts = {cut.key: cut for cut in trade.cuts}
        self._prices = PriceBook(trade.cuts, trade.prices)
        self._formats: Formats = formats_for(trade.shop)
        self._now = now

    def way(self, asked: WayAsked) -> Way:
        parts = tuple(self._made(cut, share) for cut, share in asked.shares.items())
        name = asked.name or (parts_name(parts, self._formats) if parts else "nothing")
        return Way(name, parts, asked.minutes)

    def priced_trim(self, species: str) -> Iterable[Cut]:
        trim = (cut for cut in self._cuts.values() if cut.kind is CutKind.TRIM)
        return [
            cut for cut in trim
            if cut.species == species and self._prices.at(cut.key, self._now) is not None
        ]  # fmt: skip

    def _made(self, key: str, share: Decimal) -> Made:
        cut = self._cuts.get(key)
        if cut is None:
            guess = did_you_mean(key, self._cuts) or ". Choose one of the catalogue."
            raise Refusal(f"There is no cut {key!r} in the book{guess}")
        return Made(cut, self._prices.at(key, self._now), share)
