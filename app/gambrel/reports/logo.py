"""A shop's own logo from a picture file, looked at before it is trusted."""

from __future__ import annotations

from io import BytesIO
from typing import NamedTuple

from PIL import ImageOps
from PIL.Image import Image
from PIL.Image import new as new_image
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from reportlab.lib.utils import ImageReader

from gambrel.domain.refusals import Refusal
from gambrel.reports.look import MM
from gambrel.reports.papers import Paper
from gambrel.reports.pen import Pen

LARGEST_BYTES = 4_000_000
LARGEST_SIDE = 4000
"""Pixels: more is finer than any ticket printer, and slow."""

KEPT_SIDE = 1200
"""Pixels: the widest logo is 45 mm, and this is 600 dots an inch of it."""

_THINNEST = 20
"""A picture that is so many times longer than wide would be a hair on a ticket."""

_KINDS = {b"\x89PNG\r\n\x1a\n": PngImageFile, b"\xff\xd8\xff": JpegImageFile}
"""By how their files begin. Opened by name, so that no other kind of file is ever parsed."""

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
    """A logo from the bytes of a file, upright, on white, and no finer than can be printed.

    Raises:
        Refusal: Not a PNG or JPEG picture, a broken one, or one that is too large or too thin.
    """
    if len(data) > LARGEST_BYTES:
        raise Refusal(
            f"The logo's file has {len(data) / 1e6:.1f} MB; save it smaller, "
            f"up to {LARGEST_BYTES / 1e6:.0f} MB."
        )
    kind = next((kind for begins, kind in _KINDS.items() if data.startswith(begins)), None)
    if kind is None:
        raise Refusal(_NO_PICTURE)
    try:
        found = kind(BytesIO(data))
        _check_size(*found.size)
        found.load()
        image = _on_white(ImageOps.exif_transpose(found))
    except Refusal:
        raise
    except Exception:  # noqa: BLE001 - a damaged picture fails in as many ways as there are bytes
        raise Refusal(_NO_PICTURE) from None
    image.thumbnail((KEPT_SIDE, KEPT_SIDE))
    return Logo(ImageReader(image), image.width / image.height)


def _check_size(width: int, height: int) -> None:
    """See the size that a file says it has, before a pixel is read."""
    if max(width, height) > LARGEST_SIDE:
        raise Refusal(
            f"The logo is {width} by {height} pixels; save it smaller, up to {LARGEST_SIDE} a side."
        )
    if max(width, height) > _THINNEST * min(width, height):
        raise Refusal(
            f"The logo is {width} by {height} pixels, too thin to be seen on a ticket; cut it to "
            f"at most {_THINNEST} times as long as it is wide."
        )


def _on_white(image: Image) -> Image:
    """A picture as paper shows it: three colours, and white where it lets things through."""
    if image.mode.startswith("I"):
        image = image.convert("I").point(lambda level: level / 256).convert("L")
    if not image.has_transparency_data:
        return image.convert("RGB")
    seen = image.convert("RGBA")
    white = new_image("RGBA", seen.size, "white")
    white.alpha_composite(seen)
    return white.convert("RGB")


def draw_logo(pen: Pen, logo: Logo, right: float, top: float, paper: Paper) -> float:
    """Draw a logo in the right top corner of a ticket; returns the width it takes from the name."""
    most = (paper.cell[0] - 2 * paper.pad) * MM * _WIDEST
    height = min((paper.name_height - 1) * MM, most / logo.ratio)
    width = height * logo.ratio
    pen.canvas.drawImage(logo.image, right - width, pen.level(top + height), width, height)
    return width + 2 * MM
