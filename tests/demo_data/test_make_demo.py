"""The weighed half of the demo is made, always to the same byte, and never beyond what there is."""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_bench import Bench
from demo_scale import Chance, split
from demo_steps import Blend, Break, TrimOut, WriteOff
from make_demo import DATA, HEADERS, make, read_shop

SCRIPT = Path(__file__).parents[2] / "packaging" / "make_demo.py"


def test_the_same_bytes_come_out(tmp_path: Path) -> None:
    make(DATA, tmp_path)
    for name in HEADERS:
        assert (tmp_path / name).read_bytes() == (DATA / name).read_bytes(), name


def test_the_script_makes_them_in_another_process_too(tmp_path: Path) -> None:
    environment = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Apia"}
    command = [sys.executable, str(SCRIPT), str(tmp_path)]
    subprocess.run(command, check=True, env=environment, cwd=tmp_path)
    for name in HEADERS:
        assert (tmp_path / name).read_bytes() == (DATA / name).read_bytes(), name


def test_the_package_carries_the_files() -> None:
    names = {item.name for item in files("gambrel.demo_data").iterdir()}
    hand_kept = {"shop.toml", "suppliers.csv", "cuts.csv", "cutting_lists.csv"}
    hand_kept |= {"bodies.csv", "reweighs.csv", "prices.csv", "README.md"}
    assert hand_kept | set(HEADERS) <= names


@pytest.mark.parametrize("name", sorted(path.name for path in DATA.glob("*.csv")))
def test_every_row_is_as_wide_as_its_header(name: str) -> None:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        header, *rows = csv.reader(file)
    assert rows
    assert {len(row) for row in rows} == {len(header)}


def bench_after_one_side() -> Bench:
    bench = Bench(read_shop(DATA))
    bench.work([Break("2026-11-10 06:30", "Ana", 90, "SIDE-02", "Side")])
    return bench


def test_a_blend_never_takes_more_than_there_is() -> None:
    greedy = Blend("2026-11-10 10:00", "Bela", 30, (("beef-trim-90", 50_000),), (), ())
    with pytest.raises(ValueError, match="50000 g of beef-trim-90 wanted"):
        bench_after_one_side().work([greedy])


def test_a_cut_is_taken_apart_only_once() -> None:
    bench = bench_after_one_side()
    steaks = (("rump-steak", 100, 2),)
    bench.work([TrimOut("2026-11-10 10:00", "Ana", 15, "SIDE-02", "rump", steaks)])
    with pytest.raises(ValueError, match="no rump of SIDE-02"):
        bench.work([TrimOut("2026-11-10 10:20", "Ana", 15, "SIDE-02", "rump", steaks)])


def test_nothing_is_taken_before_its_stage_is_done() -> None:
    steaks = (("rump-steak", 100, 2),)
    with pytest.raises(ValueError, match="no rump of SIDE-02"):
        bench_after_one_side().work(
            [TrimOut("2026-11-10 07:30", "Joss", 15, "SIDE-02", "rump", steaks)]
        )


def test_the_plan_keeps_the_order_of_time() -> None:
    with pytest.raises(ValueError, match="order of time"):
        bench_after_one_side().work([Break("2026-11-09 06:30", "Ana", 60, "HQ-14", "Side")])


def test_what_is_not_there_cannot_be_written_off() -> None:
    with pytest.raises(ValueError, match="is left"):
        bench_after_one_side().write_off(
            WriteOff("2026-11-10 15:00", "SIDE-02", "tenderloin", 90_000, "never")
        )


@given(
    grams=st.integers(min_value=1_000, max_value=90_000),
    count=st.integers(min_value=1, max_value=6),
    name=st.text(max_size=8),
)
def test_a_lot_is_split_without_losing_a_gram(grams: int, count: int, name: str) -> None:
    parts = split(grams, count, Chance(name))
    assert len(parts) == count
    assert sum(parts) == grams
    assert min(parts) > 0


@given(low=st.integers(-500, 500), span=st.integers(0, 500), name=st.text(max_size=8))
def test_chance_stays_between_its_bounds_and_repeats(low: int, span: int, name: str) -> None:
    first, again = Chance(name), Chance(name)
    drawn = [first.between(low, low + span) for _ in range(20)]
    assert drawn == [again.between(low, low + span) for _ in range(20)]
    assert all(low <= number <= low + span for number in drawn)
