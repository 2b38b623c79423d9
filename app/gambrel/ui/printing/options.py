"""What is chosen beside the pages: paper, printer, copies, the first place, the shift; and go."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.domain.prices.printer_setting import DPI, MOST_TENTHS
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.printing.state import OptionsState, copies_offered, dots_offered, tenths
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.scroll import scrolled


class ShiftPanel(QWidget):
    """Two steppers that move the page by tenths of a millimetre, and the printer's dots."""

    moved = Signal(int, int)
    dots_chosen = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.right = Stepper(theme, self.tr("Move right"))
        self.down = Stepper(theme, self.tr("Move down"))
        self.dots = Stepper(theme, self.tr("The printer's dots"))
        for stepper in (self.right, self.down):
            quick(stepper)
            stepper.chosen.connect(lambda _index: self._tell())
        self.dots.chosen.connect(lambda index: self.dots_chosen.emit(DPI[index]))
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        for part in (self.right, self.down, self.dots):
            box.addWidget(part)

    def _tell(self) -> None:
        self.moved.emit(self.right.index - MOST_TENTHS, self.down.index - MOST_TENTHS)

    def show_moves(self, *, moves: bool) -> None:
        """A sheet that is read has nothing to be moved."""
        for stepper in (self.right, self.down):
            stepper.setVisible(moves)

    def show_setting(self, right: int, down: int, dpi: int) -> None:
        """Show a shift and the dots; tells nobody."""
        self.right.show_options(tenths(), right + MOST_TENTHS)
        self.down.show_options(tenths(), down + MOST_TENTHS)
        self.dots.show_options(dots_offered(), DPI.index(dpi))


def quick(stepper: Stepper) -> None:
    """Let the arrows go on while they are held."""
    for button in (stepper.back, stepper.on):
        button.setAutoRepeat(True)
        button.setAutoRepeatInterval(60)


class PrintOptions(QWidget):
    """Shows an `OptionsState` and reports wishes; decides nothing."""

    what_chosen = Signal(int)
    paper_chosen = Signal(int)
    printer_chosen = Signal(int)
    copies_chosen = Signal(int)
    start_chosen = Signal(int)
    code_chosen = Signal(int)
    print_wished = Signal()
    save_wished = Signal()
    stop_wished = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.what = Stepper(theme, self.tr("What"))
        self.paper = Stepper(theme, self.tr("Paper"))
        self.printer = Stepper(theme, self.tr("Printer"))
        self.trouble = label("", "soft", wrap=True)
        self.copies = Stepper(theme, self.tr("Copies"))
        self.start = Stepper(theme, self.tr("Start at place"))
        self.code = Stepper(theme, self.tr("Code"))
        self.shift_words = label("", "soft", wrap=True)
        self.shift_button = ActionButton(theme, self.tr("Adjust"), size=18)
        self.shift_button.setAccessibleName(self.tr("Adjust where it prints, and the dots"))
        self.shift_button.setCheckable(True)
        self.shift = ShiftPanel(theme)
        self.warning = Banner(theme, closable=False)
        self.note = label("", "soft", wrap=True)
        self.busy = label("", "strong", wrap=True)
        self.stop_button = ActionButton(theme, self.tr("Stop"), role=Role.STOP, size=18)
        self.print_button = ActionButton(theme, self.tr("Print"), icon="printer", role=Role.PRIMARY)
        self.print_button.setMinimumHeight(60)
        self.save_button = ActionButton(theme, self.tr("PDF"), icon="file-down", size=18)
        self.save_button.setAccessibleName(self.tr("Save as PDF"))
        quick(self.copies)
        self._lay_out(theme)
        self._connect()

    def _lay_out(self, theme: Theme) -> None:
        space = theme.tokens.space
        content = QWidget()
        inner = QVBoxLayout(content)
        inner.setContentsMargins(0, 0, space.small, 0)
        inner.setSpacing(space.small)
        moves = QHBoxLayout()
        moves.addWidget(self.shift_words, 1)
        moves.addWidget(self.shift_button)
        for part in (
            self.warning,
            self.what,
            self.paper,
            self.printer,
            self.trouble,
            self.copies,
            self.start,
            self.code,
        ):
            inner.addWidget(part)
        inner.addLayout(moves)
        inner.addWidget(self.shift)
        inner.addWidget(self.note)
        inner.addStretch(1)
        under_way = QHBoxLayout()
        under_way.addWidget(self.busy, 1)
        under_way.addWidget(self.stop_button)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(space.small)
        box.addWidget(scrolled(content), 1)
        acts = QHBoxLayout()
        acts.setSpacing(space.small)
        acts.addWidget(self.print_button, 3)
        acts.addWidget(self.save_button, 2)
        box.addLayout(under_way)
        box.addLayout(acts)

    def _connect(self) -> None:
        self.what.chosen.connect(self.what_chosen)
        self.what.hide()
        self.paper.chosen.connect(self.paper_chosen)
        self.printer.chosen.connect(self.printer_chosen)
        self.copies.chosen.connect(lambda index: self.copies_chosen.emit(index + 1))
        self.start.chosen.connect(lambda index: self.start_chosen.emit(index + 1))
        self.code.chosen.connect(self.code_chosen)
        self.shift_button.toggled.connect(self.shift.setVisible)
        self.shift.hide()
        self.print_button.clicked.connect(self.print_wished)
        self.save_button.clicked.connect(self.save_wished)
        self.stop_button.clicked.connect(self.stop_wished)

    def show_whats(self, titles: Sequence[str], index: int) -> None:
        """Offer several things to print, where there are several; tells nobody."""
        self.what.setVisible(len(titles) > 1)
        self.what.show_options(titles, index)

    def show_state(self, state: OptionsState, dpi: int) -> None:
        """Show what is chosen; tells nobody."""
        self.paper.show_options(state.papers, state.paper)
        self.printer.show_options(state.printers, state.printer)
        self.trouble.setText(state.trouble)
        self.trouble.setVisible(bool(state.trouble))
        self.copies.show_options(copies_offered(), state.copies - 1)
        self.start.setVisible(state.places > 1)
        self.start.show_options([str(n + 1) for n in range(state.places)], state.start - 1)
        self.code.setVisible(bool(state.codes))
        self.code.show_options(state.codes, state.code)
        self.shift_words.setText(state.shift)
        self.shift.show_setting(state.right, state.down, dpi)
        self.shift.show_moves(moves=state.moves)
        if state.warnings:
            self.warning.say(Meaning.WATCH, "\n".join(state.warnings))
        else:
            self.warning.clear()
        self.note.setText(state.note)
        self.note.setVisible(bool(state.note))
        self.show_busy(state.busy)
        self.print_button.setEnabled(state.can_print)
        self.save_button.setEnabled(state.can_save)

    def show_busy(self, words: str) -> None:
        """Say what is being done, with a way to stop it."""
        self.busy.setText(words)
        self.busy.setVisible(bool(words))
        self.stop_button.setVisible(bool(words))
