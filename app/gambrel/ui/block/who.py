"""Who cuts: one tap, and a PIN where the shop wants one."""

from __future__ import annotations

from dataclasses import replace

from gambrel.services import bench
from gambrel.services.people import check_pin, needs_pin
from gambrel.ui.block.pins import ENTER, PinPad
from gambrel.ui.block.state import Panel
from gambrel.ui.block.weighing import Weighing
from gambrel.ui.context import Context


class Who(Weighing):
    """Changes whose weighings follow."""

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._pads: dict[str, PinPad] = {}

    def _ask_who(self) -> None:
        """Offer the names; who is known is read meanwhile."""
        now = self._context.clock()
        self._context.tasks.run_task(
            lambda: bench.people(self._book, now), self._know_people, self._failed
        )

    def _know_people(self, names: tuple[str, ...]) -> None:
        self._people = names
        self._show()

    def _chosen_person(self, name: str) -> None:
        """Let someone cut, or ask for the PIN first."""
        if name != self._hands.person and needs_pin(self._book, name):
            self._pad = replace(self._pads.get(name, PinPad(name)), typed="")
            self._hands = replace(self._hands.quiet(), panel=Panel.PIN)
            self._show()
            return
        self.let_in(name)

    def let_in(self, name: str) -> None:
        """Give the weighings that follow a name."""
        self._pads.pop(name, None)
        self._hands = replace(self._hands.quiet(), panel=Panel.NONE, person=name)
        self._show()
        self._keep()

    def _pin_key(self, key: str) -> None:
        """A digit, the key that takes one back, or OK."""
        now, pad = self._context.clock(), self._pad
        if pad.locked(now):
            self._show()
            return
        if key != ENTER:
            self._pad = pad.press(key)
        elif not pad.can_enter:
            return
        elif check_pin(self._book, pad.name, pad.typed):
            self._pad = PinPad()
            self.let_in(pad.name)
            return
        else:
            self._pad = self._pads[pad.name] = pad.failed(now)
        self._show()
