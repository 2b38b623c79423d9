"""Trays of a split piece never weigh more than it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.splitting import with_tray
from gambrel.domain.refusals import Refusal


@given(st.integers(0, 20_000), st.lists(st.integers(-5, 8_000), max_size=12))
def test_trays_never_weigh_more_than_the_piece(left_g: int, weighed: list[int]) -> None:
    trays: tuple[int, ...] = ()
    for grams in weighed:
        try:
            trays = with_tray(trays, grams, left_g)
        except Refusal:
            assert grams <= 0 or sum(trays) + grams > left_g
        else:
            assert trays[-1] == grams > 0
        assert sum(trays) <= left_g


def test_what_cannot_be_is_said() -> None:
    with pytest.raises(Refusal, match=r"more than the 0\.300 kg that are left"):
        with_tray((700,), 301, 1000)
    with pytest.raises(Refusal, match="weighs something"):
        with_tray((), 0, 1000)
    assert with_tray((700,), 300, 1000) == (700, 300)
