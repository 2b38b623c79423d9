"""What if: the same kilos as another cut, asked at a piece of the list."""

from __future__ import annotations

from dataclasses import replace

from gambrel.ui.block.choices import Question
from gambrel.ui.block.state import Panel
from gambrel.ui.block.what_if_state import (
    MOST_MINUTES,
    Wish,
    describe_what_if,
    first_wish,
    which_cut,
)
from gambrel.ui.block.who import Who


class WhatIf(Who):
    """Compares one use of a piece's kilos with another; nothing is written."""

    _wish = Wish()

    def _show(self) -> None:
        super()._show()
        panel = self.view.work.what_if
        asked = self._look is not None and self._hands.panel is Panel.WHAT_IF
        if asked and self._look is not None:
            now, formats = self._context.clock(), self._context.formats
            panel.show_state(describe_what_if(self._look, self._wish, now, formats))
        self.view.work.ask_what_if(asked=asked)

    def _question(self) -> Question | None:
        if self._look is not None and self._hands.panel is Panel.WHICH_WAY:
            return which_cut(self._look, self._wish.way, "As which cut?")
        if self._look is not None and self._hands.panel is Panel.WHICH_OTHER:
            return which_cut(self._look, self._wish.other, "Against which cut?")
        return super()._question()

    def _ask_what_if(self, piece: str) -> None:
        if self._look is None:
            return
        rows = [row for row in self._look.on_block.standing if row.piece.key == piece]
        if rows:
            self._wish = first_wish(self._look, rows[0], self._context.clock())
            self._go_to(Panel.WHAT_IF)

    def _go_to(self, panel: Panel) -> None:
        self._hands = replace(self._hands.quiet(), panel=panel)
        self._show()

    def _cut_compared(self, cut: str) -> None:
        if self._hands.panel is Panel.WHICH_WAY:
            self._wish = replace(self._wish, way=cut)
        else:
            self._wish = replace(self._wish, other=cut)
        self._go_to(Panel.WHAT_IF)

    def _step_work(self, step: int) -> None:
        minutes = min(max(self._wish.minutes + step, 0), MOST_MINUTES)
        self._wish = replace(self._wish, minutes=minutes)
        self._show()
