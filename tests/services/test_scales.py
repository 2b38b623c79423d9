"""What a station keeps about its scale."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from gambrel.domain.bench.scale_setting import NO_SCALE, ScaleKind, ScaleSetting
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book, open_book
from gambrel.services.scales import SCALE, keep_scale, scale_of
from gambrel.services.settings import keep_setting

SERIAL = ScaleSetting(kind=ScaleKind.SERIAL, port="COM3", baud=4800)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        yield opened


def test_each_station_keeps_its_own(book: Book) -> None:
    assert scale_of(book, "block-1") == NO_SCALE
    keep_scale(book, "block-1", SERIAL)
    assert scale_of(book, "block-1") == SERIAL
    assert scale_of(book, "block-2") == NO_SCALE
    keep_scale(book, "block-1", NO_SCALE)
    assert scale_of(book, "block-1") == NO_SCALE


def test_what_cannot_be_read_is_refused_and_not_guessed_at(book: Book) -> None:
    keep_setting(book, SCALE + "block-1", '{"kind": "serial"}')
    with pytest.raises(Refusal, match="Set the scale up again"):
        scale_of(book, "block-1")
