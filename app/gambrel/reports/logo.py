"""A shop's own logo from a picture file, looked at before it is trusted."""

from __future__ import annotations

from io import BytesIO
from typing import NamedTuple

from reportlab.lib.utils import ImageReader

from gambrel.domain.refusals import Refusal
from gambrel.reports.look import MM
from gambrel.reports.papers import Paper
from gambrel.reports.pen import Pen

LARGEST_BYTES = 4_000_000
LARGEST_SIDE = 4000
"""Pixels: more is finer than any ticket printer, and slow."""

_BEGINNINGS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
"""How a PNG and a JPEG file begin."""

_NO_PICTURE = (
    "The logo's file is not a PNG or JPEG picture, or it is damaged. Save it again as one of them."
)

_WIDEST = 0.3
"""The part of a ticket's width that a logo may take."""


class Logo(NamedTuple):
    """A picture and its width over its height."""

    image: ImageReader
    ratio: float


def read_logo(data: bytes) -> Logo:
    """A logo from the bytes of a file.

    Raises:
        Refusal: Not a PNG or JPEG picture, a broken one, or one that is too large.
    """
    if len(data) > LARGEST_BYTES:
        raise Refusal(
            f"The logo's file has {len(data) / 1e6:.1f} MB; save it smaller, "
            f"up to {LARGEST_BYTES / 1e6:.0f} MB."
        )
    if not data.startswith(_BEGINNINGS):
        raise Refusal(_NO_PICTURE)
    try:
        image = ImageReader(BytesIO(data))
        width, height = image.getSize()
        if max(width, height) <= LARGEST_SIDE:
            image.getRGBData()  # type: ignore[no-untyped-call]  # reads it to its end
    except Exception:  # noqa: BLE001 - a damaged picture fails in as many ways as there are bytes
        raise Refusal(_NO_PICTURE) from None
    if max(width, height) > LARGEST_SIDE:
        raise Refusal(
            f"The logo is {width} by {height} pixels; save it smaller, up to {LARGEST_SIDE} a side."
        )
    return Logo(image, width / height)


def draw_logo(pen: Pen, logo: Logo, right: float, top: float, paper: Paper) -> float:
    """Draw a logo in the right top corner of a ticket; returns the width it takes from the name."""
    most = (paper.cell[0] - 2 * paper.pad) * MM * _WIDEST
    height = min((paper.name_height - 1) * MM, most / logo.ratio)
    width = height * logo.ratio
    pen.canvas.drawImage(
        logo.image, right - width, pen.level(top + height), width, height, mask="auto"
    )
    return width + 2 * MM
