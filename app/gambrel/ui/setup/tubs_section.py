"""The shop's tubs: named, weighed, put in order."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from gambrel.domain.bench.steady import LiveWeight
from gambrel.domain.bench.tub_edits import added, changed, moved, removed
from gambrel.domain.bench.tubs import NO_TUB, Tub
from gambrel.domain.refusals import Refusal
from gambrel.services.settings import take_back
from gambrel.services.tubs import Edit, change_tubs, shop_tubs, usual_tubs
from gambrel.ui.context import Context
from gambrel.ui.setup.page import ActingSection, Done
from gambrel.ui.setup.tubs_state import NEW, Draft, describe
from gambrel.ui.setup.tubs_view import TubsView


class TubsSection(ActingSection):
    """A tap chooses a tub, digits weigh it, Keep or Enter saves."""

    kind = "tubs"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.view = TubsView(context.theme)
        self.show_page(self.view)
        self._tubs: tuple[Tub, ...] = ()
        self._draft = Draft()
        view, panel = self.view, self.view.panel
        view.chosen.connect(self.choose)
        view.new.clicked.connect(lambda: self.choose(NEW))
        view.usual.clicked.connect(self.begin_again)
        panel.name_typed.connect(self.type_name)
        panel.kilos_typed.connect(self.type_kilos)
        panel.scale.clicked.connect(self.take_from_scale)
        panel.keep.clicked.connect(self.keep)
        panel.remove.clicked.connect(self.remove)
        panel.earlier.clicked.connect(lambda: self.move_tub(-1))
        panel.later.clicked.connect(lambda: self.move_tub(1))
        context.scale.reading.connect(self._scale_says)

    def refresh(self) -> None:
        """Read the tubs again."""
        try:
            self._tubs = shop_tubs(self.context.book)
        except Refusal as refusal:
            self._tubs = ()
            self._show()
            self.view.show_unreadable(str(refusal))
            return
        self.view.usual.hide()
        names = [tub.name for tub in self._tubs if tub != NO_TUB]
        if self._draft.chosen not in (NEW, *names):
            self._draft = Draft(names[0] if names else "")
        self._show()

    def _show(self) -> None:
        live = self.context.scale.live
        grams = live.grams if live.weighable else None
        self.view.show_state(describe(self._tubs, self._draft, self.context.formats, grams))

    def _change(self, draft: Draft) -> None:
        self._draft = draft
        self._show()

    def _scale_says(self, _live: LiveWeight) -> None:
        if self.isVisible():
            self._show()

    def choose(self, name: str) -> None:
        """Show another tub, or begin a new one."""
        if name == self._draft.chosen:
            return
        self._change(Draft(name))
        self.view.panel.show_typed("")
        self.view.panel.kilos.setChecked(True)
        if name == NEW:
            self.view.panel.name.setFocus()

    def type_name(self, name: str) -> None:
        """Take another name."""
        self._change(replace(self._draft, name=name, refusal=""))

    def type_kilos(self, kilos: str) -> None:
        """Take another weight, in kilograms."""
        self._change(self._draft.type(kilos))

    def take_from_scale(self) -> None:
        """Take what stands on the scale at rest."""
        live = self.context.scale.live
        if live.weighable and live.grams is not None:
            self._change(self._draft.type(f"{live.grams / 1000:.3f}"))
            self.view.panel.show_typed(self._draft.kilos)

    def keep(self) -> None:
        """Save name and weight of the chosen tub, or add the new one."""
        draft = self._draft
        before = next((tub for tub in self._tubs if tub.name == draft.chosen), NO_TUB)
        name = before.name if draft.name is None else draft.name
        grams = before.grams if draft.grams is None else draft.grams
        kilos = self.context.formats.kg(grams)
        if draft.chosen == NEW:
            sentence = self.tr("{0} of {1} kg stands last in the order.").format(name, kilos)
            self._edit(lambda tubs: added(tubs, name, grams), sentence, name)
        else:
            sentence = self.tr("{0} weighs {1} kg from now on.").format(name, kilos)
            self._edit(lambda tubs: changed(tubs, before.name, name, grams), sentence, name)

    def remove(self) -> None:
        """Remove the chosen tub; a new one that was begun is left."""
        name = self._draft.chosen
        if name == NEW:
            self._draft = Draft()
            self.refresh()
            return
        sentence = self.tr("{0} is removed. What was weighed in it keeps its tare.").format(name)
        self._edit(lambda tubs: removed(tubs, name), sentence, "")

    def move_tub(self, steps: int) -> None:
        """Move the chosen tub in the order."""
        name = self._draft.chosen
        sentence = self.tr("{0} stands elsewhere in the order.").format(name)
        self._edit(lambda tubs: moved(tubs, name, steps), sentence, name)

    def begin_again(self) -> None:
        """Replace a list that cannot be read by the usual one."""

        def act() -> Done:
            change = usual_tubs(self.context.book)
            sentence = self.tr("These are the usual tubs. Weigh each of yours.")
            return Done(sentence, lambda: take_back(self.context.book, change))

        self.do(act)

    def _edit(self, edit: Edit, sentence: str, then: str) -> None:
        """Change the tubs; afterwards ``then`` is chosen."""

        def act() -> Done:
            change = change_tubs(self.context.book, edit)
            self._draft = Draft(" ".join(then.split()))
            return Done(sentence, lambda: take_back(self.context.book, change))

        refusal = self.do(act)
        self._change(replace(self._draft, refusal=refusal))
        self.view.panel.show_typed(self._draft.kilos)

    def leave(self) -> None:
        """Forget what was typed, and a new tub that was begun."""
        self._change(Draft("" if self._draft.chosen == NEW else self._draft.chosen))
        self.view.panel.show_typed("")

    def handle_key(self, event: QKeyEvent) -> bool:
        """Digits weigh, Enter keeps, Escape forgets what was typed."""
        panel = self.view.panel
        if panel.keep.isHidden():
            return False
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            panel.keep.click()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
            self.refresh()
        else:
            return panel.keypad.handle_key(event)
        return True
