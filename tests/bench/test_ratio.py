"""The yardstick itself: it must see a difference, and none where there is none."""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import cycle
from pathlib import Path

import pytest

from tests.bench import ratio
from tests.bench.ratio import measure


@pytest.fixture(autouse=True)
def _kept_apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The yardstick's own ratios are no news: they stay out of the list.

    Nor is there garbage to wait for; after thousands of tests in a process that takes long.
    """
    monkeypatch.setattr(ratio, "MEASURED", [])
    monkeypatch.setattr("gc.collect", lambda: 0)
    monkeypatch.setenv("GAMBREL_RATIOS", str(tmp_path / "ratios.jsonl"))


def work(times: int) -> int:
    return sum(range(times * 20_000))


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """A clock that stands still but for what the calls add to it."""
    now = [0.0]
    monkeypatch.setattr(ratio, "perf_counter", lambda: now[0])
    return now


def lasting(clock: list[float], *seconds: float) -> Callable[[], None]:
    """A call that takes these times in turn, over and over."""
    times = cycle(seconds)

    def call() -> None:
        clock[0] += next(times)

    return call


def test_four_times_the_work_measures_as_four(clock: list[float]) -> None:
    told = measure("four times", lasting(clock, 2.0), lasting(clock, 0.5))
    assert (told.ratio, told.subject, told.baseline) == (4.0, 2.0, 0.5)


def test_the_first_call_and_a_hiccup_do_not_count(clock: list[float]) -> None:
    ours = lasting(clock, 90.0, 3.0, 3.0, 50.0, 3.0, 3.0)
    assert measure("uneven", ours, lasting(clock, 3.0), rounds=5).ratio == 1.0


@pytest.mark.bench
def test_the_machines_own_clock_sees_a_difference() -> None:
    # Wide bounds: other work on the machine may fall on either side.
    assert 3 < measure("ten times", lambda: work(100), lambda: work(10), rounds=15).ratio < 33


def test_a_ratio_is_printed_and_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = measure("kept", lambda: work(1), lambda: work(1), rounds=1)
    assert ratio.MEASURED == [told]
    assert capsys.readouterr().out.startswith(f"kept ratio {told.ratio:.2f} (")
    line = (tmp_path / "ratios.jsonl").read_text("utf-8")
    assert json.loads(line)["ratio"] == told.ratio


def test_both_take_turns_at_going_first() -> None:
    order: list[str] = []
    measure("turns", lambda: order.append("ours"), lambda: order.append("bare"), rounds=2)
    assert order == ["ours", "bare", "ours", "bare", "bare", "ours"]
