"""The shop's facts: each is kept at once; what it changes in the past is said before."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtGui import QKeyEvent

from gambrel.services.currencies import currencies_like
from gambrel.services.shop_facts import Values, set_fact, shop_facts, take_fact_back, zones_like
from gambrel.ui.context import Context
from gambrel.ui.setup.facts_state import FACTS, OFFERS, Draft, Way, describe, told
from gambrel.ui.setup.facts_view import FactsView
from gambrel.ui.setup.page import Done, KeepingSection
from gambrel.ui.widgets.choice import Choice


class FactsSection(KeepingSection):
    """A tap chooses a fact, Keep or Enter saves what was typed for it."""

    kind = "shop"
    is_new = False
    """Whether the shop has no past yet."""

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.view = FactsView(context.theme)
        self.show_page(self.view)
        self._values: Values = {}
        self._fixed_currency = False
        self._draft = Draft()
        panel = self.view.panel
        self.view.chosen.connect(self.choose)
        panel.typed.connect(self.type)
        panel.chosen.connect(self.take_offer)
        panel.keep_wanted.connect(self.keep)

    def refresh(self) -> None:
        """Read the facts again."""
        found = shop_facts(self.context.book)
        self._values, self._fixed_currency = found.values, found.fixed_currency
        self._show()

    def _show(self) -> None:
        fixed, offers = self._fixed_currency, self._offers()
        state = describe(self._values, self._draft, offers, fixed_currency=fixed, new=self.is_new)
        self.view.show_state(state)

    def _offers(self) -> list[Choice]:
        """What may be meant by the letters so far; nothing once one of them stands there."""
        text, name = (self._draft.typed or "").strip(), self._draft.chosen
        if name == "time_zone":
            offers = [Choice(zone, zone, chosen=False) for zone in zones_like(text, OFFERS)]
        elif name == "currency":
            offers = [
                Choice(code, f"{code} · {title}", chosen=False)
                for code, title in currencies_like(text, OFFERS)
            ]
        else:
            return []
        return [] if text in [offer.key for offer in offers] else offers

    def choose(self, name: str) -> None:
        """Change another fact."""
        self._draft = self._draft.choose(name)
        self._show()
        self.focus_chosen()

    def focus_chosen(self) -> None:
        """Put the keyboard where the chosen fact is typed; digits come from anywhere."""
        if FACTS[self._draft.chosen].way in (Way.TEXT, Way.CLOCK):
            self.view.panel.text.setFocus()
            self.view.panel.text.selectAll()

    def type(self, text: str) -> None:
        """Take what was typed."""
        self._draft = self._draft.type(text)
        self._show()

    def take_offer(self, key: str) -> None:
        """Take a choice, or what was meant; it is not kept yet."""
        self.type(key)
        self.view.panel.keep.setFocus()

    def keep(self) -> None:
        """Save what was typed."""
        if not self.view.panel.keep.isEnabled():
            return
        refusal = self.do(self._done)
        self._draft = replace(self._draft, refusal=refusal)
        self._show()

    def _done(self) -> Done:
        name, book = self._draft.chosen, self.context.book
        change = set_fact(book, name, self._draft.value)
        self._draft = Draft(name)
        return Done(told(name, shop_facts(book).values), lambda: take_fact_back(book, change))

    def leave(self) -> None:
        """Forget what was typed."""
        self._draft = Draft(self._draft.chosen)
        self._show()

    def type_key(self, event: QKeyEvent) -> bool:
        keypad = self.view.panel.keypad
        return not keypad.isHidden() and keypad.handle_key(event)
