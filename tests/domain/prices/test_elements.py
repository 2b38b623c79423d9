"""GS1 element strings, read back by an independent library."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import gs1_128

from gambrel.domain.prices import elements
from gambrel.domain.prices.codes import SHELF_NUMBER, in_store_number

items = st.integers(0, 99_999)
days = st.dates(date(2020, 1, 1), date(2049, 12, 31))
lots = st.text(
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-./_", min_size=1, max_size=20
)


@given(item=items, grams=st.integers(0, 999_999), pack=days, last=days, lot=lots)
def test_another_library_reads_what_we_wrote(
    item: int, grams: int, pack: date, last: date, lot: str
) -> None:
    number = in_store_number(SHELF_NUMBER, item=item)
    parts = [
        elements.number_of(number),
        elements.net_weight(grams),
        elements.packed(pack),
        elements.use_by(last),
        elements.lot(lot),
    ]
    for written in (elements.as_text(parts), elements.as_message(parts)):
        found = gs1_128.info(written)
        assert found == {
            "01": f"0{number}",
            "3103": Decimal(grams) / 1000,
            "13": pack,
            "17": last,
            "10": lot,
        }


def test_an_element_of_open_length_is_parted_from_what_follows() -> None:
    lot, last = elements.lot("HQ-17"), elements.use_by(date(2026, 11, 28))
    assert elements.as_message([lot, last]) == "10HQ-17\x1d17261128"
    assert elements.as_message([last, lot]) == "1726112810HQ-17"


@pytest.mark.parametrize("key", ["", "x" * 21, "lot 7", "Kühl", "a\x1db", "#1"])
def test_a_lot_that_no_code_holds_is_refused(key: str) -> None:
    with pytest.raises(ValueError, match="fits in no GS1 code"):
        elements.lot(key)


def test_a_weight_or_number_that_does_not_fit_is_refused() -> None:
    with pytest.raises(ValueError, match="six digits"):
        elements.net_weight(1_000_000)
    with pytest.raises(ValueError, match="six digits"):
        elements.net_weight(-1)
    with pytest.raises(ValueError, match="thirteen digits"):
        elements.number_of("123")
