"""The Week as a place: reads the sheet, turns the weeks, keeps the papers."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QStackedLayout

from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.behind import Behind, Wish
from gambrel.domain.sheets.remarks import remarks
from gambrel.domain.trade.clock import TradeWeek, business_day, week_before, week_of
from gambrel.services.week_look import WeekLook, look_at_week, save_behind
from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.theme import Meaning
from gambrel.ui.week.behind_state import BehindState, describe_behind
from gambrel.ui.week.state import WeekState, describe
from gambrel.ui.week.view import WeekView

if TYPE_CHECKING:
    from gambrel.ui.printing.desk import PrintDesk

ChoosePath = Callable[[str, str], str]
"""Asked where a paper goes: suggested name and ending; the empty string means not at all."""


class WeekPlace(Place):
    """The owner's sheet. ``choose_path`` stands in for the file dialog in tests."""

    title = "Week"

    def __init__(self, context: Context, choose_path: ChoosePath | None = None) -> None:
        super().__init__()
        self._context = context
        self._choose_path = choose_path or self._ask_path
        self._week: TradeWeek | None = None
        self._look: WeekLook | None = None
        self._asked = 0
        self._trail: list[Wish] = []
        self._behind: tuple[Behind, BehindState] | None = None
        self.view = WeekView(context.theme)
        self._desk: PrintDesk | None = None
        self._layers = QStackedLayout(self)
        self._layers.addWidget(self.view)
        self.view.earlier.connect(lambda: self._turn(-1))
        self.view.later.connect(lambda: self._turn(1))
        self.view.save.connect(self._save)
        self.view.print_wished.connect(self._print)
        self.view.wished.connect(self._wish)
        self.view.behind.back.connect(self._back)
        self.view.behind.opened.connect(self._follow)
        self.view.behind.save.connect(self._save_behind)

    def refresh(self) -> None:
        """Read the week again, off the window's thread."""
        if self._desk is not None and self._layers.currentWidget() is self._desk:
            self._desk.refresh()
        context, wanted = self._context, self._week
        self._asked += 1
        asked = self._asked

        def read() -> tuple[WeekLook, WeekState]:
            with context.book.reading() as work:
                shop = work.shop()
            if shop is None:
                raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
            week = wanted or week_of(business_day(context.clock(), shop), shop)
            look = look_at_week(context.book, week)
            told = remarks(look.sheet, context.formats)
            return look, describe(look.sheet, context.formats, told)

        def show(answer: tuple[WeekLook, WeekState]) -> None:
            if asked == self._asked:  # else another week has been asked for since
                self._show(answer)

        context.tasks.run_task(read, show, self._failed)

    def open_item(self, key: str) -> None:
        """Open the week with this name, for example ``2026-W47``."""
        from gambrel.domain.trade.clock import trade_week

        with self._context.book.reading() as work:
            shop = work.shop()
        if shop is not None:
            self._go_to(trade_week(key, shop))

    def _go_to(self, week: TradeWeek) -> None:
        self._week = week
        self._trail.clear()
        self.refresh()

    def _show(self, answer: tuple[WeekLook, WeekState]) -> None:
        self._look, state = answer
        self._week = self._look.sheet.week
        self.view.banner.clear()
        self.view.show_state(state)
        if state.is_empty:
            self._trail.clear()
        self._show_behind()

    # What is behind a figure

    def _wish(self, wish: Wish) -> None:
        """Open a figure anew."""
        self._trail = [wish]
        self._show_behind()

    def _follow(self, row: int) -> None:
        """Open what a row of the panel leads to."""
        wish = self._behind[1].wishes[row] if self._behind is not None else None
        if wish is not None and wish not in self._trail:
            self._trail.append(wish)
            self._show_behind()

    def _back(self) -> None:
        del self._trail[-1:]
        self._show_behind()

    def _show_behind(self) -> None:
        """Show the last of the trail, gathered off the window's thread."""
        look, formats = self._look, self._context.formats
        if not self._trail or look is None:
            self._behind = None
            self.view.show_behind(None)
            return
        wish = self._trail[-1]

        def gather() -> tuple[Behind, BehindState]:
            behind = look.opening.open(wish)
            return behind, describe_behind(behind, look.sheet.shop, formats)

        def show(answer: tuple[Behind, BehindState]) -> None:
            if self._trail[-1:] == [wish] and self._look is look:
                self._behind = answer
                self.view.show_behind(answer[1])

        self._context.tasks.run_task(gather, show, self._gone)

    def _gone(self, error: Exception) -> None:
        """What was open is not in the book any more."""
        self._trail.clear()
        self.view.show_behind(None)
        self._failed(error)

    def _save_behind(self) -> None:
        look, behind = self._look, self._behind
        if look is None or behind is None or self._week is None:
            return
        chosen = self._choose_path(f"week-{self._week.name}-list.csv", "list")
        if not chosen:
            return
        self.view.set_busy(busy=True)

        def keep() -> str:
            save_behind(look, behind[0], Path(chosen))
            return chosen

        self._context.tasks.run_task(keep, self._saved, self._failed)

    # Turning, keeping, printing

    def _turn(self, direction: int) -> None:
        with self._context.book.reading() as work:
            shop = work.shop()
        if self._week is None or shop is None:
            return
        if direction < 0:
            self._go_to(week_before(self._week, shop))
        else:
            self._go_to(week_of(self._week.last + timedelta(days=1), shop))

    def _save(self, kind: str) -> None:
        if self._week is None:
            return
        name = f"week-{self._week.name}" + ("" if kind == "csv" else f".{kind}")
        chosen = self._choose_path(name, kind)
        if not chosen:
            return
        self.view.set_busy(busy=True)
        book, week = self._context.book, self._week.name

        def keep() -> str:
            from gambrel.services.papers import save_week

            save_week(book, week, kind, Path(chosen))
            return chosen

        self._context.tasks.run_task(keep, self._saved, self._failed)

    @property
    def desk(self) -> PrintDesk:
        """The print desk, made when it is first wanted."""
        if self._desk is None:
            from gambrel.ui.printing.desk import PrintDesk

            self._desk = PrintDesk(self._context)
            self._desk.left.connect(lambda: self._layers.setCurrentWidget(self.view))
            self._layers.addWidget(self._desk)
        return self._desk

    def _print(self) -> None:
        """Show the week's sheet, and beside it those of its days."""
        from gambrel.services.printing.documents import DaySheet, WeekSheet

        if self._week is None:
            return
        first = self._week.first.toordinal()
        days = [self._week.first.fromordinal(first + number) for number in range(7)]
        self._layers.setCurrentWidget(self.desk)
        self.desk.show_sources([WeekSheet(self._week.name), *(DaySheet(day) for day in days)])

    def _saved(self, path: str) -> None:
        self.view.set_busy(busy=False)
        self.view.banner.say(Meaning.FINE, self.tr("Saved as {0}.").format(path))

    def _failed(self, error: Exception) -> None:
        self.view.set_busy(busy=False)
        if not isinstance(error, (Refusal, OSError)):
            raise error
        self.view.banner.say(Meaning.STOP, str(error))

    def _ask_path(self, name: str, kind: str) -> str:
        home = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        if kind == "csv":
            return QFileDialog.getExistingDirectory(self, self.tr("Folder for the tables"), home)
        ending = Path(name).suffix
        chosen, _ = QFileDialog.getSaveFileName(
            self, self.tr("Save the week"), str(Path(home) / name), f"*{ending}"
        )
        return chosen
