"""What the tub's presenter stands on: what was read, what is in hand, and showing both."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from os import urandom
from typing import TypeVar

from PySide6.QtWidgets import QVBoxLayout

from gambrel.domain.bench.trim import FreeClass
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.keys import RANDOM_BYTES
from gambrel.services import bench
from gambrel.services.settings import keep_setting, read_setting
from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.blend_state import Beside, describe_blend
from gambrel.ui.tub.draft import Draft
from gambrel.ui.tub.kept import NAME, draft_text, read_draft
from gambrel.ui.tub.pages import Pages
from gambrel.ui.tub.panel_state import ready_rows
from gambrel.ui.tub.picking import Picking
from gambrel.ui.tub.shelf import Shelf, read_shelf
from gambrel.ui.tub.trim_state import describe_trim, unsold
from gambrel.ui.tub.trim_view import TRIM
from gambrel.ui.tub.view import BLEND, TubView

T = TypeVar("T")

MOST_UNDONE = 50
"""So many changes of the blend can be taken back one by one."""


class TubDesk(Place):
    """Reads the book off the window's thread and shows it; only the last look asked for counts."""

    title = "Tub"

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._book = context.book
        self._shelf: Shelf | None = None
        self._draft = Draft()
        self._before: list[Draft] = []
        self._picking = Picking()
        self._shelf_shown = TRIM
        self._panel = BLEND
        self._asked = 0
        self._undo_act: Callable[[], None] | None = None
        self._offered: Callable[[], None] | None = None
        self._busy = False
        self.view = TubView(context.theme)
        self.pages = Pages()
        self.pages.addWidget(self.view)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.pages)
        self.setFocusProxy(self.view)
        self.view.set_ready(ready=False)
        self.view.undo_wanted.connect(self.undo)
        self.view.blend.undo_wanted.connect(self.undo)
        self.view.banner.acted.connect(self._banner_acted)
        self.view.banner.dismissed.connect(self._forget_acts)

    # --- Reading ---

    def refresh(self) -> None:
        """Read again what stands free."""
        self._asked += 1
        asked, book, now = self._asked, self._book, self._context.clock()

        def show(found: Shelf) -> None:
            if asked == self._asked:
                self._know(found)

        self._context.tasks.run_task(lambda: read_shelf(book, now), show, self._failed)

    def _know(self, shelf: Shelf) -> None:
        if self._shelf is None:  # the first look takes up what a sudden stop left
            known = {each.key: each for each in shelf.ingredients}
            kept = read_setting(self._book, NAME + self._context.station)
            self._draft = read_draft(kept, known)
        self._shelf = shelf
        self._draft = self._draft.standing(shelf.pieces)
        self.view.set_ready(ready=True)
        self._show()

    def _run(self, job: Callable[[], T], then: Callable[[T], None]) -> None:
        """Do what reads the whole book off the window's thread, one thing at a time."""
        if self._busy:
            return
        self._busy = True

        def done(value: T) -> None:
            self._busy = False
            then(value)

        def failed(error: Exception) -> None:
            self._busy = False
            self._failed(error)
            self.refresh()

        self._context.tasks.run_task(job, done, failed)

    @property
    def shelf(self) -> Shelf:
        """What was read last.

        Raises:
            LookupError: Nothing was read yet.
        """
        if self._shelf is None:
            raise LookupError("the tub has not been read yet")
        return self._shelf

    def _classes(self) -> tuple[FreeClass, ...]:
        """The classes at the left."""
        stock = self.shelf.stock
        return stock.trim if self._shelf_shown == TRIM else unsold(stock.trays)

    # --- Showing ---

    def _show(self) -> None:
        if self._shelf is None:
            return
        formats, shelf = self._context.formats, self._shelf
        classes, taken = self._classes(), self._draft.by_piece
        trim = describe_trim(classes, self._picking, formats, taken)
        self.view.summary.setText(trim.summary)
        self.view.trim.show_state(trim, self._shelf_shown)
        beside = Beside(
            shelf.costs, shelf.cuts, shelf.stock.trade.shop.work_per_hour, shelf.species_before
        )
        blend = describe_blend(self._draft, shelf.classes, beside, formats)
        ready = ready_rows(shelf, formats) if self._draft.empty else ()
        self.view.blend.show_state(blend, ready, can_undo=bool(self._before))
        self.view.trim.show_open(self._open_rows())
        self._show_panel()

    def _show_panel(self) -> None:
        """Fill the panel at the right; `TubPlace` knows how."""

    def _open_rows(self) -> list[tuple[str, str, str]]:
        formats, shop = self._context.formats, self.shelf.stock.trade.shop
        return [
            (
                row.stage.key,
                self.tr("Weigh out {0} kg").format(formats.kg(row.input_g - row.output_g, 2)),
                f"{formats.time(row.stage.started_at, shop)} · {', '.join(row.names)}",
            )
            for row in reversed(self.shelf.open)
        ]

    def _open_panel(self, key: str) -> None:
        self._panel = key
        self.view.show_panel(key)
        self._show()

    # --- Saying ---

    def _say(self, meaning: Meaning, sentence: str, back: Callable[[], None] | None = None) -> None:
        """Say what was done, with a way to take it back."""
        self._undo_act, self._offered = back, None
        self.view.banner.say(meaning, sentence, action=self.tr("Undo") if back else "")

    def _offer(self, meaning: Meaning, sentence: str, act: str, deed: Callable[[], None]) -> None:
        """Say how something stands, with what may be done about it at one more tap."""
        self._undo_act, self._offered = None, deed
        self.view.banner.say(meaning, sentence, action=act)

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, Refusal):
            raise error
        self._say(Meaning.STOP, str(error))

    def _quiet(self) -> None:
        self._forget_acts()
        self.view.banner.clear()

    def _forget_acts(self) -> None:
        self._undo_act = self._offered = None

    def _banner_acted(self) -> None:
        """Do what the banner's key says."""
        deed = self._undo_act or self._offered
        self._quiet()
        if deed is not None:
            self._try(deed)

    def _try(self, deed: Callable[[], None]) -> bool:
        """Do something that the book may refuse; True when it did not."""
        try:
            deed()
        except Refusal as refusal:
            self._failed(refusal)
            return False
        return True

    # --- The blend in hand ---

    def _change(self, draft: Draft) -> None:
        """Another blend in hand; the one before can be had back."""
        if draft != self._draft:
            self._before = [*self._before, self._draft][-MOST_UNDONE:]
            self._hold(draft)
        self._show()

    def _hold(self, draft: Draft) -> None:
        """Take another blend in hand, and keep it against a sudden stop."""
        self._draft = draft
        with suppress(Refusal):  # a book for reading only keeps nothing
            keep_setting(self._book, NAME + self._context.station, draft_text(draft))

    def undo(self) -> None:
        """Take back what the banner offers, else the last change of the blend."""
        if self._undo_act is not None:
            self._banner_acted()
        elif self._before:
            draft = self._before.pop()
            self._hold(draft.standing(self._shelf.pieces) if self._shelf else draft)
            self._show()

    def _act(self) -> bench.Act:
        """Who acts: the person that the block of this station knows."""
        person = bench.kept(self._book, self._context.station).person
        return bench.Act(
            person, self._context.station, self._context.clock(), urandom(RANDOM_BYTES)
        )

    def _pick(self, **changes: object) -> None:
        self._picking = replace(self._picking, **changes)  # type: ignore[arg-type]
        self._show()
