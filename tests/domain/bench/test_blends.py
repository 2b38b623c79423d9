from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.blends import mixed_percent, square
from gambrel.domain.refusals import Refusal

percents = st.decimals(0, 100, places=1)


@given(st.integers(1000, 10**6), percents, percents, percents)
def test_the_square_gives_the_target_and_loses_no_gram(
    grams: int, one: Decimal, two: Decimal, target: Decimal
) -> None:
    lean, fat = sorted((one, two))
    if not lean <= target <= fat:
        with pytest.raises(Refusal, match="cannot be made"):
            square(grams, fat, lean, target)
        return
    mix = square(grams, fat, lean, target)
    assert mix.fat_g + mix.lean_g == grams
    made = mixed_percent([(mix.fat_g, fat), (mix.lean_g, lean)])
    assert abs(made - target) <= Decimal(100) / grams
