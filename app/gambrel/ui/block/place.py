"""The Block's presenter: hands the view's wishes to the services, and their answers back."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from decimal import Decimal

from PySide6.QtCore import QTimer

from gambrel.domain.bench.doubts import doubts
from gambrel.domain.refusals import Refusal
from gambrel.services import bench
from gambrel.ui.block import questions
from gambrel.ui.block.desk import Desk
from gambrel.ui.block.map_state import cut_of_region
from gambrel.ui.block.state import Hands, Panel, tub_of
from gambrel.ui.context import Context

REOPENED = "reopened at the block"
TICK_MS = 5000
"""How often the clock moves on and other stations' weighings are looked for."""


class BlockPlace(Desk):
    """The block of one station."""

    title = "Block"
    whole_window = True

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._connect()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._tick)
        self._timer.start(TICK_MS)

    def _connect(self) -> None:
        view, work, end = self.view, self.view.work, self.view.end
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
        work.bottom.all_key.clicked.connect(lambda: self._open(Panel.PIECES))
        work.bottom.piece_tapped.connect(self._open_piece)
        work.bottom.finish_key.clicked.connect(self._ask_end)
        work.panel.chosen.connect(self._answered)
        work.panel.closed.connect(lambda: self._open(Panel.NONE))
        end.finish_wished.connect(self._finish)
        end.back_wished.connect(self._back_to_work)
        end.reopen_wished.connect(self._reopen)
        end.rail_wished.connect(self._leave)
        end.minutes_stepped.connect(self._step_minutes)

    def refresh(self) -> None:
        """Read again what lies on the block; the first time, take up what was kept."""
        if not self._begun:
            self._begun = True
            self._take_up(bench.kept(self._book, self._context.station))
        elif self._look is not None and self._end is None:
            self._read(self._look.on_block.stage.key)
        elif self._look is None:
            self._show_waiting()

    def open_item(self, key: str) -> None:
        """Put a body on the block, or go on with it."""
        self._start(f"body:{key}")

    def _start(self, choice: str) -> None:
        kind, _, key = choice.partition(":")
        before = self._species
        try:
            stage = key
            if kind == "body":
                stage = (
                    self._running(key) or bench.start_break(self._book, key, "", self._act()).key
                )
            self._hands = replace(self._hands.quiet(), cut="", typed="", panel=Panel.NONE)
            self._look = None
            self._read(stage)
        except Refusal as refusal:
            self._failed(refusal)
            return
        if caution := questions.wash_caution(before, self._species):
            self._say("info", caution)
        self._keep()
        self._context.changes.tell("stages")

    def _running(self, body: str) -> str:
        """The open work on a body, found without writing."""
        rows = bench.waiting(self._book)
        return next((row.stage for row in rows if row.stage and row.body == body), "")

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

    def _no(self) -> None:
        if self._hands.sentence:
            self._hands = self._hands.quiet()
        elif self._hands.panel:
            self._hands = replace(self._hands, panel=Panel.NONE)
        else:
            self.view.work.column.keypad.clear()
        self._show()

    def weigh(self) -> None:
        """Weigh in what is typed, or ask in place when it looks wrong."""
        if self._look is None or not self._hands.cut:
            return
        hands, now = self._hands, self._context.clock()
        tub = tub_of(self._look, hands)
        weight = bench.Weighing(hands.gross_g, tub.grams)
        if not hands.asked and weight.net_g > 0:
            found = doubts(self._look.on_block, hands.cut, weight.net_g, now)
            if found and weight.gross_g <= bench.HEAVIEST_PIECE_G:
                self._say("watch", found[0].sentence, asked=True)
                return
        stage = self._look.on_block.stage.key
        try:
            piece = bench.weigh_in(self._book, stage, hands.cut, weight, self._act())
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._look = self._look.with_piece(piece)
        self._tub_of[hands.cut] = tub.name
        self._hands = replace(hands.quiet(), typed="")
        self.view.work.column.keypad.clear()
        self._show()
        self._context.changes.tell("pieces")

    def undo(self) -> None:
        """Take back the piece that Undo names."""
        if self._look is not None and self._look.on_block.standing:
            self._void(self._look.on_block.standing[0].piece.key, bench.UNDONE)

    def _void(self, piece: str, reason: str) -> None:
        if self._look is None:
            return
        try:
            void = bench.void_piece(self._book, piece, reason, self._act())
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._look = self._look.with_void(void)
        self._hands = replace(self._hands.quiet(), panel=Panel.NONE)
        self._show()
        self._context.changes.tell("pieces")

    def _open(self, panel: Panel) -> None:
        if self._look is None or not self.view.working:
            return
        if panel is Panel.PEOPLE:
            now = self._context.clock()
            self._context.tasks.run_task(
                lambda: bench.people(self._book, now), self._know_people, self._failed
            )
        self._hands = replace(self._hands.quiet(), panel=panel)
        self._show()

    def _open_piece(self, piece: str) -> None:
        self._hands = replace(self._hands.quiet(), panel=Panel.PIECE, piece=piece)
        self._show()

    def _know_people(self, names: tuple[str, ...]) -> None:
        self._people = names
        self._show()

    def _answered(self, answer: str) -> None:
        panel, look = self._hands.panel, self._look
        if look is None:
            return
        if panel is Panel.PIECES:
            self._open_piece(answer)
        elif panel is Panel.PIECE and answer == questions.FURTHER:
            self._cut_further(self._hands.piece)
        elif panel is Panel.PIECE:
            self._void(self._hands.piece, answer)
        else:
            self._hands = replace(self._hands.quiet(), panel=Panel.NONE)
            try:
                if panel is Panel.PEOPLE:
                    self._hands = replace(self._hands, person=answer)
                elif panel is Panel.LISTS:
                    bench.change_list(self._book, look.on_block.stage.key, answer)
                self._read(look.on_block.stage.key)
            except Refusal as refusal:
                self._failed(refusal)
            self._keep()

    def _cut_further(self, piece: str) -> None:
        try:
            stage = bench.start_trimout(self._book, piece, None, self._act())
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._start(f"stage:{stage.key}")

    def _ask_end(self) -> None:
        if self._look is not None:
            self._minutes = int(self._look.clock(self._context.clock()).minutes)
            self._reckon()

    def _step_minutes(self, step: int) -> None:
        self._minutes = max(self._minutes + step, 0)
        self._draw_end()

    def _finish(self) -> None:
        if self._look is None:
            return
        stage, minutes = self._look.on_block.stage.key, Decimal(self._minutes)
        try:
            bench.finish(self._book, stage, minutes, self._act())
            self._read(stage)
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._context.changes.tell("stages")

    def _reopen(self) -> None:
        if self._look is None:
            return
        stage = self._look.on_block.stage.key
        try:
            bench.reopen(self._book, stage, REOPENED, self._act())
            self._read(stage)
        except Refusal as refusal:
            self._failed(refusal)
            return
        self._context.changes.tell("stages")

    def _back_to_work(self) -> None:
        if self._look is not None:
            self._read(self._look.on_block.stage.key)

    def _leave(self) -> None:
        """Go on: to the body that a piece came from while it is still on the block, or away."""
        taken = self._look.on_block.taken if self._look else ()
        self._put_down()
        if taken:
            with suppress(Refusal):
                self._read(taken[0].piece.stage)
        self._keep()
        if not taken:
            self._show_waiting()
            self.go.emit("rail", "")

    def _put_down(self) -> None:
        self._look, self._end = None, None
        self._hands = Hands(person=self._hands.person, tub=self._hands.tub)

    def _tick(self) -> None:
        """Move the clock on, and see what other stations did meanwhile."""
        if self._look is None or not self.isVisible() or not self.view.working:
            return
        with suppress(Refusal):  # a busy book is looked at again at the next tick
            self._read(self._look.on_block.stage.key)
