"""The yardstick itself: it must see a difference, and none where there is none."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.bench import ratio
from tests.bench.ratio import measure


@pytest.fixture(autouse=True)
def _kept_apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The yardstick's own ratios are no news: they stay out of the list."""
    monkeypatch.setattr(ratio, "MEASURED", [])
    monkeypatch.setenv("GAMBREL_RATIOS", str(tmp_path / "ratios.jsonl"))


def work(times: int) -> int:
    return sum(range(times * 20_000))


@pytest.mark.bench
def test_the_same_work_measures_alike() -> None:
    assert 0.6 < measure("the same", lambda: work(2), lambda: work(2)).ratio < 1.7


@pytest.mark.bench
def test_ten_times_the_work_measures_as_much_more() -> None:
    assert 5 < measure("ten times", lambda: work(10), lambda: work(1)).ratio < 20


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
