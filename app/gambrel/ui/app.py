"""Opening the window: first it is painted, then the book is opened."""

from __future__ import annotations

import gc
import platform
import sys
import traceback
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from functools import partial
from importlib import import_module
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect
from PySide6.QtWidgets import QApplication

from gambrel.domain.refusals import Refusal
from gambrel.ui.book_care import RESTORED, BookCare
from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.shell import PROGRAM, PlaceEntry, Shell
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.empty import EmptyState

if TYPE_CHECKING:  # loaded after the window has been painted
    from gambrel.services.books import Book
    from gambrel.ui.welcome import WelcomePage

Clock = Callable[[], datetime]
DESIGNED = (1280, 800)
DARK, SHOWN = "dark:", "place:"
"""With the station after them, the settings that keep its look and the place it showed last."""


def _made_by(module: str, name: str) -> Callable[[Context], Place]:
    """A place's class, imported when it is first shown, so that the window opens quickly."""

    def make(context: Context) -> Place:
        made: Place = getattr(import_module(module), name)(context)
        return made

    return make


PLACES = (
    PlaceEntry("rail", "Rail", "beef", _made_by("gambrel.ui.rail.place", "RailPlace")),
    PlaceEntry("block", "Block", "scale", _made_by("gambrel.ui.block.place", "BlockPlace")),
    PlaceEntry("tub", "Tub", "layers", _made_by("gambrel.ui.tub.place", "TubPlace")),
    PlaceEntry("cabinet", "Cabinet", "tag", _made_by("gambrel.ui.cabinet.place", "CabinetPlace")),
    PlaceEntry("week", "Week", "calendar", _made_by("gambrel.ui.week.place", "WeekPlace")),
    PlaceEntry(
        "setup", "Setup", "settings", _made_by("gambrel.ui.setup.place", "SetupPlace"), aside=True
    ),
)
"""In the order of the meat's way, and Setup aside."""


def run(where: str | None, *, clock: Clock | None = None) -> int:
    """Open the window on a book and stay until it is closed.

    Args:
        where: The book's path or URL; None for the user's own.
        clock: What the program takes for now (aware, UTC); None for the machine's clock.
    Returns:
        The exit status, 0.
    """
    gc.disable()  # until the window is filled: what is loaded for it stays
    app = application()
    theme = Theme()
    theme.dress(app)
    shell = Shell(theme, PLACES)
    shell.setGeometry(first_size(app))
    sys.excepthook = report_to(shell)
    shell.painted.connect(lambda: open_in(shell, where, clock or now))
    shell.show()
    return app.exec()


def application() -> QApplication:
    """The one application of the process, made at the first call."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    app.setApplicationName(PROGRAM)
    return app


def first_size(app: QApplication) -> QRect:
    """1280 × 800 in the middle of the screen, or all of a smaller one."""
    room = app.primaryScreen().availableGeometry()
    size = QRect(0, 0, min(DESIGNED[0], room.width()), min(DESIGNED[1], room.height()))
    size.moveCenter(room.center())
    return size


def now() -> datetime:
    """This moment, as the book writes it."""
    return datetime.now(UTC)


def station() -> str:
    """How the record names this machine."""
    return platform.node() or "bench"


def open_in(shell: Shell, where: str | None, clock: Clock) -> None:
    """Open the book and fill the window; a refusal is shown in its place, with a way on."""
    try:
        fill(shell, where, clock)
    except Refusal as refusal:
        page = EmptyState(shell.theme, "triangle-alert", str(refusal), shell.tr("Try again"))
        page.acted.connect(lambda: open_in(shell, where, clock))
        shell.show_empty(page)
    finally:
        gc.freeze()  # what was loaded is never looked through again while somebody weighs
        gc.enable()


def fill(shell: Shell, where: str | None, clock: Clock) -> None:
    """Open a book, with the library that it needs, and show it in the window.

    Raises:
        Refusal: The book cannot be opened.
    """
    from gambrel.services.books import default_place, open_book

    book = open_book(where or str(default_place()))
    with book.reading() as work:
        shop = work.shop()
    tasks = PoolTasks()
    shell.closing.connect(tasks.wait)
    shell.closing.connect(book.close)
    if shop is None:
        welcome(shell, book, clock, tasks)
    else:
        show_shop(shell, book, clock, tasks)


def show_shop(shell: Shell, book: Book, clock: Clock, tasks: PoolTasks) -> None:
    """Show a book that has a shop, with the look and the place that this station kept."""
    from gambrel.services.books import shop_in
    from gambrel.services.settings import keep_setting, read_setting
    from gambrel.services.words import formats_for

    shop, here = shop_in(book), station()
    context = Context(book, shell.theme, formats_for(shop), clock, tasks, here)
    context.changes.changed.connect(partial(renew, shell, context))
    shell.theme.set_dark(read_setting(book, DARK + here) == "yes")

    def keep(name: str, value: str) -> None:
        with suppress(Refusal):  # a book for reading only keeps nothing
            keep_setting(book, name + here, value)

    shell.dark_chosen.connect(lambda dark: keep(DARK, "yes" if dark else "no"))
    shell.show_book(context, shop.name, read_setting(book, SHOWN + here))
    shell.place_shown.connect(lambda key: keep(SHOWN, key))
    open_scale(shell, context)
    if clock is now:  # a demo's clock is its own, and its book is gone when it ends
        BookCare(shell, context)


def open_scale(shell: Shell, context: Context) -> None:
    """Listen to this station's scale; one that cannot be set up is told, and weights are typed."""
    from gambrel.services.scales import has_scale, scale_of

    shell.closing.connect(context.scale.close)
    if not has_scale(context.book, context.station):
        return
    try:
        context.scale.open(scale_of(context.book, context.station))
    except Refusal as refusal:
        shell.refuse(str(refusal))


