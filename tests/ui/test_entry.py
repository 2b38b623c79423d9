"""What a keypad's keys make of a text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.mass import parse_kg
from gambrel.ui.widgets.entry import BACK, CLEAR, press

KEYS = st.sampled_from([*"0123456789.,", BACK, CLEAR, "x", "", "-", "12"])


def typed(keys: str, decimals: int = 3, longest: int = 5) -> str:
    text = ""
    for key in keys:
        text = press(text, BACK if key == "<" else key, decimals=decimals, longest=longest)
    return text


@pytest.mark.parametrize(
    ("keys", "text"),
    [
        ("4386", "4386"),
        ("4.386", "4.386"),
        ("4,386", "4.386"),
        ("4.3867", "4.386"),
        ("4..3", "4.3"),
        (".5", "0.5"),
        ("05", "5"),
        ("00.5", "0.5"),
        ("0.05", "0.05"),
        ("123456", "12345"),
        ("12<3", "13"),
        ("<", ""),
        ("1-2e3", "123"),
    ],
)
def test_keys_make_a_number(keys: str, text: str) -> None:
    assert typed(keys) == text


def test_without_decimals_there_is_no_mark() -> None:
    assert typed("12.5", decimals=0) == "125"


def test_clear_forgets_everything() -> None:
    assert press("4.386", CLEAR) == ""


@given(st.lists(KEYS, max_size=30))
def test_whatever_is_typed_is_empty_or_a_weight_once_a_last_mark_is_left_out(
    keys: list[str],
) -> None:
    text = ""
    for key in keys:
        text = press(text, key, longest=4)
    if text:
        assert parse_kg(text.removesuffix(".")) < 10_000_000


@given(st.lists(KEYS, max_size=30), st.sampled_from("0123456789.,"))
def test_a_step_back_takes_off_what_a_key_has_added(keys: list[str], key: str) -> None:
    text = ""
    for each in keys:
        text = press(text, each)
    longer = press(text, key)
    if longer.startswith(text) and len(longer) == len(text) + 1:
        assert press(longer, BACK) == text
