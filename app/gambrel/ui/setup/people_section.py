"""The team: names come, go, and have a PIN where the shop wants it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from os import urandom

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from gambrel.domain.trade.around import Person
from gambrel.domain.trade.pins import SALT_BYTES
from gambrel.services.people import add_person, put_back_person, retire_person, set_pin, team
from gambrel.ui.context import Context
from gambrel.ui.setup.page import ActingSection, Done
from gambrel.ui.setup.people_state import Draft, NewPin, describe
from gambrel.ui.setup.people_view import PeopleView


class PeopleSection(ActingSection):
    """A tap chooses a name; every act is done at once and can be taken back."""

    kind = "people"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.view = PeopleView(context.theme)
        self.show_page(self.view)
        self._team: list[Person] = []
        self._draft = Draft()
        panel = self.view.panel
        self.view.chosen.connect(self.choose)
        self.view.name_typed.connect(self.type_name)
        self.view.add_wanted.connect(self.add)
        panel.give.clicked.connect(self.begin_pin)
        panel.take_away.clicked.connect(self.take_pin_away)
        panel.retire.clicked.connect(self.retire)
        panel.pin.typed.connect(self.type_pin)
        panel.pin.go_on_wanted.connect(self.go_on)
        panel.pin.closed.connect(self.leave_pin)

    def refresh(self) -> None:
        """Read again who is in the team."""
        self._team = team(self.context.book)
        names = [person.name for person in self._team]
        if self._draft.chosen not in names:
            self._draft = replace(self._draft, chosen=names[0] if names else "", pin=None)
        self._show()

    def _show(self) -> None:
        self.view.show_state(describe(self._team, self._draft))

    def _change(self, draft: Draft) -> None:
        self._draft = draft
        self._show()

    def choose(self, name: str) -> None:
        """Say who is meant; a PIN on its way for another name is forgotten."""
        self._change(Draft(self._draft.name, name))

    # --- The team ---

    def type_name(self, name: str) -> None:
        """Take what was typed as a new name."""
        self._change(replace(self._draft, name=name, refusal=""))

    def add(self) -> None:
        """Take the new name into the team."""

        def act() -> Done:
            added = add_person(self.context.book, self._draft.name)
            self._draft = Draft(chosen=added.name)
            sentence = self.tr("{0} is in the team.").format(added.name)
            return Done(sentence, lambda: retire_person(self.context.book, added.name))

        refusal = self.do(act)
        self._change(replace(self._draft, refusal=refusal))
        self.view.name.setFocus()

    def retire(self) -> None:
        """Take the chosen name off the team."""
        name = self._draft.chosen
        self._do(
            lambda: retire_person(self.context.book, name),
            self.tr("{0} is off the team. What was weighed keeps the name.").format(name),
        )

    def _do(self, work: Callable[[], Person], sentence: str) -> None:
        """Do something to a name; undo lets the name stand as it stood."""

        def act() -> Done:
            before = work()
            return Done(sentence, lambda: put_back_person(self.context.book, before))

        refusal = self.do(act)
        self._change(replace(self._draft, pin=None, refusal=refusal))

    # --- PINs ---

    def begin_pin(self) -> None:
        """Ask for a new PIN."""
        self._change(replace(self._draft, pin=NewPin()))
        self.view.panel.pin.setFocus()

    def type_pin(self, digits: str) -> None:
        """Take the digits that were typed."""
        if self._draft.pin is not None:
            self._change(replace(self._draft, pin=self._draft.pin.type(digits)))

    def go_on(self) -> None:
        """The first PIN is typed, or the second: it is kept where both are the same."""
        pin, name = self._draft.pin, self._draft.chosen
        if pin is None:
            return
        if not pin.agreed():
            self._change(replace(self._draft, pin=pin.further()))
            self.view.panel.pin.setFocus()
            return
        self._do(
            lambda: set_pin(self.context.book, name, pin.typed, urandom(SALT_BYTES)),
            self.tr("{0} is asked for the new PIN from now on.").format(name),
        )

    def leave_pin(self) -> None:
        """Forget the PIN that was typed."""
        self._change(replace(self._draft, pin=None))
        self.view.panel.give.setFocus()

    def leave(self) -> None:
        """Forget a PIN that is half typed, and a name."""
        self._change(Draft(chosen=self._draft.chosen))

    def take_pin_away(self) -> None:
        """Ask the chosen name for no PIN any more."""
        name = self._draft.chosen
        self._do(
            lambda: set_pin(self.context.book, name, "", b""),
            self.tr("{0} is asked for no PIN any more.").format(name),
        )

    def handle_key(self, event: QKeyEvent) -> bool:
        """Enter adds the name that is typed, or goes on with the PIN; Escape leaves the PIN."""
        pad, enter = self.view.panel.pin, (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if event.key() in enter and self.window().focusWidget() is self.view.name:
            if self.view.add.isEnabled():
                self.add()
        elif self._draft.pin is None:
            return False
        elif event.key() == Qt.Key.Key_Escape:
            self.leave_pin()
        elif event.key() in enter:
            pad.go_on.click()
        else:
            return pad.keypad.handle_key(event)
        return True
