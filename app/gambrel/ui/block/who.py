"""Who cuts: one tap, and a PIN where the shop wants one."""

from __future__ import annotations

from dataclasses import replace

from gambrel.services import bench
from gambrel.services.people import check_pin, has_left, needs_pin
from gambrel.ui.block.pins import ENTER, PinPad
from gambrel.ui.block.state import Panel
from gambrel.ui.block.weighing import Weighing
from gambrel.ui.context import Context


class Who(Weighing):
    """Changes whose weighings follow.

    A name is asked for again before the next piece when its person left the team, or has a PIN and
    the program began anew; what lies on the block stays as it was.
    """

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._pads: dict[str, PinPad] = {}

    def _take_up(self, kept: bench.Kept) -> None:
        """Go on where this station stopped; whoever has a PIN gives it again."""
        name = kept.person or kept.asks
        if name and (has_left(self._book, name) or needs_pin(self._book, name)):
            self._asks, kept = name, replace(kept, person="")
        super()._take_up(kept)

    def _take_up_found(self, found: bench.Look | list[bench.Waiting]) -> None:
        super()._take_up_found(found)
        if self._look is not None and self._end is None:
            self._ask_again()

    def _mind_who(self) -> None:
        """Ask who cuts when the person who did has left the team."""
        name = self._hands.person
        if name and has_left(self._book, name):
            self._asks = name
            self._hands = replace(self._hands, person="")
            self._keep()
        self._ask_again()

    def _ask_again(self) -> None:
        """Put the question of the name in place of the cuts, while it is open."""
        if not self._asks:
            return
        if needs_pin(self._book, self._asks):
            self._chosen_person(self._asks)
            return
        self._hands = replace(self._hands.quiet(), panel=Panel.PEOPLE)
        self._ask_who()
        self._show()

    def weigh(self) -> None:
        """Weigh in, once it is known who does."""
        asking = self._asks and self._hands.panel in (Panel.PEOPLE, Panel.PIN)
        if self._look is not None and not asking:
            self._mind_who()
        if not self._asks:
            super().weigh()

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
        self._asks = ""
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
