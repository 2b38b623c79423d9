"""Pictures of a PDF's pages: for the eye on a screen, and dot for dot for a printer.

Both are made of the same bytes by the same library, so that what is seen is what is printed. The
library (PDFium) is not made for several threads at once; one lock keeps its users apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from threading import Lock
from types import TracebackType
from typing import Any

from PySide6.QtGui import QImage

from gambrel.domain.refusals import Refusal

MM_PER_INCH = 25.4
POINTS_PER_MM = 72 / MM_PER_INCH
_PDFIUM = Lock()


def dots_per_mm(dpi: int) -> float:
    """How many dots a printer sets in a millimetre; one of 203 dpi has 8."""
    return 8.0 if dpi == 203 else dpi / MM_PER_INCH


class PagesClosed(Exception):
    """The document was let go while somebody still wanted to look at it."""


@dataclass(frozen=True, slots=True)
class PageSize:
    """A page's width and height in millimetres."""

    width: float
    height: float

    def dots(self, per_mm: float) -> tuple[int, int]:
        """The whole dots that the page takes, the last one only begun."""
        return _whole(self.width * per_mm), _whole(self.height * per_mm)


class Pages:
    """The pages of one PDF. Close it when it is done with, or use it in a ``with``."""

    def __init__(self, pdf: bytes) -> None:
        """Open a document that is held in memory.

        Raises:
            Refusal: The bytes are no PDF.
        """
        import pypdfium2

        with _PDFIUM:
            try:
                self._document: Any = pypdfium2.PdfDocument(pdf)
            except pypdfium2.PdfiumError as error:
                raise Refusal(
                    "This paper cannot be read, so it is neither shown nor printed. Make it again."
                ) from error
            sizes = [self._document.get_page_size(n) for n in range(len(self._document))]
        self._closed = False
        self.sizes = tuple(PageSize(w / POINTS_PER_MM, h / POINTS_PER_MM) for w, h in sizes)

    def __enter__(self) -> Pages:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the document; a second call does nothing."""
        with _PDFIUM:
            self._closed = True
            self._document.close()

    def image(
        self, page: int, per_mm: float, *, top: int = 0, rows: int = 0, smooth: bool = True
    ) -> QImage:
        """A picture of a page, or of a band of it.

        Args:
            page: Counted from zero.
            per_mm: Dots a millimetre, held exactly: a length in dots is never stretched to fill
                the page's last dot.
            top: The band's first row of dots.
            rows: How many rows it has; 0 for all that are left.
            smooth: Grey edges for the eye; without them every dot is on or off, as on paper.

        Raises:
            PagesClosed: The document was closed meanwhile.
        """
        width, height = self.sizes[page].dots(per_mm)
        rows = min(rows or height, height - top)
        with _PDFIUM:
            if self._closed:
                raise PagesClosed
            pixels = _draw(self._document[page], per_mm, (width, rows), top, smooth=smooth)
        return QImage(pixels, width, rows, width * 4, QImage.Format.Format_RGB32).copy()


def _draw(page: Any, per_mm: float, size: tuple[int, int], top: int, *, smooth: bool) -> bytes:  # noqa: ANN401 - untyped library
    """Draw on white by the library's own call that keeps an exact scale."""
    import pypdfium2
    from pypdfium2 import raw

    scale = per_mm / POINTS_PER_MM
    flags = raw.FPDF_ANNOT if smooth else raw.FPDF_PRINTING | _on_or_off()
    bitmap = pypdfium2.PdfBitmap.new_native(*size, raw.FPDFBitmap_BGRx)
    try:
        bitmap.fill_rect((255, 255, 255, 255), 0, 0, *size)
        matrix = raw.FS_MATRIX(scale, 0, 0, scale, 0, -top)
        clip = raw.FS_RECTF(0, 0, *size)
        raw.FPDF_RenderPageBitmapWithMatrix(bitmap, page, matrix, clip, flags)
        return bytes(bitmap.buffer)
    finally:
        bitmap.close()
        page.close()


def _on_or_off() -> int:
    """No grey dots: a printer would break them up."""
    from pypdfium2 import raw

    flags: int = raw.FPDF_RENDER_NO_SMOOTHPATH | raw.FPDF_RENDER_NO_SMOOTHTEXT
    return flags


def _whole(length: float) -> int:
    """Dots that a length takes; what is within a thousandth of a dot is that dot."""
    return max(int(length + 0.999), 1)
