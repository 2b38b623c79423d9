from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from gambrel.cli import demo
from gambrel.services.books import open_book
from gambrel.services.check import check_book
from tests.cli.conftest import Gambrel


@pytest.fixture
def pictured(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Folders that were asked to be filled with pictures; drawing them is tested in tests/ui."""
    asked: list[Path] = []

    def draw(where: str, folder: Path) -> list[Path]:
        assert Path(where).exists()
        asked.append(folder)
        return [folder / "rail.png"]

    monkeypatch.setattr(demo, "draw_pictures", draw)
    return asked


def test_with_no_display_the_papers_are_written_and_the_folder_is_named(
    gambrel: Gambrel, tmp_path: Path, pictured: list[Path]
) -> None:
    said = gambrel("demo", "--out", tmp_path / "out")
    assert said.status == 0
    assert "There is no display" in said.out
    assert said.out.endswith(f"The demo's papers and pictures are in {tmp_path / 'out'}.\n")
    kinds = {path.name.partition("-")[0] for path in (tmp_path / "out").iterdir()}
    assert kinds == {"day", "week", "tickets", "labels"}
    for paper in ("tickets", "labels"):
        assert len(list((tmp_path / "out").glob(f"{paper}-*.pdf"))) == 2
    assert pictured == [tmp_path / "out" / "pictures"]


def test_with_no_display_and_no_folder_a_temporary_one_is_named(
    gambrel: Gambrel, tmp_path: Path, pictured: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    said = gambrel("demo")
    assert said.status == 0
    folder = Path(said.out.splitlines()[-1].partition(" are in ")[2].rstrip("."))
    assert list(folder.glob("week-*.xlsx"))
    assert pictured == [folder / "pictures"]


def test_with_a_display_the_window_opens_on_a_sound_book_whose_clock_goes_on(
    gambrel: Gambrel, pictured: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[datetime] = []

    def open_window(where: str, clock: Callable[[], datetime]) -> int:
        with open_book(where, create=False) as book:
            assert check_book(book).wrong == []
            with book.reading() as work:
                last = max(piece.weighed_at for piece in work.trade().pieces)
        assert timedelta(0) < clock() - last < timedelta(hours=12)
        assert clock() >= clock() - timedelta(seconds=1)
        seen.append(last)
        return 0

    monkeypatch.setattr(demo, "has_display", lambda: True)
    monkeypatch.setattr(demo, "open_window", open_window)
    assert gambrel("demo").status == 0
    assert len(seen) == 1
    assert pictured == []


def test_a_file_in_the_place_of_the_folder_is_refused(gambrel: Gambrel, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    said = gambrel("demo", "--out", tmp_path / "file")
    assert said.status == 1
    assert "is a file" in said.err
