"""The steps of the check: what is run, in which order, and how it is counted."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from xml.etree import ElementTree

from environment import ROOT

MOST_AT_ONCE = 4
"""More processes would each start a PostgreSQL server and a window for little."""


@dataclass(frozen=True)
class Step:
    """One command of the check.

    Attributes:
        title: What its header says.
        command: The program and its arguments.
        counts_in: Where pytest writes its counts; without it the step counts as one check.
        extra: Environment variables for this step; an empty one is taken away.
    """

    title: str
    command: list[str]
    counts_in: Path | None = None
    extra: dict[str, str] = field(default_factory=dict)


@dataclass
class Run:
    """One run of the check and what came of it."""

    python: Path
    scratch: Path
    keep_going: bool
    passed: int = 0
    failed: int = 0
    skipped: int = 0
    broken: list[str] = field(default_factory=list)

    @property
    def ratios(self) -> Path:
        """Where the bench writes its ratios."""
        return self.scratch / "ratios.jsonl"

    def all(self, steps: list[Step]) -> None:
        """Run the steps in order, up to the first failure unless told to go on."""
        for number, step in enumerate(steps, start=1):
            print(f"\n=== {number}/{len(steps)} {step.title} ===", flush=True)
            began = time.monotonic()
            good = self.one(step)
            took = time.monotonic() - began
            print(f"--- {'ok' if good else 'FAILED'}: {step.title}, {took:.1f} s", flush=True)
            if not good:
                self.broken.append(step.title)
                if not self.keep_going:
                    break

    def one(self, step: Step) -> bool:
        """Run one step, count it, and say whether it passed."""
        changed = {"GAMBREL_CHECK": "1", **step.extra}
        surroundings = {**os.environ, **changed}
        for name in [name for name, value in changed.items() if not value]:
            del surroundings[name]
        done = subprocess.run(
            step.command, check=False, cwd=ROOT, env=surroundings, stdin=subprocess.DEVNULL
        )
        good = done.returncode == 0
        if step.counts_in is None:
            self.passed += good
            self.failed += not good
        else:
            good = self.count(step.counts_in, good=good)
        return good

    def count(self, report: Path, *, good: bool) -> bool:
        """Add what pytest counted; a run that broke off or ran nothing is a failure too."""
        tests = failures = skipped = 0
        if report.exists():
            for suite in ElementTree.parse(report).getroot().iter("testsuite"):  # noqa: S314 - ours
                tests += int(suite.get("tests", 0))
                failures += int(suite.get("failures", 0)) + int(suite.get("errors", 0))
                skipped += int(suite.get("skipped", 0))
        ran = tests - failures - skipped
        good = good and failures == 0 and ran > 0
        self.passed += max(ran, 0)
        self.failed += failures or int(not good)
        self.skipped += skipped
        return good

    def sum_up(self) -> None:
        """Print the ratios, what broke, and the count as the last line."""
        if self.ratios.exists():
            print("\n=== Against bare baselines (1.00 is as fast as the baseline) ===")
            for line in self.ratios.read_text("utf-8").splitlines():
                told = json.loads(line)
                print(f"{told['ratio']:7.2f}  {told['name']}")
        print()
        if self.broken:
            print(f"Failed: {', '.join(self.broken)}")
        if self.skipped:
            print(f"{self.skipped} skipped; pytest names them above, with the reason")
        print(f"{self.passed} passed, {self.failed} failed", flush=True)


def steps_for(run: Run, *, quick: bool, long: bool) -> list[Step]:
    """List the steps, cheapest first."""
    python = str(run.python)
    tests = "not bench" if long else "not bench and not slow"
    bench = "bench" if long else "bench and not slow"
    profile = {"GAMBREL_HYPOTHESIS": "long"} if long else {}
    steps = [
        Step("style", [python, "-m", "ruff", "check", "."]),
        Step("format", [python, "-m", "ruff", "format", "--check", "."]),
        Step("types", [python, "-m", "mypy"]),
        Step("who imports whom", [str(run.python.with_name("lint-imports"))]),
        pytest_step(run, "tests", tests, profile, side_by_side=True),
    ]
    if quick:
        return steps
    return [
        *steps,
        pytest_step(run, "bench", bench, {"GAMBREL_RATIOS": str(run.ratios)}),
        *demo_steps(run),
    ]


def pytest_step(
    run: Run, title: str, marks: str, extra: dict[str, str], *, side_by_side: bool = False
) -> Step:
    """Run the tests with these marks and keep pytest's own counts.

    Side by side every core has files of its own, and one process more works while others wait for
    a disk or a line; the bench has the machine to itself.
    """
    report = run.scratch / f"{title}.xml"
    command = [str(run.python), "-m", "pytest", "-q", "-m", marks, f"--junit-xml={report}"]
    if side_by_side:
        command += ["--numprocesses", str(min((os.cpu_count() or 1) + 1, MOST_AT_ONCE))]
        command += ["--dist", "loadfile"]
    return Step(title, command, report, extra)


def demo_steps(run: Run) -> list[Step]:
    """Give the README's first command with no display, then read back what it wrote."""
    papers = run.scratch / "papers"
    start = str(ROOT / "packaging" / "start.py")
    read_back = str(ROOT / "packaging" / "read_back.py")
    no_display = dict.fromkeys(("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"), "")
    return [
        Step(
            "the demo, with no display",
            [sys.executable, start, "demo", "--out", str(papers)],
            extra=no_display,
        ),
        Step("what the demo wrote", [str(run.python), read_back, str(papers)]),
    ]
