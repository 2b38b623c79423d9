"""The catalogue: cuts are found, added, changed, retired; every act can be taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit

from gambrel.services.catalogue import (
    Catalogue,
    add_card,
    bring_back_cut,
    card_of,
    catalogue,
    change_card,
    remove_card,
    retire_cut,
    take_back_card,
)
from gambrel.services.settings import take_back
from gambrel.ui.context import Context
from gambrel.ui.setup.cuts_state import NEW, Draft, describe, species_of, typed_texts
from gambrel.ui.setup.cuts_view import CutsView
from gambrel.ui.setup.page import Done, KeepingSection


class CutsSection(KeepingSection):
    """A tap chooses a cut, fields and keypad change it, Keep or Enter saves."""

    kind = "cuts"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.view = CutsView(context.theme)
        self.show_page(self.view)
        self._found: Catalogue | None = None
        self._draft = Draft()
        view, panel = self.view, self.view.panel
        panel.set_money(context.formats.currency.digits)
        view.chosen.connect(self.choose)
        view.new.clicked.connect(lambda: self.choose(NEW))
        view.species_chosen.connect(self.choose_species)
        view.sought.connect(self.seek)
        panel.typed.connect(self.type)
        panel.keep.clicked.connect(self.keep)
        panel.aside.clicked.connect(self.put_aside)

    def refresh(self) -> None:
        """Read the catalogue again."""
        self._found = found = catalogue(self.context.book)
        names = species_of(found)
        if self._draft.species not in names:
            self._draft = replace(self._draft, species=names[0] if names else "")
        if self._draft.chosen not in (NEW, *found.entries):
            self._draft = self._draft.choose("")
        self._show()

    @property
    def found(self) -> Catalogue:
        """The catalogue as it was last read."""
        assert self._found is not None
        return self._found

    def _show(self) -> None:
        if self._found is not None:
            self.view.show_state(describe(self._found, self._draft))

    def _change(self, draft: Draft) -> None:
        self._draft = draft
        self._show()

    def choose(self, key: str) -> None:
        """Show another cut, or begin a new one."""
        if key == self._draft.chosen:
            return
        self._change(self._draft.choose(key))
        self.view.panel.fields.verticalScrollBar().setValue(0)
        if key == NEW:
            self.view.panel.lines["name"].setFocus()

    def choose_species(self, species: str) -> None:
        """List the cuts of another species; what was sought is forgotten."""
        self._change(replace(self._draft, species=species, search=""))

    def seek(self, text: str) -> None:
        """List the cuts of any species with this in their names."""
        self._change(replace(self._draft, search=text))

    def type(self, column: str, text: str) -> None:
        """Take another text of the chosen cut."""
        self._change(self._draft.type(column, text))

    def keep(self) -> None:
        """Save the chosen cut as it was typed, or add the new one."""
        if not self.view.panel.keep.isEnabled():
            return
        texts, book = typed_texts(self.found, self._draft), self.context.book
        entry = self.found.entries.get(self._draft.chosen)

        def act() -> Done:
            card = card_of(texts, self.found.shop)
            change = change_card(book, entry.card, card) if entry else add_card(book, card)
            made = change.after
            assert made is not None
            self._draft = replace(self._draft.choose(made.cut.key), species=made.cut.species)
            said = self.tr("{0} is kept.") if entry else self.tr("{0} is in the catalogue.")
            return Done(said.format(made.cut.name), lambda: take_back_card(book, change))

        self._try(act)

    def put_aside(self) -> None:
        """Retire the chosen cut or bring it back, remove one that is unused, leave a new one."""
        entry = self.found.entries.get(self._draft.chosen)
        if entry is None or not entry.named:
            self.view.new.setFocus()  # what has the focus now goes away
        if entry is None:
            self._change(self._draft.choose(""))
            return
        book, cut = self.context.book, entry.card.cut

        def remove() -> Done:
            change = remove_card(book, entry.card)
            said = self.tr("{0} is removed.").format(cut.name)
            return Done(said, lambda: take_back_card(book, change))

        def retire() -> Done:
            change = retire_cut(book, cut.key)
            said = self.tr("{0} is retired. What was weighed keeps it.").format(cut.name)
            return Done(said, lambda: take_back(book, change))

        def bring_back() -> Done:
            change = bring_back_cut(book, cut.key)
            said = self.tr("{0} is offered again.").format(cut.name)
            return Done(said, lambda: take_back(book, change))

        self._try(bring_back if entry.retired else retire if entry.named else remove)

    def _try(self, act: Callable[[], Done]) -> None:
        """Do an act; where it is refused the catalogue is read again, what was typed stays."""
        refusal = self.do(act)
        if refusal:
            self._draft = replace(self._draft, refusal=refusal)
            self.refresh()

    def leave(self) -> None:
        """Forget what was typed, and a new cut that was begun."""
        chosen = "" if self._draft.chosen == NEW else self._draft.chosen
        self._change(self._draft.choose(chosen))

    def type_key(self, event: QKeyEvent) -> bool:
        """Digits type into the chosen number; a field that has the keyboard has them itself."""
        keypad, typing = self.view.panel.keypad, isinstance(self.window().focusWidget(), QLineEdit)
        return not (keypad.isHidden() or typing) and keypad.handle_key(event)
