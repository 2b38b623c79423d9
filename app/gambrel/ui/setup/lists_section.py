"""The cutting lists: opened, put in order, given norms, copied; every act can be taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit

from gambrel.domain.bench.usual import UsualYields
from gambrel.domain.prices.order import moved
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.list_edits import (
    Lines,
    ListKey,
    in_order,
    with_cut,
    with_norms,
    without_cut,
)
from gambrel.services.cutting_lists import (
    CuttingLists,
    LinesChange,
    change_lines,
    copy_list,
    cutting_lists,
    new_list,
    read_norm,
    take_back_lines,
    yields_by,
)
from gambrel.ui.context import Context
from gambrel.ui.setup.lists_state import Draft, Making, describe, lines_of, text_key
from gambrel.ui.setup.lists_view import ListsView
from gambrel.ui.setup.page import ActingSection, Done

NOT_KNOWN = UsualYields()


class ListsSection(ActingSection):
    """A tap chooses a list; open, its cuts are moved, added, taken off, and given norms."""

    kind = "lists"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.view = ListsView(context.theme)
        self.show_page(self.view)
        self._found: CuttingLists | None = None
        self._draft = Draft()
        self._usual: dict[ListKey, UsualYields] = {}
        self._connect()

    def _connect(self) -> None:
        view = self.view
        view.chosen.connect(lambda text: self.choose(text_key(text)))
        view.new.clicked.connect(lambda: self.begin(Making()))
        view.list.open.clicked.connect(self.open)
        view.list.copy.clicked.connect(self.begin_copy)
        view.list.remove.clicked.connect(self.remove_list)
        view.make.typed.connect(self.type_word)
        view.make.portion_chosen.connect(self.choose_portion)
        view.make.make.clicked.connect(self.make)
        view.make.leave.clicked.connect(self.leave)
        view.open.back.clicked.connect(self.close_list)
        view.open.add.clicked.connect(self.begin_adding)
        view.open.take_all.clicked.connect(self.take_usual)
        view.open.table.chosen.connect(self.choose_cut)
        view.open.table.moved.connect(self.move_to)
        view.open.table.arranged.connect(self.keep_order)
        view.line.up.clicked.connect(lambda: view.open.table.move_chosen(-1))
        view.line.down.clicked.connect(lambda: view.open.table.move_chosen(1))
        view.line.typed.connect(self.type_norm)
        view.line.keep.clicked.connect(self.keep_norm)
        view.line.take.clicked.connect(self.take_one)
        view.line.remove.clicked.connect(self.take_off)
        view.add.chosen.connect(self.add_cut)
        view.add.sought.connect(self.seek)
        view.add.done.clicked.connect(self.leave)

    # --- Reading ---

    def refresh(self) -> None:
        """Read the lists again, and once a list is open what its bodies yielded."""
        self._found = found = cutting_lists(self.context.book)
        draft = self._draft
        if draft.chosen is not None and draft.chosen not in (draft.begun, *found.lists):
            draft = Draft()
        if draft.line and draft.line not in self._cuts(found, draft):
            draft = replace(draft, line="", norm=None)
        self._draft = replace(draft, order=None)
        self._usual.clear()
        self._show()
        if draft.is_open:
            self._ask_usual()

    @staticmethod
    def _cuts(found: CuttingLists, draft: Draft) -> list[str]:
        return [line.cut for line in found.lists.get(draft.chosen, ())] if draft.chosen else []

    @property
    def found(self) -> CuttingLists:
        """The lists as they were last read."""
        assert self._found is not None
        return self._found

    @property
    def usual(self) -> UsualYields:
        """What the last bodies yielded by the chosen list, as far as it is known."""
        key = self._draft.chosen
        return self._usual.get(key, NOT_KNOWN) if key else NOT_KNOWN

    def _show(self) -> None:
        if self._found is not None:
            self.view.show_state(describe(self._found, self._draft, self.usual))

    def _change(self, draft: Draft) -> None:
        self._draft = draft
        self._show()

    def _ask_usual(self) -> None:
        """Ask what the last bodies yielded; the whole book is read for it, so off the window."""
        key, book = self._draft.chosen, self.context.book
        if key is None or key in self._usual:
            return

        def show(found: UsualYields) -> None:
            self._usual[key] = found
            self._show()

        self.context.tasks.run_task(lambda: yields_by(book, key), show, self._failed)

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, Refusal):
            raise error
        self._change(replace(self._draft, refusal=str(error)))

    # --- All lists ---

    def choose(self, key: ListKey) -> None:
        """Choose a list; a second tap opens it."""
        if key == self._draft.chosen and self._draft.making is None:
            self.open()
        else:
            self._change(self._draft.choose(key))

    def open(self) -> None:
        """Open the chosen list at its first cut."""
        self._change(self._draft.opened(next(iter(self._cuts(self.found, self._draft)), "")))
        self._ask_usual()
        self.view.open.table.setFocus()

    def close_list(self) -> None:
        """Go back to all lists."""
        found, key = self.found, self._draft.chosen
        self._change(Draft(key if key in found.lists else None))

    def begin(self, making: Making) -> None:
        """Begin a list, or a copy of one."""
        self._change(replace(self._draft.choose(self._draft.chosen), making=making))
        self.view.make.words["name"].setFocus()

    def begin_copy(self) -> None:
        """Begin a copy of the chosen list."""
        key = self._draft.chosen
        if key is not None:
            self.begin(Making("", key.species, key.portion, key))

    def type_word(self, name: str, text: str) -> None:
        """Take another word of the list that is begun."""
        making = self._draft.making
        if making is not None:
            making = Making(
                text if name == "name" else making.name,
                text if name == "species" else making.species,
                text if name == "portion" else making.portion,
                making.copy_of,
            )
            self._change(replace(self._draft, making=making, refusal=""))

    def choose_portion(self, text: str) -> None:
        """Take what is cut by the list from those known."""
        species, portion = text.split("\n")
        making = self._draft.making or Making()
        making = replace(making, species=species, portion=portion)
        self._change(replace(self._draft, making=making, refusal=""))

    def make(self) -> None:
        """Make the copy; or open a list without a cut, which is kept with its first."""
        making = self._draft.making
        if making is None or not self.view.make.make.isEnabled():
            return
        if making.copy_of is not None:
            self._copy(making.copy_of, making.name)
            return
        asked = ListKey(making.name, making.species.strip(), making.portion.strip())
        try:
            key = new_list(self.found.lists, asked, self.found.shop)
        except Refusal as refusal:
            self._change(replace(self._draft, refusal=str(refusal)))
            return
        self._change(replace(Draft(key, is_open=True, begun=key), adding=True))
        self.view.add.search.setFocus()

    def _copy(self, key: ListKey, name: str) -> None:
        book = self.context.book

        def act() -> Done:
            change = copy_list(book, key, name)
            self._draft = Draft(change.key)
            sentence = self.tr("{0} begins as {1} is.").format(change.key.name, key.name)
            return Done(sentence, lambda: take_back_lines(book, change))

        self._try(act)

    def remove_list(self) -> None:
        """Take the chosen list out of the book."""
        key = self._draft.chosen
        if key is not None:
            sentence = self.tr("{0} is removed.").format(key.name)
            self._edit(lambda _: (), sentence, Draft())

    # --- One list ---

    def choose_cut(self, cut: str) -> None:
        """Choose one of the list's cuts."""
        if cut != self._draft.line or self._draft.adding:
            self._change(self._draft.opened(cut))

    def move_to(self, cut: str, place: int) -> None:
        """Show a cut in another place; it is kept once the finger is lifted."""
        now = [line.cut for line in lines_of(self.found, self._draft)]
        draft = replace(self._draft.opened(cut), order=tuple(moved(now, now, cut, place)))
        self._change(draft)

    def keep_order(self) -> None:
        """Save the order that is shown."""
        order, draft = self._draft.order, self._draft
        if order is None or draft.chosen is None:
            return
        if list(order) == self._cuts(self.found, draft):
            self._change(replace(draft, order=None))
            return
        name = self.found.cuts[draft.line].name if draft.line in self.found.cuts else draft.line
        sentence = self.tr("{0} comes off as number {1}.").format(name, order.index(draft.line) + 1)
        self._edit(lambda lines: in_order(lines, order), sentence, draft.opened(draft.line))

    def type_norm(self, text: str) -> None:
        """Take another norm of the chosen cut."""
        self._change(replace(self._draft, norm=text, refusal=""))

    def keep_norm(self) -> None:
        """Save the norm that was typed; an empty one is no norm."""
        if self._draft.norm is not None and self.view.line.keep.isEnabled():
            norm = self._draft.norm
            self._set_norms(lambda: {self._draft.line: read_norm(norm, self.found.shop)})

    def take_one(self) -> None:
        """Take the usual yield of the chosen cut as its norm."""
        cut = self._draft.line
        self._set_norms(lambda: {cut: self.usual.percent[cut]})

    def take_usual(self) -> None:
        """Take the usual yields of all cuts of the list as their norms."""
        self._set_norms(lambda: dict(self.usual.percent))

    def _set_norms(self, norms: Callable[[], dict[str, Decimal | None]]) -> None:
        sentence = self.tr("The norms are kept.")
        then = self._draft.opened(self._draft.line)
        self._edit(lambda lines: with_norms(lines, norms()), sentence, then)

    def begin_adding(self) -> None:
        """Offer the cuts that are not on the list."""
        self._change(replace(self._draft.opened(self._draft.line), adding=True))
        self.view.add.search.setFocus()

    def seek(self, text: str) -> None:
        """Offer the cuts with this in their names."""
        self._change(replace(self._draft, search=text))

    def add_cut(self, cut: str) -> None:
        """Add a cut at the end of the list; others may follow."""
        key, draft = self._draft.chosen, self._draft
        if key is None:
            return
        sentence = self.tr("{0} is the last of the list.").format(self.found.cuts[cut].name)
        then = replace(draft.opened(cut), adding=True, search="")
        self._edit(lambda lines: with_cut(lines, key, cut), sentence, then)
        self.view.add.search.setFocus()

    def take_off(self) -> None:
        """Take the chosen cut off the list; the next one is chosen."""
        cuts, cut = self._cuts(self.found, self._draft), self._draft.line
        rest = [each for each in cuts if each != cut]
        near = rest[min(cuts.index(cut), len(rest) - 1)] if rest else ""
        name = self.found.cuts[cut].name
        sentence = self.tr("{0} is off the list. What was weighed stays.").format(name)
        then = replace(self._draft, begun=self._draft.chosen).opened(near)
        self._edit(lambda lines: without_cut(lines, cut), sentence, then)

    # --- Acts ---

    def _edit(self, edit: Callable[[Lines], Lines], sentence: str, then: Draft) -> None:
        """Change the chosen list; afterwards ``then`` is what is chosen."""
        key, book = self._draft.chosen, self.context.book
        if key is None:
            return

        def act() -> Done:
            change = self._changed_lines(key, edit)
            self._draft = then
            return Done(sentence, lambda: take_back_lines(book, change))

        self._try(act)

    def _changed_lines(self, key: ListKey, edit: Callable[[Lines], Lines]) -> LinesChange:
        lines = self.found.lists.get(key, ())
        return change_lines(self.context.book, key, lines, edit(lines))

    def _try(self, act: Callable[[], Done]) -> None:
        """Do an act; where it is refused the lists are read again, what was typed stays."""
        refusal = self.do(act)
        if refusal:
            self._draft = replace(self._draft, refusal=refusal)
            self.refresh()

    def leave(self) -> None:
        """Forget what was typed, and a list without a cut."""
        draft, known = self._draft, self._found.lists if self._found else {}
        if draft.chosen not in known:
            self._change(Draft())
        elif draft.is_open:
            self._change(draft.opened(draft.line))
        else:
            self._change(draft.choose(draft.chosen))

    def handle_key(self, event: QKeyEvent) -> bool:
        """Digits type the norm, Enter keeps, Escape goes one step back."""
        view, enter = self.view, event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        typing = isinstance(self.window().focusWidget(), QLineEdit)
        if event.key() == Qt.Key.Key_Escape:
            self._step_back()
        elif enter and self._draft.making is not None:
            self.make()
        elif enter and self._draft.is_open:
            self.keep_norm()
        elif enter and self._draft.chosen is not None:
            self.open()
        elif typing or not view.line.keypad.isVisible():
            return False
        else:
            return view.line.keypad.handle_key(event)
        return True

    def _step_back(self) -> None:
        draft = self._draft
        if draft.norm is not None or draft.making or draft.refusal or draft.adding:
            self.leave()
        elif draft.is_open:
            self.close_list()
