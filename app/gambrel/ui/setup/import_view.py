"""The Import section's page: where from, how far it is, and what it would change."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QProgressBar,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gambrel.ui.setup.import_preview import PreviewPage
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.fields import FIELD, TextField

FIXED = QSizePolicy.Policy.Fixed
LONGEST_PATH = 4000
STEPS = 1000
"""Of a whole bar; a folder may have more bytes than Qt counts."""


class ProgressPage(QWidget):
    """What is being done, how far it is, and a button that stops it."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.told = label(role="label", wrap=True)
        self.told.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setFixedHeight(16)
        self.bar.setAccessibleName(self.tr("How far it is"))
        self.cancel = ActionButton(theme, self.tr("Cancel"), least=56)
        self.cancel.setMinimumWidth(200)
        box = QVBoxLayout(self)
        box.setSpacing(theme.tokens.space.gap)
        box.addStretch(2)
        box.addWidget(self.told)
        for part in (self.bar, self.cancel):
            row = QHBoxLayout()
            row.addStretch(1)
            row.addWidget(part, 2 if part is self.bar else 0)
            row.addStretch(1)
            box.addLayout(row)
        box.addStretch(3)

    def show_progress(self, told: str, done: int, total: int) -> None:
        """Show how far it is; without a total nobody knows."""
        self.told.setText(told)
        self.bar.setRange(0, STEPS if total else 0)
        if total:
            self.bar.setValue(done * STEPS // total)


class ImportView(QWidget):
    """Shows one of three pages under the line that asks where from."""

    read_wanted = Signal(str)
    """A path that was typed or dropped."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setAcceptDrops(True)
        self.told = Banner(theme)
        self.path = TextField(theme, self.tr("A folder of plain files, or one of them"))
        self.path.setMaxLength(LONGEST_PATH)
        self.folder = ActionButton(theme, self.tr("Folder"), least=FIELD, size=18)
        self.file = ActionButton(theme, self.tr("File"), least=FIELD, size=18)
        self.folder.setAccessibleName(self.tr("Choose a folder"))
        self.file.setAccessibleName(self.tr("Choose one file"))
        self.read = ActionButton(
            theme, self.tr("Look"), icon="search", role=Role.PRIMARY, least=FIELD, size=18
        )
        self.read.setAccessibleName(self.tr("Look at what it would change"))
        self.empty = EmptyState(
            theme,
            "package",
            self.tr("Nothing changes before you have seen it."),
            more=self.tr(
                "Choose a folder with shop.toml and CSV files such as cuts.csv and bodies.csv, or "
                "one such file alone. You are shown what is new and every line that cannot be "
                "taken, with its reason. Only then you take it in, all of it or nothing."
            ),
        )
        self.progress = ProgressPage(theme)
        self.preview = PreviewPage(theme)
        self.pages = QStackedWidget()
        for page in (self.empty, self.progress, self.preview):
            self.pages.addWidget(page)
        self._lay_out(theme)
        self.path.textChanged.connect(self._path_changed)
        self.read.clicked.connect(self._wish)
        self._path_changed("")

    def _lay_out(self, theme: Theme) -> None:
        line = QHBoxLayout()
        line.setSpacing(theme.tokens.space.small)
        line.addWidget(self.path, 1)
        for button in (self.folder, self.file, self.read):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, FIXED)
            line.addWidget(button)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.told)
        box.addLayout(line)
        box.addWidget(self.pages, 1)

    def _path_changed(self, text: str) -> None:
        self.path.setToolTip(text)
        self.read.setEnabled(bool(text.strip()) and not self.is_busy)

    def _wish(self) -> None:
        if self.read.isEnabled():
            self.read_wanted.emit(self.path.text().strip())

    @property
    def is_busy(self) -> bool:
        """Whether something is being read or taken in."""
        return self.pages.currentWidget() is self.progress

    def show_page(self, page: QWidget) -> None:
        """Show one of the pages; while something is being done nothing else can be asked."""
        self.pages.setCurrentWidget(page)
        if self.is_busy:  # before what has the focus is disabled, and it jumps to another place
            self.progress.cancel.setFocus()
        for part in (self.path, self.folder, self.file):
            part.setEnabled(not self.is_busy)
        self._path_changed(self.path.text())

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if not self.is_busy and _dropped(event):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        path = _dropped(event)
        if path and not self.is_busy:
            event.acceptProposedAction()
            self.path.setText(path)
            self.read_wanted.emit(path)


def _dropped(event: QDropEvent) -> str:
    """The one folder or file that is dragged; empty for anything else."""
    urls = event.mimeData().urls()
    return urls[0].toLocalFile() if len(urls) == 1 else ""
