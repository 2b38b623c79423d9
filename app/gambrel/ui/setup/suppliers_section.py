"""The suppliers: named, reached, with the origin of their animals; every act can be taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from gambrel.services.suppliers import (
    Known,
    add_supplier_card,
    change_supplier,
    remove_supplier,
    suppliers,
    take_back_supplier,
)
from gambrel.ui.context import Context
from gambrel.ui.setup.page import Done, KeepingSection
from gambrel.ui.setup.suppliers_state import NEW, Draft, chosen_of, describe, typed_card
from gambrel.ui.setup.suppliers_view import SuppliersView


class SuppliersSection(KeepingSection):
    """A tap chooses a supplier, Keep or Enter saves what was typed."""

    kind = "suppliers"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.view = SuppliersView(context.theme)
        self.show_page(self.view)
        self._known: list[Known] = []
        self._draft = Draft()
        view, panel = self.view, self.view.panel
        view.chosen.connect(self.choose)
        view.new.clicked.connect(lambda: self.choose(NEW))
        panel.typed.connect(self.type)
        panel.keep.clicked.connect(self.keep)
        panel.aside.clicked.connect(self.put_aside)

    def refresh(self) -> None:
        """Read the suppliers again."""
        self._known = suppliers(self.context.book)
        if self._draft.chosen != NEW and chosen_of(self._known, self._draft) is None:
            self._draft = Draft()
        self._show()

    def _show(self) -> None:
        self.view.show_state(describe(self._known, self._draft))

    def _change(self, draft: Draft) -> None:
        self._draft = draft
        self._show()

    def choose(self, key: str) -> None:
        """Show another supplier, or begin a new one."""
        if key == self._draft.chosen:
            return
        self._change(Draft(key))
        self.view.panel.fields.verticalScrollBar().setValue(0)
        if key == NEW:
            self.view.panel.lines["name"].setFocus()

    def type(self, line: str, text: str) -> None:
        """Take another text of the chosen supplier."""
        self._change(self._draft.type(line, text))

    def keep(self) -> None:
        """Save the chosen supplier as it was typed, or add the new one."""
        if not self.view.panel.keep.isEnabled():
            return
        book, card = self.context.book, typed_card(self._known, self._draft)
        found = chosen_of(self._known, self._draft)

        def act() -> Done:
            if found:
                change = change_supplier(book, found.card, card)
            else:
                change = add_supplier_card(book, card)
            made = change.after
            assert made is not None
            self._draft = Draft(made.key)
            said = self.tr("{0} is kept.") if found else self.tr("{0} is in the book.")
            sentence = said.format(made.supplier.name)
            return Done(sentence, lambda: take_back_supplier(book, change))

        self._try(act)

    def put_aside(self) -> None:
        """Remove the chosen supplier; a new one that was begun is left."""
        self.view.new.setFocus()  # what has the focus now goes away
        found, book = chosen_of(self._known, self._draft), self.context.book
        if found is None:
            self._change(Draft())
            return

        def act() -> Done:
            change = remove_supplier(book, found.card)
            sentence = self.tr("{0} is removed.").format(found.card.supplier.name)
            return Done(sentence, lambda: take_back_supplier(book, change))

        self._try(act)

    def _try(self, act: Callable[[], Done]) -> None:
        """Do an act; where it is refused the suppliers are read again, what was typed stays."""
        refusal = self.do(act)
        if refusal:
            self._draft = replace(self._draft, refusal=refusal)
            self.refresh()

    def leave(self) -> None:
        """Forget what was typed, and a new supplier that was begun."""
        self._change(Draft("" if self._draft.chosen == NEW else self._draft.chosen))
