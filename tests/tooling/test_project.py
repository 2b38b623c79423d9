"""The shape of the repository: what stands at its top, and what may not stand anywhere."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.tooling.project_files import ROOT, files_below, project_files, texts

TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "app",
    "tests",
    "assets",
    "demo_data",
    "packaging",
}
# Folders of somebody's machine.
MACHINE = re.compile(
    r"(?<![\w.])/(work|farm|root|home|Users|tmp|opt|mnt)/[\w.]|\b[A-Z]:\\\\?Users\b"
)
# Where packages are fetched from is the business of the machine, not of the project.
REGISTRY = re.compile(r"\b(pypi|pythonhosted|npmjs|anaconda)[.](org|com)\b|\bfile:/{2}")


def build_settings() -> dict[str, dict[str, list[str]]]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    settings: dict[str, dict[str, list[str]]] = project["tool"]
    return settings


def test_the_top_holds_what_the_design_draws_and_no_more() -> None:
    top = {name.split("/")[0] for name in project_files()}
    assert {name for name in top if not name.startswith(".")} == TOP
    assert {name for name in top if name.startswith(".")} <= {".ci", ".gitignore"}


def test_packaging_is_no_package() -> None:
    """An __init__.py there would hide the library `packaging` from code run at the top."""
    assert not (ROOT / "packaging" / "__init__.py").exists()
    assert "packaging/start.py" in project_files()


def test_every_package_is_named_in_the_build() -> None:
    found = {
        Path(name).parent.relative_to("app").as_posix().replace("/", ".")
        for name in project_files()
        if name.startswith("app/") and name.endswith("/__init__.py")
    }
    found |= {"gambrel.assets", "gambrel.demo_data"}
    assert sorted(build_settings()["setuptools"]["packages"]) == sorted(found)


def test_no_file_names_a_folder_of_a_machine() -> None:
    assert findings(MACHINE) == []


def test_no_file_names_a_registry() -> None:
    assert findings(REGISTRY) == []


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (MACHINE, "cd " + "/work" + "/main"),
        (MACHINE, "(" + "/tmp" + "/book.db)"),
        (REGISTRY, "--index-url https://" + "pypi" + ".org/simple"),
        (REGISTRY, "--find-links " + "file:" + "///wheels"),
    ],
)
def test_the_watchers_see(pattern: re.Pattern[str], text: str) -> None:
    assert pattern.search(text)


@pytest.mark.parametrize("text", ["a/home/b", "see app/tmp/x", "rest and work/play"])
def test_the_watcher_of_folders_leaves_other_words_alone(text: str) -> None:
    assert not MACHINE.search(text)


def findings(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{name}:{number}: {line.strip()[:80]}"
        for name, text in texts().items()
        for number, line in enumerate(text.splitlines(), start=1)
        if pattern.search(line)
    ]


def test_a_copy_without_git_shows_the_same_files() -> None:
    assert set(project_files()) <= set(files_below(ROOT))


def test_the_stubs_of_mapped_folders_match_their_code() -> None:
    """A type checker cannot see through the build's mapping, so stubs stand in; do they lie?"""
    names = ["gambrel.assets", "gambrel.demo_data"]
    done = subprocess.run(
        [sys.executable, "-m", "mypy.stubtest", "--ignore-missing-stub", *names],
        cwd=ROOT / "app",
        check=False,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stdout + done.stderr
