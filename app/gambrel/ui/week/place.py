"""The Week as a place: reads the sheet, turns the weeks, keeps the papers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QStackedLayout

from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.remarks import remarks
from gambrel.domain.trade.clock import TradeWeek, business_day, week_before, week_of
from gambrel.services.sheets import read_week
from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.theme import Meaning
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
        self.view = WeekView(context.theme)
        self._desk: PrintDesk | None = None
        self._layers = QStackedLayout(self)
        self._layers.addWidget(self.view)
        self.view.earlier.connect(lambda: self._turn(-1))
        self.view.later.connect(lambda: self._turn(1))
        self.view.save.connect(self._save)
        self.view.print_wished.connect(self._print)

    def refresh(self) -> None:
        """Read the week again, off the window's thread."""
        if self._desk is not None and self._layers.currentWidget() is self._desk:
            self._desk.refresh()
        context, wanted = self._context, self._week

        def read() -> tuple[TradeWeek, WeekState]:
            with context.book.reading() as work:
                shop = work.shop()
            if shop is None:
                raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
            week = wanted or week_of(business_day(context.clock(), shop), shop)
            sheet = read_week(context.book, week)
            return week, describe(sheet, context.formats, remarks(sheet, context.formats))

        context.tasks.run_task(read, self._show, self._failed)

    def open_item(self, key: str) -> None:
        """Open the week with this name, for example ``2026-W47``."""
        from gambrel.domain.trade.clock import trade_week

        with self._context.book.reading() as work:
            shop = work.shop()
        if shop is not None:
            self._week = trade_week(key, shop)
            self.refresh()

    def _show(self, answer: tuple[TradeWeek, WeekState]) -> None:
        self._week, state = answer
        self.view.banner.clear()
        self.view.show_state(state)

    def _turn(self, direction: int) -> None:
        with self._context.book.reading() as work:
            shop = work.shop()
        if self._week is None or shop is None:
            return
        if direction < 0:
            self._week = week_before(self._week, shop)
        else:
            self._week = week_of(self._week.last.fromordinal(self._week.last.toordinal() + 1), shop)
        self.refresh()

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
        chosen, _ = QFileDialog.getSaveFileName(
            self, self.tr("Save the week"), str(Path(home) / name), f"*.{kind}"
        )
        return chosen
