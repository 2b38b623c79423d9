"""A scale on a pseudo-terminal, and the port that reads it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from gambrel.devices.scale import ScalePort
from tests.fake_scale import FakeScale


@pytest.fixture
def fake(tmp_path: Path) -> Iterator[FakeScale]:
    with FakeScale(tmp_path) as scale:
        yield scale


@pytest.fixture
def port(qapp: QApplication) -> Iterator[ScalePort]:
    made = ScalePort()
    yield made
    made.close()
