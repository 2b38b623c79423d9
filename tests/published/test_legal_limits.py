"""Legal limits as they were read, each with its source beside it in the table, against ours."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from gambrel.domain.bench.allergens import GROUPS, group_of
from gambrel.domain.bench.legal import LIMITS, information
from tests.published.figures import Row, rows

READ = rows("legal-limits")


@pytest.mark.parametrize("row", READ, ids=lambda row: f"{row['country']} {row['meat']}")
def test_a_limit_is_the_one_that_was_read(row: Row) -> None:
    found = [
        limit.most
        for limit in information(row["country"]).limits
        if (limit.kind.value, limit.measure.value) == (row["meat"], row["measure"])
    ]
    assert found == [Decimal(row["most"])], row["source"]


def test_no_limit_is_shown_that_nobody_read() -> None:
    read = {(row["country"], row["meat"], row["measure"]) for row in READ}
    shown = {
        (country, limit.kind.value, limit.measure.value)
        for country in ("IE", "US")
        for limit in information(country).limits
    }
    assert shown == read
    assert len(READ) == len(LIMITS)


FOURTEEN = (
    "gluten cereals; crustaceans; egg; fish; peanut; soybean; milk; "
    "nuts (almond, hazelnut, walnut, cashew, pecan, Brazil, pistachio, macadamia); "
    "celery; mustard; sesame; sulphites over 10 mg/kg or mg/L; lupin; molluscs"
)
"""Regulation (EU) 1169/2011 Annex II, read at farrp.unl.edu, SEEN."""


def test_the_fourteen_groups_of_allergens() -> None:
    groups = re.sub(r" \(.*?\)", "", FOURTEEN).split("; ")
    assert [group.split()[0] for group in groups] == list(GROUPS)
    [nuts] = re.findall(r"\((.*?)\)", FOURTEEN)
    assert nuts.split(", ") == [word.removesuffix(" nut") for word in GROUPS["nuts"]]


@pytest.mark.parametrize(
    "named",
    ["milk", "eggs", "fish", "crustaceans", "hazelnut", "peanuts", "wheat", "soybeans", "sesame"],
)
def test_the_nine_that_the_united_states_name_are_known(named: str) -> None:
    """FALCPA and FASTER Act summaries, SEEN; tree nuts stand here for one of them."""
    assert group_of(named) is not None
