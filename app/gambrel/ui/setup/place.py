"""Setup: its sections, one shown at a time. A section is made when it is first shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Protocol

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.setup.tabs import TabRow
from gambrel.ui.widgets.choice import Choice


class Section(Protocol):
    """What Setup asks of a section, which is a `QWidget`."""

    def refresh(self) -> None:
        """Read again what is shown."""


@dataclass(frozen=True)
class SectionEntry:
    """A section that Setup offers; ``module`` and ``name`` are its class, made with a `Context`.

    ``begins`` is for the first of those that belong together.
    """

    key: str
    title: str
    module: str
    name: str
    begins: bool = False

    def make(self, context: Context) -> QWidget:
        """Make the section; its module is imported only now."""
        made: Callable[[Context], QWidget] = getattr(import_module(self.module), self.name)
        return made(context)


SECTIONS = (
    SectionEntry("facts", "Shop", "gambrel.ui.setup.facts_section", "FactsSection"),
    SectionEntry("shop", "Limits", "gambrel.ui.setup.shop_section", "ShopSection"),
    SectionEntry("cuts", "Cuts", "gambrel.ui.setup.cuts_section", "CutsSection", begins=True),
    SectionEntry("lists", "Lists", "gambrel.ui.setup.lists_section", "ListsSection"),
    SectionEntry(
        "suppliers", "Suppliers", "gambrel.ui.setup.suppliers_section", "SuppliersSection"
    ),
    SectionEntry(
        "people", "People", "gambrel.ui.setup.people_section", "PeopleSection", begins=True
    ),
    SectionEntry("tubs", "Tubs", "gambrel.ui.setup.tubs_section", "TubsSection"),
    SectionEntry("scale", "Scale", "gambrel.ui.scale.section", "ScaleSection"),
    SectionEntry("printers", "Printers", "gambrel.ui.printing.section", "PrintersSection"),
    SectionEntry(
        "import", "Import", "gambrel.ui.setup.import_section", "ImportSection", begins=True
    ),
    SectionEntry("book", "Book", "gambrel.ui.setup.book_section", "BookSection"),
)
"""In the order of their tabs."""


class SetupPlace(Place):
    """Offers the sections, and shows the one that is chosen."""

    def __init__(self, context: Context, sections: Sequence[SectionEntry] = SECTIONS) -> None:
        super().__init__()
        self.title = self.tr("Setup")
        self._context = context
        self._entries = {entry.key: entry for entry in sections}
        self._sections: dict[str, QWidget] = {}
        self._current = sections[0].key
        begin = [entry.key for entry in sections if entry.begins]
        self.tabs = TabRow(context.theme, self.tr("Setup of"), begin)
        if len(sections) < 2:  # showing it before it has a parent would open a window
            self.tabs.hide()
        self.tabs.chosen.connect(self.open_item)
        self._stack = QStackedWidget()
        self._gap = gap = context.theme.tokens.space.gap
        box = QVBoxLayout(self)
        box.setContentsMargins(gap, context.theme.tokens.space.tight, gap, gap)
        box.setSpacing(gap)
        box.addWidget(self.tabs)
        box.addWidget(self._stack, 1)

    @property
    def section(self) -> QWidget:
        """The section that is shown, made now if it has not been shown yet."""
        if self._current not in self._sections:
            made = self._entries[self._current].make(self._context)
            self._sections[self._current] = made
            self._stack.addWidget(made)
        return self._sections[self._current]

    def refresh(self) -> None:
        """Read again what the section shows."""
        section: Section = self.section  # type: ignore[assignment]  # every entry makes one
        self._stack.setCurrentWidget(self.section)
        entries = self._entries.values()
        self.tabs.show_choices(
            [Choice(each.key, each.title, each.key == self._current) for each in entries]
        )
        self.tabs.stand_in(self.width() - 2 * self._gap)
        section.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.tabs.stand_in(self.width() - 2 * self._gap)

    def open_item(self, key: str) -> None:
        """Show a section; an unknown one changes nothing."""
        if key in self._entries:
            self._current = key
            self.refresh()
