"""What reads the demo's papers back must find every fault that it looks for."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
import xlsxwriter
from PIL import Image
from reportlab.graphics.barcode.code128 import Code128
from reportlab.lib.pagesizes import A4
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

import read_back
from gambrel import assets

FONT = "read-back"


def write(path: Path, lines: list[str], *, font: str = FONT, code: str = "") -> None:
    pdfmetrics.registerFont(TTFont(FONT, io.BytesIO(assets.data("fonts/IBMPlexSans-Regular.ttf"))))
    canvas = Canvas(str(path), pagesize=A4, initialFontName=FONT)  # type: ignore[arg-type]  # a name is meant
    canvas.setFont(font, 9)
    for number, line in enumerate(lines):
        canvas.drawString(40, 800 - 11 * number, line)
    if code:
        Code128(code, barWidth=1.2).drawOn(canvas, 250, 300)
    canvas.showPage()
    canvas.save()


def shop_name() -> str:
    line = next(
        line
        for line in (read_back.DEMO / "shop.toml").read_text("utf-8").splitlines()
        if line.startswith("name")
    )
    return line.split('"')[1]


def tray_cuts() -> list[str]:
    with (read_back.DEMO / "cuts.csv").open(encoding="utf-8", newline="") as rows:
        return [row["name"] for row in csv.DictReader(rows) if row["kind"] == "tray"]


def picture(path: Path, size: tuple[int, int] = (1280, 800)) -> None:
    Image.radial_gradient("L").convert("RGB").resize(size).save(path)


def workbook(path: Path, rows: list[list[object]]) -> None:
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        for number, row in enumerate(rows):
            sheet.write_row(number, 0, row)


@pytest.fixture
def papers(tmp_path: Path) -> Path:
    """A folder with nothing wrong in it."""
    write(tmp_path / "day.pdf", [shop_name()])
    write(tmp_path / "week.pdf", [shop_name()])
    write(tmp_path / "tickets.pdf", tray_cuts(), code="2000000000008")
    workbook(tmp_path / "week.xlsx", [["cut", "grams"], ["rump", 4386]])
    (tmp_path / "cuts.csv").write_text("cut,grams\nrump,4386\n", "utf-8")
    picture(tmp_path / "rail.png")
    return tmp_path


def test_good_papers_pass(papers: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read_back.main([str(papers)]) == 0
    names = "cuts.csv, day.pdf, rail.png, tickets.pdf, week.pdf, week.xlsx"
    assert f"6 files: {names}" in capsys.readouterr().out


def test_an_empty_folder_is_told_in_full(tmp_path: Path) -> None:
    assert len(list(read_back.faults_of(tmp_path))) == 6
    assert read_back.main([str(tmp_path)]) == 1


def test_no_folder_is_wrong_usage() -> None:
    assert read_back.main([]) == 2


def test_a_sheet_without_the_shops_name_is_found(papers: Path) -> None:
    write(papers / "week.pdf", ["Somebody else's"])
    assert only_fault(papers).startswith("week.pdf: it does not name the shop")


def test_tickets_without_the_cuts_are_found(papers: Path) -> None:
    write(papers / "tickets.pdf", tray_cuts()[:3], code="2000000000008")
    assert only_fault(papers).startswith("tickets.pdf: it shows 3 of")


def test_tickets_whose_barcodes_do_not_read_are_found(papers: Path) -> None:
    write(papers / "tickets.pdf", tray_cuts())
    assert only_fault(papers) == "tickets.pdf: no barcode on it could be read."


def test_a_font_that_is_not_embedded_is_found(papers: Path) -> None:
    write(papers / "day.pdf", [shop_name()], font="Helvetica")
    assert only_fault(papers) == ("day.pdf: page 1 uses the font /Helvetica without embedding it.")


def test_a_page_without_text_is_found(papers: Path) -> None:
    write(papers / "extra.pdf", [""])
    assert only_fault(papers) == "extra.pdf: page 1 has no text that can be selected."


def test_what_is_no_pdf_is_found(papers: Path) -> None:
    (papers / "extra.pdf").write_bytes(b"no paper")
    assert only_fault(papers).startswith("extra.pdf: it cannot be read as a PDF")


def test_a_workbook_without_figures_is_found(papers: Path) -> None:
    workbook(papers / "week.xlsx", [["cut", "grams"]])
    assert only_fault(papers) == "week.xlsx: no sheet in it has a row below its head."


@pytest.mark.parametrize("text", ["", "cut,grams\nrump\n"])
def test_a_broken_table_is_found(papers: Path, text: str) -> None:
    (papers / "cuts.csv").write_text(text, "utf-8")
    assert only_fault(papers) == "cuts.csv: its rows are not all as long as its head."


def test_a_blank_picture_is_found(papers: Path) -> None:
    Image.new("RGB", (1280, 800), "white").save(papers / "rail.png")
    assert "hardly anything is drawn" in only_fault(papers)


def test_a_small_picture_is_found(papers: Path) -> None:
    picture(papers / "rail.png", (320, 200))
    assert only_fault(papers) == "rail.png: it is only 320 by 200 pixels."


def test_what_is_no_picture_is_found(papers: Path) -> None:
    (papers / "rail.png").write_bytes(b"no picture")
    assert only_fault(papers) == "rail.png: it cannot be read as a picture."


def only_fault(folder: Path) -> str:
    faults = list(read_back.faults_of(folder))
    assert len(faults) == 1, faults
    return faults[0]
