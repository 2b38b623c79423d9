"""What went out: when, at which price, on what, and who printed it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.table import Column, ReadTable


class LogPage(QWidget):
    """A table with a day and a search before it; ``asked`` tells that either was changed."""

    asked = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.day = Stepper(theme, self.tr("Day"))
        self.day.chosen.connect(lambda _index: self.asked.emit())
        self.search = QLineEdit()
        self.search.setPlaceholderText(self.tr("Search a cut"))
        self.search.setAccessibleName(self.tr("Search what was printed, by the name of a cut"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(lambda _text: self.asked.emit())
        self.said = label("", "soft", wrap=True)
        self.table = ReadTable(
            theme,
            self.tr("What was printed"),
            [
                Column(self.tr("What"), words=True),
                Column(self.tr("Printed"), words=True),
                Column(self.tr("Price/kg")),
                Column(self.tr("On the tray")),
                Column(self.tr("On what"), words=True),
                Column(self.tr("By"), words=True),
            ],
        )
        self.empty = EmptyState(
            theme,
            "printer",
            self.tr("Nothing was printed yet."),
            more=self.tr(
                "Tickets, labels and sheets that were printed or saved stand here: when, at which "
                "price, and by whom."
            ),
        )
        self.pages = QStackedWidget()
        self.pages.addWidget(self.table)
        self.pages.addWidget(self.empty)
        head = QHBoxLayout()
        head.setSpacing(theme.tokens.space.gap)
        head.addWidget(self.day, 1)
        head.addWidget(self.search, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addLayout(head)
        box.addWidget(self.pages, 1)
        box.addWidget(self.said)

    def show_days(self, days: Sequence[str], index: int) -> None:
        """Offer the days; tells nobody."""
        self.day.show_options(days, index)

    def show_rows(self, rows: Sequence[Sequence[str]], said: str) -> None:
        """Show other lines, and a sentence under them."""
        self.table.show_rows(rows)
        self.said.setText(said)
        self.said.setVisible(bool(said))
        self._turn(self.table)

    def show_nothing(self) -> None:
        """Show that nothing was ever printed from this book."""
        self.table.show_rows(())
        self.said.setVisible(False)
        self._turn(self.empty)

    def _turn(self, page: QWidget) -> None:
        """There is no day to choose and nothing to look for where nothing was printed."""
        self.pages.setCurrentWidget(page)
        for widget in (self.day, self.search):
            widget.setVisible(page is self.table)
