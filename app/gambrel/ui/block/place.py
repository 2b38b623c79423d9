"""The Block's presenter: hands the view's wishes to the services, and their answers back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from PySide6.QtCore import QTimer

from gambrel.domain.bench.cautions import wash_caution
from gambrel.domain.refusals import Refusal
from gambrel.services import bench
from gambrel.ui.block import questions
from gambrel.ui.block.state import Hands, Panel
from gambrel.ui.block.what_if import WhatIf
from gambrel.ui.context import Context

REOPENED = "reopened at the block"
PUT_BACK = "put back before anything was weighed"
TICK_MS = 5000
"""How often the clock moves on and other stations' weighings are looked for."""


class BlockPlace(WhatIf):
    """The block of one station."""

    title = "Block"
    whole_window = True

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._connect()
        self._scale_says(context.scale.live)
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._tick)
        self._timer.start(TICK_MS)

    def _connect(self) -> None:
        view, work, end = self.view, self.view.work, self.view.end
        self._context.scale.reading.connect(self._scale_says)
        view.top.rail_key.clicked.connect(lambda: self.go.emit("rail", ""))
        view.top.person_key.clicked.connect(lambda: self._open(Panel.PEOPLE))
        view.cut_wished.connect(self.choose_cut)
        view.weigh_wished.connect(self.weigh)
        view.undo_wished.connect(self.undo)
        view.no_wished.connect(self._no)
        view.waits.chosen.connect(self._start)
        work.grid.list_key.clicked.connect(lambda: self._open(Panel.LISTS))
        work.grid.map.region_chosen.connect(self._choose_region)
        work.column.keypad.text_changed.connect(self._typed)
        work.column.tubs.tub_chosen.connect(self._choose_tub)
        work.column.tubs.scale_key.clicked.connect(self._scale_key)
        work.column.zero_key.clicked.connect(self._context.scale.zero)
        work.bottom.all_key.clicked.connect(lambda: self._open(Panel.PIECES))
        work.bottom.piece_tapped.connect(self._open_piece)
        work.bottom.finish_key.clicked.connect(self._end_wished)
        work.what_if.closed.connect(lambda: self._open(Panel.NONE))
        work.what_if.way_wished.connect(lambda: self._go_to(Panel.WHICH_WAY))
        work.what_if.other_wished.connect(lambda: self._go_to(Panel.WHICH_OTHER))
        work.what_if.minutes_stepped.connect(self._step_work)
        work.panel.chosen.connect(self._answered)
        work.panel.closed.connect(self._close_panel)
        end.finish_wished.connect(self._finish)
        end.back_wished.connect(self._back_to_work)
        end.reopen_wished.connect(self._reopen)
        end.rail_wished.connect(self._leave)
        end.minutes_stepped.connect(self._step_minutes)

    def refresh(self) -> None:
        """Read again what lies on the block; the first time, take up what was kept."""
        if self._telling:
            return  # it was this place that changed the book, and it has shown so
        if not self._begun:
            self._begun = True
            self._take_up(bench.kept(self._book, self._context.station))
        elif self._look is not None and self._end is None:
            self._read(self._look.on_block.stage.key, self._mind_who)
        elif self._look is None:
            self._show_waiting()

    def open_item(self, key: str) -> None:
        """Put a body on the block, or go on with it."""
        self._start(f"body:{key}")

    def _start(self, choice: str) -> None:
        kind, _, key = choice.partition(":")
        act = self._act()
        if kind == "body":
            self._open_work(
                lambda: bench.look(self._book, bench.take_to_block(self._book, key, act))
            )
        elif kind == "piece":
            self._open_work(
                lambda: bench.look(self._book, bench.start_trimout(self._book, key, None, act).key)
            )
        else:
            self._open_work(lambda: bench.look(self._book, key))

    def _open_work(self, job: Callable[[], bench.Look]) -> None:
        """Lay other work on the block; until it is there nothing can be weighed."""
        if self._opening:
            return
        self._opening = True
        self.view.waits.setEnabled(False)
        before = self._species

        def found(look: bench.Look) -> None:
            self._opening = False
            self.view.waits.setEnabled(True)
            self._resting_g = None
            self._hands = replace(self._hands.quiet(), cut="", typed="", panel=Panel.NONE)
            self.view.work.column.keypad.clear()
            self._asked += 1
            self._lay(look)
            if caution := wash_caution(before, self._species):
                self._say("info", caution)
            self._keep()
            self._tell("stages")

        self._context.tasks.run_task(job, found, self._failed)

    def _show(self) -> None:
        with self.view.minding_focus():
            super()._show()

    def _draw_end(self) -> None:
        with self.view.minding_focus():
            super()._draw_end()

    def _show_choices(self, rows: list[bench.Waiting]) -> None:
        with self.view.minding_focus():
            super()._show_choices(rows)

    def _no(self) -> None:
        if self._hands.sentence:
            self._hands = self._hands.quiet()
        elif self._hands.panel:
            self._close_panel()
            return
        else:
            self.view.work.column.keypad.clear()
        self._show()

    def _open(self, panel: Panel) -> None:
        if self._look is None or not self.view.working:
            return
        if panel is Panel.PEOPLE:
            self._ask_who()
        self._hands = replace(self._hands.quiet(), panel=panel)
        self._show()

    def _close_panel(self) -> None:
        choosing = self._hands.panel in (Panel.WHICH_WAY, Panel.WHICH_OTHER)
        self._open(Panel.WHAT_IF if choosing else Panel.NONE)

    def _open_piece(self, piece: str) -> None:
        self._hands = replace(self._hands.quiet(), panel=Panel.PIECE, piece=piece)
        self._show()

    def _answered(self, answer: str) -> None:
        panel, look = self._hands.panel, self._look
        if look is None:
            return
        if panel is Panel.PIECES:
            self._open_piece(answer)
        elif panel is Panel.PIECE and answer == questions.FURTHER:
            self._start(f"piece:{self._hands.piece}")
        elif panel is Panel.PIECE and answer == questions.WHAT_IF:
            self._ask_what_if(self._hands.piece)
        elif panel in (Panel.WHICH_WAY, Panel.WHICH_OTHER):
            self._cut_compared(answer)
        elif panel is Panel.PIECE:
            self._void(self._hands.piece, answer)
        elif panel is Panel.PEOPLE:
            self._chosen_person(answer)
        elif panel is Panel.PIN:
            self._pin_key(answer)
        elif panel is Panel.LISTS:
            self._change_list(look.on_block.stage.key, answer)

    def _change_list(self, stage: str, name: str) -> None:
        self._hands = replace(self._hands.quiet(), panel=Panel.NONE)
        try:
            bench.change_list(self._book, stage, name, self._act())
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._read(stage, self._keep)
        self._tell("stages")

    def _ask_end(self) -> None:
        if self._look is not None:
            self._minutes = int(self._look.clock(self._context.clock()).minutes)
            self._reckon()

    def _step_minutes(self, step: int) -> None:
        self._minutes = min(max(self._minutes + step, 0), int(bench.LONGEST_MINUTES))
        self._draw_end()

    def _finish(self) -> None:
        stage = self._stage()
        minutes, act = Decimal(self._minutes), self._act()
        self._done_with(lambda: bench.finish(self._book, stage, minutes, act))

    def _reopen(self) -> None:
        stage, act = self._stage(), self._act()
        self._done_with(lambda: bench.reopen(self._book, stage, REOPENED, act))

    def _done_with(self, deed: Callable[[], object]) -> None:
        """Finish or reopen what lies here, and look at what came of it."""
        try:
            deed()
        except Refusal as refusal:
            late = refusal  # another station may have done the same: look, then say so
            self._read(self._stage(), lambda: self._failed(late))
            return
        self._read(self._stage())
        self._tell("stages")

    def _stage(self) -> str:
        return self._look.on_block.stage.key if self._look is not None else ""

    def _back_to_work(self) -> None:
        self._read(self._stage())

    def _end_wished(self) -> None:
        """Finish what was cut, or put back what was not."""
        if self._look is None:
            return
        if self._look.on_block.standing:
            self._ask_end()
            return
        try:
            bench.put_back(self._book, self._stage(), PUT_BACK, self._act())
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._leave()
        self._tell("stages")

    def _leave(self) -> None:
        """Go on: to the body that a piece came from while it is still on the block, or away."""
        taken = self._look.on_block.taken if self._look else ()
        self._put_down()
        if taken:
            self._read(taken[0].piece.stage, self._keep)
            return
        self._keep()
        self._show_waiting()
        self.go.emit("rail", "")

    def _put_down(self) -> None:
        self._look, self._end = None, None
        self._hands = Hands(person=self._hands.person, tub=self._hands.tub)

    def _tick(self) -> None:
        """Move the clock on, and see what other stations did meanwhile."""
        if self._look is None or self._opening or not self.isVisible():
            return
        if self.view.working:
            self._read(self._look.on_block.stage.key)
        else:
            self._look_past_the_end()

    def _look_past_the_end(self) -> None:
        """Let the end of a body follow what other stations do to it; the minutes stay as set."""
        stage, asked = self._stage(), self._asked

        def found(look: bench.Look) -> None:
            if asked != self._asked or self._end is None:
                return
            now, shown = look.on_block, self._end.on_block
            if now.stage.is_open != shown.stage.is_open:
                self._lay(look)
            elif [row.piece.key for row in now.standing] != [p.piece.key for p in shown.standing]:
                self._look = look
                self._reckon()

        self._context.tasks.run_task(lambda: bench.look(self._book, stage), found, self._failed)
