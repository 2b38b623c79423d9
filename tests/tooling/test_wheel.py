"""The built wheel carries everything that the program reads, not only its modules."""

from __future__ import annotations

import shutil
import subprocess
import sys
import zipfile
from dataclasses import dataclass

import pytest

from tests.tooling.project_files import ROOT, project_files

FOLDERS = {
    "app/gambrel/": "gambrel/",
    "assets/": "gambrel/assets/",
    "demo_data/": "gambrel/demo_data/",
}


@dataclass(frozen=True)
class Build:
    """The names of the program's files, as the project has them and as the wheel has them."""

    wanted: set[str]
    found: set[str]


@pytest.fixture(scope="module")
def build(tmp_path_factory: pytest.TempPathFactory) -> Build:
    """Build a wheel from a copy, since a build leaves its rests where it runs."""
    place = tmp_path_factory.mktemp("wheel")
    names = [name for name in project_files() if name.startswith(tuple(FOLDERS))]
    for name in [*names, "pyproject.toml", "README.md"]:
        (place / "copy" / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, place / "copy" / name)
    options = ["--quiet", "--no-deps", "--no-build-isolation", "--wheel-dir", str(place)]
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", *options, str(place / "copy")],
        check=True,
        capture_output=True,
    )
    (wheel,) = place.glob("gambrel-*.whl")
    return Build(set(map(in_wheel, names)), set(zipfile.ZipFile(wheel).namelist()))


def in_wheel(name: str) -> str:
    """Return where the wheel keeps a file of the project."""
    folder = next(folder for folder in FOLDERS if name.startswith(folder))
    return FOLDERS[folder] + name.removeprefix(folder)


def test_every_file_of_the_program_is_in_it(build: Build) -> None:
    assert "gambrel/assets/fonts/IBMPlexSans-Regular.ttf" in build.wanted
    assert "gambrel/demo_data/shop.toml" in build.wanted
    assert build.wanted - build.found == set()


def test_nothing_else_is_in_it(build: Build) -> None:
    assert {name for name in build.found - build.wanted if ".dist-info/" not in name} == set()


def test_it_brings_the_command(build: Build) -> None:
    assert any(name.endswith(".dist-info/entry_points.txt") for name in build.found)
