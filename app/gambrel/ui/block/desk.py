"""What the block's presenter stands on: what lies there, what is in hand, and showing both."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from os import urandom

from PySide6.QtWidgets import QVBoxLayout

from gambrel.domain.bench.cautions import cold_caution, nothing_to_choose
from gambrel.domain.bench.steady import LiveWeight
from gambrel.domain.drawing.bodymap import BodyMap
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.keys import RANDOM_BYTES
from gambrel.services import bench
from gambrel.ui.block import questions
from gambrel.ui.block.choices import Question
from gambrel.ui.block.finish_state import describe_end
from gambrel.ui.block.map_state import MapFill, map_fill, map_of
from gambrel.ui.block.pages import next_cut
from gambrel.ui.block.pins import PinPad
from gambrel.ui.block.questions import Asking, question_for
from gambrel.ui.block.state import Hands, TopText, describe, off_rail, top_text
from gambrel.ui.block.view import BlockView
from gambrel.ui.context import Context
from gambrel.ui.place import Place


def _nothing() -> None:
    """What follows where nothing else does."""


class Desk(Place):
    """Reads what lies on the block and shows it; `BlockPlace` adds what people do there.

    The book is read off the window's thread, so the window never waits. An answer counts only if
    nothing was asked or done since (`_asked`), else it would show a moment that has passed.
    """

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._book = context.book
        self._look: bench.Look | None = None
        self._hands = Hands()
        self._live = LiveWeight()
        self._tub_of: dict[str, str] = {}
        self._people: tuple[str, ...] = ()
        self._asks = ""
        self._pad = PinPad()
        self._end: bench.Reckoning | None = None
        self._minutes = 0
        self._begun = False
        self._asked = 0
        self._opening = False
        self._telling = False
        self._species = ""
        self._cold_said = ""
        self._map: BodyMap | None = None
        self._map_shown: MapFill | None = None
        self.view = BlockView(context.theme)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.view)
        self.setFocusProxy(self.view)

    @property
    def look(self) -> bench.Look:
        """What lies on the block.

        Raises:
            LookupError: Nothing lies there.
        """
        if self._look is None:
            raise LookupError("nothing lies on the block")
        return self._look

    # --- Reading ---

    def _fetch(self, job: Callable[[], bench.Look], then: Callable[[], None] = _nothing) -> None:
        """Look in the background, lay what was found on the block, and go on."""
        self._asked += 1
        asked = self._asked

        def found(look: bench.Look) -> None:
            if asked == self._asked:
                self._lay(look)
                then()

        self._context.tasks.run_task(job, found, self._failed)

    def _read(self, stage: str, then: Callable[[], None] = _nothing) -> None:
        """Look at a stage; one that is finished shows its end."""
        self._fetch(lambda: bench.look(self._book, stage), then)

    def _lay(self, look: bench.Look) -> None:
        """Show what was found."""
        if self._look is None or self._look.on_block.stage.key != look.on_block.stage.key:
            self._map, self._map_shown = map_of(look.on_block.body), None
            self.view.work.grid.map.show_map(self._map)
        self._look, self._end, self._species = look, None, look.on_block.species
        if not look.on_block.stage.is_open:
            self._reckon()
            return
        if look.on_block.cut(self._hands.cut) is None:
            self._hands = replace(self._hands, cut=next_cut(look.on_block))
        if words := nothing_to_choose(look.on_block):
            self._hands = replace(self._hands, meaning="info", sentence=words)
        self._mind_the_cold()
        self._show()

    def _mind_the_cold(self) -> None:
        """Say once for each piece of work that it has been out of the cold for long.

        It is said where the weight stands, so not while one is being typed.
        """
        look, hands = self._look, self._hands
        if look is None or hands.sentence or hands.typed:
            return
        if self._cold_said == look.on_block.stage.key:
            return
        off = off_rail(look, self._context.clock())
        if caution := cold_caution(off, look.off_rail, self._context.formats):
            self._cold_said = look.on_block.stage.key
            self._hands = replace(self._hands, meaning="watch", sentence=caution)

    def _take_up(self, kept: bench.Kept) -> None:
        """Go on where this station stopped."""
        self._tub_of = dict(kept.tub_of)
        self._hands = Hands(cut=kept.cut, tub=kept.tub, person=kept.person)
        now = self._context.clock()

        def job() -> bench.Look | list[bench.Waiting]:
            if kept.stage:
                with suppress(Refusal):  # it may have been cancelled at another station
                    return bench.look(self._book, kept.stage)
            return bench.waiting(self._book, now)

        self._context.tasks.run_task(job, self._take_up_found, self._failed)

    def _take_up_found(self, found: bench.Look | list[bench.Waiting]) -> None:
        """Where one body alone is on a block, a station without memory shows that one."""
        if self._look is not None or self._opening:
            return
        if isinstance(found, bench.Look):
            self._lay(found)
            return
        on_block = [row for row in found if row.stage and not row.finished]
        if len(on_block) == 1:
            self._read(on_block[0].stage)
        else:
            self._show_choices(found)

    def _show_waiting(self) -> None:
        now = self._context.clock()
        self._context.tasks.run_task(
            lambda: bench.waiting(self._book, now), self._show_choices, self._failed
        )

    def _show_choices(self, rows: list[bench.Waiting]) -> None:
        if self._look is None:
            top = TopText(title="Block", person=self._hands.person)
            self.view.show_waiting(top, questions.what_waits(rows, self._context.formats))

    def _reckon(self) -> None:
        if self._look is None:
            return
        self._asked += 1
        asked, stage = self._asked, self._look.on_block.stage.key

        def found(reckoning: bench.Reckoning) -> None:
            if asked == self._asked:
                self._end = reckoning
                self._draw_end()

        self._context.tasks.run_task(lambda: bench.reckon(self._book, stage), found, self._failed)

    # --- Showing ---

    def _draw_end(self) -> None:
        if self._end is None or self._look is None:
            return
        if not self._end.on_block.stage.is_open:
            self._minutes = int(self._end.on_block.stage.minutes)
        end = describe_end(self._end, self._minutes, self._context.formats)
        self.view.show_end(self._top(), end)

    def _show(self) -> None:
        if self._look is None or self._end is not None:
            return
        now, formats = self._context.clock(), self._context.formats
        state = describe(self._look, self._hands, formats, now, self._live)
        self.view.show_state(state, self._question())
        self._show_map()

    def _question(self) -> Question | None:
        """What stands in place of the cuts, if anything does."""
        if self._look is None:
            return None
        asking = Asking(self._context.clock(), self._people, self._pad)
        return question_for(self._look, self._hands, asking, self._context.formats)

    def _show_map(self) -> None:
        """The drawing is told only of a step that can be seen."""
        if self._map is None or self._look is None:
            return
        shown = map_fill(self._map, self._look.on_block, self._hands.cut)
        if shown != self._map_shown:
            self._map_shown = shown
            self.view.work.grid.map.show_state(*shown)

    def _top(self) -> TopText:
        if self._look is None:
            return TopText(title="Block", person=self._hands.person)
        return top_text(self._look, self._hands, self._context.formats, self._context.clock())

    def _say(self, meaning: str, sentence: str, *, asked: bool = False) -> None:
        self._hands = replace(self._hands, meaning=meaning, sentence=sentence, asked=asked)
        self._show()

    def _failed(self, error: Exception) -> None:
        """Say a refusal in place; a fault of the program goes on to the window."""
        self._opening = False
        self.view.waits.setEnabled(True)
        if not isinstance(error, Refusal):
            raise error
        if self._look is not None and self._end is None:
            self._say("stop", str(error))
        else:
            raise error

    # --- Keeping ---

    def _tell(self, *kinds: str) -> None:
        """Tell the other places; this one has shown it already."""
        self._telling = True
        try:
            self._context.changes.tell(*kinds)
        finally:
            self._telling = False

    def _keep(self) -> None:
        hands, look = self._hands, self._look
        kept = bench.Kept(
            look.on_block.stage.key if look else "",
            hands.cut,
            hands.tub,
            hands.person,
            self._asks,
            self._tub_of,
        )
        with suppress(Refusal):  # a book for reading only keeps nothing
            bench.keep(self._book, self._context.station, kept)

    def _act(self) -> bench.Act:
        now = self._context.clock()
        return bench.Act(self._hands.person, self._context.station, now, urandom(RANDOM_BYTES))
