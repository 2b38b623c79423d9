from __future__ import annotations

import os
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Gambrel


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
