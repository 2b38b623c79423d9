"""Contrast: the bounds, the symmetry and what is no colour."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.drawing.contrast import channels, contrast, relative_luminance

colours = st.integers(0, 0xFFFFFF).map(lambda value: f"#{value:06x}")


def test_black_and_white_are_the_ends() -> None:
    assert relative_luminance("#000000") == 0.0
    assert relative_luminance("#ffffff") == pytest.approx(1.0, abs=1e-12)
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-12)


@given(one=colours, other=colours)
def test_contrast_is_symmetric_and_bounded(one: str, other: str) -> None:
    assert contrast(one, other) == contrast(other, one)
    assert 1.0 <= contrast(one, other) <= 21.0 + 1e-9


@given(colour=colours)
def test_a_colour_has_no_contrast_with_itself_in_either_case(colour: str) -> None:
    assert contrast(colour, colour.upper()) == 1.0


@given(red=st.integers(0, 254), green=st.integers(0, 255), blue=st.integers(0, 255))
def test_more_red_is_more_light(red: int, green: int, blue: int) -> None:
    less, more = (f"#{level:02x}{green:02x}{blue:02x}" for level in (red, red + 1))
    assert relative_luminance(less) < relative_luminance(more)


def test_channels_are_read_in_order() -> None:
    assert channels("#1E3a5F") == (0x1E, 0x3A, 0x5F)


@pytest.mark.parametrize(
    "value", ["", "#fff", "1E3A5F", "#1E3A5G", "#1E3A5F00", "#1E3A5F\n", "#+1+2+3", "red", None, 7]
)
def test_what_is_no_colour_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match="is not a colour: write it as #RRGGBB"):
        channels(value)
