"""When a scale may be set to zero."""

from __future__ import annotations

import pytest

from gambrel.domain.bench.steady import LiveWeight, WeightState


@pytest.mark.parametrize(
    ("grams", "may"),
    [
        (None, False),
        (0, False),
        (12, True),
        (50, True),
        (51, False),
        (4_506, False),
        (-650, True),
        (-5_000, True),
        (-5_001, False),
    ],
)
def test_only_drift_and_a_lost_tub_are_zeroed(grams: int | None, may: bool) -> None:
    assert LiveWeight(WeightState.STEADY, "", grams).zeroable is may


def test_what_the_scale_has_tared_is_not_zeroed() -> None:
    assert not LiveWeight(WeightState.NEGATIVE, "", -650, net=True).zeroable
