from __future__ import annotations

import os
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader
from stdnum import ean

from gambrel.cli import main
from tests.cli.conftest import Gambrel
from tests.small_shop import replaced, write_shop


def test_a_day_a_week_and_tickets_are_written_whole(
    gambrel: Gambrel, tmp_path: Path, loaded: Path
) -> None:
    day, week, tickets = (tmp_path / "new" / f"{name}.pdf" for name in ("day", "week", "tickets"))
    assert gambrel("day", "2026-11-18", "--pdf", day, "--book", loaded).status == 0
    said = gambrel(
        "week", "2026-W47", "--pdf", week, "--xlsx", tmp_path / "w.xlsx", "--csv",
        tmp_path / "w", "--book", loaded, "--json",
    )  # fmt: skip
    assert said.status == 0, said.err
    assert all(Path(path).stat().st_size for path in said.json["written"])
    assert (tmp_path / "w.xlsx").exists()
    assert list((tmp_path / "w").glob("*.csv"))
    paper = ("--paper", "a4-8", "--cuts", "rump,mince")
    assert gambrel("tickets", *paper, "--pdf", tickets, "--book", loaded).status == 0
    assert "Rump" in PdfReader(tickets).pages[0].extract_text()
    assert "HQ-1" in PdfReader(day).pages[0].extract_text()
    assert PdfReader(week).pages


def test_a_week_without_a_file_is_told_in_figures(gambrel: Gambrel, loaded: Path) -> None:
    said = gambrel("week", "2026-W47", "--book", loaded)
    assert said.status == 0
    assert "2026-W47" in said.out
    assert "unexplained kg" in said.out
    figures = gambrel("week", "2026-W47", "--book", loaded, "--json").json["week"]
    assert [week["week"] for week in figures] == ["2026-W47", "2026-W46"]


