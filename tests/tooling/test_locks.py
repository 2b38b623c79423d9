"""The lock files: complete, pinned by hash, and tied to no index."""

from __future__ import annotations

import re
import tomllib
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.tooling.project_files import ROOT

LOCKS = ["lock-run.txt", "lock-check.txt"]


def project() -> dict[str, Any]:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    found: dict[str, Any] = settings["project"]
    return found


def lock_text(lock: str) -> str:
    return (ROOT / "packaging" / lock).read_text("utf-8")


def pins(lock: str) -> dict[str, list[Requirement]]:
    """Return each package's pinned versions; there are several where Pythons differ."""
    found: dict[str, list[Requirement]] = {}
    for line in lock_text(lock).splitlines():
        if line and line[0] not in " #":
            requirement = Requirement(line.removesuffix("\\"))
            found.setdefault(canonicalize_name(requirement.name), []).append(requirement)
    return found


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_names_no_host_and_no_folder(lock: str) -> None:
    assert not re.search(r"https?:|file:|--(extra-)?index|--find-links|--trusted", lock_text(lock))


@pytest.mark.parametrize("lock", LOCKS)
def test_every_package_is_pinned_by_version_and_hash(lock: str) -> None:
    blocks = re.split(r"\n(?=[A-Za-z0-9])", re.sub(r"(?m)^ *#.*\n", "", lock_text(lock)).strip())
    assert len(blocks) == sum(map(len, pins(lock).values())) > 10
    for block in blocks:
        assert re.match(r"[a-z0-9-]+(\[\w+\])?==\S+ ", block), block
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", block), block


@pytest.mark.parametrize(
    ("lock", "extras"), [("lock-run.txt", ["build"]), ("lock-check.txt", ["build", "check"])]
)
def test_what_the_project_asks_for_is_locked_in_a_version_that_it_allows(
    lock: str, extras: list[str]
) -> None:
    optional = project()["optional-dependencies"]
    wanted = [*project()["dependencies"], *(line for extra in extras for line in optional[extra])]
    locked = pins(lock)
    for requirement in map(Requirement, wanted):
        for pin in locked[canonicalize_name(requirement.name)]:
            version = str(pin.specifier).removeprefix("==")
            assert requirement.specifier.contains(version), f"{requirement} is locked at {version}"


def test_the_check_stands_on_the_versions_that_run() -> None:
    run, check = pins("lock-run.txt"), pins("lock-check.txt")
    for name, requirements in run.items():
        assert [str(pin.specifier) for pin in check[name]] == [
            str(pin.specifier) for pin in requirements
        ]


def test_running_needs_no_tool_of_the_check() -> None:
    only_check = set(pins("lock-check.txt")) - set(pins("lock-run.txt"))
    assert {"pytest", "mypy", "ruff", "hypothesis", "zxing-cpp", "openpyxl"} <= only_check
