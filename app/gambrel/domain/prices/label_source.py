"""What a book says of a piece that goes on a tray: how much is left, its lot, dates and origin."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from gambrel.domain.costing.takes import grams_gone
from gambrel.domain.prices.asked import asked_price
from gambrel.domain.prices.origin import blended_cuts, bodies_of_stages, origins_by_body
from gambrel.domain.prices.origin_lines import origin_rule, origin_text
from gambrel.domain.prices.tickets import is_minced
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, IngredientLot, Origin, OriginOf
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.keys import lot_of
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import Piece, Source, StageKind, Trade
from gambrel.domain.trade.use_by import use_by_days


@dataclass(frozen=True, slots=True)
class Packed:
    """A piece as it goes on trays: what is left of it in grams, its lot and its days."""

    piece: Piece
    cut: Cut
    text: CutLabel
    left_g: int
    lot: str
    packed_on: date
    use_by: date


class LabelSource:
    """Looks up what labels need, having read a book once."""

    def __init__(
        self,
        trade: Trade,
        texts: Sequence[CutLabel],
        origins: Sequence[Origin],
        lots: Iterable[IngredientLot],
        bodies: Mapping[str, date],
    ) -> None:
        self._shop = trade.shop
        self._pieces = {piece.key: piece for piece in trade.pieces}
        self._voided = trade.voided
        self._cuts = {cut.key: cut for cut in trade.cuts}
        self._texts = {text.cut: text for text in texts}
        self._gone = grams_gone(trade)
        self._prices = PriceBook(trade.cuts, trade.prices)
        self._days = use_by_days(trade, bodies, lots)
        self._stages = {stage.key: stage for stage in trade.stages}
        self._bodies = bodies_of_stages(trade)
        self._blended = blended_cuts(trade)
        self._mixed = {row.stage for row in trade.inputs if row.source is Source.INGREDIENT}
        self._origins = origins_by_body(trade, origins)

    def packed(self, key: str, trays: tuple[int, ...], now: datetime) -> Packed:
        """A piece that may go on trays.

        Raises:
            Refusal: It may not; the message has no full stop, since several may be joined.
        """
        piece = self._pieces.get(key)
        if piece is None:
            raise Refusal(f"there is no piece {key!r}; look up its number on the block")
        if key in self._voided or piece.weighed_at > now:
            raise Refusal(f"piece {key} was taken back or is not weighed yet; choose another")
        cut = self._cuts[piece.cut]
        today = business_day(now, self._shop)
        return Packed(
            piece=piece,
            cut=cut,
            text=self._texts.get(cut.key, CutLabel(cut.key)),
            left_g=self._left(piece, trays),
            lot=self._lot(piece),
            # A piece was packed when it was weighed; one that is split later, when it is split.
            packed_on=today if trays else business_day(piece.weighed_at, self._shop),
            use_by=self._use_by(piece, cut, today),
        )

    def _left(self, piece: Piece, trays: tuple[int, ...]) -> int:
        left = piece.net_g - self._gone[piece.key]
        if left <= 0:
            raise Refusal(f"nothing is left of piece {piece.key}; it was used or thrown away")
        if any(grams <= 0 for grams in trays):
            raise Refusal(f"a tray of piece {piece.key} weighs nothing; weigh it again")
        if sum(trays) > left:
            raise Refusal(
                f"the trays of piece {piece.key} weigh {sum(trays)} g and only {left} g of it "
                "are left; weigh them again"
            )
        return left

    def _use_by(self, piece: Piece, cut: Cut, today: date) -> date:
        day = self._days[piece.key]
        if day is None:
            raise Refusal(
                f"{cut.name} has no shelf life, so piece {piece.key} would have no use-by; "
                "give the cut a shelf life in days"
            )
        if day < today:
            raise Refusal(
                f"piece {piece.key} of {cut.name} was to be used by {day}; do not sell it"
            )
        return day

    def _lot(self, piece: Piece) -> str:
        """The one body it came from; else, and for a blend, the stage that made it."""
        bodies = self._bodies.get(piece.stage, frozenset())
        if len(bodies) == 1 and self._stages[piece.stage].kind is not StageKind.BLEND:
            return lot_of(next(iter(bodies)))
        return lot_of(piece.stage)

    def price(self, found: Packed, now: datetime) -> int:
        """The price per kilo in force; refusals as ``asked_price``."""
        return asked_price(found.cut, self._prices, now)

    def origin(self, found: Packed, country: str) -> tuple[str, ...]:
        """Lines on where it is from.

        Raises:
            Refusal: The country's rule wants what nobody has written down.
        """
        bodies = sorted(self._bodies.get(found.piece.stage, frozenset()))
        origins = [self._origins.get(body) or Origin(OriginOf.BODY, body) for body in bodies]
        stage = self._stages[found.piece.stage]
        blended = stage.kind is StageKind.BLEND
        # Meat with anything added is a preparation; the rules on origin are for plain meat.
        prepared = blended and stage.key in self._mixed
        rule = origin_rule("" if prepared else country, found.cut.species)
        told = origin_text(rule, origins, country, minced=blended)
        if told.missing:
            raise Refusal(
                f"the origin of {found.cut.name} is not known ({'; '.join(told.missing)}); "
                "write it down for the supplier or the body"
            )
        return told.lines

    def is_minced(self, found: Packed) -> bool:
        """Whether it wants cooking through."""
        return is_minced(found.cut, self._blended)
