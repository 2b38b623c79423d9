"""The pictures of the block's states: all there, small, and still drawn by their script."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from state_pictures import KEPT, LARGEST, PICTURES, SIZES, draw_states

NAMES = sorted([*(f"block-{name}.png" for name in KEPT), "block-dark.png"])


def test_every_kept_picture_is_there_and_small() -> None:
    there = sorted(path.name for path in PICTURES.glob("block-*.png"))
    assert there == NAMES
    for name in NAMES:
        path = PICTURES / name
        assert path.stat().st_size <= LARGEST, name
        assert QImage(str(path)).size().toTuple() == SIZES[0], name


@pytest.mark.slow
def test_the_script_still_reaches_every_state(tmp_path: Path, qapp: QApplication) -> None:
    scratch, folder = tmp_path / "book", tmp_path / "pictures"
    scratch.mkdir()
    folder.mkdir()
    drawn = [path.name for path in draw_states(scratch, folder, every=False)]
    assert sorted(drawn) == NAMES
    images = {name: QImage(str(folder / name)) for name in NAMES}
    assert len({bytes(image.constBits()) for image in images.values()}) == len(NAMES)
