"""The Tub: trim that stands free becomes a blend, is weighed out, and comes to a cost."""

from __future__ import annotations

from gambrel.domain.trade.records import Stage
from gambrel.services import bench
from gambrel.services.tub import Added, start_blend
from gambrel.ui.context import Context
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.aiming import Aiming
from gambrel.ui.tub.draft import Draft
from gambrel.ui.tub.weigh_out import WeighOut


class TubPlace(Aiming):
    """The tub of one station."""

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.weigh_out: WeighOut | None = None
        self.view.blend.start_wanted.connect(self.start)
        self.view.trim.open_wanted.connect(self._weigh_out)

    def refresh(self) -> None:
        """Read again what is shown: the tub, or what is being weighed out."""
        if self.weigh_out is not None and self.whole_window:
            self.weigh_out.refresh()
        else:
            super().refresh()

    def open_item(self, key: str) -> None:
        """Weigh out the stage with this key."""
        self._weigh_out(key)

    def start(self) -> None:
        """Take what is in hand into the book as a blend, and weigh out what it makes."""
        draft = self._draft
        added = [
            Added(each.ingredient.key, each.grams, each.cost, each.lot, each.use_by)
            for each in draft.extras
        ]
        act = self._act()

        def begun(stage: Stage) -> None:
            self._quiet()
            self._change(Draft())
            self._weigh_out(stage.key, draft.product)
            self._context.changes.tell("stages")

        self._run(lambda: start_blend(self._book, draft.takes, added, act), begun)

    def _weigh_out(self, stage: str, product: str = "") -> None:
        if self.weigh_out is None:
            self.weigh_out = WeighOut(self._context)
            self.weigh_out.go.connect(self._back)
            self.pages.addWidget(self.weigh_out)
        person = bench.kept(self._book, self._context.station).person
        made = self._shelf.products if self._shelf else ()
        self.weigh_out.begin(stage, made, person, product)
        self._turn(whole=True)

    def _back(self, _place: str, sentence: str) -> None:
        """Come back from weighing out; what lies there goes on later where it was."""
        self._turn(whole=False)
        if sentence:
            self._say(Meaning.STOP, sentence)
        elif self.weigh_out is not None and self.weigh_out.takes_apart:
            more = self.tr("The trays that are worked back lie on the block: go on there.")
            self._say(Meaning.INFO, more)
        self.refresh()

    def _turn(self, *, whole: bool) -> None:
        shown = self.weigh_out if whole and self.weigh_out is not None else self.view
        self.pages.setCurrentWidget(shown)
        self.setFocusProxy(shown)
        self.whole_window = whole
        self.window_wished.emit()
        shown.setFocus()
