"""What the window shows on a book without a shop: three ways to begin."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.context import Context
from gambrel.ui.setup.facts_new import NewShopSection
from gambrel.ui.setup.import_section import ImportSection
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, BigButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.empty import IconMark

WIDEST = 720


class WaysPage(QWidget):
    """The three ways, and where the book is."""

    def __init__(self, theme: Theme, where: str) -> None:
        super().__init__()
        self.told = Banner(theme, closable=False)
        self.mark = IconMark(theme, "package", 64)
        self.sentence = label(self.tr("This book has no shop in it yet."), "heading")
        self.more = label(
            self.tr(
                "Begin with the shop's facts, with a folder of plain files, or by looking round."
            ),
            "soft",
            wrap=True,
        )
        self.where = label(self.tr("The book is {0}.").format(where), "soft", wrap=True)
        self.facts = BigButton(
            theme,
            self.tr("Fill in the shop's facts"),
            caption=self.tr("Its name, its money, its clock: nine lines"),
            role=Role.PRIMARY,
        )
        self.load = BigButton(
            theme,
            self.tr("Import a folder"),
            caption=self.tr("Plain CSV files, looked at before anything is taken in"),
        )
        self.demo = BigButton(
            theme,
            self.tr("Look round an invented shop"),
            caption=self.tr("It goes when the window is closed; this book stays as it is"),
        )
        self.ways = (self.facts, self.load, self.demo)
        self._lay_out(theme)

    def _lay_out(self, theme: Theme) -> None:
        column = QVBoxLayout()
        column.setSpacing(theme.tokens.space.gap)
        for text in (self.sentence, self.more, self.where):
            text.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        mark = QHBoxLayout()
        mark.addStretch(1)
        mark.addWidget(self.mark)
        mark.addStretch(1)
        column.addWidget(self.told)
        column.addStretch(2)
        column.addLayout(mark)
        column.addWidget(self.sentence)
        column.addWidget(self.more)
        for button in self.ways:
            column.addWidget(button)
        column.addWidget(self.where)
        column.addStretch(3)
        middle = QWidget()
        middle.setMaximumWidth(WIDEST)
        middle.setLayout(column)
        grid = QGridLayout(self)
        grid.addWidget(middle, 0, 1)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 100)
        grid.setColumnStretch(2, 1)

    def tell(self, meaning: Meaning, sentence: str) -> None:
        """Say something in the place of the mark; an empty sentence says nothing any more."""
        if sentence:
            self.told.say(meaning, sentence)
        else:
            self.told.clear()
        self.mark.setVisible(not sentence)
        self.more.setVisible(not sentence)


class WayPage(QWidget):
    """One way, under a line that leads back."""

    def __init__(self, theme: Theme, title: str, way: QWidget) -> None:
        super().__init__()
        self.back = ActionButton(theme, self.tr("Back"), icon="chevron-left", size=18)
        head = QHBoxLayout()
        head.setSpacing(theme.tokens.space.gap)
        head.addWidget(self.back)
        head.addWidget(label(title, "heading"), 1)
        gap = theme.tokens.space.gap
        box = QVBoxLayout(self)
        box.setContentsMargins(gap, gap, gap, gap)
        box.setSpacing(gap)
        box.addLayout(head)
        box.addWidget(way, 1)


class WelcomePage(QWidget):
    """Shows the ways; ``opened`` tells that the book has a shop now, and what came in with it."""

    opened = Signal(str)
    demo_wanted = Signal()

    def __init__(self, context: Context) -> None:
        super().__init__()
        theme = context.theme
        self.ways = WaysPage(theme, context.book.where)
        self.load = ImportSection(context)
        self.facts = NewShopSection(context)
        self._pages = QStackedWidget()
        self._pages.addWidget(self.ways)
        self._load_page = self._add(theme, self.tr("Import a folder"), self.load)
        self._facts_page = self._add(theme, self.tr("The facts of the shop"), self.facts)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self._pages)
        self.setFocusProxy(self.ways.facts)
        self.ways.load.clicked.connect(self.show_load)
        self.ways.facts.clicked.connect(self.show_facts)
        self.ways.demo.clicked.connect(self.demo_wanted)
        self.load.taken_in.connect(self.opened)
        self.facts.made.connect(lambda: self.opened.emit(""))

    def _add(self, theme: Theme, title: str, way: QWidget) -> WayPage:
        page = WayPage(theme, title, way)
        page.back.clicked.connect(self.show_ways)
        self._pages.addWidget(page)
        return page

    def show_ways(self) -> None:
        """Show the ways again; what was filled in stays."""
        came_from = self._pages.currentWidget()
        self._pages.setCurrentWidget(self.ways)
        (self.ways.load if came_from is self._load_page else self.ways.facts).setFocus()

    def show_load(self) -> None:
        """Ask for a folder."""
        self._pages.setCurrentWidget(self._load_page)
        self.load.view.path.setFocus()

    def show_facts(self) -> None:
        """Ask for the facts."""
        self._pages.setCurrentWidget(self._facts_page)
        self.facts.begin()

    def set_busy(self, *, busy: bool) -> None:
        """While the invented shop is made, nothing else is begun."""
        for button in self.ways.ways:
            button.setEnabled(not busy)
        self.ways.tell(Meaning.INFO, self.tr("The invented shop is being made …") if busy else "")

    def refuse(self, sentence: str) -> None:
        """Say why a way is closed."""
        self.set_busy(busy=False)
        self.ways.tell(Meaning.STOP, sentence)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._pages.currentWidget() is not self.ways:
            self.show_ways()
        else:
            super().keyPressEvent(event)
