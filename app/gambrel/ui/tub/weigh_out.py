"""Weighing out what a blend made: the block itself, with products in place of a cutting list."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace

from PySide6.QtCore import QEvent, QObject, QRect
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import StageKind
from gambrel.services import bench
from gambrel.services.tub import BlendCost, BlendFacts, blend_cost, blend_facts
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.block.state import TopText, hours
from gambrel.ui.context import Context
from gambrel.ui.tub.contents import Contents
from gambrel.ui.tub.contents_state import describe_blend_end, describe_contents
from gambrel.ui.tub.products import BlendLook, products_of, with_products
from gambrel.ui.widgets.scroll import scrolled

GAP = 8
LEAST_CONTENTS, MOST_CONTENTS = 52, 140
"""How tall the list of what went in may be at the end; the rest of it is scrolled to."""
LOW = 700
"""A page lower than this leaves out the heading of the end."""
_MOVED = (QEvent.Type.Resize, QEvent.Type.Move, QEvent.Type.ShowToParent, QEvent.Type.HideToParent)


class WeighOut(BlockPlace):
    """The block for the tub's stages. It keeps its own memory, apart from the block's."""

    title = "Tub"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._made: tuple[Cut, ...] = ()
        self._first = ""
        self._cost: BlendCost | None = None
        self._facts: BlendFacts | None = None
        self.contents = Contents(context.theme)
        view = self.view
        view.top.rail_key.say(self.tr("Tub"))
        view.work.grid.list_key.hide()
        view.end.finish_key.say(self.tr("Finish it"))
        box = view.end.layout()
        assert isinstance(box, QVBoxLayout)
        holder = QWidget()
        inside = QVBoxLayout(holder)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.contents)
        area = scrolled(holder)
        area.setMinimumHeight(LEAST_CONTENTS)
        area.setMaximumHeight(MOST_CONTENTS)
        box.insertWidget(2, area)
        self.beside = Contents(context.theme)
        self.beside.setParent(view.work.grid)
        view.work.grid.map.installEventFilter(self)
        view.work.grid.more_key.installEventFilter(self)
        self._begun = True

    def begin(self, stage: str, made: Sequence[Cut], person: str, product: str = "") -> None:
        """Open a stage to be weighed out, with what blends make; ``product`` is chosen first."""
        self._put_down()
        self._made, self._first, self._cost = tuple(made), product, None
        self._facts = None
        self._hands = replace(self._hands, person=person, cut=product)
        book, show, fail = self._book, self._know_facts, self._failed
        self._context.tasks.run_task(lambda: blend_facts(book, stage), show, fail)
        self._read(stage, self._keep)

    @property
    def weighing(self) -> bool:
        """Whether a stage is in hand here."""
        return self._look is not None

    @property
    def takes_apart(self) -> bool:
        """Whether trays lie here that are worked back and not finished."""
        stage = self._look.on_block.stage if self._look is not None else None
        return stage is not None and stage.is_open and stage.kind is StageKind.TRIMOUT

    def _know_facts(self, facts: BlendFacts) -> None:
        self._facts = facts
        self._show_contents()

    def _show_contents(self) -> None:
        """What went in, once both the facts and the stage have been read."""
        if self._facts is None or self._look is None:
            return
        mincing = self._look.on_block.stage.kind is StageKind.BLEND
        text = describe_contents(self._facts, self._context.formats, mincing=mincing)
        self.contents.show_state(replace(text, cautions=""))
        self.beside.show_state(text)

    def _dressed(self, look: bench.Look) -> BlendLook:
        keys = products_of(look, self._made, self._first)
        shown = {row.cut.key for row in look.on_block.cuts}
        if isinstance(look, BlendLook) and shown.issuperset(keys):
            return look
        return with_products(look, keys)

    def _lay(self, look: bench.Look) -> None:
        shown = self._dressed(look)
        if shown.on_block.cut(self._hands.cut) is None and shown.products:
            self._hands = replace(self._hands, cut=shown.products[0])
        super()._lay(shown)
        self._show_contents()

    def _show(self) -> None:
        if self._look is not None:  # a whole look after a weighing knows of no products
            self._look = self._dressed(self._look)
        super()._show()
        if self._look is not None and self._end is None:
            self.view.top.show_top(self._top())
            self._place_beside()
            if self._look.on_block.standing:
                self.view.work.bottom.finish_key.say(self.tr("Finish"), self.tr("blend"))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in _MOVED:
            self._place_beside()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.view.end.title.setVisible(self.height() >= LOW)

    def _place_beside(self) -> None:
        """What went in stands in the drawing's place, or under the products where there is none."""
        grid = self.view.work.grid
        place = grid.map.geometry()
        if grid.map.isHidden():
            shown = [key.geometry().bottom() for key in grid.keys if not key.isHidden()]
            top = max(shown, default=0) + GAP
            side = grid.more_key
            foot = grid.height() if side.isHidden() else side.geometry().top()
            place = QRect(0, top, grid.width(), foot - top - GAP)
        self.beside.setGeometry(place)
        self.beside.setVisible(place.height() >= self.beside.heightForWidth(place.width()))
        self.beside.raise_()

    def _draw_end(self) -> None:
        if self._end is None or self._look is None:
            return
        if not self._end.on_block.stage.is_open:
            self._minutes = int(self._end.on_block.stage.minutes)
        end = describe_blend_end(self._end, self._minutes, self._context.formats, self._cost)
        self.view.show_end(self._top(), end)

    def _reckon(self) -> None:
        """Beside the block's reckoning ask what went in cost."""
        super()._reckon()
        book, stage = self._book, self._stage()

        def found(cost: BlendCost) -> None:
            if stage == self._stage():
                self._cost = cost
                self._draw_end()

        self._context.tasks.run_task(lambda: blend_cost(book, stage), found, self._failed)

    def _top(self) -> TopText:
        top = super()._top()
        if self._look is None:
            return top
        taken = len(self._look.on_block.taken)
        off = self._context.clock() - self._look.on_block.stage.started_at
        more = self.tr("{0} pieces went in").format(taken) if taken != 1 else ""
        return replace(top, more=more, off_rail=f"out {hours(off)}")

    def _leave(self) -> None:
        self._put_down()
        self._keep()
        self.go.emit("tub", "")

    def _show_waiting(self) -> None:
        """Nothing waits here: the tub itself shows what is open."""

    def _failed(self, error: Exception) -> None:
        if isinstance(error, Refusal) and self._look is None:
            self.go.emit("tub", str(error))
            return
        super()._failed(error)

    def _keep(self) -> None:
        """What lies here is in the book; of the block's own memory only the person changes."""
        station = self._context.station
        with suppress(Refusal):  # a book for reading only keeps nothing
            before = bench.kept(self._book, station)
            if before.person != self._hands.person:
                bench.keep(self._book, station, replace(before, person=self._hands.person))
