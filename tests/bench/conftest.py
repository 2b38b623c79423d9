"""Prints the ratios at the end, where they are seen."""

from __future__ import annotations

import pytest

from tests.bench.ratio import MEASURED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if MEASURED:
        terminalreporter.section("against bare baselines")
        for told in MEASURED:
            terminalreporter.write_line(str(told))
