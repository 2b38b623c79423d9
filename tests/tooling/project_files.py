"""The files that make up the project."""

from __future__ import annotations

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# What working here leaves behind; only looked at where git cannot tell.
LEFT_BEHIND = {
    "__pycache__",
    ".git",
    ".hypothesis",
    ".import_linter_cache",
    ".mypy_cache",
    ".pytest_cache",
    ".ruff_cache",
    ".venv",
    "build",
    "dist",
}


def project_files() -> list[str]:
    """Return every file of the project by its name from the top.

    Git knows them; in a copy without git everything counts but what working here leaves behind.
    """
    try:
        listing = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True
        ).stdout
    except (OSError, subprocess.CalledProcessError):
        return sorted(files_below(ROOT))
    return sorted(name for name in listing.split("\0") if name and (ROOT / name).exists())


def files_below(folder: Path) -> list[str]:
    found: list[str] = []
    for path in folder.iterdir():
        if path.name in LEFT_BEHIND or path.name.endswith(".egg-info"):
            continue
        found += files_below(path) if path.is_dir() else [path.relative_to(ROOT).as_posix()]
    return found


def texts() -> dict[str, str]:
    """Return the project's text files and what stands in them."""
    found = {}
    for name in project_files():
        try:
            found[name] = (ROOT / name).read_text("utf-8")
        except UnicodeDecodeError:
            continue  # a picture or a font
    return found
