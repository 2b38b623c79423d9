"""The individuals chart of the NIST/SEMATECH e-Handbook, 6.3.2.2, and the constant behind it."""

from __future__ import annotations

import pytest

from gambrel.domain.review.individuals import D2, individuals
from tests.published.figures import rows

BATCHES = [float(row["value"]) for row in rows("spc-individuals")]


def test_the_handbooks_mean_range_and_limits() -> None:
    """As quoted there: mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041."""
    limits = individuals(BATCHES)
    assert limits.mean == pytest.approx(50.81, abs=5e-5)
    assert limits.moving_range == pytest.approx(1.8778, abs=5e-5)
    assert limits.lower == pytest.approx(45.8159, abs=5e-5)
    assert limits.upper == pytest.approx(55.8041, abs=5e-5)
    assert all(limits.holds(value) for value in BATCHES)
    assert not limits.holds(45.8)


def test_the_moving_ranges_are_those_printed() -> None:
    printed = [float(row["moving_range"]) for row in rows("spc-individuals")[1:]]
    for count, wanted in enumerate(printed, start=2):
        last_two = BATCHES[count - 2 : count]
        assert individuals(last_two).moving_range == pytest.approx(wanted)


def test_the_constant_is_that_of_the_published_table() -> None:
    [pair] = [row for row in rows("control-chart-constants") if row["n"] == "2"]
    assert float(pair["d2"]) == D2


def test_one_figure_has_no_limits() -> None:
    with pytest.raises(ValueError, match="two figures at least"):
        individuals([1.0])
