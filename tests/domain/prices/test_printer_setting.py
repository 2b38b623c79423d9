"""What a station keeps about its printers."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.printer_setting import (
    DPI,
    MOST_TENTHS,
    PaperSetting,
    check_copies,
    read_settings,
    settings_text,
)
from gambrel.domain.refusals import Refusal

shifts = st.integers(-MOST_TENTHS, MOST_TENTHS)
settings = st.builds(PaperSetting, st.text(max_size=30), st.sampled_from(DPI), shifts, shifts)


@given(st.dictionaries(st.text(min_size=1, max_size=20), settings, max_size=6))
def test_what_is_kept_comes_back(kept: dict[str, PaperSetting]) -> None:
    assert read_settings(settings_text(kept)) == kept


GOOD = {"printer": "Office", "dpi": 300, "right": 5, "down": -3}


@pytest.mark.parametrize(
    "row",
    [
        {},
        GOOD | {"more": 1},
        {name: value for name, value in GOOD.items() if name != "down"},
        GOOD | {"printer": 7},
        GOOD | {"dpi": "300"},
        GOOD | {"dpi": True},
        GOOD | {"right": 0.5},
        GOOD | {"down": None},
        "Office",
        None,
    ],
)
def test_anything_else_is_refused(row: object) -> None:
    with pytest.raises(Refusal, match="Set them up again"):
        read_settings(json.dumps({"a4-15": row}))


@pytest.mark.parametrize("text", ["", "[]", "null", "{", '"a"'])
def test_no_table_is_refused(text: str) -> None:
    with pytest.raises(Refusal, match="Set them up again"):
        read_settings(text)


def test_dots_and_shifts_that_no_printer_has_are_refused() -> None:
    with pytest.raises(Refusal, match="Choose one of 203, 300, 600"):
        PaperSetting(dpi=72)
    for right, down in ((101, 0), (0, -101)):
        with pytest.raises(Refusal, match="10 mm at most"):
            PaperSetting(right=right, down=down)
    assert PaperSetting(right=15, down=-100).shift == (1.5, -10.0)


@pytest.mark.parametrize("copies", [0, -1, 1001])
def test_no_copies_and_too_many_are_refused(copies: int) -> None:
    with pytest.raises(Refusal, match="Choose 1 to 1000"):
        check_copies(copies)
    assert check_copies(1) == 1
    assert check_copies(1000) == 1000
