"""The limits that the shop sets itself, each saved at once."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtGui import QKeyEvent

from gambrel.services.settings import Change, take_back
from gambrel.services.shop_limits import Own, country_name, own_limits, set_country, set_limit
from gambrel.ui.context import Context
from gambrel.ui.setup.page import Done, KeepingSection
from gambrel.ui.setup.shop_state import COUNTRY, LIMITS, Draft, describe, told
from gambrel.ui.setup.shop_view import ShopView


class ShopSection(KeepingSection):
    """A tap chooses a limit, digits type, Keep or Enter saves."""

    kind = "limits"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.view = ShopView(context.theme)
        self.show_page(self.view)
        self._own = Own({})
        self._draft = Draft()
        self.view.chosen.connect(self.choose)
        self.view.panel.typed.connect(self.type)
        self.view.panel.keep_wanted.connect(self.keep)
        self.view.panel.usual_wanted.connect(self.back_to_usual)

    def refresh(self) -> None:
        """Read again what is set."""
        self._own = own_limits(self.context.book)
        self._show()

    def _show(self) -> None:
        self.view.show_state(describe(self._own, self._draft, country_name(self._own.country)))

    def choose(self, key: str) -> None:
        """Change another limit."""
        self._draft = self._draft.choose(key)
        self._show()
        if key == COUNTRY:
            self.view.panel.letters.setFocus()

    def type(self, text: str) -> None:
        """Take what was typed."""
        self._draft = self._draft.type(text)
        self._show()

    def keep(self) -> None:
        """Save what was typed."""
        if self._draft.typed:
            self._set(self._draft.typed)

    def back_to_usual(self) -> None:
        """Set nothing here: the usual holds."""
        self._set("")

    def _set(self, text: str) -> None:
        refusal = self.do(lambda: self._done(text))
        self._draft = replace(self._draft, refusal=refusal)
        self._show()

    def _done(self, text: str) -> Done:
        book = self.context.book
        limit = LIMITS.get(self._draft.chosen)
        if limit is None:
            change = set_country(book, text)
            sentence = self._country_told(change)
        else:
            before = own_limits(book)
            change = set_limit(book, limit, text)
            sentence = told(limit, before, own_limits(book))
        self._draft = replace(self._draft, typed="")
        return Done(sentence, lambda: take_back(book, change))

    def _country_told(self, change: Change) -> str:
        if not change.after:
            return self.tr("No country is set from now on.")
        return self.tr("The country is {0} from now on.").format(country_name(change.after))

    def leave(self) -> None:
        """Forget what was typed."""
        self._draft = Draft(self._draft.chosen)
        self._show()

    def type_key(self, event: QKeyEvent) -> bool:
        keypad = self.view.panel.keypad
        return not keypad.isHidden() and keypad.handle_key(event)
