"""The Rail: connects its view with the services."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QVBoxLayout

from gambrel.domain.bench.rail import HangingBody
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.clock import business_day
from gambrel.services.rail import Door, Rail, Received, add_supplier, door, rail, receive, reweigh
from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.rail.receive_state import (
    Entry,
    changed,
    delivery_of,
    describe_entry,
    stepped,
)
from gambrel.ui.rail.state import ReweighState, describe, describe_reweigh, scale_at_door
from gambrel.ui.rail.view import RailView
from gambrel.ui.theme import Meaning


class RailPlace(Place):
    """What hangs; take a body in, weigh one again, or send it to the block."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.title = self.tr("Rail")
        self.context = context
        self._rail: Rail | None = None
        self._door: Door | None = None
        self._entry = Entry()
        self._reweighing: HangingBody | None = None
        self._asked = 0
        self.view = RailView(context.theme, context.formats.currency, context.formats.symbol)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.view)
        self._connect()

    def _connect(self) -> None:
        view = self.view
        self.context.scale.reading.connect(self._scale_says)
        view.receive_wanted.connect(self._open_form)
        view.grid.block_wanted.connect(lambda key: self.go.emit("block", key))
        view.grid.reweigh_wanted.connect(self.open_reweigh)
        view.reweigh.typed.connect(lambda _text: self._show_reweigh())
        view.reweigh.scale_asked.connect(self.context.scale.request)
        view.reweigh.keep_wanted.connect(self._keep_weight)
        view.reweigh.closed.connect(self._close_reweigh)
        view.receive.changed.connect(self._change)
        view.receive.day_stepped.connect(self._step_day)
        view.receive.supplier_wanted.connect(self._add_supplier)
        view.receive.scale_wanted.connect(self._take_from_scale)
        view.receive.take_wanted.connect(self._take_in)
        view.receive.closed.connect(self._close_form)

    def refresh(self) -> None:
        """Read the rail in the background and show it; only the last one asked for counts."""
        self._asked += 1
        asked, book, now = self._asked, self.context.book, self.context.clock()

        def show(found: Rail) -> None:
            if asked == self._asked:
                self._show(found)

        self.context.tasks.run_task(lambda: rail(book, now), show, self._fail)

    def _show(self, found: Rail) -> None:
        self._rail = found
        self.view.show_state(describe(found, self.context.formats))

    def _fail(self, error: Exception) -> None:
        if not isinstance(error, Refusal):
            raise error
        self.view.banner.say(Meaning.STOP, str(error))

    def open_item(self, key: str) -> None:
        """Open the panel that weighs this body again."""
        self.open_reweigh(key)

    # --- Weigh again ---

    def open_reweigh(self, key: str) -> None:
        """Open the panel for a body that hangs."""
        rows = self._rail.bodies if self._rail else ()
        self._reweighing = next((row for row in rows if row.body.key == key), None)
        if self._reweighing is None:
            return
        self.view.banner.clear()
        self.view.grid.mark(key)
        self.view.reweigh.keypad.clear()
        self._show_reweigh()
        self.view.show_reweigh(True)
        self.view.reweigh.setFocus()

    def _scale_says(self) -> None:
        self._show_reweigh()
        self._show_scale()

    def _reweigh_state(self, row: HangingBody) -> ReweighState:
        """What is typed, or what the scale says at this very moment."""
        typed, scale = self.view.reweigh.keypad.text, self.context.scale
        formats = self.context.formats
        return describe_reweigh(row, typed, formats, scale.live, by_tap=scale.asked_by_tap)

    def _show_reweigh(self) -> None:
        if self._reweighing is not None:
            self.view.reweigh.show_state(self._reweigh_state(self._reweighing))

    def _keep_weight(self) -> None:
        row, context, panel = self._reweighing, self.context, self.view.reweigh
        if row is None:
            return
        state = self._reweigh_state(row)
        if not state.can_keep or state.doubt != panel.doubt.sentence:
            self._show_reweigh()  # the weight is another than the one that was read
            return
        by_scale = not panel.keypad.text
        try:
            made = reweigh(context.book, row.body.key, state.grams, context.clock())
        except Refusal as refusal:
            self.view.banner.say(Meaning.STOP, str(refusal))
            return
        self._close_reweigh()
        if by_scale:
            context.scale.used()
        kilos = context.formats.kg(made.grams, 2)
        sentence = self.tr("{0} weighs {1} kg now.").format(state.title, kilos)
        self.view.banner.say(Meaning.FINE, sentence)
        context.changes.tell("reweighs")

    def _close_reweigh(self) -> None:
        self._reweighing = None
        self.view.show_reweigh(False)
        self.view.grid.mark("")
        self.setFocus()

    # --- Receive ---

    def _open_form(self) -> None:
        self._close_reweigh()
        self.view.banner.clear()
        try:
            self._door = door(self.context.book)
        except Refusal as refusal:
            self.view.banner.say(Meaning.STOP, str(refusal))
            return
        self._entry = Entry()
        self.view.receive.refusal.clear()
        self.view.show_form()
        self._show_form()
        self.view.receive.choose_field("docket")
        self.view.receive.setFocus()

    def _today(self, at: Door) -> date:
        return business_day(self.context.clock(), at.shop)

    def _show_form(self) -> None:
        if self._door is not None:
            now, formats = self.context.clock(), self.context.formats
            self.view.receive.show_state(describe_entry(self._entry, self._door, formats, now))
            self._show_scale()

    def _show_scale(self) -> None:
        scale = self.context.scale
        text, can_take = scale_at_door(scale.live, self.context.formats, by_tap=scale.asked_by_tap)
        self.view.receive.show_scale(text, can_take=can_take)

    def _take_from_scale(self) -> None:
        """Write down what the scale says at this moment, or ask it."""
        scale = self.context.scale
        live = scale.live
        if not live.weighable:
            scale.request()
            return
        self._change("received", kg_text(live.grams or 0))
        self.view.receive.reload_keypad()
        scale.used()

    def _change(self, name: str, text: str) -> None:
        if self._door is None:
            return
        self._entry = changed(self._entry, name, text, self._door)
        self.view.receive.refusal.clear()  # it was about what stood there before
        self._show_form()
        if name in ("portion", "supplier"):
            self.view.receive.reload_keypad()

    def _add_supplier(self, name: str) -> None:
        """Take a new supplier into the book and choose it."""
        try:
            made = add_supplier(self.context.book, name)
            self._door = door(self.context.book)
        except Refusal as refusal:
            self.view.receive.refusal.say(Meaning.STOP, str(refusal))
            return
        self.view.receive.refusal.clear()
        self._change("supplier", made.key)
        self.context.changes.tell("suppliers")

    def _step_day(self, days: int) -> None:
        if self._door is not None:
            self._entry = stepped(self._entry, days, self._today(self._door))
            self._show_form()

    def _take_in(self) -> None:
        context = self.context
        try:
            delivery = delivery_of(self._entry, context.formats.currency)
            made = receive(context.book, delivery, context.formats, context.clock())
        except Refusal as refusal:
            self.view.receive.refusal.say(Meaning.STOP, str(refusal))
            return
        self._close_form()
        self._tell(made)
        context.changes.tell("bodies")

    def _tell(self, made: Received) -> None:
        kilos = self.context.formats.kg(made.body.received_g, 2)
        sentence = self.tr("{0} hangs with {1} kg.").format(made.body.key, kilos)
        if not made.claims:
            self.view.banner.say(Meaning.FINE, sentence)
            return
        notes = " ".join(claim.sentence for claim in made.claims)
        word = self.tr("Taken in, and kept as a note to claim")
        self.view.banner.say(Meaning.WATCH, f"{sentence} {notes}", word=word)

    def _close_form(self) -> None:
        self.view.show_cards()
        self.setFocus()