def test_a_book_that_nobody_may_write_is_still_read(
    gambrel: Gambrel, loaded: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    allowed = os.access

    def fixed(path: Path, mode: int) -> bool:
        return allowed(path, mode) and not (mode == os.W_OK and Path(path) == loaded)

    monkeypatch.setattr(os, "access", fixed)
    assert gambrel("cost", "--book", loaded).status == 0
    said = gambrel("load", loaded.parent, "--book", loaded)
    assert said.status == 1
    assert "may not be written to" in said.err


@pytest.mark.parametrize(
    ("extra", "says"),
    [
        (["--paper", "napkin"], "choose one of"),
        (["--paper", "a4-8", "--cuts", "rmp"], "no cut 'rmp'"),
        (["--paper", "a4-8", "--cuts", "bone"], "Bone"),
    ],
)
def test_tickets_that_cannot_be_leave_the_old_file(
    gambrel: Gambrel, tmp_path: Path, loaded: Path, extra: list[str], says: str
) -> None:
    (tmp_path / "t.pdf").write_text("old")
    said = gambrel("tickets", *extra, "--pdf", tmp_path / "t.pdf", "--book", loaded)
    assert (said.status, said.out) == (1, "")
    assert says in said.err
    assert (tmp_path / "t.pdf").read_text() == "old"


def test_a_folder_is_no_file_to_write(gambrel: Gambrel, tmp_path: Path, loaded: Path) -> None:
    said = gambrel("day", "2026-11-18", "--pdf", tmp_path, "--book", loaded)
    assert said.status == 1
    assert "is a folder" in said.err


@pytest.fixture(scope="module")
def lasting(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small shop, whose rump keeps for ever: commands print at the moment of their run."""
    place = tmp_path_factory.mktemp("lasting")
    cuts = replaced("cuts.csv", ",,4,101,", ",,36500,101,")
    folder = write_shop(place / "in", cuts=cuts)
    assert main(["load", str(folder), "--book", str(place / "b.gambrel")]) == 0
    return place / "b.gambrel"


def test_tray_labels_are_written_and_told(gambrel: Gambrel, tmp_path: Path, lasting: Path) -> None:
    pdf = tmp_path / "l.pdf"
    split = ("tickets", "--pieces", "P1=2.5+1.65", "--paper", "label-58x60", "--pdf", pdf)
    said = gambrel(*split, "--book", lasting, "--json")
    assert said.status == 0, said.err
    assert "verified for trade" in said.err
    labels = said.json["labels"]
    assert [label["net_g"] for label in labels] == [2500, 1650]
    assert [label["price"] for label in labels] == ["69.98", "46.18"], "27.99 x 2.5 and x 1.65"
    assert {label["lot"] for label in labels} == {"HQ-1"}
    assert all(ean.is_valid(label["number"]) for label in labels)
    assert said.json["pages"] == len(PdfReader(pdf).pages) == 2
    text = PdfReader(pdf).pages[0].extract_text()
    assert "2.500" in text
    assert "$69.98" in text
    whole = gambrel("tickets", "--pieces", "P1", "--paper", "100x60mm", "--code", "gs1", "--dpi",
                    "300", "--pdf", pdf, "--book", lasting)  # fmt: skip
    assert whole.status == 0
    assert "1 label on 1 page" in whole.out


def test_tickets_start_and_shift_and_have_a_second_price_and_a_logo(
    gambrel: Gambrel, tmp_path: Path, loaded: Path
) -> None:
    logo = tmp_path / "logo.png"
    Image.new("RGB", (60, 40), "navy").save(logo)
    pdf = tmp_path / "t.pdf"
    said = gambrel("tickets", "--cuts", "rump,mince", "--paper", "a4-8", "--pdf", pdf, "--start",
                   "8", "--shift=-1.5,0.5", "--per", "lb", "--logo", logo, "--book", loaded,
                   "--json")  # fmt: skip
    assert said.status == 0, said.err
    assert said.json["pages"] == 2
    assert said.json["cut_short"] == []
    rump, mince = said.json["tickets"]
    assert (rump["price_per_kg"], rump["unit_price"], rump["per"]) == ("27.99", "12.70", "lb")
    assert "Cook through." in mince["cautions"]


def test_words_that_were_cut_short_are_told(gambrel: Gambrel, tmp_path: Path) -> None:
    cuts = replaced("cuts.csv", "rump,Rump,", f"rump,{'Rump ' * 40},")
    book = tmp_path / "b.gambrel"
    gambrel("load", write_shop(tmp_path / "in", cuts=cuts), "--book", book)
    said = gambrel("tickets", "--paper", "a4-24", "--pdf", tmp_path / "t.pdf", "--book", book)
    assert said.status == 0
    assert "is too long for a4-24 and was cut short" in said.err


@pytest.mark.parametrize(
    ("extra", "says"),
    [
        (["--cuts", "rump", "--paper", "a4-8", "--start", "9"], "start at 1 to 8"),
        (["--cuts", "rump", "--paper", "a4-8", "--shift", "11,0"], "too far"),
        (["--cuts", "rump", "--paper", "a4-8", "--logo", "nowhere.png"], "cannot be read"),
        (["--cuts", "rump", "--paper", "a4-8", "--logo", __file__], "not a PNG or JPEG"),
        (["--pieces", "P9", "--paper", "58x60mm"], "no piece 'P9'"),
        (["--pieces", "P4", "--paper", "58x60mm"], "taken back"),
        (["--pieces", "P1=9", "--paper", "58x60mm"], "weigh them again"),
        (["--pieces", "P1", "--paper", "30x20mm"], "too small for Rump"),
        (["--pieces", "P5", "--paper", "58x60mm"], "was to be used by"),
        (["--pieces", "P3", "--paper", "58x60mm"], "no shelf life"),
    ],
)
def test_what_cannot_be_printed_leaves_the_old_file(
    gambrel: Gambrel, tmp_path: Path, lasting: Path, extra: list[str], says: str
) -> None:
    (tmp_path / "t.pdf").write_text("old")
    said = gambrel("tickets", *extra, "--pdf", tmp_path / "t.pdf", "--book", lasting)
    assert (said.status, said.out) == (1, "")
    assert says in said.err
    assert (tmp_path / "t.pdf").read_text() == "old"


@pytest.mark.parametrize(
    "extra",
    [
        ["--pieces", "P1", "--cuts", "rump"],
        ["--pieces", "P1", "--logo", "x.png"],
        ["--pieces", "P1", "--per", "lb"],
        ["--cuts", "rump", "--code", "qr"],
        ["--dpi", "300"],
        ["--pieces", "P1", "--dpi", "600"],
        ["--pieces", "P1=heavy"],
        ["--pieces", ","],
        ["--start", "0"],
        ["--shift", "1"],
        ["--shift", "nan,0"],
        ["--per", "stone"],
    ],
)
def test_what_does_not_go_together_is_wrong_usage(
    gambrel: Gambrel, tmp_path: Path, lasting: Path, extra: list[str]
) -> None:
    said = gambrel("tickets", *extra, "--paper", "a4-8", "--pdf", tmp_path / "t", "--book", lasting)
    assert (said.status, said.out) == (2, "")
    assert "usage: gambrel tickets" in said.err
    assert not (tmp_path / "t").exists()


@pytest.mark.parametrize(
    "command",
    [
        ["day", "2026-11-18", "--pdf"],
        ["week", "2026-W47", "--pdf"],
        ["week", "2026-W47", "--xlsx"],
        ["trace", "HQ-1", "--pdf"],
        ["tickets", "--paper", "a4-8", "--cuts", "rump", "--pdf"],
    ],
    ids=" ".join,
)
def test_no_paper_takes_the_place_of_a_book(
    gambrel: Gambrel, tmp_path: Path, loaded: Path, command: list[str]
) -> None:
    book = tmp_path / "b.gambrel"
    assert gambrel("backup", book, "--book", loaded).status == 0
    before = book.read_bytes()
    for place in (book, loaded):
        said = gambrel(*command, place, "--book", loaded)
        assert said.status == 1
        assert f"{place} is a book" in said.err
    assert book.read_bytes() == before
    assert gambrel("check", "--book", loaded).status == 0


def test_no_paper_takes_the_place_of_what_is_no_file(
    gambrel: Gambrel, tmp_path: Path, loaded: Path
) -> None:
    os.mkfifo(tmp_path / "pipe")
    said = gambrel("day", "2026-11-18", "--pdf", tmp_path / "pipe", "--book", loaded)
    assert said.status == 1
    assert "is not a file" in said.err
    assert (tmp_path / "pipe").is_fifo()
