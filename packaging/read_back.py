"""Read back what the demo wrote: `python packaging/read_back.py FOLDER`.

Runs in the environment of the check. Every paper must open, carry selectable text and embed its
fonts; each kind must say what it is for, in words taken from the demo's own files; barcodes must
decode; pictures must show something. Says every fault at once and exits with 1 when there is one.
"""

from __future__ import annotations

import csv
import sys
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path

import openpyxl
import pypdfium2
import zxingcpp
from PIL import Image
from pypdf import PageObject, PdfReader
from pypdf.errors import PyPdfError
from pypdf.generic import DictionaryObject

from environment import ROOT

DEMO = ROOT / "demo_data"
# A ticket sheet of the demo shows far more; fewer means that something got lost.
FEWEST_CUTS = 10
FEWEST_COLOURS = 50
DOTS_PER_INCH = 300


def main(arguments: list[str]) -> int:
    """Look through the folder, print what is there or what is wrong with it."""
    if len(arguments) != 1:
        print("Name one folder, the one that `gambrel demo --out` wrote to.", file=sys.stderr)
        return 2
    folder = Path(arguments[0])
    faults = list(faults_of(folder))
    for fault in faults:
        print(fault, file=sys.stderr)
    if not faults:
        names = sorted(path.name for path in folder.rglob("*") if path.is_file())
        print(f"All is as it should be in {len(names)} files: {', '.join(names)}")
    return 1 if faults else 0


def faults_of(folder: Path) -> Iterator[str]:
    """Name everything that is missing or wrong, in sentences."""
    for kind, look in PAPERS.items():
        papers = sorted(folder.glob(f"{kind}*.pdf"))
        if not papers:
            yield f"There is no paper of the kind {kind}: expected {kind}*.pdf."
        for paper in papers:
            yield from (f"{paper.name}: {fault}" for fault in look(paper))
    for paper in sorted(folder.glob("*.pdf")):
        yield from (f"{paper.name}: {fault}" for fault in faults_of_paper(paper))
    yield from faults_of_tables(folder)
    pictures = sorted(folder.rglob("*.png"))
    if not pictures:
        yield "There is no picture of a screen: expected *.png."
    for picture in pictures:
        yield from (f"{picture.name}: {fault}" for fault in faults_of_picture(picture))


def faults_of_paper(paper: Path) -> Iterator[str]:
    """What every paper must hold to."""
    try:
        pages = PdfReader(paper).pages
        if len(pages) == 0:
            yield "it has no page."
        for number, page in enumerate(pages, start=1):
            if not page.extract_text().strip():
                yield f"page {number} has no text that can be selected."
            for font in fonts_not_embedded(page):
                yield f"page {number} uses the font {font} without embedding it."
    except PyPdfError as error:
        yield f"it cannot be read as a PDF ({error})."


def fonts_not_embedded(page: PageObject) -> list[str]:
    """Name the fonts of a page that a reader would have to replace."""
    resources = page.get("/Resources", DictionaryObject()).get_object()
    found = []
    for entry in resources.get("/Font", DictionaryObject()).get_object().values():
        font = entry.get_object()
        below = [part.get_object() for part in font.get("/DescendantFonts", [])] or [font]
        for part in below:
            described = part.get("/FontDescriptor", DictionaryObject()).get_object()
            if not any(str(key).startswith("/FontFile") for key in described):
                found.append(str(font.get("/BaseFont", "?")))
    return found


def faults_of_sheet(paper: Path) -> Iterator[str]:
    """A sheet of figures says whose it is."""
    shop = tomllib.loads((DEMO / "shop.toml").read_text("utf-8"))["name"]
    if shop not in text_of(paper):
        yield f"it does not name the shop, {shop}."


def faults_of_tickets(paper: Path) -> Iterator[str]:
    """Tickets name cuts of the shop, and every barcode on them can be read."""
    with (DEMO / "cuts.csv").open(encoding="utf-8", newline="") as rows:
        names = {row["name"] for row in csv.DictReader(rows) if row["kind"] == "tray"}
    text = text_of(paper)
    shown = {name for name in names if name in text}
    if len(shown) < FEWEST_CUTS:
        yield f"it shows {len(shown)} of the shop's {len(names)} tray cuts by name."
    if not any(barcodes(paper)):
        yield "no barcode on it could be read."


def text_of(paper: Path) -> str:
    """Return the words of a paper with single spaces; nothing when it cannot be read."""
    try:
        return " ".join(" ".join(page.extract_text() for page in PdfReader(paper).pages).split())
    except PyPdfError:
        return ""  # told elsewhere


def barcodes(paper: Path) -> Iterator[str]:
    """Read the barcodes off the pages, as a scanner sees them."""
    try:
        document = pypdfium2.PdfDocument(paper)
    except pypdfium2.PdfiumError:
        return  # told elsewhere
    for page in document:
        picture = page.render(scale=DOTS_PER_INCH / 72, grayscale=True).to_pil()
        yield from (code.text for code in zxingcpp.read_barcodes(picture))


def faults_of_tables(folder: Path) -> Iterator[str]:
    """The week comes as a workbook and as plain tables as well, each with rows below its head."""
    workbooks = sorted(folder.glob("week*.xlsx"))
    if not workbooks:
        yield "There is no workbook of the week: expected week*.xlsx."
    for path in workbooks:
        book = openpyxl.load_workbook(path, read_only=True)
        if not any(sheet.max_row and sheet.max_row > 1 for sheet in book.worksheets):
            yield f"{path.name}: no sheet in it has a row below its head."
        book.close()
    tables = sorted(folder.rglob("*.csv"))
    if not tables:
        yield "There is no table of the week: expected *.csv."
    for path in tables:
        with path.open(encoding="utf-8-sig", newline="") as rows:
            widths = {len(row) for row in csv.reader(rows, strict=True)}
        if len(widths) != 1:
            yield f"{path.name}: its rows are not all as long as its head."


def faults_of_picture(picture: Path) -> Iterator[str]:
    """A picture of a screen is as large as one and not blank."""
    try:
        with Image.open(picture) as opened:
            image = opened.convert("RGB")
    except OSError:
        yield "it cannot be read as a picture."
        return
    if image.width < 640 or image.height < 400:
        yield f"it is only {image.width} by {image.height} pixels."
    # Nothing is returned when there are more colours than were asked for.
    if image.getcolors(FEWEST_COLOURS - 1) is not None:
        yield f"it has fewer than {FEWEST_COLOURS} colours, so hardly anything is drawn on it."


PAPERS: dict[str, Callable[[Path], Iterator[str]]] = {
    "day": faults_of_sheet,
    "week": faults_of_sheet,
    "tickets": faults_of_tickets,
}


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
