"""What a station keeps about its scale."""

from __future__ import annotations

from gambrel.domain.bench.scale_setting import (
    NO_SCALE,
    ScaleSetting,
    read_setting_text,
    setting_text,
)
from gambrel.services.books import Book
from gambrel.services.settings import keep_setting, read_setting

SCALE = "scale:"
"""With the station after it, the setting that keeps how its scale is reached and read."""


def scale_of(book: Book, station: str) -> ScaleSetting:
    """How a station's scale is reached and read; `NO_SCALE` where none was set up.

    Raises:
        Refusal: What was kept cannot be read.
    """
    text = read_setting(book, SCALE + station)
    return read_setting_text(text) if text else NO_SCALE


def keep_scale(book: Book, station: str, setting: ScaleSetting) -> None:
    """Keep how a station's scale is reached and read.

    Raises:
        Refusal: The book may not be written.
    """
    keep_setting(book, SCALE + station, setting_text(setting))
