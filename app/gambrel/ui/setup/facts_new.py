"""The facts of a new shop: filled in one after the other, kept in the book when all are there."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QTimeZone, Signal
from PySide6.QtWidgets import QSizePolicy

from gambrel.domain.refusals import Refusal
from gambrel.services.shop_facts import TITLES, make_shop, refused_fact, zones_like
from gambrel.ui.context import Context
from gambrel.ui.setup.facts_section import FactsSection
from gambrel.ui.setup.facts_state import Draft, missing
from gambrel.ui.theme import Meaning
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label

USUAL: dict[str, str | bool] = {"day_starts": "04:00", "week_starts": "monday"}
"""Common practice, no source: bakers and butchers begin after four, trade weeks on Mondays."""


class NewShopSection(FactsSection):
    """Nothing is in the book before all facts are given and the shop is opened."""

    is_new = True

    made = Signal()
    """The book has its shop."""

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._values = {**USUAL, **_zone_here()}
        theme = context.theme
        self.lacking = label(role="soft", wrap=True)
        self.refusal = Banner(theme, closable=False)
        self.open = ActionButton(theme, self.tr("Open the shop"), role=Role.PRIMARY, least=64)
        self.open.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.open.clicked.connect(self.make)
        for part in (self.lacking, self.refusal, self.open):
            self.view.more.addWidget(part)

    def begin(self) -> None:
        """Ask for the first fact that is missing."""
        lacking = missing(self._values)
        self.choose(lacking[0] if lacking else "name")
        self._show()
        self.focus_chosen()

    def refresh(self) -> None:
        """Nothing is in the book yet; what was given stands here."""
        self._show()

    def _show(self) -> None:
        super()._show()
        lacking = [TITLES[name] for name in missing(self._values)]
        self.lacking.setText(self.tr("Still to be given: {0}.").format(", ".join(lacking)))
        self.lacking.setVisible(bool(lacking))
        self.open.setEnabled(not lacking)

    def keep(self) -> None:
        """Take what was typed, and go on with the next fact that is missing."""
        if not self.view.panel.keep.isEnabled():
            return
        name, value = self._draft.chosen, self._draft.value
        given = {**self._values, name: value}
        refusal = refused_fact(given, name)
        self.refusal.clear()
        if refusal:
            self._draft = replace(self._draft, refusal=refusal)
            self._show()
            return
        self._values = given
        self._draft = Draft(name)
        lacking = missing(given)
        if lacking:
            self.choose(lacking[0])
        else:
            self._show()
            self.open.setFocus()

    def make(self) -> None:
        """Give the book its shop."""
        try:
            make_shop(self.context.book, self._values)
        except Refusal as refusal:
            self.refusal.say(Meaning.STOP, str(refusal))
            return
        self.made.emit()

    def undo(self) -> None:
        """There is nothing in the book that could be taken back."""


def _zone_here() -> dict[str, str]:
    """The machine's time zone, where its name is that of a place."""
    name = bytes(QTimeZone.systemTimeZoneId().data()).decode("ascii", "replace")
    is_place = not name.startswith("Etc/") and name in zones_like(name, 1)
    return {"time_zone": name} if is_place else {}