def renew(shell: Shell, context: Context, kinds: frozenset[str]) -> None:
    """Show the shop's facts as they are now, where they have changed.

    Places that were made for another currency, or on a book that is gone, are made anew.
    """
    if RESTORED in kinds:
        shell.forget_places()
    if "shop" not in kinds:
        return
    from gambrel.services.books import shop_in
    from gambrel.services.words import formats_for

    shop = shop_in(context.book)
    shell.name_shop(shop.name)
    if shop.currency != context.formats.currency:
        context.formats = formats_for(shop)
        shell.forget_places()


def welcome(shell: Shell, book: Book, clock: Clock, tasks: PoolTasks) -> None:
    """Show the ways to begin on a book without a shop, and go on with the one that is taken."""
    from gambrel.domain.numbers.money import Currency
    from gambrel.domain.trade.formats import Formats
    from gambrel.ui.welcome import WelcomePage

    none_yet = Formats(Currency("XXX", 2), "")  # ISO 4217: no currency
    page = WelcomePage(Context(book, shell.theme, none_yet, clock, tasks, station()))

    def opened(sentence: str) -> None:
        show_shop(shell, book, clock, tasks)
        if sentence:
            shell.banner.say(Meaning.FINE, sentence, word=shell.tr("Taken in"))
        else:
            shell.go("setup", "cuts")
            shell.banner.say(
                Meaning.FINE, shell.tr("The shop is open. Its cuts are next: type or import them.")
            )

    page.opened.connect(opened)
    page.demo_wanted.connect(lambda: look_round(shell, page, clock, tasks))
    shell.show_empty(page)


def look_round(shell: Shell, page: WelcomePage, clock: Clock, tasks: PoolTasks) -> None:
    """Make the invented shop in a temporary place, and show it instead of the empty book."""
    from shutil import rmtree
    from tempfile import mkdtemp

    from gambrel.services.books import latest_moment
    from gambrel.services.demo import going_on, make_demo_book

    place = Path(mkdtemp(prefix="gambrel-demo-"))
    leave = partial(rmtree, place, ignore_errors=True)
    shell.closing.connect(leave)

    def made(found: tuple[Book, datetime | None]) -> None:
        demo, last = found
        shell.closing.connect(demo.close)
        shell.closing.connect(leave)  # a file that is open cannot be removed everywhere
        show_shop(shell, demo, going_on(last or clock(), clock), tasks)
        shell.banner.say(
            Meaning.INFO,
            shell.tr("This shop is invented, and goes with the window. Your own book is empty."),
        )

    def work() -> tuple[Book, datetime | None]:
        demo = make_demo_book(place)
        return demo, latest_moment(demo)

    def failed(error: Exception) -> None:
        if not isinstance(error, Refusal | OSError):
            raise error
        page.refuse(str(error))

    page.set_busy(busy=True)
    tasks.run_task(work, made, failed)


def report_to(
    shell: Shell,
) -> Callable[[type[BaseException], BaseException, TracebackType | None], None]:
    """Report a fault of the program itself, and keep the window: what was weighed is safe."""

    def report(
        kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        if isinstance(error, Refusal):
            shell.refuse(str(error))
            return
        traceback.print_exception(kind, error, trace)
        shell.refuse(
            shell.tr(
                "The program made a mistake ({0}). What was weighed in is safe in the book. "
                "Go on, or close the window and open it again."
            ).format(kind.__name__)
        )

    return report
