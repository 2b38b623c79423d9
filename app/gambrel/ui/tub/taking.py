"""What people do at the tub's left side: open a class, take of it, measure lean, work back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal

from gambrel.domain.bench.trim import (
    FreeClass,
    FreePiece,
    Mark,
    Portion,
    take_chosen,
    take_oldest,
)
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Stage, WriteOff
from gambrel.services.tub import (
    WRITE_OFF_REASONS,
    forget_lean,
    measure_lean,
    set_lean,
    take_back_write_off,
    work_back,
    write_off,
)
from gambrel.ui.context import Context
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.desk import TubDesk
from gambrel.ui.tub.picking import Pad, Picking
from gambrel.ui.tub.trim_view import TRIM


class Taking(TubDesk):
    """Moves kilos from the left into the blend."""

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        trim = self.view.trim
        trim.shelf_wanted.connect(self._turn_shelf)
        trim.class_tapped.connect(self.open_class)
        opened = trim.opened
        opened.closed.connect(lambda: self._pick(cut=""))
        opened.piece_tapped.connect(self._tap_piece)
        opened.aside_wanted.connect(self._aside)
        opened.entry.typed.connect(self._typed)
        opened.entry.acted.connect(self._act_on_class)

    def _turn_shelf(self, shelf: str) -> None:
        self._shelf_shown = shelf
        self._picking = Picking()
        self._show()

    def open_class(self, cut: str) -> None:
        """Open a class: its pieces, and the keypad."""
        self._quiet()
        self._picking = Picking(cut=cut)
        self._show()
        self.view.trim.opened.setFocus()

    def _opened(self) -> FreeClass | None:
        return next((row for row in self._classes() if row.cut.key == self._picking.cut), None)

    def _tap_piece(self, key: str) -> None:
        row = self._opened()
        piece = next((p for p in row.pieces if p.piece.key == key), None) if row else None
        if piece is None:
            return
        if piece.mark is Mark.STOP and self._picking.pad is Pad.KILOS:
            act = self.tr("Write it off")
            self._offer(Meaning.STOP, piece.past, act, lambda: self._write_off(piece))
            return
        self._pick(chosen=self._picking.chosen ^ {key})

    def _typed(self, text: str) -> None:
        if text != self._picking.typed:
            self._pick(typed=text)

    def _aside(self) -> None:
        if self._shelf_shown != TRIM:
            self._work_back()
            return
        pad = Pad.LEAN if self._picking.pad is Pad.KILOS else Pad.KILOS
        self._pick(pad=pad, typed="", chosen=frozenset())

    def _act_on_class(self) -> None:
        row = self._opened()
        if row is None:
            return
        if self._picking.pad is Pad.LEAN:
            self._keep_lean(row)
            return
        self._try(lambda: self._take(row))

    def _take(self, row: FreeClass) -> None:
        draft = self._draft.taking(row, self._portions(row))
        self._quiet()
        self._picking = Picking()
        self._change(draft)
        self.view.trim.setFocus()

    def _portions(self, row: FreeClass) -> tuple[Portion, ...]:
        """What is chosen or typed; all within its dates where nothing is."""
        grams, chosen = self._picking.grams, self._picking.chosen
        pieces: Sequence[FreePiece] = row.pieces
        if chosen:
            pieces = [piece for piece in pieces if piece.piece.key in chosen]
            whole = sum(piece.free_g for piece in pieces)
            if not 0 < grams < whole:
                return take_chosen(pieces, [Portion(p.piece.key, p.free_g) for p in pieces])
        return take_oldest(pieces, grams or row.usable_g)

    def _write_off(self, piece: FreePiece) -> None:
        """Throw away what is past its last day; that stays in the record."""
        own = piece.use_by is not None and piece.use_by < piece.today
        reason = WRITE_OFF_REASONS[0] if own else WRITE_OFF_REASONS[1]
        act = self._act()

        def done(row: WriteOff) -> None:
            kilos = self._context.formats.kg(row.grams)
            sentence = self.tr("{0} kg of {1} is written off: {2}.")
            told = sentence.format(kilos, piece.cut.name, reason)
            self._say(Meaning.FINE, told, lambda: self._keep_after_all(row))
            self._context.changes.tell("writeoffs")

        self._run(lambda: write_off(self._book, piece.piece.key, piece.free_g, reason, act), done)

    def _keep_after_all(self, row: WriteOff) -> None:
        take_back_write_off(self._book, row, self._act())
        self._context.changes.tell("writeoffs")

    # --- Lean ---

    def _keep_lean(self, row: FreeClass) -> None:
        percent = self._picking.percent
        if percent is None:
            return
        chosen = [piece for piece in row.pieces if piece.piece.key in self._picking.chosen]
        shown = f"{percent} % lean"
        if chosen:
            back = self._measured_back(chosen)
            done = self.tr("{0} is kept as measured.").format(shown)
            deed = self._measure([(piece, percent) for piece in chosen])
        else:
            back = self._class_back(row, percent)
            done = self.tr("{0} is sorted to {1}.").format(row.cut.name, shown)
            deed = self._classify(row, percent)
        if self._try(deed):
            self._say(Meaning.FINE, done, back)
            self._picking = Picking(cut=row.cut.key)
            self._context.changes.tell("leans")

    def _measure(self, pairs: Sequence[tuple[FreePiece, Decimal]]) -> Callable[[], None]:
        def deed() -> None:
            for piece, percent in pairs:
                measure_lean(self._book, piece.piece.key, percent, self._act())

        return deed

    def _classify(self, row: FreeClass, percent: Decimal) -> Callable[[], None]:
        return lambda: set_lean(self._book, row.cut.key, percent)

    def _measured_back(self, chosen: Sequence[FreePiece]) -> Callable[[], None] | None:
        """Measuring is never wiped out; what was known before is written down again."""
        known = [(piece, piece.lean.percent) for piece in chosen if piece.lean is not None]
        return self._then_tell(self._measure(known)) if len(known) == len(chosen) else None

    def _class_back(self, row: FreeClass, now: Decimal) -> Callable[[], None]:
        before = self.shelf.stock.leans.of_cuts.get(row.cut.key)
        if before is None:
            return self._then_tell(lambda: forget_lean(self._book, row.cut.key, now))
        return self._then_tell(self._classify(row, before))

    def _then_tell(self, deed: Callable[[], None]) -> Callable[[], None]:
        def both() -> None:
            deed()
            self._context.changes.tell("leans")

        return both

    # --- Working back ---

    def _work_back(self) -> None:
        row = self._opened()
        if row is None:
            return
        try:
            portions = self._portions(row)
        except Refusal as refusal:
            self._failed(refusal)
            return
        act = self._act()

        def begun(stage: Stage) -> None:
            self._picking = Picking()
            self._quiet()
            self._weigh_out(stage.key)
            self._context.changes.tell("stages")

        self._run(lambda: work_back(self._book, portions, act), begun)

    def _weigh_out(self, stage: str, product: str = "") -> None:
        """Open a stage to be weighed out; `TubPlace` knows how."""
