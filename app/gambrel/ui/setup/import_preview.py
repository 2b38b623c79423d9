"""What a folder would change: its files with their counts, and their rows page by page."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QSizePolicy,
    QStackedWidget,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from gambrel.ui.setup.import_state import FileLine, PreviewState
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import Chips
from gambrel.ui.widgets.table import ROW, Column, ReadTable

FIXED = QSizePolicy.Policy.Fixed
FILES_WIDE = 372
SMALL = 17
SIDES, ABOVE = 28, 14
"""Room beside and above the words of a row, both edges together."""


class _Wrapped(QStyledItemDelegate):
    """Asks for the height that wrapped words need; Qt's own forgets the style sheet's padding."""

    def sizeHint(
        self, _option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        table = self.parent()
        assert isinstance(table, WrappedTable)
        room = table.columnWidth(index.column()) - SIDES
        words = QRect(0, 0, room, 100_000)
        needed = table.fontMetrics().boundingRect(
            words, Qt.TextFlag.TextWordWrap, str(index.data())
        )
        return QSize(room, needed.height() + ABOVE)


class WrappedTable(ReadTable):
    """Rows whose words wrap, each as high as they need."""

    def __init__(self, theme: Theme, name: str, columns: list[Column]) -> None:
        super().__init__(theme, name, columns)
        self.setWordWrap(True)
        self.setItemDelegateForColumn(self._wide(), _Wrapped(self))
        self.verticalHeader().setMinimumSectionSize(ROW)
        self._fit = QTimer(self)
        self._fit.setSingleShot(True)
        self._fit.timeout.connect(self.resizeRowsToContents)
        # A column has its new width some time after the table has, and several may change at once.
        self.horizontalHeader().sectionResized.connect(lambda: self._fit.start(0))

    def show_rows(self, rows: tuple[tuple[str, str], ...]) -> None:  # type: ignore[override]
        """Replace all rows, and begin at the top."""
        super().show_rows(rows)
        self.resizeRowsToContents()
        self.scrollToTop()


class FileTable(ReadTable):
    """The files with their counts; ``picked`` tells the one whose rows are wanted."""

    picked = Signal(str)

    def __init__(self, theme: Theme) -> None:
        columns = [
            Column("File", words=True, wide=True),
            Column("New"),
            Column("Same"),
            Column("Wrong"),
        ]
        super().__init__(theme, self.tr("Files and how many of their rows are new"), columns)
        self._keys: list[str] = []
        self.setFixedWidth(FILES_WIDE)
        self.itemSelectionChanged.connect(self._pick)

    def show_files(self, files: tuple[FileLine, ...], chosen: str) -> None:
        """Show the files, and the one that is chosen."""
        self.blockSignals(True)
        cells = [list(each.cells) for each in files]
        if cells != self.texts():
            self._keys = [each.key for each in files]
            self.show_rows(cells)
            mode = QHeaderView.ResizeMode
            self.horizontalHeader().setSectionResizeMode(0, mode.Stretch)
        self.selectRow(self._keys.index(chosen) if chosen in self._keys else 0)
        self.blockSignals(False)

    def _pick(self) -> None:
        rows = {index.row() for index in self.selectedIndexes()}
        if rows:
            self.picked.emit(self._keys[rows.pop()])


class PreviewPage(QWidget):
    """Shows a `PreviewState`."""

    side_chosen = Signal(str)
    order_chosen = Signal(str)
    turned = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.sentence = label(role="strong", wrap=True)
        self.ignored = label(role="soft", wrap=True)
        self.files = FileTable(theme)
        self.sides = Chips(theme, self.tr("Which rows"), 2, tall=ROW)
        self.orders = Chips(theme, self.tr("In which order"), 3, tall=ROW)
        columns = [Column("Line", words=True), Column("Row", words=True, wide=True)]
        self.rows = WrappedTable(theme, self.tr("The rows, line by line"), columns)
        self.nothing = label(role="soft", wrap=True)
        self.nothing.setMargin(theme.tokens.space.gap)
        self.lists = QStackedWidget()
        self.lists.addWidget(self.rows)
        self.lists.addWidget(self.nothing)
        self.counted = label(role="soft")
        self.earlier = ActionButton(theme, icon="chevron-left")
        self.later = ActionButton(theme, icon="chevron-right")
        self.earlier.setAccessibleName(self.tr("Earlier rows"))
        self.later.setAccessibleName(self.tr("Later rows"))
        self.copy = ActionButton(theme, self.tr("Copy"), size=SMALL)
        self.save = ActionButton(theme, self.tr("Save as text"), size=SMALL)
        self.copy.setAccessibleName(self.tr("Copy all that is wrong"))
        self.take = ActionButton(theme, role=Role.PRIMARY, least=56)
        self._lay_out(theme)
        self.sides.chosen.connect(self.side_chosen)
        self.orders.chosen.connect(self.order_chosen)
        self.earlier.clicked.connect(lambda: self.turned.emit(-1))
        self.later.clicked.connect(lambda: self.turned.emit(1))

    def _lay_out(self, theme: Theme) -> None:
        small = theme.tokens.space.small
        chips = QHBoxLayout()
        chips.addWidget(self.sides, 5)
        chips.addWidget(self.orders, 6)
        self.orders.setContentsMargins(theme.tokens.space.gap, 0, 0, 0)
        right = QVBoxLayout()
        right.addLayout(chips)
        right.addWidget(self.lists, 1)
        middle = QHBoxLayout()
        middle.addWidget(self.files)
        middle.addLayout(right, 1)
        foot = QHBoxLayout()
        for part in (self.earlier, self.counted, self.later):
            foot.addWidget(part)
        foot.addStretch(1)
        for part in (self.copy, self.save, self.take):
            foot.addWidget(part)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        for layout in (chips, right, middle, foot, box):
            layout.setSpacing(small)
        box.addWidget(self.sentence)
        box.addWidget(self.ignored)
        box.addLayout(middle, 1)
        box.addLayout(foot)
        for button in (self.earlier, self.later, self.copy, self.save, self.take):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, FIXED)

    def show_state(self, state: PreviewState) -> None:
        """Show a preview."""
        self.sentence.setText(state.sentence)
        self.ignored.setText(state.ignored)
        self.ignored.setVisible(bool(state.ignored))
        self.files.show_files(state.files, state.file)
        self.sides.show_choices(state.sides)
        self.orders.show_choices(state.orders)
        for choice in state.sides:
            self.sides.buttons[choice.key].say(choice.text)
        for part in (self.orders, self.copy, self.save):
            part.setVisible(state.has_wrong)
        self.rows.show_rows(state.rows)
        self.nothing.setText(state.nothing)
        self.lists.setCurrentWidget(self.nothing if state.nothing else self.rows)
        self.counted.setText(state.counted)
        self.earlier.setEnabled(state.has_earlier)
        self.later.setEnabled(state.has_later)
        for part in (self.earlier, self.later):
            part.setVisible(state.has_earlier or state.has_later)
        self.take.say(state.take)
        self.take.setEnabled(state.can_take)
