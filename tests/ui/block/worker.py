"""Somebody who weighs in at a block without end, in a process of its own that is made to be killed.

Run as a script with the book's path and the number of the first piece. It says on a line of its own
what has been acknowledged: what the screen shows once the piece is on the disk.
"""

from __future__ import annotations

import os
import sys
from datetime import UTC, datetime

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from gambrel.services.words import formats_for
from gambrel.storage.book import open_book
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.context import Context
from gambrel.ui.tasks import SyncTasks
from gambrel.ui.theme import Theme

CUTS = ("rump", "shin", "bone", "fat")
TUBS = ("no tub", "tray", "tub")
STATION = "block-1"
FIRST_G = 700
"""Gross grams of the first piece; each one after it is a gram heavier, so none is like another."""


def wished(number: int) -> tuple[str, str]:
    """The cut and the tub of a piece: both change all the time."""
    return CUTS[number // 2 % len(CUTS)], TUBS[number % len(TUBS)]


def _now() -> datetime:
    return datetime.now(UTC)


def main(path: str, first: int) -> None:
    """Weigh until somebody ends it."""
    app = QApplication(sys.argv[:1])
    theme = Theme()
    theme.dress(app)
    book = open_book(path)
    with book.reading() as work:
        shop = work.shop()
    assert shop is not None
    formats = formats_for(shop)
    place = BlockPlace(Context(book, theme, formats, _now, SyncTasks(), STATION))
    place.show()
    place.refresh()
    number, before = first, ""
    while True:
        cut, tub = wished(number)
        place.choose_cut(cut)
        place._choose_tub(tub)
        place.view.work.column.keypad.set_text(f"{(FIRST_G + number) / 1000:.3f}")
        place.weigh()
        app.processEvents()
        shown = place.view.work.bottom.keys[0].piece
        assert shown is not None
        assert shown.key != before, "nothing was weighed in"
        before = shown.key
        # At the piece's own moment: a second later on a slow machine would be more than is kept.
        weighed_at = place.look.on_block.standing[0].piece.weighed_at
        worked = int(place.look.clock(weighed_at).worked.total_seconds())
        print(number, shown.key, cut, tub, worked, flush=True)
        number += 1


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
