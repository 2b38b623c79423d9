"""What a station keeps about its scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gambrel.services.books import Book
from gambrel.services.settings import keep_setting, read_setting

if TYPE_CHECKING:  # loaded where there is a scale: most windows open without one
    from gambrel.domain.bench.scale_setting import ScaleSetting

SCALE = "scale:"
"""With the station after it, the setting that keeps how its scale is reached and read."""


def has_scale(book: Book, station: str) -> bool:
    """Whether anything is kept about a station's scale."""
    return bool(read_setting(book, SCALE + station))


def scale_of(book: Book, station: str) -> ScaleSetting:
    """How a station's scale is reached and read; `NO_SCALE` where none was set up.

    Raises:
        Refusal: What was kept cannot be read.
    """
    from gambrel.domain.bench.scale_setting import NO_SCALE, read_setting_text

    text = read_setting(book, SCALE + station)
    return read_setting_text(text) if text else NO_SCALE


def keep_scale(book: Book, station: str, setting: ScaleSetting) -> None:
    """Keep how a station's scale is reached and read.

    Raises:
        Refusal: The book may not be written.
    """
    from gambrel.domain.bench.scale_setting import setting_text

    keep_setting(book, SCALE + station, setting_text(setting))
