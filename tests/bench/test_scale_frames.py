"""A window beside a scale that sends: no turn of its loop may take long, however fast it sends."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from time import perf_counter, thread_time

import pytest
from PySide6.QtCore import QEventLoop, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from gambrel.domain.bench.scale_setting import ScaleKind, ScaleSetting
from gambrel.services.words import formats_for
from gambrel.storage.book import Book, open_book
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.context import Context
from gambrel.ui.scale.section import ScaleSection
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Theme
from tests.bench.ratio import Ratio, keep
from tests.block_shop import fill
from tests.fake_scale import FakeScale, line
from tests.trades import a_shop

FRAME = 0.050
"""Seconds. Issue 3's aim for every frame while a scale sends 20 readings a second."""

LEAST = 0.001
SECONDS = 2
SPARE = 2
BUSY_CEILING = 0.250
"""By the wall clock another process may take the processor in the middle of a turn. So the aim is
held against the processor time of the window's own thread, without exception; by the wall clock the
longest is printed, and all but two must stay under this."""

pytestmark = pytest.mark.bench


class Turns(QObject):
    """Measures each turn of the loop: the time from one look to the next, paintings and all.

    A timer of no interval comes up once a turn, so the time between two of its looks is what the
    window could not answer in. Only what takes a millisecond or more is kept: a list of all turns
    is so long that the garbage collector's walk over it would be the longest turn.
    """

    def __init__(self) -> None:
        super().__init__()
        self.wall: list[float] = []
        self.own: list[float] = []
        self._last = (0.0, 0.0)
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._look)

    def _look(self) -> None:
        now = perf_counter(), thread_time()
        took = now[0] - self._last[0]
        if took >= LEAST:
            self.wall.append(took)
            self.own.append(now[1] - self._last[1])
        self._last = now

    def measure(self, seconds: float) -> None:
        """Measure for so many seconds; the longest turns stand first afterwards."""
        loop = QEventLoop()
        QTimer.singleShot(int(seconds * 1000), loop.quit)
        self.wall, self.own = [], []
        self._last = perf_counter(), thread_time()
        self._timer.start()
        loop.exec()
        self._timer.stop()
        for times in (self.wall, self.own):
            times.extend([0.0] * (SPARE + 1))
            times.sort(reverse=True)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        fill(opened)
        yield opened


@pytest.fixture
def context(qapp: QApplication, book: Book) -> Iterator[Context]:
    theme = Theme()
    theme.dress(qapp)
    clock = lambda: datetime.now(UTC)  # noqa: E731 - one line, one use
    tasks = PoolTasks()  # as in the window: every five seconds the block reads the book beside it
    made = Context(book, theme, formats_for(a_shop()), clock, tasks, "block-1")
    yield made
    made.scale.close()
    tasks.wait()
    qapp.setStyleSheet("")


@pytest.fixture
def fake(tmp_path: Path) -> Iterator[FakeScale]:
    with FakeScale(tmp_path) as scale:
        yield scale


def the_block(context: Context) -> QWidget:
    place = BlockPlace(context)
    place.refresh()
    place.open_item("HQ-17")
    place.choose_cut("rump")
    return place


def the_test_page(context: Context) -> QWidget:
    section = ScaleSection(context)
    section.refresh()
    return section


@pytest.mark.parametrize("rate", [20, 200])
@pytest.mark.parametrize("page", [the_block, pytest.param(the_test_page, marks=pytest.mark.slow)])
def test_no_frame_is_long_while_a_scale_sends(
    context: Context,
    fake: FakeScale,
    qtbot: QtBot,
    page: Callable[[Context], QWidget],
    rate: int,
    request: pytest.FixtureRequest,
) -> None:
    screen = page(context)
    qtbot.addWidget(screen)
    screen.resize(1280, 800)
    with qtbot.waitExposed(screen):
        screen.show()
    request.addfinalizer(gc.unfreeze)
    gc.collect()
    gc.freeze()  # as the window does when it is filled: what was loaded is not looked through
    turns = Turns()
    turns.measure(0.5)  # what is painted for the first time
    turns.measure(SECONDS)
    quiet = turns.wall[0]
    fake.rate(rate)
    fake.repeats(*(line("US" if grams % 3 else "ST", grams) for grams in range(1000, 1400)))
    told: list[object] = []
    context.scale.reading.connect(told.append)
    context.scale.open(ScaleSetting(kind=ScaleKind.SERIAL, port=str(fake.port)))
    with qtbot.waitSignal(context.scale.reading, timeout=5000):
        pass
    turns.measure(0.5)  # the first weight, in large figures
    told.clear()
    turns.measure(SECONDS)
    assert len(told) >= 10 * SECONDS  # it did send, and was told
    where = "block" if isinstance(screen, BlockPlace) else "test page"
    name = f"longest turn of the loop on the {where}, {rate} readings a second / none"
    keep(Ratio(name, turns.wall[0] / max(quiet, LEAST), turns.wall[0], quiet))
    print(f"processor time of the longest turns: {[round(t * 1000, 1) for t in turns.own[:3]]} ms")
    assert turns.own[0] < FRAME
    assert turns.wall[SPARE] < BUSY_CEILING
