"""Whether there is a screen to open a window on."""

from __future__ import annotations

import os
import sys

from gambrel.domain.refusals import Refusal

_WITHOUT_A_SCREEN = ("offscreen", "minimal", "vnc")


def has_display() -> bool:
    """Whether Qt would find a screen: asked of the environment, before Qt is loaded."""
    platform = os.environ.get("QT_QPA_PLATFORM", "").partition(":")[0]
    if platform:
        return platform not in _WITHOUT_A_SCREEN
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def need_display() -> None:
    """Refuse to open a window where Qt would end the process.

    Raises:
        Refusal: There is no screen.
    """
    if not has_display() and not os.environ.get("QT_QPA_PLATFORM"):
        raise Refusal(
            "There is no display to open a window on. Use a command (gambrel --help), or set "
            "DISPLAY or WAYLAND_DISPLAY."
        )
