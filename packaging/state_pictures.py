"""Draws the block in each of its states: `packaging/state_pictures.py [folder] [--all-sizes]`.

Works the demo shop with an invented scale, in a book that is thrown away. Without a folder the
pictures of `assets/pictures` are made anew; with `--all-sizes` every state at three sizes, light
and dark, for our own eyes.
"""

from __future__ import annotations

import os
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QImage

from gambrel.devices.scale import ScalePort
from gambrel.domain.bench.receiving import Delivery
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.domain.trade.catalogue import CutKind
from gambrel.services.books import latest_moment
from gambrel.services.demo import make_demo_book
from gambrel.services.rail import receive, reweigh
from gambrel.services.words import formats_for
from gambrel.ui.app import PLACES, application
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.context import Context
from gambrel.ui.shell import Shell
from gambrel.ui.tasks import SyncTasks
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import Button

PICTURES = Path(__file__).parent.parent / "assets" / "pictures"
SIZES = ((1280, 800), (1024, 600), (1920, 1080))
BODY = Delivery(
    body="HQ-18",
    species="beef",
    portion="hindquarter",
    supplier="northfold",
    received_g=84_200,
    price=1005,
    docket_g=84_400,
)
"""Invented, as the shop is. It hangs for six days before it is broken."""
HANGS = timedelta(days=6)
COLOURS = 64
LARGEST = 80_000
"""Bytes of one picture in the project."""


class InventedScale(ScalePort):
    """Says what a state needs; nothing is connected."""

    def __init__(self) -> None:
        super().__init__()
        self._says = LiveWeight()

    @property
    def live(self) -> LiveWeight:
        return self._says

    def say(self, live: LiveWeight) -> None:
        """Show another weight."""
        self._says = live
        self.reading.emit(live)


class Clock:
    """Every look at it is a minute later, as work goes at a block."""

    def __init__(self, moment: datetime) -> None:
        self.moment = moment

    def __call__(self) -> datetime:
        self.moment += timedelta(seconds=20)
        return self.moment


class Bench:
    """One block and the hands that work at it."""

    def __init__(self, place: BlockPlace, scale: InventedScale) -> None:
        self.place, self.scale = place, scale

    def tap(self, key: Button) -> None:
        """Tap a key."""
        key.click()

    def type(self, text: str) -> None:
        """Type a weight."""
        self.place.view.work.column.keypad.set_text(text)

    def weigh(self, cut: str, grams: int) -> None:
        """Weigh a piece in, whatever is asked."""
        self.place.choose_cut(cut)
        self.type(f"{grams / 1000:.3f}")
        before = self.standing
        for _ in range(2):  # the second tap means it
            if self.standing == before:
                self.place.weigh()
        assert self.standing > before, self.place.view.work.column.saying.sentence

    @property
    def standing(self) -> int:
        """How many pieces count."""
        return len(self.place.look.on_block.standing)

    def cut_to(self, share: float) -> None:
        """Weigh what the norm expects, up to a share of the body."""
        block = self.place.look.on_block
        goal = block.input_g * share
        done = block.output_g
        for row in block.cuts:
            wanted = row.norm_g or 0
            if row.cut.kind is not CutKind.TRAY:
                wanted = int(wanted * share)
            rest = wanted - row.weighed_g
            if rest <= 0 or done >= goal:
                continue
            for part in _parts(rest):
                self.weigh(row.cut.key, part)
                done += part


