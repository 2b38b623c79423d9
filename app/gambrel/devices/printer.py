"""Printers of this machine: which there are, and sending them pages dot for dot.

A page is drawn at the printer's own dots and handed over unscaled on paper of the page's own size,
so that a bar of three dots leaves as three dots. Listing and sending may take their time (a printer
may be far away): do both off the screens' thread. There has to be an application.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from PySide6.QtCore import QMarginsF, QPoint, QSizeF
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

from gambrel.devices.pages import POINTS_PER_MM, Pages, PageSize, dots_per_mm
from gambrel.domain.prices.printer_setting import PrinterAtHand
from gambrel.domain.refusals import Refusal

BAND = 8_000_000
"""Dots that are drawn at a time; a page of A4 at 600 dots an inch has 35 million."""

NEAR = 1.5
"""Millimetres by which a printer's paper may differ from the page and still be it."""

Told = Callable[[int, int], bool]
"""Told after every page how many are done of how many; it answers whether to go on."""


class PrintingStopped(Exception):
    """Somebody asked for a stop; what had not been handed over was thrown away."""


@dataclass(frozen=True, slots=True)
class Sending:
    """What goes to a printer. ``dpi`` are the dots an inch that it prints."""

    printer: str
    pdf: bytes
    title: str
    copies: int = 1
    dpi: int = 300


class Printers(Protocol):
    """What prints: the system's printers, or in tests something that keeps what it was sent."""

    def at_hand(self) -> tuple[PrinterAtHand, ...]:
        """Every printer that can be chosen now."""

    def send(self, sending: Sending, told: Told) -> None:
        """Hand pages to a printer; return when it has taken them all.

        Raises:
            Refusal: No such printer, it does not answer, or it has no such paper.
            PrintingStopped: ``told`` said no.
        """


class SystemPrinters:
    """The printers that the operating system has set up."""

    def at_hand(self) -> tuple[PrinterAtHand, ...]:
        """By name, the system's default first."""
        found = [_known(info) for info in QPrinterInfo.availablePrinters()]
        return tuple(sorted(found, key=lambda each: (not each.is_default, each.name.casefold())))

    def send(self, sending: Sending, told: Told) -> None:
        """Print every page; see `Printers.send`."""
        with Pages(sending.pdf) as pages:
            info = found_printer(sending.printer)
            for size in pages.sizes:
                check_paper(info, size)
            printer = QPrinter(info, QPrinter.PrinterMode.HighResolution)
            print_pages(printer, pages, sending, told)


def _known(info: QPrinterInfo) -> PrinterAtHand:
    about = " · ".join(part for part in (info.description(), info.location()) if part)
    stopped = info.state() == QPrinter.PrinterState.Error
    return PrinterAtHand(
        info.printerName(), about, info.isDefault(), "does not answer" if stopped else ""
    )


def found_printer(name: str) -> QPrinterInfo:
    """A printer that is there and works.

    Raises:
        Refusal: It is gone, or the system says that it is stopped.
    """
    info = QPrinterInfo.printerInfo(name)
    if info.isNull():
        raise Refusal(
            f"The printer {name} is not there any more. Switch it on, choose another, or save "
            "as PDF."
        )
    if info.state() == QPrinter.PrinterState.Error:
        raise Refusal(
            f"The printer {name} does not answer. See that it is on, has paper and is not "
            "stopped, then print again."
        )
    return info


def check_paper(info: QPrinterInfo, size: PageSize) -> None:
    """See that a printer can be given paper of a size; nothing is ever shrunk to fit.

    Raises:
        Refusal: It knows its papers, and none is of this size.
    """
    known = [paper.size(QPageSize.Unit.Millimeter) for paper in info.supportedPageSizes()]
    if not known or any(_same(paper, size) for paper in known):
        return
    if info.supportsCustomPageSizes():
        return
    raise Refusal(
        f"The printer {info.printerName()} has no paper of {size.width:.0f} × {size.height:.0f} "
        "mm. Choose another paper or another printer."
    )


def _same(paper: QSizeF, size: PageSize) -> bool:
    long, short = max(size.width, size.height), min(size.width, size.height)
    most, least = max(paper.width(), paper.height()), min(paper.width(), paper.height())
    return abs(most - long) <= NEAR and abs(least - short) <= NEAR


def print_pages(printer: QPrinter, pages: Pages, sending: Sending, told: Told) -> None:
    """Draw pages on a printer, which may be one that writes a file.

    Raises:
        Refusal: It does not take them.
        PrintingStopped: ``told`` said no.
    """
    at_once = printer.supportsMultipleCopies()
    if at_once:
        printer.setCopyCount(sending.copies)
    order = list(range(len(pages.sizes))) * (1 if at_once else sending.copies)
    printer.setResolution(sending.dpi)
    printer.setDocName(sending.title)
    printer.setFullPage(True)
    printer.setPageLayout(_layout(pages.sizes[order[0]]))
    painter = QPainter()
    if not painter.begin(printer):
        raise Refusal(f"The printer {sending.printer} does not take the pages. Try it again.")
    painter.setRenderHint(QPainter.RenderHint.LosslessImageRendering)
    try:
        for done, page in enumerate(order, start=1):
            if done > 1:
                printer.setPageLayout(_layout(pages.sizes[page]))
                _next_page(printer, sending)
            _draw_page(painter, pages, page, sending.dpi)
            if not told(done, len(order)):
                printer.abort()
                raise PrintingStopped
    finally:
        painter.end()
    if printer.printerState() == QPrinter.PrinterState.Error:
        raise Refusal(f"The printer {sending.printer} broke off. See what it says, print again.")


def _next_page(printer: QPrinter, sending: Sending) -> None:
    if not printer.newPage():
        raise Refusal(f"The printer {sending.printer} took only some of the pages. Print again.")


def _layout(size: PageSize) -> QPageLayout:
    """A page of just this size; a lying standard paper is the standing one, turned.

    Any other size is cut to whole points, as printing systems know paper: handed a page that is
    part of a point larger, they would shrink it to fit, and the bars with it.
    """
    asked = QSizeF(size.width, size.height)
    policy = QPageSize.SizeMatchPolicy.FuzzyOrientationMatch
    paper = QPageSize(asked, QPageSize.Unit.Millimeter, "", policy)
    if paper.id() == QPageSize.PageSizeId.Custom:
        points = QSizeF(*(int(side * POINTS_PER_MM + 0.01) for side in (size.width, size.height)))
        paper = QPageSize(points, QPageSize.Unit.Point, "", QPageSize.SizeMatchPolicy.ExactMatch)
    lies = size.width > size.height and paper.id() != QPageSize.PageSizeId.Custom
    orientation = QPageLayout.Orientation.Landscape if lies else QPageLayout.Orientation.Portrait
    layout = QPageLayout(paper, orientation, QMarginsF(0, 0, 0, 0))
    layout.setMode(QPageLayout.Mode.FullPageMode)
    return layout


def _draw_page(painter: QPainter, pages: Pages, page: int, dpi: int) -> None:
    """One page in bands, each dot of the picture on one dot of the printer."""
    per_mm = dots_per_mm(dpi)
    width, height = pages.sizes[page].dots(per_mm)
    rows = max(BAND // width, 1)
    for top in range(0, height, rows):
        band = pages.image(page, per_mm, top=top, rows=rows, smooth=False)
        if band.allGray():
            band.convertTo(QImage.Format.Format_Grayscale8)
        painter.drawImage(QPoint(0, top), band)
