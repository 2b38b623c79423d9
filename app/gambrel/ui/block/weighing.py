"""What is done at the block a hundred times a day: choose, weigh in, take back."""

from __future__ import annotations

from dataclasses import replace

from gambrel.domain.bench.doubts import doubts
from gambrel.domain.bench.steady import LiveWeight
from gambrel.domain.refusals import Refusal
from gambrel.services import bench
from gambrel.ui.block.desk import Desk
from gambrel.ui.block.map_state import cut_of_region
from gambrel.ui.block.state import Hands, Panel
from gambrel.ui.block.weight_state import in_hand, weigh_text

MOVED_G = 20
"""A scale that shows this much less or more than at the last weigh-in has something else on it
(common practice, no source)."""

UNMOVED = "The scale has not moved since the last weigh-in. Is this another piece?"


class Weighing(Desk):
    """Weighs in what is typed or what lies on the scale."""

    _resting_g: int | None = None
    """What lay on the scale at the last weigh-in, until it has moved."""
    _doubted_g = 0
    """The gross weight that the last doubt was about."""

    def choose_cut(self, cut: str) -> None:
        """Choose the cut of the next weighings; its tub comes with it."""
        tub = self._tub_of.get(cut, self._hands.tub)
        self._hands = replace(self._hands.quiet(), cut=cut, tub=tub, panel=Panel.NONE)
        self._show()
        self._keep()

    def _choose_region(self, key: str) -> None:
        if self._map is not None and self._look is not None:
            cut = cut_of_region(self._map, self._look.on_block, key)
            if cut:
                self.choose_cut(cut)

    def _choose_tub(self, tub: str) -> None:
        self._hands = replace(self._hands.quiet(), tub=tub)
        if self._hands.cut:
            self._tub_of[self._hands.cut] = tub
        self._show()
        self._keep()

    def _typed(self, text: str) -> None:
        if text == self._hands.typed:
            return
        self._hands = replace(self._hands.quiet(), typed=text)
        self._show()

    def _scale_key(self) -> None:
        """Ask a scale that waits to be asked, or change between the scale and the keypad."""
        if not self._live.answers:
            self._context.scale.request()
            return
        self._hands = replace(self._hands.quiet(), by_hand=not self._hands.by_hand, typed="")
        self.view.work.column.keypad.clear()
        self._show()

    def _scale_says(self, live: LiveWeight) -> None:
        """Show another weight; a doubt about the last one goes with it."""
        if live == self._live:
            return
        answered, self._live = self._live.answers, live
        scale = self._context.scale
        self._hands = replace(self._hands, by_tap=scale.asked_by_tap, can_zero=scale.can_zero)
        if self._resting_g is not None and abs((live.grams or 0) - self._resting_g) > MOVED_G:
            self._resting_g = None
        if self._look is None or self._end is not None:
            return
        moved = abs((live.grams or 0) - self._doubted_g) > MOVED_G
        if self._hands.asked and not self._hands.typed and moved:
            self._hands = self._hands.quiet()
        elif live.answers == answered:
            text = weigh_text(self._look, self._hands, live, self._context.formats)
            self.view.work.column.show_weight(text)
            return
        self._show()

    def weigh(self) -> None:
        """Weigh in what is typed or lies on the scale, or ask in place when it looks wrong."""
        if self._look is None or not self._hands.cut or self._opening:
            return
        self._scale_says(self._context.scale.live)  # as it is now, not as it was painted
        hands = self._hands
        held = in_hand(self._look, hands, self._live)
        if not held.ready:
            return
        weight = bench.Weighing(held.gross_g, held.tare_g)
        if not hands.asked and (question := self._doubt(weight, on_scale=held.on_scale)):
            self._doubted_g = held.gross_g
            self._say("watch", question, asked=True)
            return
        block, act = self._look.on_block, self._act()
        act = replace(act, now=block.after_own(act.station, act.now))
        try:
            piece = bench.weigh_in(self._book, block.stage.key, hands.cut, weight, act)
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._asked += 1  # what is being read now does not know this piece
        self._look = self._look.with_piece(piece)
        self._resting_g = held.gross_g if held.on_scale else None
        if held.on_scale:
            self._context.scale.used()
        self._weighed(hands)

    def _doubt(self, weight: bench.Weighing, *, on_scale: bool) -> str:
        if self._look is None or weight.net_g <= 0 or weight.gross_g > bench.HEAVIEST_PIECE_G:
            return ""  # the service refuses it in a better sentence
        now = self._context.clock()
        found = doubts(self._look.on_block, self._hands.cut, weight.net_g, now)
        if found:
            return found[0].sentence
        return UNMOVED if on_scale and self._resting_g is not None else ""

    def _weighed(self, hands: Hands) -> None:
        if hands.tub:
            self._tub_of[hands.cut] = hands.tub
        self._hands = replace(hands.quiet(), typed="", panel=Panel.NONE)
        self.view.work.column.keypad.clear()
        self._show()
        self._tell("pieces")

    def undo(self) -> None:
        """Take back the piece that Undo names."""
        if self._look is not None and self._look.on_block.standing:
            self._void(self._look.on_block.standing[0].piece.key, bench.UNDONE)

    def _void(self, piece: str, reason: str) -> None:
        if self._look is None or self._opening:
            return
        try:
            void = bench.void_piece(self._book, piece, reason, self._act())
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._asked += 1
        self._resting_g = None
        self._look = self._look.with_void(void)
        self._hands = replace(self._hands.quiet(), panel=Panel.NONE)
        self._show()
        self._tell("pieces")
