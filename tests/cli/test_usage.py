from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from gambrel.cli import window
from tests.cli.conftest import Gambrel
from tests.small_shop import write_shop


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["nonsense"], "invalid choice"),
        (["cost", "--method", "magic"], "expected one of weight, sales-value, nrv"),
        (["cost", "--at", "20/11/2026"], "expected one like 2026-11-20"),
        (["cost", "--at", "2026-W47-1"], "expected one like 2026-11-20"),
        (["load"], "DIR"),
        (["solve", "--body", "B"], "--margin"),
        (["solve", "--body", "B", "--margin", "100"], "0 to below 100"),
        (["solve", "--body", "B", "--margin", "nan"], "0 to below 100"),
        (["solve", "--body", "B", "--margin", "30", "--pin", "rump"], "rump=26.99"),
        (["day", "2026-11-20"], "--pdf"),
        (["week", "2026-W54", "--pdf", "f"], "2026-W47"),
        (["week", "0001-W01", "--pdf", "f"], "2026-W47"),
        (["week", "9999-W52", "--pdf", "f"], "2026-W47"),
        (["week", "2026-W 7", "--pdf", "f"], "2026-W47"),
        (["solve", "--week", "9999-W52", "--margin", "30"], "2026-W47"),
        (["tickets", "--pdf", "f"], "--paper"),
        (["cost", "--boo", "x"], "unrecognized"),
        (["cost", "--body=--"], "--body=--: expected a value"),
        (["choice", "--from=rump", "--to=--", "--kg=1"], "--to=--: expected a value"),
    ],
)
def test_wrong_usage_has_status_two(gambrel: Gambrel, arguments: list[str], says: str) -> None:
    said = gambrel(*arguments)
    assert (said.status, said.out) == (2, "")
    assert says in said.err


@pytest.mark.parametrize("command", ["cost", "solve", "check", "dump", "day", "week", "tickets"])
def test_a_book_that_is_not_there_is_refused_and_not_made(
    gambrel: Gambrel, tmp_path: Path, command: str
) -> None:
    book = tmp_path / "no.gambrel"
    extra: dict[str, list[object]] = {
        "solve": ["--body", "B", "--margin", "3"],
        "dump": [tmp_path / "d"],
        "day": ["2026-11-20", "--pdf", tmp_path / "d.pdf"],
        "week": ["2026-W47", "--pdf", tmp_path / "d.pdf"],
        "tickets": ["--paper", "a4-8", "--pdf", tmp_path / "d.pdf"],
    }
    said = gambrel(command, *extra.get(command, []), "--book", book)
    assert said.status == 1
    assert "There is no book" in said.err
    assert list(tmp_path.iterdir()) == []


def test_help_and_version_have_status_zero(gambrel: Gambrel) -> None:
    assert "load" in gambrel("--help").out
    assert "held_by" in gambrel("solve", "--help").out
    assert gambrel("--version").out.startswith("gambrel ")


def test_without_a_command_the_window_opens_on_the_book(
    gambrel: Gambrel, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str | None] = []

    def open_window(where: str | None) -> int:
        asked.append(where)
        return 0

    monkeypatch.setattr(window, "open_window", open_window)
    assert gambrel("--book", "x.gambrel").status == 0
    assert gambrel().status == 0
    assert asked == ["x.gambrel", None]


def test_without_a_display_the_window_is_refused(
    gambrel: Gambrel, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    said = gambrel()
    assert said.status == 1
    assert "no display" in said.err


def run(*arguments: object, **options: object) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "gambrel", *map(str, arguments)]
    return subprocess.run(command, check=False, capture_output=True, **options)  # type: ignore[call-overload,no-any-return]  # tests know what they pass


def test_a_process_ends_with_the_status_and_no_traceback(tmp_path: Path, loaded: Path) -> None:
    assert run("check", "--book", loaded).returncode == 0
    refused = run("load", tmp_path / "nowhere", "--book", tmp_path / "b")
    assert refused.returncode == 1
    assert b"Traceback" not in refused.stderr
    assert run("nonsense").returncode == 2


@pytest.mark.skipif(os.name != "posix", reason="a shell closes the stream")
@pytest.mark.parametrize(("stream", "status"), [(">&-", 0), ("2>&-", 0), (">&- 2>&-", 0)])
def test_a_stream_that_is_closed_is_no_error_of_ours(
    loaded: Path, stream: str, status: int
) -> None:
    command = f'exec "$0" -m gambrel check --book "$1" {stream}'
    done = subprocess.run(
        ["/bin/sh", "-c", command, sys.executable, loaded], check=False, capture_output=True
    )
    assert done.returncode == status, done.stderr
    assert b"Traceback" not in done.stderr


def test_a_link_that_leads_to_itself_is_refused(
    gambrel: Gambrel, tmp_path: Path, loaded: Path
) -> None:
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    shop = write_shop(tmp_path / "in")
    for arguments in (
        ["cost", "--book", loop],
        ["load", shop, "--book", loop],
        ["backup", loop, "--book", loaded],
        ["dump", loop, "--book", loaded],
        ["load", loop, "--book", loaded],
        ["restore", loop, "--book", loaded],
        ["day", "2026-11-18", "--pdf", loop / "x", "--book", loaded],
    ):
        said = gambrel(*arguments)
        assert (said.status, said.out) == (1, ""), said
        assert "loop" in said.err
    assert loop.is_symlink()


def test_a_reader_that_goes_away_is_no_error_of_ours(loaded: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "gambrel", "cost", "--book", str(loaded), "--json"]
    done = subprocess.run(command, check=False, stdout=writing, stderr=subprocess.PIPE)
    os.close(writing)
    assert done.returncode == 1
    assert b"BrokenPipe" not in done.stderr
    assert b"Traceback" not in done.stderr


def test_reading_commands_load_no_window_and_no_paper(loaded: Path) -> None:
    heavy = ("PySide6", "reportlab", "babel", "alembic", "psycopg", "highspy")
    code = (
        "import sys; from gambrel.cli import main; main(['check', '--book', sys.argv[1]]);"
        f"print([name for name in {heavy!r} if name in sys.modules])"
    )
    command = [sys.executable, "-c", code, str(loaded)]
    done = subprocess.run(command, check=True, capture_output=True)
    assert done.stdout.splitlines()[-1] == b"[]", done.stdout
