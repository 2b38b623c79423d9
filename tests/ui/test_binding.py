"""What we count on in Qt's Python binding itself."""

from __future__ import annotations

import sys

import pytest
from PySide6.QtGui import QFont

CALLS = 200


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is never freed from Python 3.12 on")
def test_calls_without_an_answer_keep_nones_references() -> None:
    """PySide6 6.12.0 dropped one at every such call, which in time ends a Python 3.11."""
    font = QFont()
    before = sys.getrefcount(None)
    for _ in range(CALLS):
        font.setPixelSize(12)
    assert sys.getrefcount(None) > before - CALLS // 2
