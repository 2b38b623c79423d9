from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from gambrel.cli import main
from tests.small_shop import write_shop


@dataclass(frozen=True)
class Said:
    """What a command answered."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)


Gambrel = Callable[..., Said]


@pytest.fixture
def gambrel(capsys: pytest.CaptureFixture[str]) -> Gambrel:
    """Run the command line in this process."""

    def run(*arguments: object) -> Said:
        capsys.readouterr()
        status = main([str(argument) for argument in arguments])
        said = capsys.readouterr()
        assert "Traceback" not in said.err
        return Said(status, said.out, said.err)

    return run


@pytest.fixture(scope="session")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with the small shop in it, for commands that only read."""
    place = tmp_path_factory.mktemp("loaded")
    assert main(["load", str(write_shop(place / "in")), "--book", str(place / "b.gambrel")]) == 0
    return place / "b.gambrel"