def _parts(grams: int) -> list[int]:
    """A cut comes off in one to four pieces, no two alike."""
    count = min(max(grams // 4500, 1), 4)
    sizes = [grams // count + 37 * (number - count // 2) for number in range(count)]
    return [size for size in sizes if size > 0]


def _steady(bench: Bench) -> None:
    bench.place.choose_cut("rump")
    bench.scale.say(LiveWeight(WeightState.STEADY, "Steady at 4.506 kg.", 4506))


def _unsteady(bench: Bench) -> None:
    bench.scale.say(LiveWeight(WeightState.UNSTEADY, "Wait until the weight stands still.", 4382))


def _lost(bench: Bench) -> None:
    bench.scale.say(
        LiveWeight(
            WeightState.RETRYING,
            "The scale is disconnected. Trying again by itself. Until it is back, type the weight.",
        )
    )


def _typing(bench: Bench) -> None:
    bench.scale.say(LiveWeight())
    bench.place.choose_cut("rump")
    bench.type("4.506")


def _doubt(bench: Bench) -> None:
    bench.scale.say(LiveWeight())
    bench.place.choose_cut("rump")
    bench.type("43.86")
    bench.place.weigh()


def _undo(bench: Bench) -> None:
    bench.scale.say(LiveWeight())
    bench.type("")
    bench.place.undo()


def _what_if(bench: Bench) -> None:
    panel = bench.place.view.work.panel
    bench.tap(next(key for key in panel.keys if key.text() == "What if"))
    for _ in range(3):
        bench.tap(bench.place.view.work.what_if.more_key)


def _who(bench: Bench) -> None:
    bench.tap(bench.place.view.work.panel.close_key)
    bench.tap(bench.place.view.top.person_key)


def _finish(bench: Bench) -> None:
    bench.tap(bench.place.view.work.panel.close_key)
    bench.tap(bench.place.view.work.bottom.undo_key)
    bench.tap(bench.place.view.work.bottom.finish_key)


def _over(bench: Bench) -> None:
    bench.cut_to(1)
    bench.weigh("beef-bone", bench.place.look.on_block.left_g + 1240)


STATES: tuple[tuple[str, Callable[[Bench], None]], ...] = (
    ("empty", lambda bench: bench.type("")),
    ("typing", _typing),
    ("first", lambda bench: bench.weigh("flank-steak", 1142)),
    ("doubt", _doubt),
    ("half", lambda bench: bench.cut_to(0.5)),
    ("scale", _steady),
    ("unsteady", _unsteady),
    ("scale-lost", _lost),
    ("undo", _undo),
    ("piece", lambda bench: bench.tap(bench.place.view.work.bottom.keys[0])),
    ("what-if", _what_if),
    ("which-cut", lambda bench: bench.tap(bench.place.view.work.what_if.other_key)),
    ("who", _who),
    ("nearly", lambda bench: bench.cut_to(0.93)),
    ("over", _over),
    ("pieces", lambda bench: bench.tap(bench.place.view.work.bottom.all_key)),
    ("finish", _finish),
    ("finished", lambda bench: bench.tap(bench.place.view.end.finish_key)),
    ("free", lambda bench: bench.tap(bench.place.view.end.rail_key)),
)
"""In an order in which each follows from the one before."""

KEPT = (
    "empty", "first", "half", "scale", "scale-lost", "doubt", "undo", "what-if", "nearly", "over",
    "finish", "finished",
)  # fmt: skip


def main(arguments: list[str]) -> int:
    """Make the pictures; returns the exit status."""
    every = "--all-sizes" in arguments
    rest = [each for each in arguments if not each.startswith("--")]
    folder = Path(rest[0]) if rest else PICTURES
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as place:
        for path in draw_states(Path(place), folder, every=every):
            size = path.stat().st_size
            print(f"{path.name} {size:,} bytes")
            assert folder != PICTURES or size <= LARGEST, f"{path.name} is larger than {LARGEST:,}"
    return 0


def draw_states(scratch: Path, folder: Path, *, every: bool) -> Iterator[Path]:
    """Work through the states and draw each."""
    app = application()
    theme = Theme()
    theme.dress(app)
    book = make_demo_book(scratch)
    moment = latest_moment(book)
    assert moment is not None  # the demo shop has a fortnight in it
    with book.reading() as work:
        shop = work.shop()
    assert shop is not None
    scale = InventedScale()
    formats = formats_for(shop)
    receive(book, BODY, formats, moment)
    reweigh(book, BODY.body, 82_400, moment + HANGS - timedelta(hours=4))
    clock = Clock(moment + HANGS)
    context = Context(book, theme, formats, clock, SyncTasks(), "block 1", scale=scale)
    shell = Shell(theme, PLACES)
    shell.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    shell.show()
    shell.show_book(context, shop.name, "rail")
    shell.resize(*SIZES[0])
    shell.go("block", BODY.body)
    place = shell.place("block")
    assert isinstance(place, BlockPlace)
    place.let_in("Ana")
    bench = Bench(place, scale)
    for name, reach in STATES:
        reach(bench)
        if every:
            yield from _looks(app, shell, f"block-{name}", folder)
        elif name in KEPT:
            yield _draw(app, shell, folder / f"block-{name}.png")
            if name == "half":
                theme.set_dark(True)
                yield _draw(app, shell, folder / "block-dark.png")
                theme.set_dark(False)
    shell.close()
    book.close()


def _looks(app: QCoreApplication, shell: Shell, name: str, folder: Path) -> Iterator[Path]:
    for size in SIZES:
        shell.resize(*size)
        for look in ("light", "dark"):
            shell.theme.set_dark(look == "dark")
            yield _draw(app, shell, folder / f"{name}-{size[0]}x{size[1]}-{look}.png")
    shell.theme.set_dark(False)
    shell.resize(*SIZES[0])


def _draw(app: QCoreApplication, shell: Shell, path: Path) -> Path:
    """Draw the window with a small palette, which is all that a flat screen needs."""
    for _ in range(2):  # wrapped words know their height only once they know their width
        app.sendPostedEvents(None, int(QEvent.Type.LayoutRequest))
        app.processEvents()
    image = shell.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    flat = Qt.ImageConversionFlag.ThresholdDither
    small = image.convertToFormat(QImage.Format.Format_Indexed8, _palette(image), flat)
    assert small.save(str(path), quality=0), f"{path} could not be written"
    return path


def _palette(image: QImage) -> list[int]:
    """The colours that an image has most of."""
    counts = Counter(memoryview(image.constBits()).cast("I"))
    return [colour | 0xFF000000 for colour, _ in counts.most_common(COLOURS)]


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
