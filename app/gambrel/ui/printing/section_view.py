"""The Printers section's page: papers at the left, at the right how the chosen one is printed."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.printing.options import ShiftPanel
from gambrel.ui.printing.section_state import BARS, SECOND_PRICES, PaperState, TicketState
from gambrel.ui.setup.page import SectionPage
from gambrel.ui.setup.rows import RowGrid
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.scroll import scrolled


class PaperPanel(QWidget):
    """One paper: its printer, its shift and dots, and a test sheet."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.printer = Stepper(theme, self.tr("Printer"))
        self.shift = ShiftPanel(theme)
        self.trial = ActionButton(theme, self.tr("Test sheet"), icon="printer", role=Role.PRIMARY)
        words = self.tr(
            "Print the test sheet and measure from the paper's edge to a cross. Move by what is "
            "lacking, and print it again."
        )
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.printer)
        box.addWidget(self.shift)
        self.hint = label(words, "soft", wrap=True)
        box.addWidget(self.hint)
        box.addWidget(self.trial)
        box.addStretch(1)

    def show_state(self, state: PaperState) -> None:
        """Show how the paper is printed; tells nobody."""
        self.printer.show_options(state.printers, state.printer)
        setting = state.setting
        self.shift.show_moves(moves=state.moves)
        self.hint.setVisible(state.moves)
        self.shift.show_setting(setting.right, setting.down, setting.dpi)


class TicketsPanel(QWidget):
    """What stands on tickets: a second price, bars, the shop's own logo."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.second = Stepper(theme, self.tr("Price"))
        self.bars = Stepper(theme, self.tr("In-store number"))
        self.logo = label("", "strong", wrap=True)
        self.choose = ActionButton(theme, self.tr("Choose a logo"), size=18)
        self.drop = ActionButton(theme, self.tr("No logo"), size=18)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        for part in (self.second, self.bars, self.logo):
            box.addWidget(part)
        acts = QHBoxLayout()
        acts.addWidget(self.choose, 1)
        acts.addWidget(self.drop, 1)
        box.addLayout(acts)
        box.addWidget(label(self.tr("A PNG or JPEG picture."), "soft", wrap=True))
        box.addStretch(1)

    def show_state(self, state: TicketState) -> None:
        """Show what stands on tickets; tells nobody."""
        self.second.show_options([words for _, words in SECOND_PRICES], state.second)
        self.bars.show_options(BARS, state.bars)
        self.logo.setText(state.logo)
        self.drop.setEnabled(state.has_logo)


class PrintersView(SectionPage):
    """Shows states and reports wishes; decides nothing."""

    chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.rows = RowGrid(theme, self.tr("Papers"), most=2)
        self.rows.tapped.connect(self.chosen)
        self.title = label("", "label", wrap=True)
        self.refusal = Banner(theme, closable=False)
        self.paper = PaperPanel(theme)
        self.tickets = TicketsPanel(theme)
        self.stack = QStackedWidget()
        for panel in (scrolled(self.paper), self.tickets):
            self.stack.addWidget(panel)
        side = Card(theme)
        for part in (self.title, self.refusal):
            side.box.addWidget(part)
        side.box.addWidget(self.stack, 1)
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        column.addWidget(self.rows)
        column.addStretch(1)
        self.lay_out(content, side)

    def show_paper(self, state: PaperState) -> None:
        """Show how a paper is printed."""
        self.stack.setCurrentIndex(0)
        self.title.setText(state.title)
        self.paper.show_state(state)

    def show_tickets(self, title: str, state: TicketState) -> None:
        """Show what stands on tickets."""
        self.stack.setCurrentIndex(1)
        self.title.setText(title)
        self.tickets.show_state(state)

    def show_refusal(self, sentence: str) -> None:
        """Say what was refused, or nothing."""
        if sentence:
            self.refusal.say(Meaning.STOP, sentence)
        else:
            self.refusal.clear()
