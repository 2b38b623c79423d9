"""The price of one cut, and its special: from the keypad to the book."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QObject
from PySide6.QtGui import QKeyEvent

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.dropping import Dropped
from gambrel.services.cabinet import dropped, set_price
from gambrel.services.specials import end_special, set_special
from gambrel.ui.cabinet.desk import Desk
from gambrel.ui.cabinet.price_state import price_state
from gambrel.ui.cabinet.special_state import special_days, special_state
from gambrel.ui.cabinet.view import PRICE, SPECIAL
from gambrel.ui.theme import Meaning
from gambrel.ui.widgets.keypad import Keypad


class OnePrice(QObject):
    """Shows the price panel and the special panel for the cut in hand, and does their acts."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._context = desk, desk.context
        self._price, self._special = desk.view.price, desk.view.special
        self._dropped: dict[tuple[int, str, Method], Dropped | None] = {}
        self._price.typed_changed.connect(lambda _text: self.show())
        self._price.wished.connect(lambda: self.set_price(sure=False))
        self._price.body.chosen.connect(self._choose_beside)
        self._price.special_wished.connect(self._open_special)
        self._price.end_wished.connect(self._end_special)
        self._special.changed.connect(self.show_special)
        self._special.wished.connect(self._set_special)
        self._special.left.connect(lambda: desk.view.show_panel(PRICE))
        desk.view.banner.acted.connect(lambda: self.set_price(sure=True))
        desk.view.table.typed.connect(self._key)
        desk.acted.connect(self._done)

    def show(self) -> None:
        """Show the cut in hand with the price that is typed."""
        line = self._desk.line
        if line is None:
            return
        bodies, index = self._desk.bodies()
        self._price.body.show_options([body.title for body in bodies], index)
        self._price.body.setVisible(len(bodies) > 1)
        body = bodies[index] if bodies else None
        typed = self._desk.parse(self._price.keypad.text)
        cabinet, formats = self._desk.cabinet, self._context.formats
        state = price_state(cabinet, line, typed, body, formats, self._known_drop())
        self._price.show_state(state)
        if state.warning:
            self._ask_drop()

    def _key_of_drop(self) -> tuple[int, str, Method]:
        return self._desk.reading, self._desk.cut, self._desk.cabinet.method

    def _known_drop(self) -> Dropped | None:
        return self._dropped.get(self._key_of_drop())

    def _ask_drop(self) -> None:
        """Work out what dropping the cut would do, once for each look at the book."""
        key = self._key_of_drop()
        if key in self._dropped:
            return
        self._dropped = {known: said for known, said in self._dropped.items() if known[0] == key[0]}
        self._dropped[key] = None
        book, now = self._context.book, self._desk.cabinet.at

        def done(said: Dropped) -> None:
            self._dropped[key] = said
            self.show()

        self._desk.later(lambda: dropped(book, key[1], now, key[2]), done)

    def _choose_beside(self, index: int) -> None:
        self._desk.beside = self._desk.bodies()[0][index].key
        self.show()

    def _key(self, event: QKeyEvent) -> None:
        """A key of a real keyboard, typed while the table has the focus."""
        special = self._desk.view.stack.currentIndex() == SPECIAL
        keypad: Keypad = self._special.keypad if special else self._price.keypad
        if event.text() == "\x1b":
            keypad.clear()
        elif event.text() != "\r":
            keypad.handle_key(event)
        elif special:
            self._set_special()
        else:
            self.set_price(sure=False)

    def set_price(self, *, sure: bool) -> None:
        """Set what is typed; a likely slip is asked about first, in place."""
        line = self._desk.line
        price = self._desk.parse(self._price.keypad.text)
        if line is None or price is None or not self._price.set_button.isEnabled():
            return
        doubt = "" if sure else self._price.fault.sentence
        if doubt:
            self._desk.say(Meaning.WATCH, doubt, self.tr("Set it anyway"))
            return
        cut = line.cut.key
        self._desk.act(lambda now: set_price(self._context.book, cut, price, now), line.cut.name)

    def _done(self) -> None:
        self._price.keypad.clear()
        self._special.keypad.clear()

    # A special

    def _open_special(self) -> None:
        """Begin with the coming Friday to Sunday, the days that a special mostly has."""
        self._special.keypad.clear()
        days = special_days(self._desk.cabinet.at, self._desk.cabinet)
        friday = next(n for n, day in enumerate(days) if day.weekday() == 4)
        self.show_special()
        self._special.choose_days(friday, friday + 2)
        self._desk.view.show_panel(SPECIAL)
        self.show_special()

    def show_special(self) -> None:
        """Show the special that is planned."""
        line = self._desk.line
        if line is None:
            return
        cabinet, formats = self._desk.cabinet, self._context.formats
        days = self._days()
        typed = self._desk.parse(self._special.keypad.text)
        self._special.show_state(special_state(cabinet, line, typed, days, formats))

    def _days(self) -> tuple[date, date]:
        offered = special_days(self._desk.cabinet.at, self._desk.cabinet)
        return offered[self._special.first.index], offered[self._special.last.index]

    def _set_special(self) -> None:
        line, price = self._desk.line, self._desk.parse(self._special.keypad.text)
        if line is None or price is None or not self._special.set_button.isEnabled():
            return
        cut, days, book = line.cut.key, self._days(), self._context.book
        if self._desk.act(lambda now: set_special(book, cut, price, days, now), line.cut.name):
            self._desk.view.show_panel(PRICE)

    def _end_special(self) -> None:
        line = self._desk.line
        if line is not None:
            cut, book = line.cut.key, self._context.book
            self._desk.act(lambda now: end_special(book, cut, now), line.cut.name)
